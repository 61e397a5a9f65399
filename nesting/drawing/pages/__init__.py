"""The sheets to shop and cut by."""
