"""Lays the example of `docs/in-hand.md` and writes its pictures, its file and its sentences anew.

Run from the folder of the project: ``python -m benchmarks.in_hand``. Changes are begun for a minute at most,
so a very slow machine may leave some untried.
"""

from __future__ import annotations

from pathlib import Path

from nesting.cutting.in_hand.asking import what_would_do
from nesting.drawing.lay.figure import png_bytes
from nesting.drawing.lay.left_picture import left_png_bytes
from nesting.estimate.estimate import Estimate
from nesting.estimate.estimating import lay_project
from nesting.files.project.reading import read_project
from nesting.project import Project
from nesting.words.answers import answer_words, figure_words
from nesting.words.changes import change_words
from nesting.words.in_hand import left_words
from nesting.words.verdict import verdict

HERE = Path(__file__).parent
DOCS = HERE.parent / "docs"
FILE = HERE / "curtain.toml"
DPI = 62


def laid(project: Project) -> Estimate:
    """The one cloth, verified."""
    (estimate,) = lay_project(project).estimates
    return estimate


def written() -> list[str]:
    """What the file says of the cloth."""
    text = FILE.read_text(encoding="utf-8")
    return [
        "```toml",
        *text[text.index("[cloth.main]") : text.index("[piece.front]")].strip().splitlines(),
        "```",
    ]


def yes(project: Project, estimate: Estimate) -> list[str]:
    """Sentences on what goes on, two pictures written."""
    if estimate.left is None:
        raise RuntimeError("the example does not go on its cloth")
    (DOCS / "pictures" / "in-hand-lay.png").write_bytes(png_bytes(estimate, project.unit, dpi=DPI))
    (DOCS / "pictures" / "in-hand-left.png").write_bytes(left_png_bytes(estimate, project.unit, dpi=DPI))
    return [
        f"> {verdict(estimate, project)}",
        ">",
        *(f"> {words}" for words in left_words(estimate.left, project.unit)),
    ]


def no(project: Project, estimate: Estimate) -> list[str]:
    """Sentences on what does not go on, and what would make it go."""
    cloth = project.cloths["main"]
    answer = what_would_do(project, cloth)
    rows = [
        f"| {change_words(one.change)} | {figure_words(one, cloth, project.unit)} |"
        for one in (*answer.changes, *answer.without)
    ]
    told = [f"> {words}" for words in answer_words(answer, cloth, project.unit)]
    return [
        f"> {verdict(estimate, project)}",
        "",
        "| tried | what came of it |",
        "|---|---|",
        *rows,
        "",
        *told,
    ]


def main() -> None:
    """Write the parts of the page that the program makes."""
    project = read_project(FILE)
    (shorter,) = project.alternatives
    parts = {
        "written": written(),
        "yes": yes(project, laid(project)),
        "no": no(shorter, laid(shorter)),
    }
    page = DOCS / "in-hand.md"
    text = page.read_text(encoding="utf-8")
    for name, lines in parts.items():
        start, end = f"<!-- {name} -->\n", "<!-- end -->"
        before, _, rest = text.partition(start)
        _, _, after = rest.partition(end)
        text = before + start + "\n".join(lines) + "\n" + end + after
    page.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
