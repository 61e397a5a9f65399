import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.drawing.ink.text import MISSING, printable, text_width_pt, wrapped


@pytest.mark.parametrize(
    ("given_name", "shown"),
    [
        ("sleeve", "sleeve"),
        ("  two\nlines\t", "two lines"),
        ("Ärmel, façade, Łódź", "Ärmel, façade, Łódź"),
        ("שרוול", "שרוול"),
        ("袖と身頃", MISSING),
        ("cap 👩\u200d🎤 red", f"cap {MISSING} red"),
        ("bell\x07", f"bell{MISSING}"),
        ("", ""),
    ],
)
def test_only_drawable_characters_are_left(given_name: str, shown: str):
    assert printable(given_name) == shown


@given(st.text())
def test_printable_settles_at_once(text: str):
    assert printable(printable(text)) == printable(text)


@given(st.text(alphabet=st.characters(codec="ascii", categories=["L", "Zs"])), st.floats(60, 400))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width_pt: float):
    lines = wrapped(text, width_pt, 9)
    assert all(text_width_pt(line, 9) <= width_pt for line in lines)
    assert "".join(lines).replace(" ", "") == printable(text).replace(" ", "")


def test_words_are_kept_whole_where_they_fit():
    assert wrapped("front facing", text_width_pt("facing", 9) + 1, 9) == ("front", "facing")
    assert wrapped("", 50, 9) == ("",)


def test_bold_is_wider_and_size_scales():
    assert text_width_pt("collar", 9, bold=True) > text_width_pt("collar", 9)
    assert text_width_pt("collar", 18) == pytest.approx(2 * text_width_pt("collar", 9), rel=0.01)


def test_marks_of_direction_are_taken_out():
    name = "\u05e9\u05d8\u05d5\u05e3"
    assert printable(f"\u200evelvet {name}\u200e: 13 pieces") == f"velvet {name}: 13 pieces"


def test_a_number_stays_with_its_unit_where_a_line_holds_both():
    narrow = text_width_pt("1 3/8 yd (1.26", 9) + 1
    assert wrapped("1 3/8 yd (1.26 m)", narrow, 9) == ("1 3/8 yd", "(1.26 m)")
    assert wrapped("steps of 1/8 yd", text_width_pt("steps of 1/8", 9) + 1, 9) == ("steps of", "1/8 yd")
    assert wrapped("12 in", text_width_pt("12 i", 9), 9) == ("12", "in")
