"""Page one: what to buy, what it costs, and what the figures rest on."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.buying import to_first_line_mm
from nesting.cloth.cloth import Cloth, Nap, RightSide
from nesting.drawing.ink.sheet import SMALL_PT, Book, Column
from nesting.drawing.pages.line_words import matching_words, repeat_words
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.estimate.in_hand_words import goes_on_words, left_words, length_words
from nesting.estimate.matching import one_way_words
from nesting.project import PLAIN, Project
from nesting.units import Unit, format_area, format_length, format_money, format_step

__all__ = ["cloth_facts", "draw_buying_page", "still_to_save", "version_text"]

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
    book.heading("How good the lays are")
    for estimate in result.estimates:
        good = f"{still_to_save(estimate, project.unit)} {matching_words(estimate, project.unit)}".strip()
        book.paragraph(f"{estimate.lay.cloth.name}: {good}", bullet="•")
    book.heading("What this rests on")
    for estimate in result.estimates:
        book.paragraph(f"{estimate.lay.cloth.name}: {cloth_facts(estimate, project.unit)}", bullet="•")
    notes = _notes(result)
    if notes:
        book.heading("How counts and notes were read")
        for note in notes:
            book.paragraph(note, bullet="•")
    book.heading("More about the lays")
    for estimate in result.estimates:
        book.paragraph(f"{estimate.lay.cloth.name}: {estimate.verdict}", SMALL_PT, bullet="•")


def still_to_save(estimate: Estimate, unit: Unit) -> str:
    """How good a lay is, in a few words; the whole verdict comes later."""
    if estimate.in_hand:
        return f"{goes_on_words(estimate.lay, unit)}."
    step = format_step(estimate.lay.cloth.step_mm, unit)
    if estimate.to_buy_mm <= estimate.least_to_buy_mm:
        return f"as good as any; it is proven that no lay saves another {step}."
    at_most = format_step(estimate.to_buy_mm - estimate.least_to_buy_mm, unit)
    return f"looking longer might save {at_most}, not more."


def version_text(project: Project) -> str:
    """Which version of the project this is."""
    return "plain version" if project.version == PLAIN else f"alternative: {project.version}"


def cloth_facts(estimate: Estimate, unit: Unit) -> str:
    """What is assumed of the cloth, and how the length to buy comes about, in sentences."""
    cloth = estimate.lay.cloth
    facts = (
        _width_fact(cloth, unit),
        _shrinkage_fact(cloth),
        repeat_words(cloth, unit),
        _direction_fact(cloth),
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
        estimate.lay.lies,
        f"{estimate.waste_pct:.0f} %",
    )


def _width_fact(cloth: Cloth, unit: Unit) -> str:
    width = f"{format_length(cloth.width_mm, unit)} wide as sold"
    if cloth.selvedge_mm > 0:
        width += f", {format_length(cloth.selvedge_mm, unit)} of selvedge on each side not used"
    return f"{width}; {format_length(cloth.usable_width_mm, unit)} to lay on."


def _shrinkage_fact(cloth: Cloth) -> str:
    along, across = cloth.shrinkage_along_pct, cloth.shrinkage_across_pct
    if not along and not across:
        return "No shrinkage is reckoned with."
    return f"It is taken to shrink {along:g} % along and {across:g} % across in the first wash."


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
        names = ", ".join(f"'{one.words}'" for one in remnant.blocked)
        yield f"No piece lies over {names}."
    if estimate.left is not None:
        yield from left_words(estimate.left, unit)


def _direction_fact(cloth: Cloth) -> str:
    nap = {
        Nap.ONE_WAY: "One way: every top lies towards the same end",
        Nap.EACH_GARMENT: "One way within each garment: all its tops lie towards the same end",
        Nap.EITHER_WAY: "It lies either way up",
    }[cloth.nap]
    nap = one_way_words(cloth) or nap
    side = "the two faces differ" if cloth.right_side is RightSide.ONE else "both faces are alike"
    return f"{nap}; {side}."


def _notes(result: ProjectEstimate) -> tuple[str, ...]:
    """Notes of the project, then remarks on counts that they do not hold already; each once."""
    pieces: dict[str, list[str]] = {}
    for estimate in result.estimates:
        for tally in estimate.tallies:
            if tally.remark and not any(tally.remark in note for note in result.project.notes):
                pieces.setdefault(tally.remark, []).append(f"{tally.piece} ({estimate.lay.cloth.name})")
    remarks = [f"{', '.join(named)}: {remark}" for remark, named in pieces.items()]
    return tuple(dict.fromkeys((*result.project.notes, *remarks)))
