"""The order of laying: on the fold, large, then small; numbers follow it."""

from dataclasses import replace

from nesting.cloth.spread import Spread
from nesting.cutting.flat.placing import numbered
from nesting.cutting.flat.sequence import LARGE_SHARE, laying_order, stretches_as_laid
from nesting.cutting.lay import Yield
from nesting.geometry import signed_area
from tests.lays_by_hand import folded, sixty_pieces

__all__ = ["folded", "sixty_pieces"]


def area(laid):
    return abs(signed_area(laid[1].shape.cut_line))


def test_what_lies_on_the_fold_comes_first_then_by_size(folded):
    order = laying_order(folded.lay.stretches[0])
    assert [placed.piece for _, placed in order.large] == ["back", "sleeve", "front"]
    assert order.large[0][1].yields is Yield.WHOLE_ON_FOLD
    assert area(order.large[1]) > area(order.large[2])
    assert sorted(placed.piece for _, placed in order.between) == ["collar", "collar", "patch pocket", "tab"]


def test_every_placement_is_laid_once_and_every_large_one_before_a_small_one(sixty_pieces):
    order = laying_order(sixty_pieces.lay.stretches[0])
    laid = [placed for _, placed in (*order.large, *order.between)]
    assert sorted(map(id, laid)) == sorted(map(id, sixty_pieces.lay.sections[0].placed))
    largest = max(map(area, order.large))
    assert min(map(area, order.large)) >= LARGE_SHARE * largest > max(map(area, order.between))
    fronts = [placed.shape.cut_line[:, 0].min() for placed in laid if placed.piece == "front"]
    assert fronts == sorted(fronts)


def test_numbers_go_in_the_order_of_laying(folded):
    items = numbered(folded.lay)
    orders = [laying_order(stretch) for stretch in folded.lay.stretches]
    laid = [placed for order in orders for _, placed in (*order.large, *order.between)]
    assert [item.placed for item in items] == laid
    assert [item.number for item in items] == list(range(1, len(items) + 1))


def test_a_length_that_is_cut_off_first_is_laid_first(folded):
    assert stretches_as_laid(folded.lay) == folded.lay.stretches
    first, second = folded.lay.sections
    lay = replace(folded.lay, sections=(replace(first, spread=Spread.CROSSWISE_FOLD), second))
    assert stretches_as_laid(lay) == lay.stretches[::-1]
    assert [item.section for item in numbered(lay)][:2] == [second, second]


def test_nothing_to_lay_is_no_fault():
    assert laying_order([]).large == ()
