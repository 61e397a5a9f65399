"""From ``[order]`` to the pieces of all the garments that are laid at once."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from nesting.errors import Mistake
from nesting.files.tables.checking import checked
from nesting.files.tables.schema import OrderTable
from nesting.files.tables.wording import choices, quoted
from nesting.pattern.match import Match
from nesting.pattern.piece import Piece
from nesting.pattern.wish import Wish, renamed
from nesting.project import Project

__all__ = ["ordered", "read_order"]


def read_order(
    raw: Mapping[str, object], sizes: Sequence[str], source: str
) -> tuple[OrderTable | None, list[Mistake]]:
    """The order of a file, None where there is none, and what is wrong with it.

    Parameters
    ----------
    raw : mapping
        The whole file's table.
    sizes : sequence of str
        The sizes there are; none in a file whose one size has no name.
    source : str
        For messages.
    """
    if "order" not in raw:
        return None, []
    where = f"{source}, order"
    order, mistakes = checked(OrderTable, raw["order"], where, None)
    if order is not None:
        pieces = raw.get("piece")
        mistakes += _faults(order, sizes, where) + _alike(
            order, pieces if isinstance(pieces, dict) else {}, where
        )
    return order, mistakes


def _faults(order: OrderTable, sizes: Sequence[str], where: str) -> list[Mistake]:
    mistakes = []
    if order.sizes and order.garments is not None:
        what = "It gives garments by size and a number of garments as well."
        mistakes.append(Mistake(where, what, "Keep one of the two."))
    for size in order.sizes:
        if size not in sizes:
            remedy = choices(size, sizes, "size")
            if not sizes:
                remedy = f'Say which size is drawn (base_size = "{size}"), or write garments = 2.'
            mistakes.append(Mistake(where, f"There is no size {quoted(size)}.", remedy))
    if order.garments is None and not order.sizes:
        remedy = 'Write how many: garments = 3, or by size: sizes = { "10" = 2, "12" = 1 }.'
        mistakes.append(Mistake(where, "It orders nothing.", remedy))
    elif not mistakes and not (order.garments or sum(order.sizes.values())):
        mistakes.append(Mistake(where, "It orders no garment.", "Order at least one, or leave it out."))
    if order.garments and not order.sizes and len(sizes) > 1:
        what = f"It orders {order.garments} garments, but not in which size."
        remedy = f'Write for example: sizes = {{ "{sizes[0]}" = {order.garments} }}.'
        mistakes.append(Mistake(where, what, remedy))
    return mistakes


def _alike(order: OrderTable, pieces: Collection[str], where: str) -> list[Mistake]:
    """Pieces of two sizes that would be called the same, as 'front 12' in '10' and 'front' in '12 10'."""
    seen: dict[str, tuple[str, str]] = {}
    mistakes = []
    for size in order.sizes:
        for piece in pieces:
            one = seen.setdefault(f"{piece} {size}", (piece, size))
            if one != (piece, size):
                what = (
                    f"Piece {quoted(piece)} in size {quoted(size)} and piece {quoted(one[0])} in size "
                    f"{quoted(one[1])} would both be called {quoted(f'{piece} {size}')}."
                )
                mistakes.append(Mistake(where, what, "Give one of the pieces another name."))
    return mistakes


@dataclass(frozen=True, slots=True)
class _Line:
    """So many garments alike."""

    label: str
    number: int
    garment: Project


def ordered(project: Project, order: OrderTable) -> Project:
    """The project with the pieces of every garment ordered, in each of its versions.

    Parameters
    ----------
    project : Project
        With its sizes and alternatives; of one garment.
    order : OrderTable
        Without mistakes.
    """
    sizes = project.sizes or (project,)
    counts = order.sizes or {sizes[0].size: order.garments or 0}
    chosen = [(number, size) for name, number in counts.items() for size in sizes if size.size == name]
    alternatives = []
    for k, version in enumerate(project.alternatives):
        lines = [_Line(size.size, number, size.alternatives[k]) for number, size in chosen]
        alternatives.append(_together(version, lines))
    plain = _together(project, [_Line(size.size, number, size) for number, size in chosen])
    return replace(plain, alternatives=tuple(alternatives))


def _together(project: Project, lines: Sequence[_Line]) -> Project:
    several = sum(line.number for line in lines) > 1
    labels: list[str] = []
    pieces: list[Piece] = []
    matches: list[Match] = []
    wishes: list[Wish] = []
    for line in lines:
        numbers = tuple(range(len(labels) + 1, len(labels) + line.number + 1))
        labels += [line.label] * line.number
        if line.number:
            pieces += [_for(piece, line, numbers if several else ()) for piece in line.garment.pieces]
            matches += [_of(match, line) for match in line.garment.matches]
            names = {piece.name: _named(piece.name, line) for piece in line.garment.pieces}
            wishes += [renamed(wish, names) for wish in line.garment.wishes]
    return replace(
        project,
        pieces=tuple(pieces),
        matches=tuple(matches),
        wishes=tuple(wishes),
        garments=tuple(labels) if several else (),
        notes=tuple(dict.fromkeys(note for line in lines for note in line.garment.notes)),
        size="" if several else next(line.label for line in lines if line.number),
    )


def _named(name: str, line: _Line) -> str:
    """What a piece is called, so that it is told from that of another size."""
    return f"{name} {line.label}" if line.label else name


def _for(piece: Piece, line: _Line, garments: tuple[int, ...]) -> Piece:
    """That piece of all garments of a line."""
    cuts = {
        key: replace(count, number=count.number * line.number, garments=garments)
        for key, count in piece.cuts.items()
    }
    return replace(piece, name=_named(piece.name, line), cuts=cuts, size=line.label)


def _of(match: Match, line: _Line) -> Match:
    """What meets on one line in a garment of that size."""
    points = tuple((_named(piece, line), point) for piece, point in match.points)
    return replace(match, name=_named(match.name, line), points=points)
