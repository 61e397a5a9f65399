"""Everything an estimate holds, for other programs: JSON, described in ``docs/json.md``.

Numbers are rounded to a thousandth of a millimetre, so the same lay gives the same text.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

from nesting.cloth.cloth import Cloth
from nesting.cloth.repeat import Repeat
from nesting.cutting.flat.meeting import Meeting
from nesting.cutting.flat.placing import Numbered, folded_over_mm, numbered, ruler
from nesting.cutting.lay import Lay, LaySection
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.estimate.matching import MatchingCost
from nesting.files.results.left_json import left_entries, remnant_entries
from nesting.geometry import FloatArray
from nesting.pattern.piece import Piece
from nesting.project import Project
from nesting.words.matching import rule_words
from nesting.words.notes import project_notes
from nesting.words.reasons import reason_words
from nesting.words.remarks import tally_remark
from nesting.words.searching import stop_words
from nesting.words.verdict import verdict

__all__ = ["FORMAT", "estimate_json"]

FORMAT = "ellwand-lay 1"
"""Marks the layout of the text; the number goes up when a program that reads it would have to change."""

DECIMALS = 3

Json = dict[str, object]


def estimate_json(project_estimate: ProjectEstimate) -> str:
    """The estimate as JSON text (RFC 8259), keys in a fixed order, ending with a line feed.

    Raises
    ------
    ValueError
        For a number that is not finite: JSON has none.
    """
    project = project_estimate.project
    pieces = {piece.name: piece for piece in project.pieces}
    document: Json = {
        "format": FORMAT,
        "title": project.title,
        "version": project.version,
        "source": project.source,
        "unit_shown": project.unit.value,
        "currency": project.currency,
        "cost": _rounded(project_estimate.cost),
        "notes": list(project_notes(project)),
        "garments": [{"number": k, "size": size} for k, size in enumerate(project.garments, start=1)],
        "table_mm": _rounded(project.table_mm),
        "cloths": [_estimate(estimate, project, pieces) for estimate in project_estimate.estimates],
    }
    return json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _rounded(value: float | None) -> float | None:
    # Adding 0.0 turns a negative zero into a plain one.
    return None if value is None else round(float(value), DECIMALS) + 0.0


def _points(vertices: FloatArray) -> list[list[float]]:
    rows: list[list[float]] = vertices.tolist()
    return [[round(x, DECIMALS) + 0.0, round(y, DECIMALS) + 0.0] for x, y in rows]


def _estimate(estimate: Estimate, project: Project, pieces: Mapping[str, Piece]) -> Json:
    return {
        "cloth": _cloth(estimate.lay.cloth),
        "to_buy_mm": _rounded(estimate.to_buy_mm),
        "least_to_buy_mm": _rounded(estimate.least_to_buy_mm),
        "unwashed_mm": _rounded(estimate.unwashed_mm),
        "washed_mm": _rounded(estimate.washed_mm),
        "spare_mm": _rounded(estimate.spare_mm),
        "no_room_to_spare": estimate.no_room,
        "cost": _rounded(estimate.cost),
        "utilisation_pct": _rounded(estimate.utilisation_pct),
        "waste_pct": _rounded(estimate.waste_pct),
        "waste_mm2": _rounded(estimate.waste_mm2),
        "above_bound_pct": _rounded(estimate.above_bound_pct),
        "verdict": verdict(estimate, project),
        "in_hand": estimate.in_hand,
        "left": left_entries(estimate.left),
        "cut_list": [
            {
                "piece": tally.piece,
                "size": pieces[tally.piece].size,
                "garments": list(pieces[tally.piece].cuts[estimate.lay.cloth.key].garments),
                "asked": tally.asked,
                "placed": tally.placed,
                "face_up": tally.face_up,
                "face_down": tally.face_down,
                "on_fold": tally.on_fold,
                "remark": tally_remark(tally),
            }
            for tally in estimate.tallies
        ],
        "meetings": [_meeting(meeting) for meeting in estimate.meetings],
        "matching": None if estimate.matching is None else _matching(estimate.matching),
        "lay": _lay(estimate.lay),
    }


def _meeting(meeting: Meeting) -> Json:
    return {
        "match": meeting.match.name,
        "points": [{"piece": piece, "point": point} for piece, point in meeting.match.points],
        "direction": meeting.axis.value,
        "repeat_mm": _rounded(meeting.repeat_mm),
        "past_mm": _rounded(meeting.past_mm),
        "past_what": "main line" if meeting.from_line else "near selvedge",
        "mirrored_past_mm": _rounded(meeting.mirrored_mm),
    }


def _matching(matching: MatchingCost) -> Json:
    return {
        "plain_length_mm": _rounded(matching.plain_length_mm),
        "plain_to_buy_mm": _rounded(matching.plain_to_buy_mm),
        "extra_mm": _rounded(matching.extra_mm),
        "rules_of_thumb": [
            {"rule": rule_words(rule), "to_buy_mm": _rounded(rule.to_buy_mm)} for rule in matching.rules
        ],
    }


def _repeat(repeat: Repeat | None) -> Json | None:
    if repeat is None:
        return None
    return {
        "along_mm": _rounded(repeat.along_mm),
        "across_mm": _rounded(repeat.across_mm),
        "uneven": [axis.value for axis in repeat.uneven],
        "line_mm": _rounded(repeat.line_mm),
    }


def _cloth(cloth: Cloth) -> Json:
    return {
        "key": cloth.key,
        "name": cloth.name,
        "width_mm": _rounded(cloth.width_mm),
        "usable_width_mm": _rounded(cloth.usable_width_mm),
        "selvedge_mm": _rounded(cloth.selvedge_mm),
        "nap": cloth.nap.value,
        "right_side": cloth.right_side.value,
        "turn": cloth.turn.value,
        "spread_asked": cloth.spread.value,
        "step_mm": _rounded(cloth.step_mm),
        "price_per_m": _rounded(cloth.price_per_m),
        "shrinkage_along_pct": _rounded(cloth.shrinkage_along_pct),
        "shrinkage_across_pct": _rounded(cloth.shrinkage_across_pct),
        "end_allowance_mm": _rounded(cloth.end_allowance_mm),
        "spare_at_least_mm": _rounded(cloth.spare_at_least_mm),
        "gap_mm": _rounded(cloth.gap_mm),
        "tube": cloth.tube,
        "repeat": _repeat(cloth.repeat),
        "remnants": remnant_entries(cloth),
    }


def _lay(lay: Lay) -> Json:
    placements = numbered(lay)
    return {
        "spread": lay.spread.value,
        "length_mm": _rounded(lay.length_mm),
        "straight_mm": _rounded(lay.straight_mm),
        "table_mm": _rounded(lay.table_mm),
        "folded_over_mm": _rounded(folded_over_mm(lay)),
        "bound_mm": _rounded(lay.bound_mm),
        "pieces_area_mm2": _rounded(lay.pieces_area_mm2),
        "lay_area_mm2": _rounded(lay.lay_area_mm2),
        "seed": lay.seed,
        "evaluations": lay.evaluations,
        "stopped_because": stop_words(lay.stopped_because),
        "tried": [
            {
                "spread": tried.spread.value,
                "length_mm": _rounded(tried.length_mm),
                "to_buy_mm": _rounded(tried.to_buy_mm),
                "least_to_buy_mm": _rounded(tried.least_to_buy_mm),
                "searched": tried.searched,
                "why_not": "" if tried.why_not is None else reason_words(tried.why_not),
            }
            for tried in lay.tried
        ],
        "sections": [
            _section(section, lay.cloth, [placed for placed in placements if placed.section is section])
            for section in lay.sections
        ],
    }


def _section(section: LaySection, cloth: Cloth, placements: list[Numbered]) -> Json:
    return {
        "spread": section.spread.value,
        "layers": section.layers,
        "start_mm": _rounded(section.start_mm),
        "length_mm": _rounded(section.length_mm),
        "strip_width_mm": _rounded(section.width_mm),
        "across_mm": _rounded(section.across_mm),
        "fold": section.fold.value,
        "bound_mm": _rounded(section.bound_mm),
        "distances_across_from": ruler(section, cloth).from_what,
        "placements": [_placement(placement) for placement in placements],
    }


def _placement(placement: Numbered) -> Json:
    placed, distances = placement.placed, placement.distances
    return {
        "number": placement.number,
        "piece": placed.piece,
        "copies": list(placed.copies),
        "of": placed.of,
        "size": placed.size,
        "garments": list(placed.garments),
        "yields": placed.yields.value,
        "face": placed.face.value,
        "side": "" if placement.side is None else placement.side.value,
        "turned_deg": _rounded(placed.turned_deg),
        "tilt_deg": _rounded(placed.tilt_deg),
        "distances": None
        if distances is None
        else {
            "grain_foot_along_mm": _rounded(distances.foot_along_mm),
            "grain_foot_across_mm": _rounded(distances.foot_across_mm),
            "grain_top_along_mm": _rounded(distances.top_along_mm),
            "grain_top_across_mm": _rounded(distances.top_across_mm),
            "corners": [
                {"name": name, "along_mm": _rounded(along), "across_mm": _rounded(across)}
                for name, along, across in distances.corners
            ],
        },
        "outline_mm": _points(placement.shape.cut_line),
        "features": [
            {"kind": feature.kind.value, "name": feature.name, "points_mm": _points(feature.vertices)}
            for feature in placement.shape.features
        ],
    }
