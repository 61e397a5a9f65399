from dataclasses import replace

from nesting.cloth.cloth import Spread
from nesting.cutting.search.laying import Effort
from nesting.estimate.estimating import lay_project
from nesting.estimate.figures import ProjectFigures, project_figures
from nesting.estimate.overview.compare import Seam, compare
from nesting.packing.result import StopReason
from nesting.pattern.piece import CutCount, CutKind
from nesting.words.comparing import what_decides
from tests.conftest import box, make_piece, make_project, on_fold, pairs

QUICK = Effort(evaluations_per_placement=500, walks=1)


def version(name, piece, price=10.0):
    project = make_project(piece, version=name)
    cloth = replace(project.cloths["main"], spread=Spread.OPEN, price_per_m=price)
    return lay_project(replace(project, cloths={"main": cloth}), effort=QUICK)


def test_with_the_same_cloth_the_work_decides():
    """A whole back 80 cm wide lies in 50 cm of length; two halves of 40 cm lie side by side: the same."""
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    seam = version("seam", make_piece("back", box(400, 500), pairs(), on_fold=None))
    comparison = compare([fold, seam])
    assert [row.pieces for row in comparison.rows] == [1, 2]
    assert comparison.rows[0].seams == ()
    assert comparison.rows[1].seams == (Seam("back", "edge 3", "main"),)
    assert what_decides(comparison) == (
        "'seam' needs the same cloth as 'plain'; what decides is the work: 1 seam more, 1 piece more and "
        "1 round of cutting more.",
    )


def test_less_cloth_is_weighed_against_the_work():
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    narrow = version("seam", make_piece("back", box(400, 300), pairs(), on_fold=None))
    (sentence,) = what_decides(compare([fold, narrow]))
    assert "less of main" in sentence
    assert "saves 2.00" in sentence
    assert "whether that outweighs 1 seam more, 1 piece more and 1 round of cutting more" in sentence


def test_more_cloth_for_more_work_is_better_on_no_count():
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    longer = version("seam", make_piece("back", box(400, 700), pairs(), on_fold=None))
    (sentence,) = what_decides(compare([fold, longer]))
    assert "costs 2.00 more" in sentence
    assert "'plain' is better on both counts" in sentence


def test_waste_is_what_was_bought_and_is_in_no_piece():
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    (row,) = compare([fold]).rows
    assert row.to_buy_mm == {"main": 600.0}
    assert abs(row.wasted_mm2 - (600 * 1000 - 800 * 500)) < 1e-6


def unpriced(name, main, lining):
    """Two cloths without a price, so many millimetres of each."""
    pieces = (
        make_piece("back", box(400, main), {"main": CutCount(CutKind.SINGLE, 1)}),
        make_piece("inside", box(400, lining), {"lining": CutCount(CutKind.SINGLE, 1)}),
    )
    project = make_project(*pieces, version=name)
    cloth = project.cloths["main"]
    return lay_project(
        replace(project, cloths={"main": cloth, "lining": replace(cloth, key="lining")}), effort=QUICK
    )


def test_metres_of_different_cloths_are_not_summed_where_there_are_no_prices():
    (sentence,) = what_decides(compare([unpriced("plain", 400, 400), unpriced("other", 300, 700)]))
    assert "0.10 m less of main and 0.30 m more of lining" in sentence
    assert sentence.endswith("without prices nobody can say which outweighs the other.")


def test_less_of_both_is_less_without_prices_too():
    (sentence,) = what_decides(compare([unpriced("plain", 400, 400), unpriced("other", 300, 300)]))
    assert sentence.endswith("than 'plain', for the same work.")


def test_only_what_the_bounds_prove_is_said_without_reserve():
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    seam = version("seam", make_piece("back", box(400, 700), pairs(), on_fold=None))
    (proven,) = what_decides(compare([fold, seam]))
    assert proven.startswith("'seam' needs 0.20 m more of main")
    (one,) = seam.estimates
    unproven = replace(seam, estimates=(replace(one, least_to_buy_mm=one.to_buy_mm - 100),))
    (reserved,) = what_decides(compare([fold, unproven]))
    assert reserved == f"In the lays found, {proven}"


def laid(spread, name="plain"):
    """Two pairs and a back on the fold: three outlines to cut round on a fold, five on the open cloth.

    ::

        fold  +--------+----+----+     open  +--------+----+----+----+----+
              |  back  | a  | b  |           |  back  | a  | a' | b  | b' |
              +--------+----+----+           +--------+----+----+----+----+
    """
    pieces = (
        make_piece("back", box(300, 300), on_fold(), on_fold="edge 3"),
        make_piece("a", box(100, 200), pairs()),
        make_piece("b", box(100, 150), pairs()),
    )
    project = make_project(*pieces, version=name)
    cloth = replace(project.cloths["main"], spread=spread, price_per_m=10.0)
    return lay_project(replace(project, cloths={"main": cloth}), effort=QUICK)


def test_what_is_cut_in_one_round_on_a_fold_is_cut_twice_on_the_open_cloth():
    fold, opened = laid(Spread.LENGTHWISE_FOLD), laid(Spread.OPEN, "open")
    comparison = compare([fold, opened])
    assert [(row.pieces, row.rounds) for row in comparison.rows] == [(5, 3), (5, 5)]
    (sentence,) = what_decides(comparison)
    assert "2 rounds of cutting more" in sentence
    (back,) = what_decides(compare([opened, replace(fold, project=replace(fold.project, version="fold"))]))
    assert "2 rounds of cutting fewer" in back


def test_more_seams_but_fewer_rounds_is_left_to_the_person():
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    longer = version("seam", make_piece("back", box(400, 700), pairs(), on_fold=None))
    other = replace(project_figures(longer), cloths={"main": _with_rounds(longer, 0)})
    (sentence,) = what_decides(compare([fold, other]))
    assert sentence.endswith("whether that outweighs 1 seam more, 1 piece more and 1 round of cutting fewer.")


def _with_rounds(result, rounds):
    return replace(project_figures(result).cloths["main"], rounds=rounds)


def ended(result):
    """The same as if the person had pressed Ctrl-C in its search."""
    (figures,) = project_figures(result).cloths.values()
    figures = replace(figures, stopped_because=StopReason.INTERRUPTED)
    return ProjectFigures(result.project, {"main": figures})


def test_what_was_not_searched_to_the_end_is_not_compared():
    """It may look longer than it would have become: 0.40 m were said that were none."""
    fold = version("plain", make_piece("back", box(400, 500), on_fold(), on_fold="edge 3"))
    seam = version("seam", make_piece("back", box(400, 700), pairs(), on_fold=None))
    other = version("other", make_piece("back", box(400, 600), pairs(), on_fold=None))
    comparison = compare([fold, ended(seam), other])
    assert [row.version for row in comparison.rows] == ["plain", "other"]
    *compared, last = what_decides(comparison)
    assert not any("'seam'" in sentence for sentence in compared)
    assert last == "Not searched to the end, so not compared: 'seam'."
    nothing = compare([ended(fold), seam])
    assert nothing.rows == ()
    assert what_decides(nothing) == (
        "'plain' was not searched to the end, so nothing can be compared with it.",
    )
