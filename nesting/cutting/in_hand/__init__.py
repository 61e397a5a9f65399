"""Cloth in hand: does it all go on, what would make it go, and what is left over."""
