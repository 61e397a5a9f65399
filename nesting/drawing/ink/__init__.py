"""Marks and words: how lines look, how words are set, and what they are drawn on."""
