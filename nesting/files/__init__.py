"""The project file in; lists and data out."""
