# ruff: noqa: E501 (lines as they stand in their modules)
"""Mutants that are not tried, each with why: those that do the same, and those of mere effort."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["EFFORT", "SAME"]

EFFORT: Mapping[str, tuple[str, ...]] = {
    "nesting/packing/bounds/bound.py": (
        "FEW = 8",
        "MANY_PIECES = 40",
        "STEPS = {True: 1_000_000, False: 250_000}",
        "COLUMNS = {True: 600, False: 300}",
    ),
    "nesting/packing/bounds/kernel.py": (
        "TRIES = 2000",
        "VARIANT_BELOW = 0.25",
        "tries += 1",
        "if tries > TRIES:",
    ),
    "nesting/packing/bounds/proof.py": (
        "SOME = (5,)",
        "FIRST_STEP, CLOSE = 0.16, 2e-4",
        "TESTS = 4",
        "most: int = 8,",
        "steps: int = 300_000,",
        "columns: int = 300,",
        "while step > CLOSE and search.used[0] < steps:",
        "share = (steps - int(search.used[0])) // (TESTS * len(groups)) + 1",
        "np.empty((64 * n + 64, 3, n)),",
    ),
    "nesting/packing/bounds/rows.py": (
        "MOST = 9",
        "STATES = 40",
        "states += int(tables.shapes[p, 1] - tables.shapes[p, 0])",
        "if states > STATES:",
    ),
    "nesting/packing/bounds/slices.py": (
        "BINS = 600",
        "STRIPS = 200",
        "THRESHOLDS = 40",
        "MULTIPLES = 5",
        "FIRST_STEP, CLOSE = 0.16, 1e-3",
        "step /= 2",
    ),
}
"""Lines that say how hard or how finely something is tried: a little more or less is as right."""

SAME: Mapping[str, Mapping[tuple[str, str], str]] = {
    "nesting/packing/bounds/kernel.py": {
        ("most_ways = 1", "most_ways = 2"): "a little less room",
        (
            "if used[0] >= last_use or top + most_ways > len(stack):",
            "if used[ -1] >= last_use or top + most_ways > len(stack):",
        ): "an array of one number, whose last is its first",
        (
            "if partner >= 0 and left[0] + left[partner] > length + grain:",
            "if partner > 0 and left[0] + left[partner] > length + grain:",
        ): "symmetry with itself halves the work and changes no answer",
        (
            "if partner >= 0 and left[0] + left[partner] > length + grain:",
            "if partner >= 1 and left[0] + left[partner] > length + grain:",
        ): "symmetry with itself halves the work and changes no answer",
        (
            "if partner >= 0 and left[0] + left[partner] > length + grain:",
            "if partner >= 0 and left[0] + left[partner] > length - grain:",
        ): "two lengths that are equal to the last digit",
        (
            "first = (left[j] - right[i]) / width + half_columns",
            "first = (left[j] - right[i]) // width + half_columns",
        ): "the whole part is taken later, of numbers that are not below 0",
        (
            "last = (right[j] - left[i]) / width + half_columns",
            "last = (right[j] - left[i]) // width + half_columns",
        ): "the whole part is taken later, of numbers that are not below 0",
        ("if below < above:", "if below <= above:"): "two lengths that are equal to the last digit",
        (
            "widest, which, weightiest = 0.0, -1, -1.0",
            "widest, which, weightiest = 0.0, -1, - 0.0",
        ): "no height is 0",
        (
            "weight = wide * rule[slot[kind[i]] + int(way[i]), 0]",
            "weight = wide ** rule[slot[kind[i]] + int(way[i]), 0]",
        ): "which piece is halved first decides the work, not the answer",
        (
            "weight = wide * rule[slot[kind[i]] + int(way[i]), 0]",
            "weight = wide * rule[slot[kind[i]] + int(way[i]), -1]",
        ): "which piece is halved first decides the work, not the answer",
        ("broken, worst = -1, 2 * grain", "broken, worst = - 2, 2 * grain"): "below 0 either way",
        ("if pair[d, 5] >= 1.0:", "if pair[d, 5] > 1.0:"): "an order is tried twice",
        ("if pair[d, 5] >= 1.0:", "if pair[d, 5] >= 2.0:"): "an order is tried twice",
        ("used[0] += 1", "used[ -1] += 1"): "an array of one number, whose last is its first",
        (
            "if rounds > n + 1: # the choices go round in a circle that lifts without end",
            "if rounds > n + 2: # the choices go round in a circle that lifts without end",
        ): "a circle lifts without end: found out a round later",
        (
            "for step in range(d + 1):",
            "for step in range(d + 0):",
        ): "the last choice is kept to one step later",
        (
            "if pair[step, 5] == 0.0: # y_j - y_i <= below: lift i",
            "if pair[step, 5] != 0.0: # y_j - y_i <= below: lift i",
        ): "both orders are tried, the other one first",
    },
    "nesting/packing/bounds/proof.py": {
        (
            "if len(chosen) < 2:",
            "if len(chosen) < 1:",
        ): "one piece alone proves no more than its own length, which is known",
        ("np.empty((n * n + 2, n)),", "np.empty((n ** n + 2, n)),"): "more room than is used",
        ("np.empty((n * n + 2, 6)),", "np.empty((n ** n + 2, 6)),"): "more room than is used",
        (
            "return sorted(chosen, key=lambda p: (-size[p], tables.shapes[p, 0], p))",
            "return sorted(chosen, key=lambda p: (-size[p], tables.shapes[p, 1], p))",
        ): "of equal pieces the last variant is as equal as the first",
        (
            "high = np.where(y[:, 2] > 0, low + y[:, 1] * (y[:, 2] - 1), free)",
            "high = np.where(y[:, 1] > 0, low + y[:, 1] * (y[:, 2] - 1), free)",
        ): "a lattice has a step and a count, or neither",
        (
            "inner_intervals(edge, low[n], high[n], width, loose, np.empty((len(edge), 2)))",
            "inner_intervals(edge, low[n], high[n], width, loose, np.empty((len(edge), 3)))",
        ): "more room than is used",
        (
            "out_low, out_high = np.full((size, size, columns), np.inf), np.full((size, size, columns), -np.inf)",
            "out_low, out_high = np.full((size, size, columns), np.inf), np.full((size, size, columns), np.inf)",
        ): "all of it is filled",
        (
            "along = (sign[:, :, 0] < 0)[:, :, None]",
            "along = (sign[:, :, 0] <= 0)[:, :, None]",
        ): "a sign is 1 or -1",
        (
            "over = (sign[:, :, 1] < 0)[:, :, None]",
            "over = (sign[:, :, 1] < 1)[:, :, None]",
        ): "a sign is 1 or -1",
        (
            "block = table[at_one : at_one + v + 1, at_other : at_other + w + 1]",
            "block = table[at_one : at_one + v + 2, at_other : at_other + w + 1]",
        ): "the part beyond is not written to",
    },
    "nesting/packing/bounds/slices.py": {
        (
            "found = [_step(e, a), np.where(a > 0.5 + GRAIN, above, np.where(a > e + GRAIN, 1.0 / parts, 0.0))]",
            "found = [_step(e, a), np.where(a > 0.5 + GRAIN, above, np.where(a >= e + GRAIN, 1.0 / parts, 0.0))]",
        ): "two lengths that are equal to the last digit",
        (
            "while step > CLOSE: # look further as long as that proves something, then closer",
            "while step >= CLOSE: # look further as long as that proves something, then closer",
        ): "two lengths that are equal to the last digit",
        (
            "return self._needed(*self._along, length) > self._width * (1 + GRAIN)",
            "return self._needed(*self._along, length) >= self._width * (1 + GRAIN)",
        ): "two lengths that are equal to the last digit",
        (
            "return self._needed(*self._along, length) > self._width * (1 + GRAIN)",
            "return self._needed(*self._along, length) > self._width ** (1 + GRAIN)",
        ): "a power so near to 1 is the product to nine digits",
        (
            "name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 9) % 180.0",
            "name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 10) % 180.0",
        ): "angles nobody gives",
        (
            "name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 9) % 180.0",
            "name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 8) % 180.0",
        ): "angles nobody gives",
        (
            "name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 9) % 180.0",
            "name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 9) % 181.0",
        ): "180 degrees become a name of their own, of the same outline",
        (
            "if np.ptp(ring[:, 1]) <= widest:",
            "if np.ptp(ring[:, 1]) < widest:",
        ): "two lengths that are equal to the last digit",
        (
            "count = int(meets.sum(axis=1).max())",
            "count = int(meets.sum(axis= 0).max())",
        ): "more columns than are used: what meets nothing is not finite",
        (
            "near, corners = 1e-8 * np.ptp(x), np.sort(x)",
            "near, corners = 1e-8 % np.ptp(x), np.sort(x)",
        ): "a length that is next to nothing, either way",
        (
            "ahead = corners[np.minimum(np.searchsorted(corners, right - near), len(corners) - 1)]",
            "ahead = corners[np.minimum(np.searchsorted(corners, right - near), len(corners) + 1)]",
        ): "no place is beyond the last corner: a guard against rounding",
        (
            "ahead = corners[np.minimum(np.searchsorted(corners, right - near), len(corners) - 1)]",
            "ahead = corners[np.minimum(np.searchsorted(corners, right - near), len(corners) - 0)]",
        ): "no place is beyond the last corner: a guard against rounding",
        (
            "lower, upper = slice(0, count - count % 2, 2), slice(1, None, 2)",
            "lower, upper = slice(0, count + count % 2, 2), slice(1, None, 2)",
        ): "a line meets a ring an even number of times: a guard against rounding",
        (
            "lower, upper = slice(0, count - count % 2, 2), slice(1, None, 2)",
            "lower, upper = slice(0, count - count % 1, 2), slice(1, None, 2)",
        ): "a line meets a ring an even number of times: a guard against rounding",
        (
            "real = np.isfinite(chord) & (chord > 0)",
            "real = np.isfinite(chord) & (chord >= 0)",
        ): "a chord of no length counts for nothing",
    },
    "nesting/packing/verify.py": {
        (
            "off = 0.0 if lattice is None else _off_lattice(lattice, value - phase)",
            "off = -1.0 if lattice is None else _off_lattice(lattice, value - phase)",
        ): "below 0 is within the tolerance as 0 is",
        (
            "reach = problem.gap_mm if problem.gap_mm > tolerance else 0.0",
            "reach = problem.gap_mm if problem.gap_mm >= tolerance else 0.0",
        ): "a gap of the tolerance itself asks for a distance of 0",
        ("if width > tolerance:", "if width >= tolerance:"): "a width to the last digit, of shapes on a grid",
        (
            "elif reach > 0 and shape.distance(shapes[other]) < reach - tolerance:",
            "elif reach >= 0 and shape.distance(shapes[other]) < reach - tolerance:",
        ): "no distance is below 0",
        (
            "elif reach > 0 and shape.distance(shapes[other]) < reach - tolerance:",
            "elif reach > -1 and shape.distance(shapes[other]) < reach - tolerance:",
        ): "no distance is below 0",
        (
            "return max((2.0 * part.area / part.length for part in parts), default=0.0)",
            "return max((2.0 * part.area / part.length for part in parts), default= -1.0)",
        ): "below 0 is within the tolerance as 0 is",
    },
}
"""By module: the line as it is and as it would be, both without the blanks around them; and why no test can
tell them apart."""
