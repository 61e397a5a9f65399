"""Placement numbers in words."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cutting.flat.placing import Numbered

__all__ = ["key_text", "runs_text"]


def key_text(items: Sequence[Numbered]) -> str:
    """Which numbers are which piece, runs of numbers drawn together: ``collar 3, 9; tab 4 to 8``."""
    numbers: dict[str, list[int]] = {}
    for item in items:
        numbers.setdefault(item.placed.piece, []).append(item.number)
    return "; ".join(f"{piece} {runs_text(sorted(of_piece))}" for piece, of_piece in numbers.items())


def runs_text(numbers: Sequence[int]) -> str:
    """Rising numbers, with three or more in a row drawn together.

    >>> runs_text([1, 2, 4, 5, 6, 9])
    '1, 2, 4 to 6, 9'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
