"""What can go wrong, named by what happened, told so that the person knows what to do.

Every error of ours is an `EllwandError`; those that also mean "this value is wrong" are a
`ValueError` too, so plain Python handling works.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BadInput",
    "DoesNotFit",
    "EllwandError",
    "InvalidProblem",
    "InvalidShape",
    "LayRefused",
    "Mistake",
]


class EllwandError(Exception):
    """Base of every error this program raises on purpose."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing wrong with what the person wrote.

    Attributes
    ----------
    where : str
        File, piece and edge, as far as known: ``"jacket.toml, piece 'front', edge 'hem'"``.
    what : str
        What was found, with numbers and units.
    remedy : str
        What to do about it.
    """

    where: str
    what: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what} {self.remedy}"


class BadInput(EllwandError, ValueError):
    """What the person wrote cannot be used; carries every mistake found, not only the first."""

    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        self.mistakes = mistakes
        super().__init__("\n".join(str(mistake) for mistake in mistakes))

    @classmethod
    def of(cls, where: str, what: str, remedy: str) -> BadInput:
        """Carry a single mistake."""
        return cls((Mistake(where, what, remedy),))


class InvalidShape(EllwandError, ValueError):
    """An outline that is no simple polygon with an inside."""


class InvalidProblem(EllwandError, ValueError):
    """A strip, an item or a rule whose numbers make no sense, or nothing to do at all."""


class DoesNotFit(EllwandError, ValueError):
    """Something to be placed fits in no allowed way."""


class LayRefused(EllwandError):
    """The independent verifier found a fault in a lay: a defect of ours, never the person's."""
