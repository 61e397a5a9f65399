"""`lay_project` for those who call it from Python: what cannot be laid is told in words, by `BadInput`."""

from __future__ import annotations

from nesting.estimate import estimating
from nesting.words.mistakes import in_words

__all__ = ["lay_project"]

lay_project = in_words(estimating.lay_project)
