"""Tables for any spreadsheet: comma-separated values (RFC 4180), in which nothing is taken for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

__all__ = ["csv_text"]

_FORMULA_SIGNS = tuple("=+-@\t\r\n＝＋－＠")
"""A cell that begins with one of these may be reckoned out (OWASP, "CSV Injection"; from memory)."""


def csv_text(rows: Iterable[Iterable[object]]) -> str:
    r"""Rows as lines that end in CR LF.

    A text that begins like a formula gets an apostrophe before it, so that it is shown and not reckoned out;
    numbers and all other texts stay as they are.

    >>> csv_text([("front", "=1+1", -1)])
    "front,'=1+1,-1\r\n"
    """
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows([_as_text(cell) for cell in row] for row in rows)
    return out.getvalue()


def _as_text(cell: object) -> object:
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_FORMULA_SIGNS) else cell
