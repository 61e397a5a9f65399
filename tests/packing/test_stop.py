"""Stop rules on snapshots made by hand: no search, no clock."""

import numpy as np
import pytest

from nesting.errors import InvalidProblem
from nesting.packing import (
    AnyOf,
    BoundReached,
    Evaluations,
    Item,
    LengthReached,
    Progress,
    Seconds,
    StripProblem,
    default_evaluations,
)

HALFWAY = Progress(evaluations=500, seconds=2.0, best_length_mm=120.0, bound_mm=100.0)


@pytest.mark.parametrize(
    ("rule", "stops"),
    [
        (Evaluations(500), True),
        (Evaluations(501), False),
        (Seconds(2.0), True),
        (Seconds(2.1), False),
        (LengthReached(120.0), True),
        (LengthReached(119.9), False),
        (BoundReached(20.0), True),
        (BoundReached(), False),
    ],
)
def test_rules_look_at_the_snapshot(rule, stops):
    assert rule(HALFWAY) is stops


def test_a_rule_that_would_never_end_a_search_is_refused():
    with pytest.raises(InvalidProblem, match="nan seconds"):
        Seconds(float("nan"))


def test_any_of_gives_the_reason_of_the_rule_that_said_yes():
    rule = AnyOf(Evaluations(1000), Seconds(1.0))
    assert rule(HALFWAY)
    assert rule.reason == Seconds(1.0).reason


def test_any_of_knows_the_budget_nearest_its_end():
    assert AnyOf(Evaluations(1000), Seconds(2.5), LengthReached(1.0)).used(HALFWAY) == pytest.approx(0.8)
    assert AnyOf(LengthReached(1.0)).used(HALFWAY) == 0.0


def test_a_budget_of_nothing_is_used_up():
    assert Evaluations(0).used(HALFWAY) == 1.0
    assert Seconds(0.0).used(HALFWAY) == 1.0


def test_the_default_budget_grows_with_the_placements():
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    budgets = [default_evaluations(StripProblem(2.0, (Item("square", square, n),))) for n in (1, 5, 50)]
    assert 0 < budgets[0] < budgets[1] < budgets[2]
