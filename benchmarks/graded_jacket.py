"""Writes the example of six sizes: the jacket that ships, graded by increments invented for the demo.

Run from the folder of the project, ``python -m benchmarks.graded_jacket``: it writes the example
``jacket-sizes.toml`` anew. From one size to the next the bust grows by 4 cm. How far each point then moves is
plausible (half a centimetre to the back's length, a centimetre to a quarter of its width), but from no table
of sizes; ``tests/files/test_example_seams.py`` checks that in every size the seams still meet.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from nesting.files.example import example_text
from nesting.files.tables.overlay import overlaid

FILE = Path(__file__).parent.parent / "nesting" / "files" / "examples" / "jacket-sizes.toml"
DRAWN, STEP, SIZES = 92, 4, (84, 88, 92, 96, 100, 104)

Moves = dict[str, tuple[float, float]]

# To the right and up, in cm for one size more. What lies on one line of the body moves alike in all pieces.
_SHOULDER_NECK_BACK, _SHOULDER_ARM_BACK = (0.2, 0.55), (0.5, 0.5)
_SHOULDER_NECK_FRONT, _SHOULDER_ARM_FRONT = (-0.2, 0.55), (-0.5, 0.5)
_FACING_BACK, _FACING_FRONT = (0.3, 0.533), (-0.304, 0.533)  # on the shoulder, where facing and lining meet
_BACK_ARMHOLE: Moves = {
    "D": _SHOULDER_ARM_BACK,
    "d1": (0.5, 0.42),
    "d2": (0.52, 0.35),
    "d3": (0.6, 0.26),
    "d4": (0.75, 0.22),
    "E": (1.0, 0.2),
}
_BACK_SIDE: Moves = {"e1": (1.0, 0.0), "F": (1.0, 0.0)}
_BACK_DART: Moves = {"W1": (0.4, 0.0), "W2": (0.4, 0.0), "T1": (0.4, 0.1), "T2": (0.4, 0.0)}
_BACK_NECK: Moves = {"B": (0.0, 0.5), "b1": (0.08, 0.5), "b2": (0.15, 0.51), "C": _SHOULDER_NECK_BACK}
_FRONT_SIDE: Moves = {
    "A": (-1.0, 0.0),
    "a1": (-1.0, 0.0),
    "S1": (-1.0, 0.1),
    "S": (-1.0, 0.1),
    "S2": (-1.0, 0.1),
    "T": (-0.7, 0.1),
    "B": (-1.0, 0.2),
    "b1": (-0.75, 0.22),
    "b2": (-0.6, 0.26),
    "b3": (-0.52, 0.35),
    "b4": (-0.5, 0.42),
    "C": _SHOULDER_ARM_FRONT,
}
_FRONT_DART: Moves = {"W1": (-0.3, 0.0), "W2": (-0.3, 0.0), "T1": (-0.3, 0.1), "T2": (-0.3, 0.0)}
_FRONT_NECK: Moves = {"D": _SHOULDER_NECK_FRONT, "d1": (-0.15, 0.48), "d2": (-0.08, 0.4), "N": (0.0, 0.35)}
_POCKET_PLACE: Moves = {name: (-0.3, 0.0) for name in ("P1", "P2", "P3", "P4")}
_BUTTONS: Moves = {
    f"{letter}{number}": (0.0, up)
    for letter in "Hh"
    for number, up in enumerate((0.34, 0.27, 0.21, 0.14, 0.08), start=1)
}

MOVES: dict[str, Moves] = {
    "back": _BACK_NECK | _BACK_ARMHOLE | _BACK_SIDE | _BACK_DART,
    "front": _FRONT_SIDE | _FRONT_DART | _FRONT_NECK | {"E": (0.0, 0.35)} | _POCKET_PLACE | _BUTTONS,
    "top sleeve": {
        "A": (0.0, 0.3),
        "a1": (0.1, 0.4),
        "a2": (0.2, 0.5),
        "a3": (0.35, 0.55),
        "a4": (0.5, 0.5),
        "a5": (0.6, 0.4),
        "a6": (0.7, 0.33),
        "B": (0.8, 0.3),
        "b1": (0.5, 0.15),
        "C": (0.25, 0.0),
    },
    "under sleeve": {
        "A": (0.0, 0.3),
        "a1": (0.08, 0.3),
        "a2": (0.16, 0.3),
        "a3": (0.22, 0.3),
        "B": (0.3, 0.3),
        "b1": (0.27, 0.2),
        "b2": (0.22, 0.1),
        "C": (0.15, 0.0),
    },
    "collar": {
        "a1": (0.17, 0.0),
        "a2": (0.34, 0.0),
        "B": (0.5, 0.0),
        "C": (0.5, 0.0),
        "c1": (0.34, 0.0),
        "c2": (0.17, 0.0),
    },
    "front facing": {
        "a2": (-0.1, 0.3),
        "a3": (-0.2, 0.42),
        "B": _FACING_FRONT,
        "C": _SHOULDER_NECK_FRONT,
        "c1": _FRONT_NECK["d1"],
        "c2": _FRONT_NECK["d2"],
        "N": _FRONT_NECK["N"],
        "D": (0.0, 0.35),
    },
    # Measured from its own lower edge, which moves up with the neck.
    "back neck facing": {
        "b1": (0.08, 0.0),
        "b2": (0.15, 0.01),
        "C": (0.2, 0.05),
        "D": (0.3, 0.033),
        "d1": (0.2, 0.01),
        "d2": (0.1, 0.0),
    },
    "front lining": _FRONT_SIDE | _FRONT_DART | {"D": _FACING_FRONT, "d1": (-0.2, 0.42), "d2": (-0.1, 0.3)},
    "back lining": _BACK_ARMHOLE
    | _BACK_SIDE
    | _BACK_DART
    | {"B": (0.0, 0.5), "K": (0.0, 0.5), "k1": (0.1, 0.5), "k2": (0.2, 0.51), "C": _FACING_BACK},
}
NOTCHES: dict[str, dict[str, float]] = {
    "back": {"back seam of the sleeve": 0.15},
    "back lining": {"back seam of the sleeve": 0.15},
    "under sleeve": {"side seam": 0.15},
    "front": {"front of the sleeve": 0.15},
    "front lining": {"front of the sleeve": 0.15},
    "top sleeve": {"shoulder seam": 0.42},
    "collar": {"shoulder seam": 0.22},
}
"""How much farther along their edges notches sit, in cm for one size more."""


def size_table(raw: dict[str, dict[str, dict[str, dict[str, list[float]]]]], steps: int) -> dict[str, object]:
    """What a size changes, so many sizes above the one that is drawn."""
    pieces: dict[str, object] = {}
    for name, moves in MOVES.items():
        points = raw["piece"][name]["points"]
        moved = {
            point: [round(at + steps * by, 2) for at, by in zip(points[point], move, strict=True)]
            for point, move in moves.items()
        }
        pieces[name] = {"points": {p: xy for p, xy in moved.items() if xy != points[p]}}
        if name in NOTCHES:
            notches = [dict(notch) for notch in raw["piece"][name]["notches"]]
            for notch in notches:
                for end in ("from_start", "from_end"):
                    if end in notch and notch["name"] in NOTCHES[name]:
                        notch[end] = round(notch[end] + steps * NOTCHES[name][notch["name"]], 2)
            pieces[name]["notches"] = notches
    return {"piece": pieces}


def value(of: object) -> str:
    """As TOML, on one line."""
    if isinstance(of, dict):
        return "{ " + ", ".join(f"{key} = {value(item)}" for key, item in of.items()) + " }"
    if isinstance(of, list):
        return "[" + ", ".join(map(value, of)) + "]"
    return f'"{of}"' if isinstance(of, str) else f"{of:g}"


def text() -> str:
    """The whole file."""
    plain = example_text("jacket")
    raw = tomllib.loads(plain)
    head = "# A short lined jacket in six sizes, for the wardrobe room of a village theatre."
    plain = re.sub(r"\A# A short .*", head, plain)
    plain = plain.replace('title = "Short lined jacket"\n', 'title = "Short lined jacket, six sizes"\n')
    plain = plain.replace(
        "seam_allowance = 1 ",
        f'base_size = "{DRAWN}"              # the size drawn below, by its bust\nseam_allowance = 1 ',
    )
    lines = [
        "",
        "",
        "# " + "-" * 105,
        "# The other sizes: what is not named stays as it is drawn above. The bust grows by 4 cm each time.",
        "# How far each point moves was invented for this example; it comes from no table of sizes.",
    ]
    for size in SIZES:
        if size == DRAWN:
            continue
        table = size_table(raw, (size - DRAWN) // STEP)
        lines += ["", f'[size."{size}".piece]']
        for name, change in table["piece"].items():
            key = f'"{name}"' if " " in name else name
            lines += [f"{key}.{entry} = {value(of)}" for entry, of in change.items()]
        read = tomllib.loads("\n".join(lines))
        assert overlaid(raw, read["size"][str(size)]) == overlaid(raw, table)
    return plain.rstrip() + "\n" + "\n".join(lines) + "\n"


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
