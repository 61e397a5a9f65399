"""What cannot be laid, as a person is told it: where, what, and what to do."""

import pickle
from dataclasses import replace

import pytest

import nesting
from nesting.cloth.cloth import Spread
from nesting.cutting.findings import (
    CannotBeLaid,
    Finding,
    NoLayOnTable,
    NotEvenOpen,
    SpreadBarred,
    TooWide,
    Undivided,
    WishesOnRemnants,
)
from nesting.cutting.reasons import Barred, TooNarrow
from nesting.errors import BadInput, LayRefused
from nesting.project import PLAIN
from nesting.units import Unit
from nesting.words.mistakes import in_words, mistake_of, told
from tests.conftest import box, make_piece, make_project, singles

CAPE = TooWide("cape", 1080.0, 1000.0, False, False, False, False, 1100.0)


def found(hindrance, **changes):
    return Finding(
        **{"source": "", "version": PLAIN, "cloth": "main", "unit": Unit.CM, "hindrance": hindrance} | changes
    )


@pytest.mark.parametrize(
    ("finding", "where"),
    [
        (found(CAPE), "piece 'cape' in cloth 'main'"),
        (found(CAPE, source="cape.toml"), "cape.toml, piece 'cape' in cloth 'main'"),
        (
            found(CAPE, source="cape.toml", version="with nap"),
            "cape.toml, alternative 'with nap', piece 'cape' in cloth 'main'",
        ),
        (found(NotEvenOpen(TooNarrow(("cape",))), cloth="lining"), "cloth 'lining'"),
        (found(WishesOnRemnants()), "wishes on cloth 'main'"),
    ],
)
def test_where_it_was_found(finding, where):
    assert mistake_of(finding).where == where


def test_a_piece_too_wide_is_told_with_numbers_and_every_way_out():
    mistake = mistake_of(found(CAPE))
    assert mistake.what == "'cape' is 108 cm across; the cloth laid open gives 100 cm."
    assert mistake.remedy == "Either choose one at least 110 cm wide, or cut a seam in the piece."
    folded = replace(CAPE, on_fold=True, doubled=True, on_stripe=True, open_does=True)
    mistake = mistake_of(found(folded, unit=Unit.IN))
    assert mistake.what.endswith("the folded cloth gives 39 3/8 in, for its fold has to lie on a stripe.")
    assert mistake.remedy == (
        'Either open the cloth (spread = "open" or "best"), or choose one at least 44 in wide, or cut a seam '
        "where the fold is (on_fold = false)."
    )


def test_a_spread_that_cannot_be_is_told_with_those_that_can():
    barred = SpreadBarred(Spread.CROSSWISE_FOLD, Barred.RUNS_THE_OTHER_WAY, two_lengths_do=True)
    mistake = mistake_of(found(barred))
    assert mistake.what == (
        "The spread 'crosswise fold' is asked for, but the upper layer would run the other way."
    )
    assert mistake.remedy == (
        'Write spread = "best" or spread = "open" or spread = "two lengths" (cut through at the fold, one '
        "half turned round)."
    )
    assert "two lengths" not in mistake_of(found(replace(barred, two_lengths_do=False))).remedy


def test_an_unknown_line_is_told_with_how_to_measure_it():
    assert "line = 2.5" in mistake_of(found(NotEvenOpen(Barred.LINE_UNKNOWN))).remedy
    assert "line = 2.5" not in mistake_of(found(NotEvenOpen(TooNarrow(("cape",))))).remedy


@pytest.mark.parametrize(
    ("undivided", "words"),
    [
        (None, "than its 70 cm."),
        (Undivided.FLAWS, "than its 70 cm, and a cloth with flaws is not laid in several lengths."),
        (Undivided.WISHES, "than its 70 cm, and where there are wishes it is not laid in several lengths."),
    ],
)
def test_a_lay_longer_than_the_table(undivided, words):
    assert mistake_of(found(NoLayOnTable(1400.0, 700.0, undivided))).what.endswith(words)


def test_the_public_function_tells_it_in_words():
    project = make_project(make_piece("cape", box(1500, 600), singles()), source="cape.toml")
    with pytest.raises(BadInput, match=r"cape\.toml, piece 'cape' in cloth 'main': 'cape' is 150 cm across"):
        nesting.lay_project(project)


def test_other_errors_pass_as_they_are():
    @in_words
    def refused():
        raise LayRefused("a fault of ours")

    with pytest.raises(LayRefused):
        refused()
    assert isinstance(told(LayRefused("a fault of ours")), LayRefused)


def test_what_was_found_comes_whole_from_another_process():
    error = CannotBeLaid((found(CAPE), found(WishesOnRemnants())))
    assert pickle.loads(pickle.dumps(error)).findings == error.findings
    assert "TooWide(piece='cape'" in str(error)
