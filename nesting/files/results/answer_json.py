"""What would make a pattern go on a cloth in hand, for other programs; described in ``docs/json.md``."""

from __future__ import annotations

import json
from collections.abc import Mapping

from nesting.cutting.in_hand.asking import Answer, TriedChange
from nesting.estimate.estimate import ProjectEstimate
from nesting.words.changes import change_words, how_to, why_no_figure
from nesting.words.verdict import verdict

__all__ = ["FORMAT", "answer_json"]

FORMAT = "ellwand-in-hand 1"
_DECIMALS = 3


def answer_json(result: ProjectEstimate, answers: Mapping[str, Answer]) -> str:
    """The answer for every cloth in hand as JSON text (RFC 8259), ending with a line feed.

    Parameters
    ----------
    result : ProjectEstimate
    answers : mapping of str to Answer
        By key of the cloth, of those that are too short.
    """
    document = {
        "format": FORMAT,
        "title": result.project.title,
        "version": result.project.version,
        "source": result.project.source,
        "cloths": [
            {
                "key": estimate.lay.cloth.key,
                "name": estimate.lay.cloth.name,
                "goes_on": not estimate.lacking_mm,
                "lacking_mm": round(estimate.lacking_mm, _DECIMALS),
                "lay_length_mm": round(estimate.lay.length_mm, _DECIMALS),
                "bound_mm": round(estimate.lay.bound_mm, _DECIMALS),
                "spread": estimate.lay.spread.value,
                "verdict": verdict(estimate, result.project),
            }
            for estimate in result.estimates
            if estimate.in_hand
        ],
        "answers": [
            {
                "cloth": answer.cloth_key,
                "changes": [_tried(one) for one in answer.changes],
                "left_off": [_tried(one) for one in answer.without],
            }
            for answer in answers.values()
        ],
    }
    return json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _tried(one: TriedChange) -> dict[str, object]:
    lacking = None if one.lacking_mm is None else round(one.lacking_mm, _DECIMALS)
    return {
        "what": change_words(one.change),
        "write": how_to(one.change),
        "lacking_mm": lacking,
        "least_lacking_mm": round(one.least_mm, _DECIMALS),
        "why_not": why_no_figure(one),
    }
