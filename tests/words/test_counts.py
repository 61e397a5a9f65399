"""How many of a piece: so many of a kind, how that was read, and what is wrong with it."""

import pytest

from nesting.pattern.counts import BadCount, read_count, with_fold
from nesting.pattern.cut_count import CutCount, CutKind, JoinedByFold
from nesting.words.counts import bad_count_words, count_note, count_words, reading_words


def why(value, *, on_fold=False):
    """What is told of a count that is refused."""
    with pytest.raises(BadCount) as caught:
        read_count(value, piece="collar", on_fold=on_fold, symmetric=False)
    return bad_count_words(caught.value)


@pytest.mark.parametrize(
    ("kind", "number", "words"),
    [
        (CutKind.PAIR, 1, "1 pair"),
        (CutKind.PAIR, 2, "2 pairs"),
        (CutKind.SINGLE, 3, "3 singles"),
        (CutKind.ON_FOLD, 2, "2 on the fold"),
    ],
)
def test_one_and_several(kind, number, words):
    assert count_words(CutCount(kind, number)) == words


def test_how_a_number_was_read_is_told_with_why():
    told = [
        reading_words(read_count(number, piece="collar", on_fold=False, symmetric=False).reading)
        for number in (2, 3)
    ]
    assert told == [
        "cut 2 of 'collar' read as 1 pair, left and right, because the piece is not symmetric",
        "cut 3 of 'collar' read as 3 singles, all the same way up, because an odd number does not make pairs",
    ]


def test_a_note_names_its_piece_once():
    joined = JoinedByFold("back", CutKind.SINGLE, 4)
    assert count_note(joined) == "'back': 4 singles read as 2 on the fold, because the fold joins each two"
    pairs = read_count(2, piece="back", on_fold=False, symmetric=False).reading
    assert count_note(pairs).count("'back'") == 1


def test_what_is_wrong_is_told_with_what_to_write():
    assert why(0) == (
        "cut 0 of 'collar': at least 1 must be cut, and at most 500.",
        "Leave a cloth out where none is cut in it.",
    )
    assert why("a few")[0] == "cut 'a few' of 'collar' is not understood."
    assert '"2 pairs"' in why("2.5")[1]
    assert why("1 on the fold")[1].startswith('Name the edge with on_fold = "..."')
    assert 'Write 1 or "1 on the fold", or set on_fold = false' in why("pair", on_fold=True)[1]
    with pytest.raises(BadCount) as caught:
        with_fold(CutCount(CutKind.SINGLE, 3), "collar")
    assert bad_count_words(caught.value)[0] == "an odd count (3 singles) does not make wholes on the fold."
