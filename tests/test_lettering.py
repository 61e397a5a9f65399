"""Lines that hold letters from right to left keep their own direction."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.lettering import left_to_right


@pytest.mark.parametrize("name", ["מעיל", "معطف", "coat מעיל"])
def test_a_mark_is_put_before_them(name):
    assert left_to_right(name) == "\N{LEFT-TO-RIGHT MARK}" + name


@given(st.text(st.characters(max_codepoint=0x58F)))
def test_all_others_are_left_alone(text):
    """Code points below U+0590, where the Hebrew block begins (Unicode Standard, chapter 9)."""
    assert left_to_right(text) == text
