"""All that is said of a spread: one row of words for each, and the sentences that are made of them.

In the words of a row stand for what differs from lay to lay:

``{inside}``, ``{up}``
    Where its right side is: ``, right side inside``, ``, right side up``; nothing where both sides are alike.
``{showing}``
    As ``{inside}``, but a pattern is folded with its right side out, so that it can be seen.
``{depth}``, ``{far_depth}``
    How much is folded over from the near side, and from the far one.
``{cloth}``
    ``the cloth``, or ``the rest`` where a length was cut off it first.
``{pieces}``
    How many pieces lie in one layer: ``2 pieces``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from nesting.cloth.cloth import Cloth, RightSide
from nesting.cloth.spread import Spread, row_for_each
from nesting.cutting.flat.placing import folded_over_mm
from nesting.cutting.lay import Fold, Lay, LaySection
from nesting.units import Unit, format_length
from nesting.words.cloth import blocked_fact

__all__ = [
    "CUT_OPEN",
    "SPREAD_WORDS",
    "SpreadWords",
    "better_words",
    "folded_over_words",
    "how_to_spread",
    "layer_words",
    "section_words",
    "stretch_words",
    "words_of",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadWords:
    """The words of one spread.

    Attributes
    ----------
    label : str
        In a table.
    name : str
        In a sentence: ``on a lengthwise fold``.
    title : str
        How it lies, over its drawing.
    make : str
        How to spread the cloth so, in sentences.
    edges : tuple of str
        What its near and its far side are.
    ends : tuple of str
        What its first and its last end are.
    better : str
        What it does that others cannot, where a lay shows it.
    opened : str
        Where that lies which cannot be cut double; empty where nothing lies double.
    then : str
        What is done for it when all that lies double is cut; empty where it is cut off before.
    parts : Mapping of Fold to str
        How each of several sections lies that are side by side, by which of its sides are folds; empty where
        there is one.
    beside : str
        What is said of a piece cut from one layer, in a section of its own beside what lies double.
    folds : str
        How deep its folds are made; empty where there is nothing to choose.
    after : str
        `label` where it comes after another spread, if that is another.
    flaws : str
        How to begin where the cloth has flaws, beyond what is said for all; a sentence.
    no_flaws : str
        Why a cloth with flaws cannot lie so.
    """

    label: str
    name: str
    title: str
    make: str
    edges: tuple[str, str]
    ends: tuple[str, str] = ("cut end", "cut end")
    better: str
    opened: str
    then: str
    parts: Mapping[Fold, str] = field(default_factory=dict)
    beside: str = ""
    folds: str = ""
    after: str = ""
    flaws: str = ""
    no_flaws: str = ""


_AFTER_IT = "opened-out length after the fold"
_BEFORE_IT = "opened-out length that was cut off first"
_OPEN_OUT = "open out the rest"

SPREAD_WORDS = row_for_each(
    "nesting.words.spreads.SPREAD_WORDS",
    {
        Spread.OPEN: SpreadWords(
            label="open, one layer",
            after="opened out",
            name="laid open",
            title="opened out{up}, one layer",
            make="Lay the cloth out in one layer{up}.",
            edges=("near selvedge", "far selvedge"),
            better="in one layer the two of a pair need not lie over each other and go into different gaps",
            opened="",
            then="",
        ),
        Spread.LENGTHWISE_FOLD: SpreadWords(
            label="lengthwise fold",
            name="on a lengthwise fold",
            title="folded lengthwise{showing}, two layers",
            make=("Fold the cloth selvedge to selvedge{showing}, the fold along a thread, on the near side."),
            edges=("fold", "both selvedges"),
            better="what is cut double lies closer on half the width than its halves do in one layer",
            opened=_AFTER_IT,
            then=_OPEN_OUT,
            flaws="It is the near half that is folded over.",
        ),
        Spread.PART_FOLD: SpreadWords(
            label="part fold",
            name="on a part fold",
            title="near selvedge folded over{inside}: two layers as far as it reaches, one layer beyond",
            parts={
                Fold.LOW: "between the fold and the selvedge folded over, two layers",
                Fold.NONE: "beyond the selvedge folded over, one layer",
            },
            make=(
                "Lay the cloth in one layer{up}. Fold the near selvedge over by {depth}, measured from the "
                "fold to its outer edge at both ends and often in between. Lay no piece over that selvedge: "
                "the layers change there."
            ),
            folds="Fold the selvedge over by {depth}.",
            edges=("fold", "far selvedge"),
            better="folded over by {depth} and no more, it leaves {pieces} room in one layer",
            beside="cut in the single layer beside the fold",
            opened=_AFTER_IT,
            then=_OPEN_OUT,
        ),
        Spread.DOUBLE_FOLD: SpreadWords(
            label="double fold",
            name="on a double fold",
            title="both selvedges folded over to meet{inside}, two layers",
            parts={
                Fold.LOW: "between the near fold and the selvedges in the middle, two layers",
                Fold.HIGH: "between the far fold and the selvedges in the middle, two layers",
            },
            make=(
                "Fold the near selvedge over by {depth} and the far one by {far_depth}{inside}, each "
                "measured from its fold to its outer edge, so that the two meet. Lay no piece over where "
                "they meet."
            ),
            folds="Fold the selvedge over by {depth}, the other by {far_depth}.",
            edges=("near fold", "far fold"),
            better="pieces on the fold lie side by side, one on each of its two folds",
            opened=_AFTER_IT,
            then=_OPEN_OUT,
        ),
        Spread.CROSSWISE_FOLD: SpreadWords(
            label="crosswise fold",
            name="on a crosswise fold",
            title="folded crosswise, cut end on cut end{inside}, two layers",
            make=(
                "Straighten both ends of {cloth} and fold it in half across{inside}: both ends at 0 on the "
                "tape, selvedges on selvedges, the fold on the right along a thread of the weft. Nothing is "
                "cut on the fold. The upper layer runs the other way."
            ),
            edges=("near selvedge of both layers", "far selvedge of both layers"),
            ends=("both cut ends", "fold"),
            better="pieces wider than half the cloth are cut double over its full width",
            opened=_BEFORE_IT,
            then="",
        ),
        Spread.TWO_LENGTHS: SpreadWords(
            label="two lengths",
            name="in two lengths",
            title="two lengths that run the same way, two layers",
            make=(
                "Straighten both ends of {cloth}, fold it in half across{inside}, cut it through along the "
                "fold, and turn the upper length end for end, as it lies, so that both run the same way: "
                "ends at 0 on the tape, selvedges on selvedges."
            ),
            edges=("near selvedge of both layers", "far selvedge of both layers"),
            ends=("ends of both lengths", "ends of both lengths"),
            better="pieces wider than half the cloth are cut double over its full width",
            opened=_BEFORE_IT,
            then="",
        ),
        Spread.TUBE: SpreadWords(
            label="tube",
            name="as a tube",
            title="the tube as it is, two layers",
            make="Lay the tube flat, its ribs or wales straight along both folds. It has no selvedge.",
            edges=("near fold", "far fold"),
            better="it need not be cut open",
            opened="length of the tube that is cut open",
            then="cut the rest of the tube open",
            no_flaws="flaws of a tube are measured with it cut open",
        ),
    },
)
CUT_OPEN = replace(
    SPREAD_WORDS[Spread.OPEN],
    label="cut open, one layer",
    after="cut open",
    title="tube cut open{up}, one layer",
    make="Cut the tube open along a wale and lay it out in one layer{up}.",
    edges=("near cut edge", "far cut edge"),
)
"""A tube that lies open."""


def words_of(spread: Spread, cloth: Cloth) -> SpreadWords:
    """The words of a spread on that cloth: a tube that lies open has been cut."""
    return CUT_OPEN if cloth.tube and spread is Spread.OPEN else SPREAD_WORDS[spread]


def stretch_words(stretch: Sequence[LaySection], cloth: Cloth) -> str:
    """How a stretch of the cloth lies."""
    return words_of(stretch[0].spread, cloth).title.format(**_sides(cloth))


def section_words(section: LaySection, cloth: Cloth) -> str:
    """How a section lies, told apart from the one beside it."""
    return words_of(section.spread, cloth).parts.get(section.fold) or stretch_words((section,), cloth)


def layer_words(section: LaySection) -> str:
    """``two layers``."""
    return "two layers" if section.layers == 2 else "one layer"


def folded_over_words(lay: Lay, unit: Unit) -> str:
    """How deep the folds are, where that was found by trying; a sentence, empty for other spreads."""
    depths = _depths(lay, unit)
    return words_of(lay.spread, lay.cloth).folds.format(**depths) if depths else ""


def better_words(lay: Lay, unit: Unit) -> str:
    """What this spread does that others cannot; for a lay that shows it."""
    beside = sum(
        len(one.copies) for section in lay.stretches[0] if section.layers == 1 for one in section.placed
    )
    pieces = f"{beside} piece{'' if beside == 1 else 's'}"
    return words_of(lay.spread, lay.cloth).better.format(pieces=pieces, **_depths(lay, unit))


def how_to_spread(lay: Lay, unit: Unit) -> str:
    """What the person does with the cloth before laying, and in which order it is cut; sentences."""
    return " ".join(_sentences(lay, unit))


def _sentences(lay: Lay, unit: Unit) -> Iterator[str]:
    sides = _sides(lay.cloth)
    stretches = lay.stretches
    first = stretches[0][0].spread
    words = words_of(first, lay.cloth)
    if lay.cloth.blocked:
        yield (
            "Begin with the cloth as its flaws were measured: right side up, the cut end they were measured "
            "from on the left, the selvedge they were measured from on the near side."
        )
        if words.flaws:
            yield words.flaws
        yield blocked_fact(lay.cloth.blocked, unit)
    opened = next((one[0] for one in stretches if one[0].spread is not first), None)
    cut_off = opened is not None and first.facts.lengths == 2
    if opened is not None and cut_off:
        length = format_length(opened.length_mm + lay.cloth.end_allowance_mm, unit)
        yield (
            f"First cut {length} off one end along a thread: it is the opened-out length on the right, laid "
            f"in one layer{sides['up']}, its new cut edge at {format_length(opened.start_mm, unit)} on the "
            "tape."
        )
    yield words.make.format(cloth="the rest" if cut_off else "the cloth", **sides, **_depths(lay, unit))
    if len({stretch[0].spread for stretch in stretches}) < len(stretches):
        yield (
            f"The lay is cut in {len(stretches)} lengths, each no longer than the table: when one is cut, "
            "the cloth is drawn on to the next line."
        )
    if opened is not None and not cut_off:
        yield f"Place and cut all that lies double first, then {words.then} for what is cut in one layer."


def _depths(lay: Lay, unit: Unit) -> dict[str, str]:
    """How deep the folds of its first stretch are, where there is anything to choose."""
    depth, last = folded_over_mm(lay), lay.stretches[0][-1]
    if depth is None:
        return {}
    far = last.across_mm + last.width_mm - depth
    return {"depth": format_length(depth, unit), "far_depth": format_length(far, unit)}


def _sides(cloth: Cloth) -> dict[str, str]:
    """What to say of the right side: of a fold, of a fold of a patterned cloth, and of one layer.

    Stripes, checks and prints are folded with their right side out, so that the pattern can be seen (a school
    text, Textiles and Garment Construction, Form One, p. 179). Pairs and fold pieces come out the same.
    """
    if cloth.right_side is RightSide.BOTH:
        return {"inside": "", "showing": "", "up": ""}
    inside = ", right side inside"
    outside = ", right side outside"
    return {
        "inside": inside,
        "showing": inside if cloth.repeat is None else outside,
        "up": ", right side up",
    }
