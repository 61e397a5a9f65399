"""What may stand in a project file: its text read, each table judged by itself."""
