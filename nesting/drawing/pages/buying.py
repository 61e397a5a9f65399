"""Page one: what to buy, what it costs, and what the figures rest on."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.buying import to_first_line_mm
from nesting.drawing.ink.sheet import SMALL_PT, Book, Column
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.project import PLAIN, Project
from nesting.units import Unit, format_area, format_length, format_money, format_step
from nesting.words.cloth import blocked_fact, direction_fact, repeat_fact, shrinkage_fact, width_fact
from nesting.words.in_hand import left_words, length_words
from nesting.words.lying import lies_words
from nesting.words.matching import matching_words
from nesting.words.notes import notes_to_show
from nesting.words.spare import tight_words
from nesting.words.verdict import still_to_save, verdict

__all__ = ["cloth_facts", "draw_buying_page", "version_text"]

_NO_PRICE = "–"
# Shares of the page's inner width: cloth, to buy, width, cost, lay, how it lies, waste.
_SHARES = (0.24, 0.13, 0.12, 0.13, 0.12, 0.17, 0.09)


def draw_buying_page(book: Book, result: ProjectEstimate) -> None:
    """Begin a page and fill it."""
    project = result.project
    sheet = book.turn()
    book.paragraph(project.title, 17, bold=True)
    book.paragraph(f"What to buy · {version_text(project)}", 11)
    book.space(2.0)
    heads = ("cloth", "buy", "width", "cost", "lay", "laid", "waste")
    columns = [
        Column(head, share * sheet.inner_width_mm, bold=head in {"cloth", "buy"})
        for head, share in zip(heads, _SHARES, strict=True)
    ]
    book.table(columns, [_buying_row(estimate, project) for estimate in result.estimates], size_pt=10)
    if all(estimate.in_hand for estimate in result.estimates):
        book.paragraph("Nothing is bought: all of it is in hand.", 12, bold=True, after_mm=3)
    elif result.cost is not None:
        book.paragraph(
            f"All together: {format_money(result.cost, project.currency)}", 12, bold=True, after_mm=3
        )
    elif any(estimate.cost is not None for estimate in result.estimates):
        book.paragraph("No sum is given, for not every cloth has a price.", after_mm=3)
    book.paragraph(
        "This is an estimate. Measure the real cloth, its usable width above all, before you buy and again "
        "before you cut.",
        bold=True,
    )
    for estimate in result.estimates:
        if tight := tight_words(estimate, project.unit):
            book.paragraph(tight, bold=True)
    book.heading("How good the lays are")
    for estimate in result.estimates:
        good = f"{still_to_save(estimate, project.unit)} {matching_words(estimate, project.unit)}".strip()
        book.paragraph(f"{estimate.lay.cloth.name}: {good}", bullet="•")
    book.heading("What this rests on")
    for estimate in result.estimates:
        book.paragraph(f"{estimate.lay.cloth.name}: {cloth_facts(estimate, project.unit)}", bullet="•")
    notes = notes_to_show(result)
    if notes:
        book.heading("How counts and notes were read")
        for note in notes:
            book.paragraph(note, bullet="•")
    book.heading("More about the lays")
    for estimate in result.estimates:
        book.paragraph(f"{estimate.lay.cloth.name}: {verdict(estimate, project)}", SMALL_PT, bullet="•")


def version_text(project: Project) -> str:
    """Which version of the project this is."""
    return "plain version" if project.version == PLAIN else f"alternative: {project.version}"


def cloth_facts(estimate: Estimate, unit: Unit) -> str:
    """What is assumed of the cloth, and how the length to buy comes about, in sentences."""
    cloth = estimate.lay.cloth
    facts = (
        width_fact(cloth, unit),
        shrinkage_fact(cloth),
        repeat_fact(cloth, unit),
        direction_fact(cloth),
        _length_fact(estimate, unit),
        f"Waste under the lay is {format_area(estimate.waste_mm2, unit)}.",
    )
    return " ".join(fact for fact in facts if fact)


def _buying_row(estimate: Estimate, project: Project) -> tuple[str, ...]:
    cloth, unit = estimate.lay.cloth, project.unit
    return (
        cloth.name,
        length_words(estimate, unit),
        format_length(cloth.width_mm, unit),
        _NO_PRICE
        if estimate.in_hand or estimate.cost is None
        else format_money(estimate.cost, project.currency),
        format_length(estimate.lay.length_mm, unit),
        lies_words(estimate.lay),
        f"{estimate.waste_pct:.0f} %",
    )


def _length_fact(estimate: Estimate, unit: Unit) -> str:
    cloth = estimate.lay.cloth
    if estimate.in_hand:
        return " ".join(_in_hand_facts(estimate, unit))
    fact = f"The lay takes {format_length(estimate.lay.length_mm, unit)}"
    if cloth.end_allowance_mm > 0:
        fact += (
            f"; with {format_length(cloth.end_allowance_mm, unit)} at each cut end for straightening, "
            f"that makes {format_length(estimate.washed_mm, unit)}"
        )
    if to_first_line_mm(cloth) > 0:
        fact += (
            f" (a repeat of {format_length(to_first_line_mm(cloth), unit)} among it, for the end is "
            "straightened along a main bar, which may lie that far in)"
        )
    if cloth.shrinkage_along_pct:
        fact += f", or {format_length(estimate.unwashed_mm, unit)} before washing"
    return (
        f"{fact}. The shop cuts in steps of {format_step(cloth.step_mm, unit)}; that leaves "
        f"{format_length(estimate.spare_mm, unit)} over."
    )


def _in_hand_facts(estimate: Estimate, unit: Unit) -> Iterator[str]:
    """What there is of the cloth, and what is left of it."""
    cloth = estimate.lay.cloth
    (remnant,) = cloth.remnants
    yield (
        f"In hand are {format_length(remnant.length_mm, unit)}; straightening takes "
        f"{format_length(cloth.end_allowance_mm, unit)} at each end. The lay takes "
        f"{format_length(estimate.lay.length_mm, unit)}, and {format_length(estimate.spare_mm, unit)} are "
        "left at the end. Nothing is bought."
    )
    if remnant.blocked:
        yield blocked_fact(remnant.blocked, unit)
    if estimate.left is not None:
        yield from left_words(estimate.left, unit)
