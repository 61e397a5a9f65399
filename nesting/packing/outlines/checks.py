"""Is this a problem that has an answer? Told with the item's name, what is wrong and what to do."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nesting.errors import DoesNotFit, InvalidProblem
from nesting.geometry import FloatArray
from nesting.packing.outlines.angles import every_variant
from nesting.packing.outlines.position_rules import slack_mm, x_values, y_values
from nesting.packing.outlines.shapes import checked_ring, grid_of, make_shape
from nesting.packing.problem import EdgeRule, Item, StripProblem, variant_outline

__all__ = ["checked"]


def checked(problem: StripProblem) -> StripProblem:
    """The problem with clean, counter-clockwise outlines.

    Raises
    ------
    InvalidShape
        An outline that is no simple polygon with an inside, or too small for the grid.
    DoesNotFit
        An item that fits in none of its variants.
    InvalidProblem
        A width, gap, demand, turn or window that makes no sense, an item with no variants, or nothing to
        place.
    """
    if not (np.isfinite(problem.width_mm) and problem.width_mm > 0):
        raise InvalidProblem(f"the strip's width must be above 0 mm, not {problem.width_mm}")
    if not (np.isfinite(problem.gap_mm) and problem.gap_mm >= 0):
        raise InvalidProblem(f"the gap between items must be 0 mm or more, not {problem.gap_mm}")
    if not problem.items:
        raise InvalidProblem("there is nothing to place: the problem has no items")
    rings = [_checked_outline(item) for item in problem.items]
    obstacles = tuple(checked_ring(ring, f"obstacle {k + 1}") for k, ring in enumerate(problem.obstacles))
    scale = grid_of(problem.width_mm, problem.gap_mm, (*rings, *obstacles))
    items = tuple(
        _fitting(replace(item, outline=ring), problem.width_mm, scale)
        for item, ring in zip(problem.items, rings, strict=True)
    )
    return replace(problem, items=items, obstacles=obstacles)


def _checked_outline(item: Item) -> FloatArray:
    if item.demand < 1:
        raise InvalidProblem(f"'{item.name}' is asked for {item.demand} times; leave out what is not wanted")
    if not item.variants:
        raise InvalidProblem(f"'{item.name}' has no variant in which it may lie; give at least one")
    for variant in item.variants:
        if not np.isfinite([variant.angle_deg, variant.x_phase_mm, variant.y_phase_mm]).all():
            raise InvalidProblem(
                f"'{item.name}' is turned by {variant.angle_deg} degrees and shifted by "
                f"{variant.x_phase_mm} and {variant.y_phase_mm} mm; each of these has to be a number"
            )
    if item.any_turn and (item.edge is not EdgeRule.FREE or item.x_lattice or item.y_lattice):
        raise InvalidProblem(
            f"'{item.name}' may be turned by any angle, and is bound to a side or a lattice; it can't be both"
        )
    low, high = item.x_window_mm
    if not (np.isfinite(low) and low < high):
        raise InvalidProblem(
            f"'{item.name}' has to lie between {low} and {high} mm, which is nowhere; "
            "give the two ends in mm, the first less than the second"
        )
    return checked_ring(item.outline, item.name)


def _fitting(item: Item, width: float, scale: float) -> Item:
    """The item, if it fits in one variant at least."""
    across, shut = [], []
    slack = slack_mm(width, scale)
    for variant in every_variant(item, width):
        shape = make_shape(variant_outline(item.outline, variant), scale, name=item.name)
        on_x, on_y = item.lattices(variant)
        if y_values(shape.half[1], shape.centre[1], width, item.edge, on_y, slack) is not None:
            if x_values(shape.half[0], shape.centre[0], on_x, slack, item.x_window_mm) is not None:
                return item
            shut.append(2 * float(shape.half[0]))
        across.append(2 * float(shape.half[1]))
    if shut:
        low, high = item.x_window_mm
        raise DoesNotFit(
            f"'{item.name}' is at least {min(shut):.1f} mm along in every turn that fits across; it has "
            f"to lie between {low:.1f} and {high:.1f} mm. Make that part of the strip longer."
        )
    least = min(across)
    if least > width + slack:
        raise DoesNotFit(
            f"'{item.name}' measures at least {least:.1f} mm across in every allowed turn,"
            f" the strip {width:.1f} mm. Allow more turns, choose a wider strip, or divide it."
        )
    tied = "its lattice across the strip" + (
        "" if item.edge is EdgeRule.FREE else f" and its edge rule ({item.edge})"
    )
    raise DoesNotFit(
        f"'{item.name}' ({least:.1f} mm across) has no place on a strip of {width:.1f} mm on {tied}."
    )
