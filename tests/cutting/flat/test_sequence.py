"""The order of laying: on the fold, large, then small."""

from nesting.cutting.flat.placing import numbered
from nesting.cutting.flat.sequence import LARGE_SHARE, laying_order
from nesting.cutting.lay import Yield
from nesting.geometry import signed_area
from tests.lays_by_hand import folded, sixty_pieces

__all__ = ["folded", "sixty_pieces"]


def area(item):
    return abs(signed_area(item.shape.cut_line))


def test_what_lies_on_the_fold_comes_first_then_by_size(folded):
    items = [item for item in numbered(folded.lay) if item.section is folded.lay.sections[0]]
    order = laying_order(items)
    assert [item.placed.piece for item in order.large] == ["back", "sleeve", "front"]
    assert order.large[0].placed.yields is Yield.WHOLE_ON_FOLD
    assert area(order.large[1]) > area(order.large[2])
    assert sorted(item.placed.piece for item in order.between) == ["collar", "collar", "patch pocket", "tab"]


def test_every_placement_is_laid_once_and_every_large_one_before_a_small_one(sixty_pieces):
    items = numbered(sixty_pieces.lay)
    order = laying_order(items)
    assert sorted(item.number for item in (*order.large, *order.between)) == [item.number for item in items]
    largest = max(map(area, items))
    assert min(map(area, order.large)) >= LARGE_SHARE * largest > max(map(area, order.between))
    fronts = [item.number for item in order.large if item.placed.piece == "front"]
    assert fronts == sorted(fronts)


def test_nothing_to_lay_is_no_fault():
    assert laying_order([]).large == ()
