"""How a fault in the project file is told: names quoted safely, near misses guessed, kinds of value named."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable

from nesting.lettering import quoted as quoted

__all__ = ["choices", "did_you_mean", "kind_of", "listed", "number_shown", "quoted"]

_MOST_SPELLED = 10**15
"""A whole number beyond is not spelled out."""
_MOST_LISTED = 20
"""So many names are told one by one."""


def listed(names: Iterable[str]) -> str:
    """Names in quotation marks, with commas and an "and".

    >>> listed(["main", "lining", "sample"])
    "'main', 'lining' and 'sample'"

    Of very many, the first.

    >>> listed(map(str, range(100)))[-22:]
    "'18', '19' and 80 more"
    """
    names = list(names)
    shown = [quoted(name) for name in names[:_MOST_LISTED]]
    if len(names) > len(shown):
        shown.append(f"{len(names) - len(shown)} more")
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if len(shown) > 1 else shown)


def did_you_mean(name: str, known: Collection[str]) -> str:
    """A question that offers the nearest known name, or an empty text where none is near.

    >>> did_you_mean("slevedge", ["width", "selvedge"])
    "Did you mean 'selvedge'?"
    """
    by_folded = {k.casefold(): k for k in known}
    near = difflib.get_close_matches(name.casefold(), list(by_folded), n=1, cutoff=0.6)
    return f"Did you mean {quoted(by_folded[near[0]])}?" if near else ""


def choices(name: str, known: Collection[str], kind: str) -> str:
    """A remedy for an unknown name: the nearest one if there is one, and all there are.

    >>> choices("linning", ["main", "lining"], "cloth")
    "Did you mean 'lining'? The cloths are 'main' and 'lining'."
    >>> choices("silk", ["main"], "cloth")
    "The only cloth is 'main'."
    """
    if not known:
        return f"There is no {kind} yet: add one."
    lead = f"The {kind}s are" if len(known) > 1 else f"The only {kind} is"
    return f"{did_you_mean(name, known)} {lead} {listed(known)}.".strip()


def number_shown(value: float) -> str:
    """A number as it is, unless it has no end.

    >>> number_shown(501), number_shown(10**400)
    ('501', 'an endless number')
    """
    return "an endless number" if isinstance(value, int) and abs(value) > _MOST_SPELLED else f"{value}"


def kind_of(value: object) -> str:
    """What a TOML value is, in words.

    >>> kind_of(3.5), kind_of("a"), kind_of(True)
    ('the number 3.5', "the text 'a'", 'true')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        shown = number_shown(value)
        return shown if shown.startswith("an ") else f"the number {shown}"
    if isinstance(value, str):
        return f"the text {quoted(value)}"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    return f"the date or time {value}"
