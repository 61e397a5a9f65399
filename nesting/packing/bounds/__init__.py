"""A length that no lay can beat, with its proof."""
