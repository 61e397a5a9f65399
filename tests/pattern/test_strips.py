import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.geometry import signed_area
from nesting.pattern.shaping import cut_shape
from nesting.pattern.strips import Join, StripGrain, cut_strips, join_mm, strip_piece


def test_a_bias_strip_lies_at_45_degrees_with_its_ends_along_a_thread():
    """Half the box of its long edges either way, and one end more along the cloth or across it."""
    shape = cut_shape(strip_piece("binding", 40.0, cut_strips(700.0, 1000.0, 17.0), StripGrain.BIAS))
    along, across = (shape.cut_line.max(axis=0) - shape.cut_line.min(axis=0)).tolist()
    long, end = 700.0 / 2**0.5, 40.0 * 2**0.5
    assert sorted((along, across)) == pytest.approx([long, long + end])
    assert signed_area(shape.cut_line) == pytest.approx(700.0 * 40.0)


@pytest.mark.parametrize(("grain", "box"), [(StripGrain.ALONG, (500, 60)), (StripGrain.ACROSS, (60, 500))])
def test_straight_strips_lie_along_or_across(grain, box):
    shape = cut_shape(strip_piece("belt", 60.0, cut_strips(500.0, 1000.0, 20.0), grain))
    assert (shape.cut_line.max(axis=0) - shape.cut_line.min(axis=0)).tolist() == pytest.approx(list(box))


def test_a_diagonal_join_of_straight_strips_takes_the_width():
    assert join_mm(60.0, StripGrain.ALONG, Join.DIAGONAL, 10.0) == 60.0
    assert join_mm(60.0, StripGrain.ALONG, Join.STRAIGHT, 10.0) == 20.0


@given(total=st.floats(10, 50_000), longest=st.floats(100, 2000), taken=st.floats(0, 90))
def test_joined_they_are_long_enough_and_none_is_too_long(total, longest, taken):
    cut = cut_strips(total, longest, taken)
    assert cut.number * cut.each_mm - (cut.number - 1) * taken >= total - 1e-6
    assert cut.each_mm <= longest
    if cut.number > 1:  # one fewer would not do
        assert (cut.number - 1) * longest - (cut.number - 2) * taken < total + 1e-6
