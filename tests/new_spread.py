"""A spread that the program does not know, and all that has to be written for it: the steps of DEVELOPERS.md.

*Two part folds*: both selvedges are folded over only so far as is needed, and what is between them lies in
one layer. A front and a back go on a fold each, and a wide piece lies between them.

Run as a script it adds the spread to the program, which is left as it is on the disk: the modules named in
`STEPS` are loaded with what is to be added, all others as they are. Then a small pattern is laid so, verified
and drawn. What came of it is printed as JSON; and what comes of it where any one of the steps is left out.
"""

from __future__ import annotations

import importlib.abc
import importlib.util
import json
import sys
import traceback
from dataclasses import dataclass, replace
from pathlib import Path

ROOT = Path(__file__).parents[1] / "nesting"
NAME = "two part folds"


@dataclass(frozen=True)
class Step:
    """What is added to a module, right before a line of it."""

    module: str
    before: str
    added: str


MEMBER = Step(
    "nesting.cloth.spread",
    "\n    @property\n    def facts(",
    '''    TWO_PART_FOLDS = "two part folds"
    """Both selvedges folded over only so far as is needed, a single layer between them."""
''',
)
STEPS = (
    Step(
        "nesting.cloth.spread",
        "        Spread.CROSSWISE_FOLD: SpreadFacts(",
        "        Spread.TWO_PART_FOLDS: SpreadFacts(doubled=True, single=True),\n",
    ),
    Step(
        "nesting.cutting.plan.spreading",
        "        case Spread.BEST:\n            no_way_to_lie(spread)",
        """        case Spread.TWO_PART_FOLDS:
            between = max(cloth.washed_selvedge_mm, cloth.gap_mm)
            deepest = (width - 2 * between - _LEAST_ZONE_MM) / 4
            return tuple(
                (
                    Zone(spread, 2, depth, fold=Fold.LOW),
                    Zone(spread, 1, width - 4 * depth - 2 * between, across_mm=depth + between),
                    Zone(spread, 2, depth, across_mm=width - 3 * depth, fold=Fold.HIGH),
                )
                for depth in _apart(_one_or_two(doubled_mm), _LEAST_ZONE_MM, deepest)
            )
""",
    ),
    Step(
        "nesting.cutting.plan.flaws",
        "        case Spread.BEST:\n",
        """        case Spread.TWO_PART_FOLDS:
            near = layout[0].width_mm + selvedge
            if zone.fold is Fold.LOW:
                return _both_ways(start_mm, near)
            below = _Seen(1, -start_mm, 1, -near - zone.across_mm)
            table = zone.across_mm + zone.width_mm
            above = _Seen(1, -start_mm, -1, near + 2 * table - zone.across_mm)
            return (below,) if zone.layers == 1 else (below, above)
""",
    ),
    Step(
        "nesting.cutting.plan.lines",
        "        case Spread.DOUBLE_FOLD | Spread.TUBE:\n",
        """        case Spread.TWO_PART_FOLDS:
            return Barred.FOLDS_ON_A_STRIPE if across else None
""",
    ),
    Step(
        "nesting.cutting.flat.opening",
        "        Spread.CROSSWISE_FOLD: [(",
        "        Spread.TWO_PART_FOLDS: [(2, Fold.LOW), (1, Fold.NONE), (2, Fold.HIGH)],\n",
    ),
    Step(
        "nesting.cutting.flat.opening",
        "        case Spread.BEST:\n            no_way_to_lie(section.spread)",
        """        case Spread.TWO_PART_FOLDS:
            near, far = stretch[0], stretch[-1]
            folded = near.width_mm + selvedge
            far_fold = folded + far.across_mm + far.width_mm
            lower = Layer(1, 1, flat_mm, folded + low)
            if section.fold.low:
                return [lower, Layer(1, -1, flat_mm, folded - low)]
            return [lower, Layer(1, -1, flat_mm, 2 * far_fold - folded - low)][: section.layers]
""",
    ),
    Step(
        "nesting.cutting.flat.opening",
        "        case Spread.BEST:\n            no_way_to_lie(stretch[0].spread)",
        """        case Spread.TWO_PART_FOLDS:
            near_end, far_begin = stretch[0].width_mm + selvedge, stretch[2].across_mm - selvedge
            far_fold = usable - stretch[0].width_mm - stretch[2].width_mm
            return [(0.0, usable / 2), (near_end, far_begin), (near_end, far_fold)]
""",
    ),
    Step(
        "nesting.cutting.flat.placing",
        "        case Spread.DOUBLE_FOLD | Spread.TUBE:\n",
        """        case Spread.TWO_PART_FOLDS:
            if section.fold is Fold.HIGH:
                return Ruler(MeasuredFrom.FAR_FOLD, section.across_mm + section.width_mm, -1)
            return Ruler(MeasuredFrom.NEAR_FOLD, 0.0)
""",
    ),
    Step(
        "nesting.cutting.flat.placing",
        "        case Spread.PART_FOLD:\n",
        """        case Spread.TWO_PART_FOLDS:
            return stretch[0].width_mm + selvedge
""",
    ),
    Step(
        "nesting.drawing.lay.across",
        "        case Spread.TUBE:\n",
        """        case Spread.TWO_PART_FOLDS:
            near_band = stretch[0].width_mm, stretch[0].width_mm + breadth
            far_band = stretch[2].across_mm - breadth, stretch[2].across_mm
            far = EdgeLine(top, "fold", "far-fold-edge", far_words)
            inner = (
                EdgeLine(near_band[1], "selvedge", "near-inner-selvedge-edge"),
                EdgeLine(far_band[0], "selvedge", "far-inner-selvedge-edge"),
            )
            return Across(
                ((*near_band, "near-inner-selvedge"), (*far_band, "far-inner-selvedge")), fold, far, inner
            )
""",
    ),
    Step(
        "nesting.estimate.better",
        "        case Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS:\n",
        """        case Spread.TWO_PART_FOLDS:
            return all(section.placed for section in sections)
""",
    ),
    Step(
        "nesting.words.spreads",
        "        Spread.CROSSWISE_FOLD: SpreadWords(",
        """        Spread.TWO_PART_FOLDS: SpreadWords(
            label="two part folds",
            name="on two part folds",
            title="both selvedges folded over{inside}: two layers on either side, one layer between",
            parts={
                Fold.LOW: "between the near fold and its selvedge, two layers",
                Fold.NONE: "between the two selvedges, one layer",
                Fold.HIGH: "between the far fold and its selvedge, two layers",
            },
            make="Lay the cloth in one layer{up}. Fold either selvedge over by {depth}.",
            folds="Fold both selvedges over by {depth}.",
            edges=("near fold", "far fold"),
            better="it has a fold on either side and room in one layer between",
            beside="cut in the single layer between the folds",
            opened=_AFTER_IT,
            then=_OPEN_OUT,
        ),
""",
    ),
)


