import json
import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from nesting.cutting.flat.placing import numbered
from nesting.files.results.lay_json import FORMAT, estimate_json


@pytest.fixture
def document(estimate):
    return json.loads(estimate_json(estimate))


def numbers_in(value, key=""):
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from numbers_in(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from numbers_in(inner, key)
    elif isinstance(value, int | float):
        yield key, value


def test_head(document):
    assert document["format"] == FORMAT == "ellwand-lay 1"
    assert (document["title"], document["version"], document["currency"]) == ("test", "plain", "£")
    assert document["notes"] == ["ein Ärmel"]


def test_purchase_and_search(document, estimate):
    (cloth,) = document["cloths"]
    (worked_out,) = estimate.estimates
    assert cloth["to_buy_mm"] == worked_out.to_buy_mm
    assert cloth["cost"] == pytest.approx(worked_out.to_buy_mm / 1000 * 18.5)
    assert (cloth["lay"]["seed"], cloth["lay"]["evaluations"]) == (7, 1234)
    assert cloth["lay"]["bound_mm"] == pytest.approx(worked_out.lay.bound_mm)
    assert cloth["lay"]["tried"][0] == {
        "spread": "open",
        "length_mm": None,
        "to_buy_mm": None,
        "least_to_buy_mm": None,
        "searched": False,
        "why_not": "nothing can be cut double",
    }


def test_outlines_hold_the_whole_area_and_lie_where_the_drawing_has_them(document, estimate):
    (worked_out,) = estimate.estimates
    sections = document["cloths"][0]["lay"]["sections"]
    # Areas by shapely, against the sum the lay itself makes.
    area = sum(
        section["layers"] * shapely.Polygon(placement["outline_mm"]).area
        for section in sections
        for placement in section["placements"]
    )
    assert area == pytest.approx(worked_out.lay.pieces_area_mm2, rel=1e-6)
    told = [placement for section in sections for placement in section["placements"]]
    for placement, drawn in zip(told, numbered(worked_out.lay), strict=True):
        assert (placement["number"], placement["piece"]) == (drawn.number, drawn.placed.piece)
        assert np.array(placement["outline_mm"]) == pytest.approx(drawn.shape.cut_line, abs=1e-3)
        assert placement["distances"]["grain_foot_along_mm"] == pytest.approx(
            drawn.distances.foot_along_mm, abs=1e-3
        )


def test_opened_out_length_follows_the_fold(document):
    folded, opened = document["cloths"][0]["lay"]["sections"]
    assert (folded["spread"], folded["layers"], folded["distances_across_from"]) == (
        "lengthwise fold",
        2,
        "fold",
    )
    assert (opened["spread"], opened["layers"]) == ("open", 1)
    assert opened["start_mm"] == folded["length_mm"]
    assert min(x for x, _ in opened["placements"][0]["outline_mm"]) == opened["start_mm"]


def test_every_measure_names_its_unit(document):
    plain = {"number", "copies", "of", "layers", "seed", "evaluations", "cost", "price_per_m"}
    plain |= {"no_room_to_spare", "asked", "placed", "tube", "searched", "face_up", "face_down", "on_fold"}
    plain |= {"in_hand", "missing", "round"}
    for key, value in numbers_in(document):
        assert key in plain or key.endswith(("_mm", "_mm2", "_pct", "_deg")), key
        assert math.copysign(1, value) == 1 or value < 0, "no negative zero"


def test_same_estimate_same_text(estimate):
    assert estimate_json(estimate) == estimate_json(estimate)


def test_what_is_not_finite_is_refused(estimate):
    broken = replace(estimate.estimates[0], waste_pct=math.nan)
    with pytest.raises(ValueError, match="JSON"):
        estimate_json(replace(estimate, estimates=(broken,)))


def lay_with(estimate, **changes):
    """The document's cloth, of an estimate with some lengths changed."""
    one = replace(estimate.estimates[0], **changes)
    return json.loads(estimate_json(replace(estimate, estimates=(one,))))["cloths"][0]


def test_lengths_are_rounded_to_a_thousandth_of_a_millimetre(estimate):
    """Neither more nor less: other programs compare the texts of two runs."""
    told = lay_with(estimate, washed_mm=1234.56749, spare_mm=0.0005001, unwashed_mm=-1e-5)
    assert told["washed_mm"] == 1234.567
    assert told["spare_mm"] == 0.001
    assert str(told["unwashed_mm"]) == "0.0"


def test_outlines_and_distances_are_rounded_to_a_thousandth_of_a_millimetre(estimate):
    (one,) = estimate.estimates
    section = one.lay.sections[0]
    off = np.array([0.1234567, 0.7654321])
    placed = tuple(replace(p, shape=p.shape.transformed(np.eye(2), off)) for p in section.placed)
    lay = replace(one.lay, sections=(replace(section, placed=placed), *one.lay.sections[1:]))
    told = lay_with(estimate, lay=lay)["lay"]["sections"][0]["placements"][0]
    distances = told["distances"]
    assert distances.pop("corners") == []
    numbers = [*np.array(told["outline_mm"]).ravel(), *distances.values()]
    for feature in told["features"]:
        numbers += np.array(feature["points_mm"]).ravel().tolist()
    assert all(number == round(number, 3) for number in numbers)
    assert any(number != round(number, 2) for number in distances.values())
    assert any(number != round(number, 2) for number in np.array(told["outline_mm"]).ravel())
    assert any(number != round(number, 2) for number in np.array(told["features"][0]["points_mm"]).ravel())
