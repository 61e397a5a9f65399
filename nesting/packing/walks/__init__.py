"""The search: a first lay, walks from there, and what they do after success and failure."""
