"""Lays the example of `docs/in-hand.md` and writes its pictures, its file and its sentences anew.

Run from the folder of the project: ``python -m benchmarks.in_hand``. Changes are begun for a minute at most,
so a very slow machine may leave some untried.
"""

from __future__ import annotations

from pathlib import Path

from benchmarks.parts import DOCS, write_parts
from nesting.cutting.in_hand.asking import what_would_do
from nesting.cutting.search.laying import Effort
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
FILE = HERE / "curtain.toml"
DPI = 62
USUAL = Effort()


def laid(project: Project, effort: Effort = USUAL) -> Estimate:
    """The one cloth, verified."""
    (estimate,) = lay_project(project, effort=effort).estimates
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
    """Sentences on what goes on."""
    if estimate.left is None:
        raise RuntimeError("the example does not go on its cloth")
    return [
        f"> {verdict(estimate, project)}",
        ">",
        *(f"> {words}" for words in left_words(estimate.left, project.unit)),
    ]


def no(project: Project, estimate: Estimate, effort: Effort = USUAL) -> list[str]:
    """Sentences on what does not go on, and what would make it go."""
    cloth = project.cloths["main"]
    answer = what_would_do(project, cloth, effort=effort)
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


def pictures(project: Project, estimate: Estimate) -> dict[str, bytes]:
    """The lay and what is left over, by file name."""
    return {
        "in-hand-lay.png": png_bytes(estimate, project.unit, dpi=DPI),
        "in-hand-left.png": left_png_bytes(estimate, project.unit, dpi=DPI),
    }


def main(docs: Path = DOCS) -> None:
    """Write the parts of the page that the program makes, and its pictures."""
    project = read_project(FILE)
    (shorter,) = project.alternatives
    estimate = laid(project)
    parts = {
        "written": written(),
        "yes": yes(project, estimate),
        "no": no(shorter, laid(shorter)),
    }
    write_parts(docs / "in-hand.md", parts)
    for name, picture in pictures(project, estimate).items():
        (docs / "pictures" / name).write_bytes(picture)


if __name__ == "__main__":
    main()
