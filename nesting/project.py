"""Everything one project file says: pieces, cloths, sizes, and the alternatives to try beside them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from nesting.cloth.cloth import Cloth
from nesting.cloth.waste import SmallPiece
from nesting.pattern.match import Match
from nesting.pattern.piece import Piece
from nesting.pattern.wish import Wish
from nesting.units import Unit

__all__ = ["PLAIN", "Project", "only_cloths"]

PLAIN = "plain"
"""What the version without any alternative is called."""


@dataclass(frozen=True, slots=True, eq=False)
class Project:
    """A pattern and its cloths.

    Attributes
    ----------
    title : str
    unit : Unit
        The person's unit: lengths are shown in it.
    currency : str
        Sign or word put before amounts of money, may be empty.
    cloths : Mapping[str, Cloth]
        By key, in file order.
    pieces : tuple of Piece
        In file order.
    version : str
        `PLAIN`, or the name of the alternative this is.
    alternatives : tuple of Project
        Each a whole project of its own with the alternative's changes made; empty in an alternative.
    size : str
        The size that the pieces are drawn in; empty where the file names none.
    sizes : tuple of Project
        Each size a whole project of its own with its alternatives, the one that the file draws first where
        it is named; empty in a file of one size, and in each of these.
    wishes : tuple of Wish
        Of where pieces lie, in file order.
    table_mm : float or None
        No stretch of a lay may be longer, if given.
    matches : tuple of Match
        Points that meet on the same line of a repeat, in file order.
    from_waste : tuple of SmallPiece
        What is wanted of the cloth that the lays leave over.
    garments : tuple of str
        Of an order of several garments, what each is called (its size), in the order of their numbers, which
        count from 1; `pieces` are then those of them all. Empty where one garment is laid.
    notes : tuple of str
        Sentences on how something written was understood, to be shown.
    not_needed : tuple of str
        Names of pieces of cloth in hand from which nothing is cut, once all was shared out among them.
    not_asked, too_short : tuple of str
        Names of cloths of the file that are left out: the person did not ask for them; not all goes on what
        is in hand of them.
    source : str
        Name of the file it was read from, for messages; may be empty.
    """

    title: str
    unit: Unit
    currency: str
    cloths: Mapping[str, Cloth]
    pieces: tuple[Piece, ...]
    version: str = PLAIN
    alternatives: tuple[Project, ...] = ()
    notes: tuple[str, ...] = ()
    not_needed: tuple[str, ...] = ()
    not_asked: tuple[str, ...] = ()
    too_short: tuple[str, ...] = ()
    source: str = ""
    size: str = ""
    sizes: tuple[Project, ...] = ()
    matches: tuple[Match, ...] = ()
    from_waste: tuple[SmallPiece, ...] = ()
    garments: tuple[str, ...] = ()
    table_mm: float | None = None
    wishes: tuple[Wish, ...] = ()

    def pieces_in(self, cloth_key: str) -> tuple[Piece, ...]:
        """The pieces cut from that cloth, in file order."""
        return tuple(piece for piece in self.pieces if cloth_key in piece.cuts)


def only_cloths(project: Project, keys: Collection[str]) -> Project:
    """The project with those of its cloths, and the pieces that are cut from them."""
    cuts = {
        piece.name: {key: count for key, count in piece.cuts.items() if key in keys}
        for piece in project.pieces
    }
    return replace(
        project,
        cloths={key: cloth for key, cloth in project.cloths.items() if key in keys},
        pieces=tuple(replace(piece, cuts=cuts[piece.name]) for piece in project.pieces if cuts[piece.name]),
        from_waste=tuple(wish for wish in project.from_waste if wish.cloth in keys),
    )
