"""What the benchmarks' command lines have in common."""

from __future__ import annotations

import argparse
import math

__all__ = ["time_limit"]


def time_limit(text: str) -> float:
    """A time limit as it is typed, for ``type=`` of `argparse`.

    Raises
    ------
    argparse.ArgumentTypeError
        When no search could end by it.
    """
    try:
        number = float(text)
    except ValueError:
        number = math.nan
    if not 0.0 <= number < math.inf:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of seconds; give for example 10 or 0.5")
    return number
