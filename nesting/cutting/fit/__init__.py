"""Can it go at all? Said before any search, for all pieces at once."""
