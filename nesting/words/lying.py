"""How it is said how a cloth lies from end to end."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cutting.lay import Lay, Run
from nesting.words.spreads import CUT_OPEN, SPREAD_WORDS

__all__ = ["lies_words", "runs_words", "ways_words"]


def lies_words(lay: Lay) -> str:
    """How the cloth of a lay lies: ``lengthwise fold, then opened out``."""
    return runs_words(lay.runs)


def ways_words(ways: Sequence[Sequence[Run]]) -> str:
    """How several pieces of a cloth lie, each way once."""
    return "; ".join(map(runs_words, ways))


def runs_words(runs: Sequence[Run]) -> str:
    """How a cloth lies, run by run.

    >>> from nesting.cloth.spread import Spread
    >>> runs_words([Run(Spread.TUBE, 1), Run(Spread.OPEN, 1, cut_open=True)])
    'tube, then cut open'
    >>> runs_words([Run(Spread.OPEN, 2)])
    'open, one layer in 2 lengths'
    """
    return ", then ".join(
        f"{_lies(run, alone=len(runs) == 1)}{f' in {run.lengths} lengths' if run.lengths > 1 else ''}"
        for run in runs
    )


def _lies(run: Run, *, alone: bool) -> str:
    words = CUT_OPEN if run.cut_open else SPREAD_WORDS[run.spread]
    return words.label if alone else words.after or words.label
