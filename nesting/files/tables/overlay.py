"""Alternatives and sizes: a partial table laid over the plain one."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["overlaid"]


def overlaid(plain: Mapping[str, object], changes: Mapping[str, object]) -> dict[str, object]:
    """The plain table with the changes laid over it: tables entry by entry, all else replaced whole.

    >>> overlaid({"cut": {"main": 1, "lining": 1}}, {"cut": {"main": 2}})
    {'cut': {'main': 2, 'lining': 1}}

    So a size names only the points that move.

    >>> overlaid({"points": {"A": [0, 0], "B": [0, 58]}}, {"points": {"B": [0, 59]}})
    {'points': {'A': [0, 0], 'B': [0, 59]}}

    An edge written short, as its points alone, can be changed like one written in full.

    >>> overlaid({"hem": "A B"}, {"hem": {"allowance": 2}})
    {'hem': {'through': 'A B', 'allowance': 2}}
    """
    result = dict(plain)
    for key, change in changes.items():
        before = result.get(key)
        if isinstance(change, dict) and isinstance(before, str | list):
            before = {"through": before}
        if isinstance(change, dict) and isinstance(before, dict):
            change = overlaid(before, change)
        result[key] = change
    return result
