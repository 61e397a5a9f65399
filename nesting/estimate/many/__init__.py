"""Many lays at once: as jobs that have a key, side by side, found again."""
