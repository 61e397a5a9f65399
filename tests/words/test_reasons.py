"""Every reason is said, each in words of its own."""

import pytest

from nesting.cutting.reasons import Barred, NeverDouble, OffTheFold, OffTheWish, TooNarrow, TooNarrowOnLines
from nesting.packing.result import StopReason
from nesting.words.reasons import reason_words
from nesting.words.searching import stop_words


def test_each_reason_against_a_spread_has_its_own_words():
    told = [reason_words(reason) for reason in Barred]
    assert len(set(told)) == len(Barred)
    assert all(words and words == words.strip(" .") for words in told)


@pytest.mark.parametrize("kind", [TooNarrow, TooNarrowOnLines, NeverDouble, OffTheFold, OffTheWish])
def test_a_reason_that_is_about_pieces_names_them(kind):
    assert "'cape', 'under collar'" in reason_words(kind(("cape", "under collar")))


def test_each_end_of_a_search_has_its_own_words():
    assert len({stop_words(reason) for reason in StopReason}) == len(StopReason)