def module_of(file: Path) -> str:
    """The name of a module of the program: ``nesting.cloth.cloth``."""
    return ".".join(file.relative_to(ROOT.parent).with_suffix("").parts)


class Added(importlib.abc.MetaPathFinder, importlib.abc.SourceLoader):
    """Loads the modules of the steps with what is added to them; keeps no compiled copy of them."""

    def __init__(self, *steps: Step) -> None:
        self.steps = steps

    def find_spec(self, name, path, target=None):
        if any(step.module == name for step in self.steps):
            return importlib.util.spec_from_loader(name, self)
        return None

    def get_filename(self, name):
        return str(ROOT.parent.joinpath(*name.split(".")).with_suffix(".py"))

    def get_data(self, path):
        text = Path(path).read_text(encoding="utf-8")
        for step in self.steps:
            if self.get_filename(step.module) == path:
                assert text.count(step.before) == 1, f"{step.module}: {step.before!r}"
                text = text.replace(step.before, step.added + step.before)
        return text.encode()


def tried(*steps: Step) -> dict[str, object]:
    """What comes of laying and drawing two part folds with these steps alone."""
    kept = ("nesting.packing", "nesting.geometry", "nesting.errors")
    for name in [name for name in sys.modules if name.startswith("nesting.") and not name.startswith(kept)]:
        del sys.modules[name]
    sys.modules.pop("tests.conftest", None)
    finder = Added(*steps)
    sys.meta_path.insert(0, finder)
    try:
        return told()
    except Exception as error:  # whatever it is, it is what is asked for
        files = {Path(frame.filename) for frame in traceback.extract_tb(error.__traceback__)}
        places = [module_of(file) for file in files if ROOT in file.parents]
        return {"error": type(error).__name__, "says": str(error), "in": places}
    finally:
        sys.meta_path.remove(finder)


