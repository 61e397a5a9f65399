"""Sound pieces spoilt in the ways in which people spoil them, one slip at a time.

Each ruin is the table of a project with one thing in it changed, and what was done to it.
"""

import copy
import math
import tomllib
from collections import Counter
from dataclasses import dataclass

from nesting.doubts.looking import project_doubts
from nesting.errors import BadInput
from nesting.files.example import example_text
from nesting.files.project.reading import project_from_table
from tests.documents.pages import ROOT

SOUND = tomllib.loads((ROOT / "tests" / "data" / "sound_pieces.toml").read_text(encoding="utf-8"))
JACKET = tomllib.loads(example_text())
SPOILT = {
    "jacket": (JACKET, ("back", "top sleeve", "collar")),
    "sound": (SOUND, ("darted bodice front", "straight skirt front", "trouser front", "yoke")),
}
MOVED_CM = 2.0
"""A point that a slip moves by less is hardly ruined."""
CORNER_DEG = 50


@dataclass(frozen=True)
class Ruin:
    """What was done, to which piece, and the project that it makes."""

    slip: str
    piece: str
    what: str
    table: dict


def outline_points(piece):
    """The names of the points that the outline goes through, in their order."""
    return list(dict.fromkeys(name for edge in piece["edges"].values() for name in through(edge)))


def through(edge):
    walk = edge["through"] if isinstance(edge, dict) else edge
    return walk.split() if isinstance(walk, str) else list(walk)


def alone(table, name):
    """A project of one piece, and a copy of it to be spoilt."""
    one = {key: value for key, value in table.items() if key in ("units", "seam_allowance")}
    piece = copy.deepcopy(table["piece"][name])
    piece.pop("notches", None)  # else it is a notch that tells of a slip in its edge
    one["cloth"] = copy.deepcopy(table["cloth"])
    return {**one, "piece": {name: piece}}, piece


def moved_points():
    """Each point of the outlines with its numbers swapped, or the decimal point of one moved by a place."""
    for table, names in SPOILT.values():
        for name in names:
            points = table["piece"][name]["points"]
            for point in outline_points(table["piece"][name]):
                x, y = points[point]
                slips = {
                    ("swapped numbers", "swapped"): [y, x],
                    ("slipped decimal point", "x ten times"): [x * 10, y],
                    ("slipped decimal point", "y ten times"): [x, y * 10],
                    ("slipped decimal point", "a tenth of x"): [x / 10, y],
                    ("slipped decimal point", "a tenth of y"): [x, y / 10],
                }
                for (slip, how), (u, v) in slips.items():
                    if math.hypot(u - x, v - y) >= MOVED_CM:
                        project, piece = alone(table, name)
                        piece["points"][point] = [u, v]
                        yield Ruin(slip, name, f"{point} {how}", project)


def is_corner(piece, one, other):
    """Whether the way turns by more than 50 degrees from the last point of an edge to the next edge's."""
    a, b = (piece["points"][name] for name in through(piece["edges"][one])[-2:])
    c = piece["points"][through(piece["edges"][other])[1]]
    turn = math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0])
    return abs((math.degrees(turn) + 180) % 360 - 180) > CORNER_DEG


def lost_corners():
    """Each two neighbouring edges that meet at a corner, drawn as one smooth curve."""
    for table, names in SPOILT.values():
        for name in names:
            edges = list(table["piece"][name]["edges"])
            for k, (one, other) in enumerate(zip(edges, [*edges[1:], edges[0]], strict=True)):
                project, piece = alone(table, name)
                walks = piece["edges"]
                if piece.get("on_fold") in (one, other) or not is_corner(table["piece"][name], one, other):
                    continue
                merged = {"through": [*through(walks[one]), *through(walks[other])[1:]], "curve": "smooth"}
                kept = {edge: walk for edge, walk in walks.items() if edge not in (one, other)}
                piece["edges"] = (
                    {f"{one} and {other}": merged, **kept}
                    if k == len(edges) - 1
                    else {
                        **{edge: kept[edge] for edge in edges[:k]},
                        f"{one} and {other}": merged,
                        **{edge: kept[edge] for edge in edges[k + 2 :]},
                    }
                )
                yield Ruin("lost corner", name, f"{one} and {other}", project)


def deep_allowances():
    """Each edge with an allowance of 10 cm."""
    for table, names in SPOILT.values():
        for name in names:
            for edge, walk in table["piece"][name]["edges"].items():
                project, piece = alone(table, name)
                if edge != piece.get("on_fold"):
                    more = walk if isinstance(walk, dict) else {"through": walk}
                    piece["edges"][edge] = {**more, "allowance": 10}
                    yield Ruin("allowance of 10 cm", name, edge, project)


def other_units():
    """Whole files in cm whose first line says something else."""
    for name, table in (("jacket", JACKET), ("sound pieces", SOUND)):
        for unit in ("mm", "in"):
            yield Ruin("units", name, f"cm read as {unit}", {**table, "units": unit})


def all_ruins():
    yield from moved_points()
    yield from lost_corners()
    yield from deep_allowances()
    yield from other_units()


def outcome(ruin):
    """How a ruin is met: refused, remarked on, or let pass."""
    try:
        project = project_from_table(ruin.table)
    except BadInput:
        return "refused"
    return "remarked on" if project_doubts(project) else "let pass"


def counted(ruins):
    """How many of each slip are met how."""
    return Counter((ruin.slip, outcome(ruin)) for ruin in ruins)
