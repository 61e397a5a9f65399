import pytest

from nesting.pattern.counts import BadCount, CountFault, read_count, with_fold, with_seam
from nesting.pattern.cut_count import JoinedByFold, PartedBySeam, ReadAsPairs, ReadAsSingles
from nesting.pattern.piece import CutCount, CutKind


def read(value, *, on_fold=False, symmetric=False):
    return read_count(value, piece="collar", on_fold=on_fold, symmetric=symmetric)


def refused(value, *, on_fold=False):
    with pytest.raises(BadCount) as caught:
        read(value, on_fold=on_fold)
    assert isinstance(caught.value, ValueError)
    return caught.value.fault


@pytest.mark.parametrize(
    ("value", "kind", "number"),
    [
        (1, CutKind.SINGLE, 1),
        (2, CutKind.PAIR, 1),
        (4, CutKind.PAIR, 2),
        ("4", CutKind.PAIR, 2),
        (3, CutKind.SINGLE, 3),
        ("pair", CutKind.PAIR, 1),
        ("2 pairs", CutKind.PAIR, 2),
        (" 1  Single ", CutKind.SINGLE, 1),
        ("4 singles", CutKind.SINGLE, 4),
    ],
)
def test_counts_of_a_piece_that_is_not_symmetric(value, kind, number):
    count = read(value)
    assert (count.kind, count.number) == (kind, number)


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_a_symmetric_piece_is_cut_in_singles_without_a_word(number):
    assert read(number, symmetric=True) == CutCount(CutKind.SINGLE, number)


@pytest.mark.parametrize("value", [2, "2", "2 on the fold", "2 on fold"])
def test_a_piece_with_a_fold_edge_is_counted_whole(value):
    assert read(value, on_fold=True) == CutCount(CutKind.ON_FOLD, 2)
    assert read("on the fold", on_fold=True).number == 1


def test_how_a_number_was_read_is_told():
    assert read(4).reading == ReadAsPairs("collar", 4)
    assert read("3").reading == ReadAsSingles("collar", 3)
    assert [read(value).reading for value in (1, "2 pairs", "3 singles")] == [None, None, None]


def test_five_hundred_of_a_piece_are_still_cut():
    assert read(500).number == 250


@pytest.mark.parametrize("value", [0, -2, "0 pairs", "-1", 501, 10**9])
def test_a_count_no_one_can_cut_is_refused(value):
    assert refused(value) is CountFault.OUT_OF_BOUNDS


@pytest.mark.parametrize("value", ["", "a few", "2.5", "2 halves", "pair of 2", True, 2.0, None])
def test_words_that_mean_no_count_are_refused_with_good_forms(value):
    assert refused(value) is CountFault.NOT_UNDERSTOOD


def test_on_the_fold_needs_a_fold_edge():
    assert refused("1 on the fold") is CountFault.NO_FOLD_EDGE


@pytest.mark.parametrize("value", ["pair", "2 singles"])
def test_pairs_and_singles_need_a_piece_without_fold_edge(value):
    assert refused(value, on_fold=True) is CountFault.FOLD_EDGE


def test_a_seam_in_place_of_the_fold_makes_wholes_pairs_and_back():
    whole = CutCount(CutKind.ON_FOLD, 2)
    pairs = with_seam(whole, "back")
    assert (pairs.kind, pairs.number) == (CutKind.PAIR, 2)
    assert pairs.reading == PartedBySeam("back", 2)
    back = with_fold(pairs, "back")
    assert back == CutCount(CutKind.ON_FOLD, 2, JoinedByFold("back", CutKind.PAIR, 2))
    assert with_fold(whole, "back") == whole
    assert with_seam(pairs, "back") == pairs


def test_two_asked_as_a_plain_number_become_one_on_the_fold():
    for symmetric in (False, True):
        count = with_fold(read(2, symmetric=symmetric), "collar")
        assert (count.kind, count.number) == (CutKind.ON_FOLD, 1)


def test_an_odd_single_cannot_go_on_the_fold():
    with pytest.raises(BadCount) as caught:
        with_fold(read("3 singles"), "collar")
    assert caught.value.fault is CountFault.HALF_A_WHOLE
