"""How it is said how a cloth lies from end to end."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Lay, Run

__all__ = ["lies_words", "runs_words", "ways_words"]


def lies_words(lay: Lay) -> str:
    """How the cloth of a lay lies: ``lengthwise fold, then opened out``."""
    return runs_words(lay.runs)


def ways_words(ways: Sequence[Sequence[Run]]) -> str:
    """How several pieces of a cloth lie, each way once."""
    return "; ".join(map(runs_words, ways))


def runs_words(runs: Sequence[Run]) -> str:
    """How a cloth lies, run by run.

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
    if run.spread is not Spread.OPEN:
        return str(run.spread)
    if run.cut_open:
        return "cut open, one layer" if alone else "cut open"
    return "open, one layer" if alone else "opened out"
