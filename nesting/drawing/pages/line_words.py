"""What a person must know of the stripes when laying a matched cloth, in words; nothing on other cloths."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.cloth import Spread
from nesting.cutting.flat.meeting import Meeting
from nesting.cutting.plan.lines import across_line_mm
from nesting.drawing.ink.sheet import Book, Column
from nesting.estimate.estimate import Estimate
from nesting.pattern.match import Axis
from nesting.units import Unit, format_length
from nesting.words.cloth import one_way_words
from nesting.words.spreads import how_to_spread

__all__ = [
    "draw_meetings",
    "how_it_lies",
    "how_to_begin",
    "line_reminders",
]

_PT = 9.0
_ON_LINE_MM = 0.5
_SHARES = (0.2, 0.4, 0.2, 0.2)


def how_it_lies(estimate: Estimate, unit: Unit) -> str:
    """What is done with the cloth before laying, its stripes included."""
    return f"{how_to_spread(estimate.lay, unit)} {how_to_begin(estimate, unit)}".strip()


def how_to_begin(estimate: Estimate, unit: Unit) -> str:
    """How a matched cloth is straightened and folded; sentences, empty for other cloths."""
    return " ".join(_beginning(estimate, unit))


def _beginning(estimate: Estimate, unit: Unit) -> Iterator[str]:
    lay = estimate.lay
    axes = {meeting.axis for meeting in estimate.meetings}
    if Axis.ALONG in axes:
        repeat = format_length(lay.cloth.repeat_mm(Axis.ALONG) or 0.0, unit)
        yield (
            "Straighten the end along the middle of a main bar: it lies at 0 on the tape, the next one "
            f"{repeat} on."
        )
    if Axis.ACROSS in axes and lay.spread.facts.fold_on_stripe:
        main = any(one.axis is Axis.ACROSS and one.match.on_line for one in estimate.meetings)
        middle = "a main stripe" if main else "a stripe, or midway between two"
        yield (
            f"Fold exactly on the middle of {middle}, the one nearest the middle of the cloth, even "
            "if the selvedges then do not meet. Both layers must show the same line."
        )
    line = across_line_mm(lay.cloth, Spread.OPEN)
    if Axis.ACROSS in axes and not lay.spread.facts.doubled and line is not None:
        yield (
            "Its first main stripe has its middle "
            f"{format_length(line + lay.cloth.washed_selvedge_mm, unit)} from the outer edge of the near "
            "selvedge: lay that selvedge towards you, and measure it again."
        )
    if axes and _double(estimate):
        yield "Pin the layers together line on line, every hand's breadth, before you lay anything."


def _double(estimate: Estimate) -> bool:
    """Whether any of the cloth lies double."""
    return any(section.layers == 2 for section in estimate.lay.sections)


def line_reminders(estimate: Estimate) -> Iterator[str]:
    """What is easily got wrong with stripes."""
    one_way = one_way_words(estimate.lay.cloth)
    if one_way:
        yield f"{one_way}."
    if estimate.meetings:
        if _double(estimate):
            yield (
                "Pin the two layers together, each line of the upper one on its own in the lower one, and "
                "cut nothing that has slipped."
            )
        yield (
            "Where tape and line disagree, the line decides: bring each matching point (a slanting cross, "
            "on the stitching line) onto the same place of the pattern as the points it meets."
        )


def draw_meetings(book: Book, estimate: Estimate, unit: Unit) -> None:
    """A table of what meets where on the repeat, where anything does."""
    if not estimate.meetings:
        return
    width = book.sheet.inner_width_mm
    heads = ("match", "points that meet", "along the cloth", "across it")
    columns = [
        Column(head, share * width, bold=head == "match") for head, share in zip(heads, _SHARES, strict=True)
    ]
    rows: dict[int, list[str]] = {}
    for meeting in estimate.meetings:
        match = meeting.match
        points = ", ".join(f"{point} ({piece})" for piece, point in match.points)
        row = rows.setdefault(id(match), [match.name, points, "–", "–"])
        row[2 if meeting.axis is Axis.ALONG else 3] = _where(meeting, unit)
    book.heading("What meets on one line", keep_mm=30.0)
    book.table(columns, [tuple(row) for row in rows.values()], size_pt=_PT)


def _where(meeting: Meeting, unit: Unit) -> str:
    """Where on the repeat the points lie."""
    past, repeat = meeting.past_mm, meeting.repeat_mm
    if not meeting.from_line:
        every = format_length(repeat, unit)
        return f"{format_length(past, unit)} from the near selvedge's edge, and every {every}"
    if min(past, repeat - past) < _ON_LINE_MM:
        return "on a main line"
    if abs(past - repeat / 2) < _ON_LINE_MM:
        return "midway between main lines"
    upwards = meeting.axis is Axis.ALONG
    if past > repeat / 2:
        way = "below" if upwards else "right of"
        return f"{format_length(repeat - past, unit)} {way} a main line"
    way = "above" if upwards else "left of"
    return f"{format_length(past, unit)} {way} a main line"
