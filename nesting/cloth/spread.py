"""The ways a cloth can lie on the table, and the facts of each that hold in more than one room.

A fact of a spread stands here, in its row of the table. What only one room works out of it, such as where a
zone lies, stands in that room, in a ``match`` that leaves none out; its words in `nesting.words.spreads`. The
verifier takes nothing from here but the names: `nesting.cutting.flat.opening` tells each spread once more.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal, NoReturn, TypeVar

__all__ = ["Spread", "SpreadFacts", "no_way_to_lie", "row_for_each"]

Row = TypeVar("Row")


class Spread(StrEnum):
    """How the cloth lies on the table."""

    BEST = "best"
    """Try every spread the cloth allows and take the one that needs least."""
    OPEN = "open"
    """One layer, right side up."""
    LENGTHWISE_FOLD = "lengthwise fold"
    """Selvedge to selvedge, right sides together."""
    PART_FOLD = "part fold"
    """One selvedge folded over only so far as is needed, a single layer beside it."""
    DOUBLE_FOLD = "double fold"
    """Both selvedges folded to meet between two folds."""
    CROSSWISE_FOLD = "crosswise fold"
    """Cut end to cut end; the upper layer runs the other way."""
    TWO_LENGTHS = "two lengths"
    """Cut through across the middle, one half turned end for end and laid on the other: both run one way."""
    TUBE = "tube"
    """Knitted in the round and not cut open: a fold on either side."""

    @property
    def facts(self) -> SpreadFacts:
        """What holds of it; `BEST` is no way to lie and has none.

        >>> Spread.CROSSWISE_FOLD.facts.lengths
        2
        """
        return FACTS[self]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadFacts:
    """What holds of a spread wherever it is asked.

    Attributes
    ----------
    doubled : bool
        Whether any of it lies double. What cannot be cut double then goes on a length opened out.
    single : bool
        Whether any of it lies in one layer, that opened-out length apart.
    lengths : int
        How many lengths of the cloth lie over each other, so that this many times the table is used.
    fold_across : bool
        Whether its far end is a fold, so that the upper layer runs the other way.
    fold_on_stripe : bool
        Whether its fold can be laid on the middle of a stripe, so that both layers show the same line.
    plain : bool
        Whether it is one zone of the whole cloth, from the near side and the cut end on, with nothing to
        choose: then a place on it can be named beforehand, several remnants may all be laid so, and a lay is
        sound on wider cloth.
    strict : bool
        Whether a person who asks for it means it: then what is too wide to be cut double is refused, and not
        opened out.
    flat, tube : bool
        Whether a flat cloth can lie so, and one knitted in the round.
    flaws : bool
        Whether it is known where in it the flaws of a cloth in hand come to lie.
    simpler : Spread or None
        One that is less work and does as well, wherever that can be used.
    """

    doubled: bool
    single: bool = False
    lengths: int = 1
    fold_across: bool = False
    fold_on_stripe: bool = False
    plain: bool = False
    strict: bool = False
    flat: bool = True
    tube: bool = False
    flaws: bool = True
    simpler: Spread | None = None


def row_for_each(table: str, rows: Mapping[Spread, Row]) -> Mapping[Spread, Row]:
    """The rows as they are, once it is seen that no spread lacks its own.

    Parameters
    ----------
    table : str
        What to call the table where one does.
    rows : Mapping of Spread to anything

    Raises
    ------
    LookupError
        Naming the spreads that have none.
    """
    missing = [f"'{spread}'" for spread in Spread if spread is not Spread.BEST and spread not in rows]
    if missing:
        raise LookupError(f"{table} says nothing of the spread {', '.join(missing)}: add a row for it")
    return rows


def no_way_to_lie(spread: Literal[Spread.BEST]) -> NoReturn:
    """What remains of a ``match`` when every spread has been told: a wish, and no way to lie.

    Raises
    ------
    ValueError
        Always.
    """
    raise ValueError(f"'{spread}' asks for a spread and is none")


FACTS = row_for_each(
    "nesting.cloth.spread.FACTS",
    {
        Spread.TUBE: SpreadFacts(doubled=True, flat=False, tube=True, flaws=False),
        Spread.LENGTHWISE_FOLD: SpreadFacts(doubled=True, fold_on_stripe=True, plain=True, strict=True),
        Spread.OPEN: SpreadFacts(doubled=False, single=True, plain=True, tube=True),
        Spread.PART_FOLD: SpreadFacts(doubled=True, single=True),
        Spread.DOUBLE_FOLD: SpreadFacts(doubled=True),
        Spread.CROSSWISE_FOLD: SpreadFacts(doubled=True, lengths=2, fold_across=True),
        Spread.TWO_LENGTHS: SpreadFacts(doubled=True, lengths=2, simpler=Spread.CROSSWISE_FOLD),
    },
)
"""In the order in which they are tried: the one that is easier to cut first, so that it wins a draw."""
