"""The picture for `docs/check.md`: ``python -m benchmarks.check_pictures``.

Pieces of the example's sleeve, one of them with a slip.
"""

from __future__ import annotations

import tomllib
from io import BytesIO
from pathlib import Path

from benchmarks.parts import DOCS
from nesting.doubts.looking import project_doubts
from nesting.drawing.drafts.sheets import draft_sheets
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.papers import A4
from nesting.files.example import example_text
from nesting.files.project.reading import project_from_table

__all__ = ["main", "sheet_with_a_slip"]

DPI = 90


def sheet_with_a_slip() -> bytes:
    """What ``check`` draws, as PNG."""
    table = tomllib.loads(example_text())
    shown = {name: table["piece"][name] for name in ("top sleeve", "collar")}
    shown["top sleeve"]["points"]["a5"].reverse()
    project = project_from_table({**table, "piece": shown, "alternative": {}}, source="jacket.toml")
    book = draft_sheets(project, list(enumerate(project_doubts(project), start=1)), A4).book()
    page = BytesIO()
    with drawing_settings():
        book.sheet.figure.savefig(page, format="png", dpi=DPI, metadata={"Software": None})
    return page.getvalue()


def main(docs: Path = DOCS) -> None:
    """Draw it and write it."""
    (docs / "pictures" / "check-slip.png").write_bytes(sheet_with_a_slip())


if __name__ == "__main__":
    main()
