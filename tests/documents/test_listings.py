"""What the documents show as printed is what the program prints.

A listing that takes a minute of searching is compared in part: all its words, and some of its figures. The
whole of it is made anew by the module of `benchmarks` that its page names.
"""

import re
import shutil
import tomllib
from contextlib import redirect_stdout
from io import StringIO

import pytest
from nesting.cli import main

from benchmarks import in_hand, orders, spreads, stripes
from benchmarks.parts import listing
from nesting.cloth.buying import rounded_up_mm
from nesting.cloth.cloth import Nap, Spread
from nesting.cutting.search.laying import Effort
from nesting.files.example import example_text
from nesting.files.project.reading import read_project
from tests.documents.pages import ANEW, ROOT, is_as_drawn, listings, marked, page, rows

SHOP = "docs/before-the-shop.md"
FIRST = Effort(evaluations_per_placement=0, walks=1)


@pytest.fixture(scope="module")
def said(tmp_path_factory):
    """What a command prints, in a folder that holds the files of the documents and a store of its own."""
    folder = tmp_path_factory.mktemp("documents")
    (folder / "jacket.toml").write_text(example_text(), encoding="utf-8")
    (folder / "chorus.toml").write_text(example_text("jacket-sizes"), encoding="utf-8")
    for name in ("tunic.toml", "curtain.toml"):
        shutil.copy(ROOT / "benchmarks" / name, folder)

    def run(*words):
        printed = StringIO()
        with pytest.MonkeyPatch.context() as patch, redirect_stdout(printed):
            patch.chdir(folder)
            patch.setenv("XDG_CACHE_HOME", str(folder / "kept"))
            patch.setenv("COLUMNS", "80")
            main.app(list(words), standalone_mode=False)
        return printed.getvalue()

    return run


def shown(name, part):
    """The listing in a part of a page, with the command line that stands before it."""
    (told,) = listings(marked(name, part))
    return told.splitlines()


def test_the_shopping_list(said):
    printed = said("shopping", "jacket.toml", "tunic.toml")
    assert listing(printed)[1:-1] == shown(SHOP, "shopping")


def test_the_comparison(said):
    """The plain version is kept from the shopping list."""
    printed = said("compare", "jacket.toml", "--width", "115", "--nap", "one way")
    assert listing(printed)[1:-1] == shown(SHOP, "compare")


def test_the_chart(said):
    """One row and one column of it, and every word."""

    def cells(line):
        return re.split(" {2,}", line.strip())

    ask = ("--cloth", "main", "--width", "140", "--nap", "either way", "--size", "84", "--workers", "1")
    printed = [cells(line) for line in said("chart", "chorus.toml", *ask).splitlines()]
    told = [line for line in shown(SHOP, "chart") if not line.startswith("  ") or "140 cm, without" in line]
    assert printed[: len(told)] == [cells(line)[:2] for line in told]


def test_the_columns_of_the_chart_are_whole():
    """Every width without nap and with, a figure for every size, in metres and in yards."""
    lines = [re.split(" {2,}", line.strip()) for line in shown(SHOP, "chart")]
    figures = [line for line in lines if len(line) > 1]
    drawn = tomllib.loads(example_text("jacket-sizes"))
    sizes = sorted([drawn["base_size"], *drawn["size"]], key=int)
    assert [line[1:] for line in figures if "hopsack" in line[0]] == [sizes, sizes]
    assert [len(line) for line in figures] == [1 + len(sizes)] * 18


@pytest.fixture(scope="module")
def curtain():
    return read_project(in_hand.FILE)


def test_the_cloth_in_hand_is_the_one_of_the_example():
    assert marked("docs/in-hand.md", "written").splitlines() == in_hand.written()


def test_what_goes_on_the_cloth_in_hand(curtain):
    told = marked("docs/in-hand.md", "yes").splitlines()
    estimate = in_hand.laid(curtain)
    assert told == in_hand.yes(curtain, estimate)
    for name, made in in_hand.pictures(curtain, estimate).items():
        assert is_as_drawn(name, made), f"{name}: {ANEW}"


