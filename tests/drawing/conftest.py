"""The lays that are drawn."""

from tests.lays_by_hand import (
    any_estimate,
    folded,
    jacket,
    long_lay,
    opened,
    short_stretches,
    sixty_pieces,
    three_pieces,
)

__all__ = [
    "any_estimate",
    "folded",
    "jacket",
    "long_lay",
    "opened",
    "short_stretches",
    "sixty_pieces",
    "three_pieces",
]
