"""The steps at the table, and reminders only where they apply."""

import re
from dataclasses import replace

from nesting.cloth.cloth import Nap
from nesting.cutting.flat.placing import numbered
from nesting.drawing.pages.work_order import reminders, work_steps
from nesting.units import Unit
from nesting.words.spreads import how_to_spread


def numbers_in(text):
    """All placement numbers a sentence names, runs spelt out."""
    found = set()
    for low, high in re.findall(r"\b(\d+)(?: to (\d+))?\b", text):
        found |= set(range(int(low), int(high or low) + 1))
    return found


def test_one_spread_is_laid_whole_before_anything_is_cut(opened):
    items = numbered(opened.lay)
    steps = work_steps(opened, items, Unit.CM)
    verbs = [step.split()[0] for step in steps]
    assert verbs == ["Lay", "Lay", "Check", "Cut"]
    assert numbers_in(steps[1]) == numbers_in(steps[3]) == {item.number for item in items}


def test_how_to_spread_is_said_where_it_is_done(opened):
    steps = work_steps(opened, numbered(opened.lay), Unit.CM)
    assert steps[0] == how_to_spread(opened.lay, Unit.CM)


def test_pieces_are_cut_from_the_straightened_end_on(opened):
    items = numbered(opened.lay)
    cut = work_steps(opened, items, Unit.CM)[-1]
    first = min(items, key=lambda item: item.shape.cut_line[:, 0].min())
    assert f"lies flat: {first.number}" in cut


def test_at_a_change_of_spread_the_double_part_is_cut_before_the_rest_is_opened_out(folded):
    items = numbered(folded.lay)
    first, second = ({i.number for i in items if i.section is s} for s in folded.lay.sections)
    steps = work_steps(folded, items, Unit.CM)
    (change,) = [k for k, step in enumerate(steps) if step.startswith("Change of spread")]
    (before, after) = [k for k, step in enumerate(steps) if step.startswith("Cut from")]
    assert before < change < after
    assert numbers_in(steps[before]) == first
    assert numbers_in(steps[after]) == second
    mark = steps[1]
    assert f"{folded.lay.sections[1].start_mm / 10:.1f} cm" in mark


def test_the_nap_is_minded_only_where_there_is_one(folded):
    items = numbered(folded.lay)
    assert any(said.startswith("One way") for said in reminders(folded, items))
    plain = replace(folded, lay=replace(folded.lay, cloth=replace(folded.lay.cloth, nap=Nap.EITHER_WAY)))
    assert not any(said.startswith("One way") for said in reminders(plain, items))


def test_fold_and_turned_paper_are_minded_only_where_there_are_any(folded, three_pieces):
    said = reminders(folded, numbered(folded.lay))
    assert "On the fold, and never cut along it: back 1." in said
    assert "Face down (turn the paper over): front 3; collar 5." in said
    assert reminders(three_pieces, numbered(three_pieces.lay)) == ()


def test_very_many_numbers_are_left_to_the_table(sixty_pieces):
    steps = work_steps(sixty_pieces, numbered(sixty_pieces.lay), Unit.CM)
    assert "tab (numbers in the table)" in steps[1]
