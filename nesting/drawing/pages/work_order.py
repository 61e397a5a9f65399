"""What is done at the table, step by step: laying, checking, cutting, and each change of spread."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting.cloth.cloth import Nap
from nesting.cutting.flat.placing import Numbered
from nesting.cutting.lay import Face, Lay, LaySection, Yield
from nesting.drawing.ink.sheet import Book
from nesting.drawing.pages.line_words import how_it_lies, line_reminders
from nesting.drawing.pages.numbers import key_text, runs_text
from nesting.estimate.estimate import Estimate
from nesting.units import Unit, format_length
from nesting.words.spreads import stretch_words

__all__ = ["draw_work_order", "reminders", "work_steps"]

_PT = 9.0
_KEEP_MM = 40.0
_MOST_NUMBERS = 24
"""More are not listed in a sentence: the table has them."""


def draw_work_order(book: Book, estimate: Estimate, items: Sequence[Numbered], unit: Unit) -> None:
    """Go on below what is on the page: reminders that apply, then the steps."""
    book.heading("Order of work", keep_mm=_KEEP_MM)
    for reminder in reminders(estimate, items):
        book.paragraph(reminder, _PT, bold=True)
    for number, step in enumerate(work_steps(estimate, items, unit), start=1):
        book.paragraph(step, _PT, bullet=f"{number}.")


def reminders(estimate: Estimate, items: Sequence[Numbered]) -> tuple[str, ...]:
    """What is easily got wrong with this lay, and nothing that does not apply to it."""
    said = []
    if estimate.lay.cloth.nap is Nap.EACH_GARMENT:
        said.append(
            "Each garment one way: the tops of all pieces of one garment lie towards the same end of the "
            "cloth; another garment may lie the other way. Mark on every piece, when it is cut, for which "
            "garment it is."
        )
    if estimate.lay.cloth.nap is Nap.ONE_WAY:
        said.append(
            "One way: the tops of all pieces lie towards the same end of the cloth. Stroke the cloth or look "
            "at its print before you begin, and turn no piece end for end."
        )
    said += line_reminders(estimate)
    down = [item for item in items if item.placed.face is Face.DOWN]
    if down:
        said.append(f"Face down (turn the paper over): {_named(down)}.")
    tilted = [item for item in items if item.placed.tilt_deg]
    if tilted:
        said.append(
            f"Off the grain, as you allow: {_named(tilted)}. Measure both ends of their grain lines: they "
            "do not lie level."
        )
    on_fold = [item for item in items if item.placed.yields is Yield.WHOLE_ON_FOLD]
    if on_fold:
        said.append(f"On the fold, and never cut along it: {_named(on_fold)}.")
    return tuple(said)


def work_steps(estimate: Estimate, items: Sequence[Numbered], unit: Unit) -> tuple[str, ...]:
    """The steps in the order they are taken.

    Cutting from one end on, so that what is still to be cut lies flat and undisturbed, is common practice
    (no source).
    """
    return tuple(_steps(estimate, items, unit))


def _steps(estimate: Estimate, items: Sequence[Numbered], unit: Unit) -> Iterator[str]:
    lay = estimate.lay
    stretches = lay.stretches
    yield how_it_lies(estimate, unit)
    if len(stretches) == 1:
        yield from _lay_and_cut(items, "")
        return
    if len({stretch[0].spread for stretch in stretches}) < len(stretches):
        yield from _length_by_length(lay, items, unit)
        return
    first, second = (_of(items, stretch) for stretch in stretches[:2])
    change = format_length(stretches[1][0].start_mm, unit)
    if stretches[0][0].spread.facts.lengths == 2:
        yield (
            f"The single length first. Lay it out by itself, its new cut edge at {change} on the tape, and "
            f"lay and cut on it {runs_text([item.number for item in second])} ({_named(second)})."
        )
        yield f"Then spread the rest: {stretch_words(stretches[0], lay.cloth)}."
        yield from _lay_and_cut(first, "")
        return
    yield (
        f"Mark where the spread changes: a thread or chalk line straight across at {change}, through both "
        "layers. When the cut end is gone, the distances of what lies beyond are measured from this line, "
        f"which counts as {change}."
    )
    yield from _lay_and_cut(first, "the double cloth, up to that line: ")
    yield (
        f"Change of spread: open out what lies beyond the line, {stretch_words(stretches[1], lay.cloth)}. "
        "Press out the fold."
    )
    yield from _lay_and_cut(second, "the opened-out cloth: ")


def _length_by_length(lay: Lay, items: Sequence[Numbered], unit: Unit) -> Iterator[str]:
    """Of a lay that is longer than the table."""
    for number, stretch in enumerate(lay.stretches, start=1):
        starts = format_length(stretch[0].start_mm, unit)
        here = f"length {number}, from {starts} on: "
        if number > 1:
            begun = f"Draw the cloth on, so that {starts} lies at the end of the table"
            if stretch[0].spread is not lay.stretches[number - 2][0].spread:
                begun = f"Change of spread: {stretch_words(stretch, lay.cloth)}. {begun}"
            yield f"{begun}; distances in this length are measured from there, which counts as {starts}."
        if number < len(lay.stretches):
            ends = format_length(stretch[0].start_mm + stretch[0].length_mm, unit)
            yield f"Mark where the next length begins: a thread or chalk line straight across at {ends}."
        yield from _lay_and_cut(_of(items, stretch), here)


def _lay_and_cut(items: Sequence[Numbered], where: str) -> Iterator[str]:
    """Three steps for a part of the cloth that lies in one way."""
    large, between = ([item for item in items if item.large is first] for first in (True, False))
    if between:
        yield (
            f"Lay {where}first the large pieces, {_named(large)}; then what fits between them, "
            f"{_named(between)}."
        )
    else:
        yield f"Lay {where}{_named(large)}."
    cornered = any(item.distances is not None and item.distances.corners for item in items)
    corners = " and every corner that it gives" if cornered else ""
    yield (
        f"Check by the table both ends of every grain line{corners}, count the pieces, and see that none "
        "overlap."
    )
    along = sorted(items, key=lambda item: float(item.shape.cut_line[:, 0].min()))
    if len(items) == 1:
        yield f"Cut {items[0].number}; mark it before you take the paper off."
    elif len(items) > _MOST_NUMBERS:
        yield (
            "Cut from the straightened end on, so that the rest lies flat. Mark each piece before you take "
            "its paper off."
        )
    else:
        yield (
            f"Cut from the straightened end on, so that the rest lies flat: "
            f"{runs_text([item.number for item in along])}. Mark each piece before you take its paper off."
        )


def _named(items: Sequence[Numbered]) -> str:
    """The pieces with their numbers, or the names alone where there are very many."""
    if len(items) <= _MOST_NUMBERS:
        return key_text(items)
    return f"{', '.join(dict.fromkeys(item.placed.piece for item in items))} (numbers in the table)"


def _of(items: Sequence[Numbered], stretch: Sequence[LaySection]) -> list[Numbered]:
    return [item for item in items if any(item.section is section for section in stretch)]
