"""Lays the example jacket on striped and checked cloth, draws two of the lays, and says what matching costs.

Run from the folder of the project, ``python -m benchmarks.stripes``: it writes the pictures in
``docs/pictures`` and the table of ``docs/stripes.md`` anew. Every lay is verified before it is let out.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path

from benchmarks.parts import DOCS, write_parts
from nesting.cutting.verify.faults import require_sound
from nesting.drawing.lay.figure import png_bytes
from nesting.estimate.estimate import Estimate
from nesting.estimate.estimating import lay_project
from nesting.estimate.matching import ARepeatEach
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.project import Project
from nesting.units import Unit
from nesting.words.lying import lies_words

DPI = 62

MATCHES = """
[[match]]
name = "side seams"
points = { front = "waist", back = "waist" }
repeat = "along"

[[match]]
name = "centre front"
points = { front = "N" }

[[match]]
name = "pockets"
points = { pocket = "A", front = "P1" }

[[match]]
name = "sleeves to front"
points = { "top sleeve" = "front of the sleeve", front = "front of the sleeve" }
repeat = "along"

[[match]]
name = "elbows"
points = { "top sleeve" = "elbow", "under sleeve" = "elbow" }
repeat = "along"
"""
"""What a careful dressmaker matches on this jacket."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A cloth to try.

    Attributes
    ----------
    name : str
    repeat : str
        As in the project file.
    spread : str
    picture : str
        Name of the drawing to write, or empty.
    """

    name: str
    repeat: str
    spread: str = "best"
    picture: str = ""


PATTERNS = (
    Pattern("check, even", "along = 8, across = 6", picture="stripes-check.png"),
    Pattern("check, even", "along = 8, across = 6", "lengthwise fold", "stripes-check-folded.png"),
    Pattern("check, uneven both ways", 'along = 8, across = 6, uneven = "both"'),
    Pattern("fine check", "along = 2, across = 2"),
    Pattern("large check", "along = 20, across = 16"),
    Pattern("bars across", "along = 5"),
    Pattern("stripes along", "across = 4"),
    Pattern("stripes along, uneven", 'across = 4, uneven = "across"'),
)


def project_of(pattern: Pattern) -> Project:
    """The jacket on that cloth, its other cloths left out."""
    text = example_text()
    cloth = f'[cloth.main]\nspread = "{pattern.spread}"\nrepeat = {{ {pattern.repeat} }}\n'
    matches = MATCHES
    if "along =" not in pattern.repeat:
        matches = "".join(f"[[match]]{one}" for one in MATCHES.split("[[match]]")[1:] if "repeat" not in one)
    project = parse_project(text.replace("[cloth.main]\n", cloth) + matches, source="jacket.toml")
    return project


def laid(pattern: Pattern) -> tuple[Estimate, float]:
    """The jacket's main cloth with that pattern, and the seconds it took, the plain lay included."""
    whole = project_of(pattern)
    pieces = whole.pieces_in("main")
    alone = Project(
        whole.title, whole.unit, whole.currency, {"main": whole.cloths["main"]}, pieces, matches=whole.matches
    )
    begun = time.perf_counter()
    (estimate,) = lay_project(alone).estimates
    seconds = time.perf_counter() - begun
    require_sound(estimate.lay, alone)
    return estimate, seconds


def rows(docs: Path) -> list[str]:
    """Of the table, one for each pattern."""
    lines = [
        "| cloth | repeat | laid | plain | matched | costs | a quarter more | a repeat each, end to end |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for pattern in PATTERNS:
        estimate, seconds = laid(pattern)
        if pattern.picture:
            (docs / "pictures" / pattern.picture).write_bytes(picture(estimate))
        lines.append(row(pattern, estimate))
        print(f"{lines[-1]} {seconds:.1f} s", flush=True)
    return lines


def picture(estimate: Estimate) -> bytes:
    """Of one lay, as the page shows it."""
    return png_bytes(estimate, Unit.CM, dpi=DPI)


def row(pattern: Pattern, estimate: Estimate) -> str:
    """Of one pattern, what it takes matched and plain."""
    cost = estimate.matching
    if cost is None:
        raise RuntimeError(f"nothing is matched on '{pattern.name}'")
    by_repeat = [rule.to_buy_mm for rule in cost.rules if isinstance(rule.adds, ARepeatEach)]
    cells = [
        f"[{pattern.name}](pictures/{pattern.picture})" if pattern.picture else pattern.name,
        f"`{pattern.repeat}`",
        lies_words(estimate.lay),
        _metres(cost.plain_to_buy_mm),
        f"**{_metres(estimate.to_buy_mm)}**",
        f"{cost.extra_mm / 10:.0f} cm",
        _metres(cost.rules[0].to_buy_mm),
        _metres(by_repeat[0]) if by_repeat else "–",
    ]
    return f"| {' | '.join(cells)} |"


def _metres(mm: float) -> str:
    return f"{mm / 1000:.2f} m"


def main(docs: Path = DOCS) -> None:
    """Write pictures and table."""
    write_parts(docs / "stripes.md", {"costs": rows(docs)})


if __name__ == "__main__":
    main()
