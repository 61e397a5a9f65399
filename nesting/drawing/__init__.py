"""Lays, pieces and lists, drawn."""
