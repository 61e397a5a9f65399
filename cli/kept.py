"""Results that are kept between runs, as the commands use them."""

from __future__ import annotations

import sys

from nesting.estimate.figures import ClothFigures
from nesting.files.results.kept import KeptResults

__all__ = ["say_trouble", "store_of"]


class _Afresh(KeptResults):
    """Keeps what is worked out, but does not look at what was kept before."""

    def get(self, key: str) -> ClothFigures | None:
        return None


def store_of(*, afresh: bool) -> KeptResults:
    """The user's own store; with `afresh`, all is worked out anew and replaces what was kept."""
    return _Afresh() if afresh else KeptResults()


def say_trouble(store: KeptResults) -> None:
    """Tell, once and at the end, what is wrong with the results kept: those shown hold all the same."""
    if store.damaged == 1:
        print("(A result kept from an earlier run was damaged; it was worked out anew.)", file=sys.stderr)
    elif store.damaged:
        words = f"({store.damaged} results kept from earlier runs were damaged; they were worked out anew.)"
        print(words, file=sys.stderr)
    if store.trouble:
        print(f"(Results could not be kept for a later run: {store.trouble})", file=sys.stderr)
