"""One lay, drawn small enough for a page."""
