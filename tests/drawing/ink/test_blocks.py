import pytest

from nesting.drawing.ink.blocks import blocks_in_brief, blocks_in_full, ring_pt
from nesting.drawing.ink.text import text_width_pt


@pytest.mark.parametrize("number", [1, 27, 104])
def test_the_ring_holds_its_number(number: int):
    assert ring_pt(number, 7)[0] > text_width_pt(str(number), 7, bold=True)


def test_level_before_turned_and_large_before_small():
    blocks = blocks_in_full(7, "front facing", "1+2 of 2", "face down", (9.0, 8.0))
    order = [(not block.upright, -block.size_pt) for block in blocks]
    assert order == sorted(order)
    assert all("1+2 of 2" in " ".join(block.lines) for block in blocks)
    assert {" ".join(block.lines).replace(",", "") for block in blocks} == {"front facing 1+2 of 2 face down"}


def test_a_turned_block_leaves_its_upright_number_its_width():
    minded, (level, *_, turned), (alone,) = blocks_in_brief(104, "hem", "")
    assert minded == []
    wide, high = ring_pt(104, 7)
    assert wide > high
    assert level.upright
    assert not turned.upright
    assert turned.height_pt >= wide
    assert alone.lines == ()