def test_what_would_make_it_go(curtain):
    """Without search, so what is tried and how that is told; not what comes of it."""
    (shorter,) = curtain.alternatives
    estimate = in_hand.laid(shorter, FIRST)
    lines = in_hand.no(shorter, estimate, FIRST)
    told = marked("docs/in-hand.md", "no").splitlines()
    changes = [cells[0] for cells in rows("\n".join(lines)) if not cells[0].startswith("leave off")]
    assert [cells[0] for cells in rows("\n".join(told)) if not cells[0].startswith("leave off")] == changes
    words = "> It does not all go on: laid open, the shortest lay that was found takes "
    assert sum(line.startswith(words) for line in lines) == 1
    assert sum(line.startswith(words) for line in told) == 1
    assert any(line.startswith("| leave off 'front facing' | ") for line in told)


def test_how_each_spread_is_told():
    """The table of one pattern has every spread, each row's figures agree, and its picture is there."""
    table = rows(marked("docs/spreads.md", "one pattern"))
    assert len(table) == len(spreads.SPREADS) + 1
    for cells in table:
        name = re.search(r"\((pictures/.*?)\)", cells[0])[1]
        assert (ROOT / "docs" / name).is_file()


@pytest.mark.parametrize("spread", [Spread.CROSSWISE_FOLD, Spread.TUBE])
def test_what_a_spread_costs(spread):
    """The bodice, the quickest of the three garments, in two of the spreads."""
    (head,) = [line for line in page("docs/spreads.md").splitlines() if line.startswith("| garment, width")]
    column = [cell.strip() for cell in head.strip("|").split("|")].index(spread)
    told = {cells[0]: cells[column] for cells in rows(marked("docs/spreads.md", "three garments"))}
    bodice = read_project(ROOT / "tests" / "outside" / "wrapped_bodice.toml")
    estimate = spreads.laid(bodice, bodice.cloths["wide"], spread)
    figures = f"{estimate.lay.length_mm / 10:.0f} ({estimate.to_buy_mm / 1000:.2f})"
    assert told["wrapped bodice, 115 cm"].strip("*") == figures


def test_the_costs_of_stripes_add_up_and_their_cloths_are_those_laid():
    table = rows(marked("docs/stripes.md", "costs"))
    named = [(re.sub(r"\[(.*)\]\(.*\)", r"\1", cells[0]), cells[1].strip("`")) for cells in table]
    assert named == [(one.name, one.repeat) for one in stripes.PATTERNS]
    for cells in table:
        plain, matched, costs, quarter = (_millimetres(cells[k]) for k in (3, 4, 5, 6))
        assert matched - plain == costs
        assert quarter == rounded_up_mm(1.25 * plain, 100.0)


def test_what_stripes_cost():
    """One row of the table, the one that is laid quickest, and its picture."""
    (pattern,) = (one for one in stripes.PATTERNS if one.spread == "lengthwise fold")
    estimate, _ = stripes.laid(pattern)
    assert stripes.row(pattern, estimate) in marked("docs/stripes.md", "costs").splitlines()
    assert is_as_drawn(pattern.picture, stripes.picture(estimate)), ANEW


def test_an_order_is_told_as_it_is_laid():
    """Each row adds up; the first jacket by itself is laid."""
    table = rows(marked("docs/orders.md", "together"))
    assert [cells[0].strip("`") for cells in table] == list(orders.NAPS)
    for cells in table:
        each, whole = cells[1].split(" = ")
        assert sum(map(_millimetres, each.split(" + "))) == _millimetres(whole)
        assert _millimetres(whole) - _millimetres(cells[2]) == _millimetres(cells[3])
    alone = orders.laid(orders.order({"88": 1}), Nap.EITHER_WAY)
    assert _millimetres(table[0][1].split(" + ")[0]) == alone.to_buy_mm


def _millimetres(cell):
    """``**1.40 m**`` and ``10 cm``; a number alone is in metres."""
    number, _, unit = cell.strip("*").partition(" ")
    return round(float(number) * (10 if unit == "cm" else 1000), 3)
