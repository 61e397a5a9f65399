import pytest
from matplotlib.figure import Figure

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.tape import Tape, draw_tape, steps
from nesting.units import Unit


@pytest.mark.parametrize(
    ("length_mm", "unit", "mm_per_pt", "numbers_and_marks"),
    [
        (250, Unit.CM, 1.0, (2, 1)),
        (800, Unit.CM, 2.0, (5, 1)),
        (1500, Unit.CM, 4.0, (10, 1)),
        (6000, Unit.CM, 9.0, (20, 2)),
        (800, Unit.IN, 2.0, (2, 1)),
        (1500, Unit.IN, 4.0, (5, 1)),
    ],
)
def test_numbers_keep_apart_and_marks_count_evenly(
    length_mm: float, unit: Unit, mm_per_pt: float, numbers_and_marks: tuple[int, int]
):
    assert steps(length_mm, unit, mm_per_pt) == numbers_and_marks


def test_a_tape_of_millimetres_is_read_in_centimetres():
    assert steps(1500, Unit.MM, 4.0) == steps(1500, Unit.CM, 4.0)


@pytest.mark.parametrize(("unit", "unit_mm"), [(Unit.CM, 10.0), (Unit.IN, 25.4)])
def test_every_number_stands_at_its_length(unit: Unit, unit_mm: float):
    axes = Figure().add_axes((0, 0, 1, 1))
    canvas = Canvas(axes, mm_per_pt=2.0)
    draw_tape(canvas, Tape((0.0, 0.0), (900.0, 0.0), (0.0, -1.0)), unit, "tape")
    numbers = {text.get_text(): text.get_position()[0] for text in axes.texts}
    assert f"0 {unit}" in numbers
    for words, x in numbers.items():
        assert x == pytest.approx(float(words.split()[0]) * unit_mm)
    assert len(numbers) > 5
