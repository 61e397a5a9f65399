"""How the cloth lies, in words: over its drawing, above each table, and how to spread it so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting.cloth.cloth import Cloth, RightSide, Spread
from nesting.cutting.flat.placing import folded_over_mm
from nesting.cutting.lay import Fold, Lay, LaySection
from nesting.units import Unit, format_length

__all__ = ["how_to_spread", "layer_words", "section_words", "stretch_words"]


def stretch_words(stretch: Sequence[LaySection], cloth: Cloth) -> str:
    """How a stretch of the cloth lies."""
    inside, up = _sides(cloth)
    match stretch[0].spread:
        case Spread.LENGTHWISE_FOLD:
            return f"folded lengthwise{_folded_lengthwise(cloth)}, two layers"
        case Spread.PART_FOLD:
            return f"near selvedge folded over{inside}: two layers as far as it reaches, one layer beyond"
        case Spread.DOUBLE_FOLD:
            return f"both selvedges folded over to meet{inside}, two layers"
        case Spread.CROSSWISE_FOLD:
            return f"folded crosswise, cut end on cut end{inside}, two layers"
        case Spread.TWO_LENGTHS:
            return "two lengths that run the same way, two layers"
        case Spread.TUBE:
            return "the tube as it is, two layers"
        case _ if cloth.tube:
            return f"tube cut open{up}, one layer"
        case _:
            return f"opened out{up}, one layer"


def section_words(section: LaySection, cloth: Cloth) -> str:
    """How a section lies, told apart from the one beside it."""
    if section.spread is Spread.PART_FOLD:
        doubled = section.fold is Fold.LOW
        part = "between the fold and" if doubled else "beyond"
        return f"{part} the selvedge folded over, {layer_words(section)}"
    if section.spread is Spread.DOUBLE_FOLD:
        side = "near" if section.fold is Fold.LOW else "far"
        return f"between the {side} fold and the selvedges in the middle, two layers"
    return stretch_words((section,), cloth)


def layer_words(section: LaySection) -> str:
    """``two layers``."""
    return "two layers" if section.layers == 2 else "one layer"


def how_to_spread(lay: Lay, unit: Unit) -> str:
    """What the person does with the cloth before laying, and in which order it is cut; sentences."""
    return " ".join(_sentences(lay, unit))


def _sentences(lay: Lay, unit: Unit) -> Iterator[str]:
    inside, up = _sides(lay.cloth)
    stretches = lay.stretches
    if lay.cloth.blocked:
        yield (
            "Begin with the cloth as its flaws were measured: right side up, the cut end they were measured "
            "from on the left, the selvedge they were measured from on the near side."
        )
        if stretches[0][0].spread is Spread.LENGTHWISE_FOLD:
            yield "It is the near half that is folded over."
    first = stretches[0][0].spread
    opened = next((one[0] for one in stretches if one[0].spread is not first), None)
    if opened is not None and first.lengths == 2:
        length = format_length(opened.length_mm + lay.cloth.end_allowance_mm, unit)
        yield (
            f"First cut {length} off one end along a thread: it is the opened-out length on the right, laid "
            f"in one layer{up}, its new cut edge at {format_length(opened.start_mm, unit)} on the tape."
        )
    rest = "the rest" if opened is not None and first.lengths == 2 else "the cloth"
    depth = folded_over_mm(lay)
    match first:
        case Spread.LENGTHWISE_FOLD:
            yield (
                f"Fold the cloth selvedge to selvedge{_folded_lengthwise(lay.cloth)}, the fold along a "
                "thread, on the near side."
            )
        case Spread.PART_FOLD if depth is not None:
            yield (
                f"Lay the cloth in one layer{up}. Fold the near selvedge over by "
                f"{format_length(depth, unit)}, measured from the fold to its outer edge at both ends and "
                "often in between. Lay no piece over that selvedge: the layers change there."
            )
        case Spread.DOUBLE_FOLD if depth is not None:
            table = stretches[0][-1].across_mm + stretches[0][-1].width_mm
            yield (
                f"Fold the near selvedge over by {format_length(depth, unit)} and the far one by "
                f"{format_length(table - depth, unit)}{inside}, each measured from its fold to its outer "
                "edge, so that the two meet. Lay no piece over where they meet."
            )
        case Spread.CROSSWISE_FOLD:
            yield (
                f"Straighten both ends of {rest} and fold it in half across{inside}: both ends at 0 on the "
                "tape, selvedges on selvedges, the fold on the right along a thread of the weft. Nothing is "
                "cut on the fold. The upper layer runs the other way."
            )
        case Spread.TWO_LENGTHS:
            yield (
                f"Straighten both ends of {rest}, fold it in half across{inside}, cut it through along the "
                "fold, and turn the upper length end for end, as it lies, so that both run the same way: "
                "ends at 0 on the tape, selvedges on selvedges."
            )
        case Spread.TUBE:
            yield "Lay the tube flat, its ribs or wales straight along both folds. It has no selvedge."
        case _ if lay.cloth.tube:
            yield f"Cut the tube open along a wale and lay it out in one layer{up}."
        case _:
            yield f"Lay the cloth out in one layer{up}."
    if len({stretch[0].spread for stretch in stretches}) < len(stretches):
        yield (
            f"The lay is cut in {len(stretches)} lengths, each no longer than the table: when one is cut, "
            "the cloth is drawn on to the next line."
        )
    if opened is not None and first.lengths == 1 and first is not Spread.OPEN:
        how = "cut the rest of the tube open" if first is Spread.TUBE else "open out the rest"
        yield f"Place and cut all that lies double first, then {how} for what is cut in one layer."


def _folded_lengthwise(cloth: Cloth) -> str:
    """Which side of a lengthwise fold is inside.

    Stripes, checks and prints are folded with their right side out, so that the pattern can be seen (a school
    text, Textiles and Garment Construction, Form One, p. 179). Pairs and fold pieces come out the same.
    """
    if cloth.right_side is RightSide.ONE and cloth.repeat is not None:
        return ", right side outside"
    return _sides(cloth)[0]


def _sides(cloth: Cloth) -> tuple[str, str]:
    """What to say of the right side of a fold, and of one layer; nothing where both faces are alike."""
    if cloth.right_side is RightSide.BOTH:
        return "", ""
    return ", right side inside", ", right side up"
