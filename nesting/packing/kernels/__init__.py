"""Compiled answers about one piece, or all at once: how deep, how near, where to."""
