"""The lays whose pieces are numbered and measured."""

from tests.lays_by_hand import any_estimate, folded, opened, short_stretches, sixty_pieces, three_pieces

__all__ = ["any_estimate", "folded", "opened", "short_stretches", "sixty_pieces", "three_pieces"]
