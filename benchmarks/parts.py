"""Parts of the documents that a program makes; each stands between ``<!-- name -->`` and ``<!-- end -->``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

__all__ = ["DOCS", "listing", "write_parts"]

DOCS = Path(__file__).parent.parent / "docs"


def listing(printed: str) -> list[str]:
    """What a command printed as a listing, spaces at the ends of lines left out."""
    lines = [line.rstrip() for line in printed.splitlines()]
    return ["```", *"\n".join(lines).strip("\n").splitlines(), "```"]


def write_parts(page: Path, parts: Mapping[str, Sequence[str]]) -> None:
    """Put these lines in place of those that stand in the page now.

    Raises
    ------
    ValueError
        When the page has no such part.
    """
    text = page.read_text(encoding="utf-8")
    for name, lines in parts.items():
        before, start, rest = text.partition(f"<!-- {name} -->\n")
        _, end, after = rest.partition("<!-- end -->")
        if not end:
            raise ValueError(f"{page} has no part '{name}'")
        text = before + start + "\n".join(lines) + "\n" + end + after
    page.write_text(text, encoding="utf-8")
