"""What is wrong with a line of a project file that `tomllib` cannot read, and how it was meant."""
