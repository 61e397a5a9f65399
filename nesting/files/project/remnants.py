"""From what is written of a cloth in hand to its remnants, and from the wishes for its waste."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Blocked, Remnant, part_keys
from nesting.cloth.waste import SmallPiece
from nesting.errors import Mistake
from nesting.files.tables.in_hand import BlockedTable, FlawTable, RemnantTable, WasteTable
from nesting.files.tables.schema import ClothTable
from nesting.files.tables.wording import choices, quoted
from nesting.units import Unit, format_length
from nesting.words.spreads import SPREAD_WORDS

__all__ = ["build_remnants", "build_small_pieces", "in_hand_mistakes", "line_mistakes", "name_mistakes"]

_SLACK_MM = 1e-6
_NOT_BOUGHT = {
    "step": "a step in which a shop cuts",
    "price": "a price",
    "price_per": "a price",
    "spare_at_least": "a wish for how much more is bought",
}


def build_remnants(
    table: ClothTable, cloth: Cloth, unit: Unit, where: str
) -> tuple[tuple[Remnant, ...], list[Mistake]]:
    """The pieces of this cloth in hand, none if it is to be bought, and what is wrong with them."""
    if table.in_hand is not None:
        blocked, mistakes = _all_blocked(
            table.flaws, table.cut_away, table.in_hand, table.width, cloth, unit, where
        )
        return (Remnant("", table.in_hand, None, blocked),), mistakes
    remnants, mistakes = [], []
    for number, one in enumerate(table.remnant, start=1):
        place = f"{where}, remnant {quoted(one.name)}"
        width = table.width if one.width is None else one.width
        blocked, found = _all_blocked(one.flaws, one.cut_away, one.length, width, cloth, unit, place)
        mistakes += found + _width_mistakes(one, table, unit, place)
        if any(one.name.casefold() == other.name.casefold() for other in table.remnant[: number - 1]):
            mistakes.append(
                Mistake(
                    place, "Two remnants have this name.", "Give one of them another, to tell them apart."
                )
            )
        remnants.append(Remnant(one.name, one.length, one.width, blocked))
    return tuple(remnants), mistakes


def name_mistakes(cloths: Iterable[Cloth], where: str) -> list[Mistake]:
    """Remnants that would be called as another cloth is, once each is a cloth of its own."""
    parts = {cloth.key: part_keys(cloth.key, cloth.remnants) for cloth in cloths}
    mistakes = []
    for own, keys in parts.items():
        others = {key.casefold() for other in parts if other != own for key in (other, *parts[other])}
        for key in keys:
            if key != own and key.casefold() in others:
                place = f"{where}, cloth {quoted(own)}, remnant {quoted(key.removeprefix(own).strip())}"
                what = f"Its sheets would be called {quoted(key)}, as those of another cloth are."
                mistakes.append(Mistake(place, what, "Give the remnant another name."))
    return mistakes


def in_hand_mistakes(
    table: ClothTable, cloth: Cloth, unit: Unit, where: str, *, outright: bool
) -> list[Mistake]:
    """Entries that contradict each other, or do not apply to what is in hand, or only to that.

    `outright` is false in a version that may have taken a price over from the cloth as it is bought.
    """
    mistakes = []
    written = table.model_fields_set
    if table.in_hand is not None and table.remnant:
        mistakes.append(
            Mistake(
                where,
                "It has both in_hand and remnants.",
                "Leave in_hand out, and write each piece in hand as a remnant, with its own length.",
            )
        )
    for entry in ("flaws", "cut_away"):
        if getattr(table, entry) and table.in_hand is None:
            remedy = (
                f"Write {entry} into the remnant that has them."
                if table.remnant
                else 'Add how long the cloth in hand is: in_hand = "2.1 m".'
            )
            mistakes.append(Mistake(where, f"{quoted(entry)} is given, but no length in hand.", remedy))
    if table.part_pairs and len(table.remnant) < 2:
        mistakes.append(
            Mistake(where, "part_pairs is given, but not several remnants.", "Leave part_pairs out.")
        )
    if table.in_hand is None and not table.remnant:
        return mistakes
    asked = None if cloth.spread is Spread.BEST else cloth.spread.facts
    for entry in [name for name in _NOT_BOUGHT if outright and name in written]:
        what = f"It is in hand, yet has {_NOT_BOUGHT[entry]}; nothing of it is bought."
        mistakes.append(Mistake(where, what, f"Leave {entry} out, or leave out what is in hand."))
    if asked and not asked.flaws and any(remnant.blocked for remnant in cloth.remnants):
        words = SPREAD_WORDS[cloth.spread]
        what = f"It is to lie {words.name}, but {words.no_flaws}."
        mistakes.append(Mistake(where, what, 'Write spread = "open".'))
    if asked and not asked.plain and len(cloth.remnants) > 1:
        what = f"It is in several remnants, and all are to lie as '{cloth.spread}'."
        mistakes.append(
            Mistake(where, what, 'Write spread = "best": each lies as suits what is cut from it.')
        )
    for remnant in cloth.remnants:
        if remnant.length_mm * cloth.kept_along - 2 * cloth.end_allowance_mm <= 0:
            place = f"{where}, remnant {quoted(remnant.name)}" if remnant.name else where
            what = (
                f"Straightening its two cut ends takes {format_length(cloth.end_allowance_mm, unit)} each, "
                f"which leaves nothing of {format_length(remnant.length_mm * cloth.kept_along, unit)}."
            )
            mistakes.append(Mistake(place, what, "Check the length; or lower end_allowance."))
    return mistakes


def line_mistakes(cloth: Cloth, where: str) -> list[Mistake]:
    """Where pieces are matched along a cloth in hand, its end has to be on a line before it is measured."""
    if not (cloth.remnants and cloth.begins_on_line and cloth.end_allowance_mm > 0):
        return []
    remedy = (
        "Straighten the end along a main line first, measure the length and the flaws from there, and write "
        "end_allowance = 0."
    )
    return [
        Mistake(where, "It is in hand, pieces are matched along it, and its end is not on a line.", remedy)
    ]


def _width_mistakes(one: RemnantTable, table: ClothTable, unit: Unit, where: str) -> list[Mistake]:
    if one.width is None:
        return []
    width = format_length(one.width, unit)
    if one.width > table.width + _SLACK_MM:
        what = f"It is {width} wide, wider than the cloth it is of, {format_length(table.width, unit)}."
        return [Mistake(where, what, "Check both widths.")]
    if 2 * table.selvedge >= one.width and not table.tube:
        what = f"Two selvedges of {format_length(table.selvedge, unit)} leave nothing of {width}."
        return [Mistake(where, what, "Check the width; or lower the selvedge.")]
    return []


def _all_blocked(
    flaws: Sequence[BlockedTable],
    cut_away: Sequence[BlockedTable],
    length_mm: float,
    width_mm: float,
    cloth: Cloth,
    unit: Unit,
    where: str,
) -> tuple[tuple[Blocked, ...], list[Mistake]]:
    whole = (length_mm, 2 * width_mm if cloth.tube else width_mm)
    blocked, mistakes = [], []
    for thing, tables, missing in (("flaw", flaws, False), ("cut_away", cut_away, True)):
        for number, table in enumerate(tables, start=1):
            place = f"{where}, {thing} {quoted(table.name) if table.name else number}"
            outline, found = _outline(table, whole, unit, place)
            mistakes += found
            if not found:
                keep_off = table.keep_off if isinstance(table, FlawTable) else 0.0
                blocked.append(Blocked(table.name, outline, missing, keep_off))
    return tuple(blocked), mistakes


def _outline(
    table: BlockedTable, whole: tuple[float, float], unit: Unit, where: str
) -> tuple[tuple[tuple[float, float], ...], list[Mistake]]:
    """Its corners, along and across, and whatever is wrong with them."""
    boxed = table.along is not None or table.across is not None
    if (table.outline is not None) == boxed:
        what = "It has both an outline and a box." if boxed else "It does not say where it is."
        remedy = "Write along = [62, 66], across = [30, 34], or an outline of points instead."
        return (), [Mistake(where, what, remedy)]
    if table.outline is not None:
        corners = tuple(table.outline)
    else:
        left, right = table.along or (0.0, whole[0])
        low, high = table.across or (0.0, whole[1])
        corners = ((left, low), (right, low), (right, high), (left, high))
    mistakes = _outside(corners, whole, unit, where)
    if table.outline is not None and not mistakes and not _simple(corners):
        remedy = "Give at least three points, in order once round, without crossing over."
        mistakes.append(Mistake(where, "Its outline has no inside.", remedy))
    return corners, mistakes


def _outside(
    corners: Sequence[tuple[float, float]], whole: tuple[float, float], unit: Unit, where: str
) -> list[Mistake]:
    mistakes = []
    for side, what, far, remedy in (
        (0, "along", "long", "Measure it from the cut end on the left."),
        (1, "across", "wide", "Measure it from the outer edge of the near selvedge."),
    ):
        least, most = min(corner[side] for corner in corners), max(corner[side] for corner in corners)
        if least < -_SLACK_MM or most > whole[side] + _SLACK_MM:
            told = (
                f"It lies from {format_length(least, unit)} to {format_length(most, unit)} {what}, but the "
                f"cloth is {format_length(whole[side], unit)} {far}."
            )
            mistakes.append(Mistake(where, told, remedy))
    return mistakes


def _simple(corners: Sequence[tuple[float, float]]) -> bool:
    import shapely  # takes long to load, and few files have an outline

    if len(corners) < 3:
        return False
    polygon = shapely.Polygon(corners)
    return bool(polygon.is_valid and polygon.area > 0)


def build_small_pieces(
    tables: Sequence[WasteTable], cloths: Collection[str], unit: Unit, source: str
) -> tuple[tuple[SmallPiece, ...], list[Mistake]]:
    """What is wanted from the waste, and what is wrong with it."""
    wishes, mistakes = [], []
    for table in tables:
        where = f"{source}, from_waste {quoted(table.name)}"
        if table.cloth not in cloths:
            what = f"It is to come from cloth {quoted(table.cloth)}, but there is no such cloth."
            mistakes.append(Mistake(where, what, choices(table.cloth, cloths, "cloth")))
        if (table.size is None) == (table.round is None):
            what = "It has both a size and a diameter." if table.size else "It does not say how large it is."
            mistakes.append(
                Mistake(where, what, "Write size = [18, 22], width and length; or round = 4.5, its diameter.")
            )
            continue
        if table.size is not None and min(table.size) <= 0:
            sides = " and ".join(format_length(side, unit) for side in table.size)
            mistakes.append(Mistake(where, f"Its size is {sides}.", "Give two lengths above 0."))
            continue
        width, length = table.size or (table.round or 0.0, table.round or 0.0)
        wishes.append(
            SmallPiece(
                table.name, table.cloth, width, length, table.round is not None, table.count, table.lie
            )
        )
    return tuple(wishes), mistakes
