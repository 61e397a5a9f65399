"""A fault that a verifier tells: one of those that it knows, and the sentence made of it.

Each verifier lists its faults in an enum of its own, so that they can be counted, and each shown to be found.
"""

from __future__ import annotations

from enum import Enum

__all__ = ["Fault", "FaultKind"]


class FaultKind(Enum):
    """What a verifier can find wrong: each member's value is the template of its sentence."""

    def of(self, **values: object) -> Fault:
        """The fault with those values.

        >>> class Fruit(FaultKind):
        ...     UNRIPE = "the {name} wants {days:.1f} days"
        >>> Fruit.UNRIPE.of(name="pear", days=2), Fruit.UNRIPE.of(name="pear", days=2).kind.name
        ('the pear wants 2.0 days', 'UNRIPE')
        """
        fault = Fault(str(self.value).format(**values))
        fault.kind = self
        return fault


class Fault(str):
    """A sentence that knows which fault it tells: made by `FaultKind.of`."""

    kind: FaultKind