def told() -> dict[str, object]:
    """A pattern laid so, on plain cloth, on a flawed one and on stripes; judged, drawn and described."""
    from nesting.cloth.cloth import Cloth, Spread
    from nesting.cloth.remnant import Blocked, Remnant
    from nesting.cutting.lay import TriedSpread
    from nesting.cutting.plan.lines import Matching, why_not_held
    from nesting.cutting.search.laying import Effort, lay_cloth
    from nesting.cutting.verify.faults import faults
    from nesting.drawing.lay.figure import draw_lay
    from nesting.drawing.pages.book import book_of
    from nesting.estimate.estimate import ProjectEstimate
    from nesting.estimate.estimating import estimate_lay
    from nesting.files.results.lay_json import estimate_json
    from nesting.pattern.match import Hand
    from nesting.pattern.phases import Group
    from nesting.units import Unit
    from nesting.words.lying import lies_words
    from nesting.words.spreads import how_to_spread
    from nesting.words.verdict import verdict
    from tests.conftest import box, make_piece, make_project, on_fold, singles

    def laid(cloth):
        project = make_project(*pieces, cloth=cloth)
        return lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=0, walks=1)), project

    def flaw(along, across):
        return Blocked(
            "moth", tuple((along + x, across + y) for x, y in ((0, 0), (30, 0), (30, 30), (0, 30)))
        )

    so = Spread(NAME)
    pieces = [
        make_piece("back", box(150, 600), on_fold(), on_fold="edge 3"),
        make_piece("front", box(150, 600), on_fold(), on_fold="edge 3"),
        make_piece("apron", box(850, 590), singles()),
    ]
    plain = Cloth("main", "calico", 1520, selvedge_mm=10, spread=so)
    group = Group({("back", Hand.DRAWN): 0.0}, on_line=False)
    lay, project = laid(plain)
    near, between, far = lay.sections
    beyond = replace(lay, sections=(near, between, replace(far, across_mm=far.across_mm + 5)))
    # In the upper layer beside the near fold, in both layers beside the far one, and between them.
    moths = flaw(100, 40), flaw(1000, 1350), flaw(200, 1480), flaw(500, 700)
    flawed, on_flawed = laid(replace(plain, remnants=(Remnant("", 3000.0, blocked=moths),)))
    # As if the open cloth had needed more: then it is said what this spread does better.
    more = replace(lay, tried=(*lay.tried, TriedSpread(Spread.OPEN, 900.0, 900.0, 600.0)))
    held = why_not_held(Matching(plain, {}, (), (group,)), plain, so)
    sections = [(one.across_mm, one.width_mm, [each.piece for each in one.placed]) for one in lay.sections]
    result = {
        "in stripes": held and held.name,
        "faults": faults(lay, project),
        "faults with the far fold moved": faults(beyond, project),
        "faults round flaws": faults(flawed, on_flawed),
        "length round flaws": flawed.length_mm,
        "sections": sections,
        "length": lay.length_mm,
        "least": lay.bound_mm,
        "verdict": verdict(estimate_lay(more, project), project),
    }
    estimate = estimate_lay(lay, project)
    book = book_of(ProjectEstimate(project, (estimate,)))
    return result | {
        "drawn": [artist.get_gid() for artist in draw_lay(estimate, Unit.CM)],
        "on paper": " ".join(text.get_text() for sheet in book.sheets for text in sheet.ax.texts),
        "lies": lies_words(lay),
        "how to spread": how_to_spread(lay, Unit.CM),
        "in the JSON": f'"spread": "{NAME}"' in estimate_json(ProjectEstimate(project, (estimate,))),
        "tried with best": [one.spread for one in laid(replace(plain, spread=Spread.BEST))[0].tried],
    }


def main() -> None:
    every = (MEMBER, *STEPS)
    without = [tried(*(one for one in every if one is not left_out)) for left_out in STEPS]
    print(json.dumps({"all": tried(*every), "without": without}))


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT.parent))
    main()
