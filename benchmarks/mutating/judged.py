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
        "tries = 0",
        "used[0] += 1",
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
        "step /= 2",
        "length = best * (1 + step)",
    ),
    "nesting/packing/bounds/rows.py": (
        "MOST = 9",
        "STATES = 40",
        "states += int(tables.shapes[p, 1] - tables.shapes[p, 0])",
        "if states > STATES:",
        "states = 0",
        "break",
    ),
    "nesting/packing/bounds/slices.py": (
        "BINS = 600",
        "STRIPS = 200",
        "THRESHOLDS = 40",
        "MULTIPLES = 5",
        "FIRST_STEP, CLOSE = 0.16, 1e-3",
        "step /= 2",
    ),
    "nesting/pattern/allowance.py": ("CURVE_TURN_DEG = 30.0",),
}
"""Lines that say how hard or how finely something is tried: a little more or less is as right."""

SAME: Mapping[str, Mapping[tuple[str, str], str]] = {
    "nesting/cloth/cloth.py": {
        (
            "return self.remnants[0] if len(self.remnants) == 1 else None",
            "return self.remnants[ -1] if len(self.remnants) == 1 else None",
        ): "the first of one is its last",
    },
    "nesting/cutting/flat/opening.py": {
        (
            "return [lower, Layer(1, -1, flat_mm, folded - low)][: section.layers]",
            "return [lower, Layer(1, -1, flat_mm, folded + low)][: section.layers]",
        ): "on a fold low is 0",
        (
            "near, far = stretch[0], stretch[-1]",
            "near, far = stretch[0], stretch[1]",
        ): "of two zones the last is the second",
        (
            "return [lower, Layer(1, -1, flat_mm, folded - low)]",
            "return [lower, Layer(1, -1, flat_mm, folded + low)]",
        ): "on a fold low is 0",
        (
            "if not cloth.tube or fold_mm < cloth.usable_width_mm / 4:",
            "if not cloth.tube or fold_mm <= cloth.usable_width_mm / 4:",
        ): "two lengths that are equal to the last digit",
        (
            "length = stretch[0].length_mm",
            "length = stretch[ -1].length_mm",
        ): "compared with every other, either way",
        (
            "if any(one.spread is not spread or abs(one.length_mm - length) > tolerance_mm for one in stretch):",
            "if any(one.spread is not spread or abs(one.length_mm - length) >= tolerance_mm for one in stretch):",
        ): "two lengths that are equal to the last digit",
        (
            "for one, (least, most) in zip(stretch, _room(stretch, cloth), strict=True)",
            "for one, (least, most) in zip(stretch, _room(stretch, cloth), strict=False)",
        ): "as many of one as of the other",
        (
            "if one.across_mm < least - tolerance_mm",
            "if one.across_mm <= least - tolerance_mm",
        ): "two lengths that are equal to the last digit",
        (
            "or one.across_mm + one.width_mm > most + tolerance_mm",
            "or one.across_mm + one.width_mm >= most + tolerance_mm",
        ): "two lengths that are equal to the last digit",
        (
            "or (one.fold.low and abs(one.across_mm - least) > tolerance_mm)",
            "or (one.fold.low and abs(one.across_mm - least) >= tolerance_mm)",
        ): "two lengths that are equal to the last digit",
        (
            "or (one.fold.low and abs(one.across_mm - least) > tolerance_mm)",
            "or (one.fold.low and abs(one.across_mm + least) > tolerance_mm)",
        ): "on a fold the least is 0",
        (
            "or (one.fold.high and abs(one.across_mm + one.width_mm - most) > tolerance_mm)",
            "or (one.fold.high and abs(one.across_mm + one.width_mm - most) >= tolerance_mm)",
        ): "two lengths that are equal to the last digit",
    },
    "nesting/cutting/flat/rebuilding.py": {
        (
            "flat_end += stretch[0].spread.lengths * stretch[0].length_mm",
            "flat_end += stretch[ -1].spread.lengths * stretch[0].length_mm",
        ): "all sections of a stretch are spread alike and as long",
        (
            "flat_end += stretch[0].spread.lengths * stretch[0].length_mm",
            "flat_end += stretch[0].spread.lengths * stretch[ -1].length_mm",
        ): "all sections of a stretch are spread alike and as long",
        (
            "if placed.yields is Yield.WHOLE_ON_FOLD and placed.shape.fold_edge is not None:",
            "if placed.yields is Yield.WHOLE_ON_FOLD or placed.shape.fold_edge is not None:",
        ): "only what lies on a fold has kept its fold edge",
        (
            "fold = float(placed.shape.fold_edge[0, 1])",
            "fold = float(placed.shape.fold_edge[ 1, 1])",
        ): "a fold edge runs along the fold",
        (
            "fold = float(placed.shape.fold_edge[0, 1])",
            "fold = float(placed.shape.fold_edge[ -1, 1])",
        ): "a fold edge runs along the fold",
        (
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]",
            "cuts = [_joined_at_fold(halves, layers[ 1].across * fold + layers[0].u_mm)]",
        ): "where the grid begins on which halves are joined: a hair",
        (
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]",
            "cuts = [_joined_at_fold(halves, layers[ -1].across * fold + layers[0].u_mm)]",
        ): "where the grid begins on which halves are joined: a hair",
        (
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]",
            "cuts = [_joined_at_fold(halves, layers[0].across ** fold + layers[0].u_mm)]",
        ): "where the grid begins on which halves are joined: a hair",
        (
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]",
            "cuts = [_joined_at_fold(halves, layers[0].across * fold - layers[0].u_mm)]",
        ): "where the grid begins on which halves are joined: a hair",
        (
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]",
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[ 1].u_mm)]",
        ): "where the grid begins on which halves are joined: a hair",
        (
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]",
            "cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[ -1].u_mm)]",
        ): "where the grid begins on which halves are joined: a hair",
        (
            "return [CutPiece(placed.piece, copy, one) for copy, one in zip(placed.copies, cuts, strict=True)]",
            "return [CutPiece(placed.piece, copy, one) for copy, one in zip(placed.copies, cuts, strict=False)]",
        ): "looked at before",
        (
            "return np.asarray(points * [layer.along, layer.across] + [layer.x_mm, layer.u_mm])",
            "return np.asarray(points / [layer.along, layer.across] + [layer.x_mm, layer.u_mm])",
        ): "a sign is 1 or -1",
    },
    "nesting/cutting/verify/leftover.py": {
        (
            "round_and_round = opened.sections[0].spread is Spread.TUBE",
            "round_and_round = opened.sections[ -1].spread is Spread.TUBE",
        ): "a tube is a tube in every section",
        (
            "return bool(shapely.Polygon(ring).boundary.distance(middle) >= small.width_mm / 2 - SIZE_TOLERANCE_MM)",
            "return bool(shapely.Polygon(ring).boundary.distance(middle) > small.width_mm / 2 - SIZE_TOLERANCE_MM)",
        ): "two lengths that are equal to the last digit",
        (
            "sides = np.roll(ring, -1, axis=0) - ring",
            "sides = np.roll(ring, 1, axis=0) - ring",
        ): "each side the other way round",
        (
            "lengths[[first, 1 - first]], (small.length_mm, small.width_mm), atol=SIZE_TOLERANCE_MM",
            "lengths[[first, 1 + first]], (small.length_mm, small.width_mm), atol=SIZE_TOLERANCE_MM",
        ): "the side after the next is as long as the first of four",
        (
            "if sized and any(abs((angles[first] - way + 90) % 180 - 90) < _ANGLE_TOLERANCE_DEG for way in ways):",
            "if sized and any(abs((angles[first] - way + 90) % 180 - 90) <= _ANGLE_TOLERANCE_DEG for way in ways):",
        ): "two lengths that are equal to the last digit",
        (
            "if sized and any(abs((angles[first] - way + 90) % 180 - 90) < _ANGLE_TOLERANCE_DEG for way in ways):",
            "if sized and any(abs((angles[first] - way - 90) % 180 - 90) < _ANGLE_TOLERANCE_DEG for way in ways):",
        ): "half a turn is a whole one here",
    },
    "nesting/cutting/verify/lines.py": {
        (
            "if section.width_mm <= most + _ROOM_TOLERANCE_MM:",
            "if section.width_mm < most + _ROOM_TOLERANCE_MM:",
        ): "two lengths that are equal to the last digit",
        (
            "found += _missed(match, same, axis, repeat or 1.0)",
            "found += _missed(match, same, axis, repeat or 2.0)",
        ): "there is a repeat here",
        (
            "found += _missed(match, same, axis, repeat or 1.0)",
            "found += _missed(match, same, axis, repeat or 0.0)",
        ): "there is a repeat here",
        (
            "yield [one for one in named if one.hand is hand]",
            "yield [one for one in named if one.hand is not hand]",
        ): "one hand or the other, in the other order",
        (
            "if off > LINE_TOLERANCE_MM:",
            "if off >= LINE_TOLERANCE_MM:",
        ): "two lengths that are equal to the last digit",
    },
    "nesting/cutting/verify/sharing.py": {
        (
            "if not known or parts.cloths[key].width_mm != (known[0].width_mm or cloth.width_mm):",
            "if not known or parts.cloths[key].width_mm != (known[ -1].width_mm or cloth.width_mm):",
        ): "remnants have names of their own",
    },
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
        ("@entry_kernel", ""): "without the compiler there is nothing to compile",
        (
            "if max(ax, bx) < left or min(ax, bx) > right:",
            "if max(ax, bx) < left or min(ax, bx) >= right:",
        ): "two lengths that are equal to the last digit",
        (
            "low[c], high[c] = 0.0, 0.0",
            "low[c], high[c] = 1.0, 0.0",
        ): "low above high is none, as 0 and 0 are",
        (
            "if end - begin > high[c] - low[c]:",
            "if end - begin >= high[c] - low[c]:",
        ): "of two as large either will do",
        ("if cross > y:", "if cross <= y:"): "an even number of crossings: as many odd above as below",
        (
            "if kind[i] == kind[i - 1] and left[i - 1] > right[i]:",
            "if kind[i] == kind[i - 1] and left[i - 1] >= right[i]:",
        ): "two lengths that are equal to the last digit",
        (
            "widest, which, weightiest = 0.0, -1, -1.0",
            "widest, which, weightiest = 0.0, 1, -1.0",
        ): "decides the work, not the answer",
        (
            "widest, which, weightiest = 0.0, -1, -1.0",
            "widest, which, weightiest = 0.0, - 0, -1.0",
        ): "decides the work, not the answer",
        (
            "widest, which, weightiest = 0.0, -1, -1.0",
            "widest, which, weightiest = 0.0, -1, - 2.0",
        ): "a weight is never below 0",
        (
            "weight = wide * rule[slot[kind[i]] + int(way[i]), 0]",
            "weight = wide % rule[slot[kind[i]] + int(way[i]), 0]",
        ): "decides the work, not the answer",
        (
            "if wide > width and weight > weightiest:",
            "if wide > width and weight >= weightiest:",
        ): "decides the work, not the answer",
        (
            "if open_way < 0 and ways[kind[i]] > 1 and way[i] == ways[kind[i]]:",
            "if open_way <= 0 and ways[kind[i]] > 1 and way[i] == ways[kind[i]]:",
        ): "decides the work, not the answer",
        (
            "if open_way >= 0 and widest < VARIANT_BELOW * length:",
            "if open_way >= 0 and widest <= VARIANT_BELOW * length:",
        ): "two lengths that are equal to the last digit",
        ("if widest <= width:", "if widest < width:"): "two lengths that are equal to the last digit",
        ("@kernel", ""): "without the compiler there is nothing to compile",
        ("rounds += 1", "rounds += 0"): "a circle lifts until a piece leaves the strip",
        (
            "if rounds > n + 1: # the choices go round in a circle that lifts without end",
            "if rounds >= n + 1: # the choices go round in a circle that lifts without end",
        ): "a circle found out a round earlier: no chain of n is longer",
        (
            "if rounds > n + 1: # the choices go round in a circle that lifts without end",
            "if rounds > n + 0: # the choices go round in a circle that lifts without end",
        ): "a circle found out a round earlier: no chain of n is longer",
        (
            "if least > rule[slot[kind[target]] + int(way[target]), 1]:",
            "if least >= rule[slot[kind[target]] + int(way[target]), 1]:",
        ): "two lengths that are equal to the last digit",
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
        (
            "self.grain = 1e-9 * tables.width",
            "self.grain = 1e-9 / tables.width",
        ): "a height that is next to nothing, either way",
        (
            "self.grain = 1e-9 * tables.width",
            "self.grain = 1e-9 % tables.width",
        ): "a height that is next to nothing, either way",
        (
            "self.grain = 1e-9 * tables.width",
            "self.grain = 1e-9 ** tables.width",
        ): "a height that is next to nothing, either way",
        (
            "self.used = np.zeros(1, dtype=np.int64)",
            "self.used = np.zeros( 2, dtype=np.int64)",
        ): "the second is not read",
        ("np.empty((n * n + 2, n)),", "np.empty((n * n + 3, n)),"): "more room than is used",
        ("np.empty((n * n + 2, 6)),", "np.empty((n * n + 3, 6)),"): "more room than is used",
        ("np.empty((n * n + 2, 6)),", "np.empty((n * n + 2, 7)),"): "more room than is used",
    },
    "nesting/packing/bounds/rows.py": {
        (
            "return np.column_stack([low, np.where(rule[:, 2] > 0, low + rule[:, 1] * (rule[:, 2] - 1), free)])",
            "return np.column_stack([low, np.where(rule[:, 1] > 0, low + rule[:, 1] * (rule[:, 2] - 1), free)])",
        ): "a lattice has a step and a count, or neither",
        (
            "low, high = (low, high) if across > 0 else (-high, -low)",
            "low, high = (low, high) if across >= 0 else (-high, -low)",
        ): "a sign is 1 or -1",
        (
            "low, high = (low, high) if across > 0 else (-high, -low)",
            "low, high = (low, high) if across > -1 else (-high, -low)",
        ): "a sign is 1 or -1",
        (
            "if low <= tables.box[k, 1] or high >= tables.box[k, 3]:",
            "if low < tables.box[k, 1] or high >= tables.box[k, 3]:",
        ): "two lengths that are equal to the last digit",
        (
            "if low <= tables.box[k, 1] or high >= tables.box[k, 3]:",
            "if low <= tables.box[k, 1] and high >= tables.box[k, 3]:",
        ): "a quick answer: a segment that reaches out of the box crosses its side",
        (
            "if low <= tables.box[k, 1] or high >= tables.box[k, 3]:",
            "if low <= tables.box[k, 1] or high > tables.box[k, 3]:",
        ): "two lengths that are equal to the last digit",
        (
            "distance = self._known[name][0 if along > 0 else 1] - self.loose",
            "distance = self._known[name][0 if along >= 0 else 1] - self.loose",
        ): "a sign is 1 or -1",
        (
            "distance = self._known[name][0 if along > 0 else 1] - self.loose",
            "distance = self._known[name][0 if along > -1 else 1] - self.loose",
        ): "a sign is 1 or -1",
        (
            "meets = (np.minimum(ay, by) <= high) & (np.maximum(ay, by) >= low)",
            "meets = (np.minimum(ay, by) < high) & (np.maximum(ay, by) >= low)",
        ): "two lengths that are equal to the last digit",
        (
            "meets = (np.minimum(ay, by) <= high) & (np.maximum(ay, by) >= low)",
            "meets = (np.minimum(ay, by) <= high) & (np.maximum(ay, by) > low)",
        ): "two lengths that are equal to the last digit",
        (
            "rise = np.where(by == ay, 1.0, by - ay)",
            "rise = np.where(by == ay, 2.0, by - ay)",
        ): "not read where the edge is level",
        (
            "if ((left <= 0) & (right >= 0)).any():",
            "if ((left < 0) & (right >= 0)).any():",
        ): "two lengths that are equal to the last digit",
        (
            "if ((left <= 0) & (right >= 0)).any():",
            "if ((left <= 0) & (right > 0)).any():",
        ): "two lengths that are equal to the last digit",
        (
            "if (ax + (bx - ax) * (y - ay) / (by - ay) > 0).sum() % 2 == 0:",
            "if (ax + (bx - ax) * (y - ay) / (by - ay) <= 0).sum() % 2 == 0:",
        ): "an edge crosses an even number of times: as many odd on the left as on the right",
        (
            "if (ax + (bx - ax) * (y - ay) / (by - ay) > 0).sum() % 2 == 0:",
            "if (ax + (bx - ax) * (y - ay) / (by - ay) >= 0).sum() % 2 == 0:",
        ): "none crosses at 0, which was looked for before",
        (
            "return float(left[left > 0].min()), float(-right[right < 0].max())",
            "return float(left[left >= 0].min()), float(-right[right < 0].max())",
        ): "none is 0, which was looked for before",
        (
            "return float(left[left > 0].min()), float(-right[right < 0].max())",
            "return float(left[left > 0].min()), float(-right[right <= 0].max())",
        ): "none is 0, which was looked for before",
        (
            "low = _row(tables, distances, by_length[tied[by_length]], y[:, :1], y[:, :1])",
            "low = _row(tables, distances, by_length[tied[by_length]], y[:, : 2], y[:, :1])",
        ): "of the lower ends only the first column is read",
        ("if len(low) > 1:", "if len(low) >= 1:"): "a row of nothing has no length",
        ("if len(low) > 1:", "if len(low) > 0:"): "a row of nothing has no length",
        (
            "high = _row(tables, distances, by_length[tied[by_length]], y[:, 1:], y[:, 1:])",
            "high = _row(tables, distances, by_length[tied[by_length]], y[:, 1:], y[:, 0:])",
        ): "of the upper ends only the last column is read",
        (
            "reached = np.full((2**n, len(shape)), np.inf) # least x of the last middle",
            "reached = np.full(( 3**n, len(shape)), np.inf) # least x of the last middle",
        ): "more room than is used",
        (
            "if not subset >> i & 1:",
            "if not subset << i & 1:",
        ): "what is done twice is done to a row that is told already",
        (
            "if not subset >> i & 1:",
            "if not subset >> i & 0:",
        ): "what is done twice is done to a row that is told already",
        (
            "kinds, first, counts = np.unique(tables.shapes[: tables.moving, 0], return_index=True, return_counts=True)",
            "kinds, first, counts = np.unique(tables.shapes[: tables.moving, 1], return_index=True, return_counts=True)",
        ): "a kind is known by its last variant as by its first",
        (
            "kinds, first, counts = np.unique(tables.shapes[: tables.moving, 0], return_index=True, return_counts=True)",
            "kinds, first, counts = np.unique(tables.shapes[: tables.moving, -1], return_index=True, return_counts=True)",
        ): "a kind is known by its last variant as by its first",
        (
            "for j, others in enumerate(ranges[: i + 1]):",
            "for j, others in enumerate(ranges[: i + 2]):",
        ): "a pair is looked at twice",
        ("best = 0.0", "best = -1.0"): "a chain is never below 0",
        (
            "if other != start and all(apart[other, k] > 0 for k in chain):",
            "if other != start and all(apart[other, k] >= 0 for k in chain):",
        ): "one at no distance adds nothing to a chain",
        (
            "if other != start and all(apart[other, k] > 0 for k in chain):",
            "if other != start and all(apart[other, k] > -1 for k in chain):",
        ): "one at no distance adds nothing to a chain",
        ("if longer > length:", "if longer >= length:"): "two lengths that are equal to the last digit",
        ("if least == 0.0:", "if least == 1.0:"): "two lengths that are equal to the last digit",
        ("if least == 0.0:", "if least == -1.0:"): "a quick answer",
        ("return 0.0", "return -1.0"): "below 0 is taken as 0 is",
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
        (
            "above = np.maximum(0.0, 1.0 - np.floor((1.0 - a) / e + GRAIN) / parts)",
            "above = np.maximum( -1.0, 1.0 - np.floor((1.0 - a) / e + GRAIN) / parts)",
        ): "no value is below 0 here",
        (
            "found = [_step(e, a), np.where(a > 0.5 + GRAIN, above, np.where(a > e + GRAIN, 1.0 / parts, 0.0))]",
            "found = [_step(e, a), np.where(a >= 0.5 + GRAIN, above, np.where(a > e + GRAIN, 1.0 / parts, 0.0))]",
        ): "two lengths that are equal to the last digit",
        (
            "multiple = np.maximum(0.0, np.floor((k + 1) * a - GRAIN)) / k",
            "multiple = np.maximum( -1.0, np.floor((k + 1) * a - GRAIN)) / k",
        ): "no value is below 0 here",
        (
            "return np.where(a > 1.0 - e + GRAIN, 1.0, np.where(a < e + GRAIN, 0.0, a))",
            "return np.where(a >= 1.0 - e + GRAIN, 1.0, np.where(a < e + GRAIN, 0.0, a))",
        ): "two lengths that are equal to the last digit",
        (
            "return np.where(a > 1.0 - e + GRAIN, 1.0, np.where(a < e + GRAIN, 0.0, a))",
            "return np.where(a > 1.0 - e + GRAIN, 1.0, np.where(a <= e + GRAIN, 0.0, a))",
        ): "two lengths that are equal to the last digit",
        (
            "if best <= 0: # nothing to begin with: items as thin as what is allowed for",
            "if best < 0: # nothing to begin with: items as thin as what is allowed for",
        ): "from 0 a longer length is 0 too",
        (
            "widest = problem.width_mm * (1 + 1e-8) + loose_mm",
            "widest = problem.width_mm ** (1 + 1e-8) + loose_mm",
        ): "a power so near to 1 is the product to six digits",
        (
            "lines = lines[np.concatenate([[True], np.diff(lines) > 1e-9 * np.ptp(x)])]",
            "lines = lines[np.concatenate([[True], np.diff(lines) >= 1e-9 * np.ptp(x)])]",
        ): "two lengths that are equal to the last digit",
        (
            "lines = lines[np.concatenate([[True], np.diff(lines) > 1e-9 * np.ptp(x)])]",
            "lines = lines[np.concatenate([[True], np.diff(lines) > 1e-9 / np.ptp(x)])]",
        ): "a length that is next to nothing, either way",
        (
            "lines = lines[np.concatenate([[True], np.diff(lines) > 1e-9 * np.ptp(x)])]",
            "lines = lines[np.concatenate([[True], np.diff(lines) > 1e-9 % np.ptp(x)])]",
        ): "a length that is next to nothing, either way",
        (
            "meets = (np.minimum(ax, bx) < middle) & (middle < np.maximum(ax, bx))",
            "meets = (np.minimum(ax, bx) <= middle) & (middle < np.maximum(ax, bx))",
        ): "two lengths that are equal to the last digit",
        (
            "meets = (np.minimum(ax, bx) < middle) & (middle < np.maximum(ax, bx))",
            "meets = (np.minimum(ax, bx) < middle) & (middle <= np.maximum(ax, bx))",
        ): "two lengths that are equal to the last digit",
        (
            "slope = (by - ay) / np.where(meets.any(axis=0), bx - ax, 1.0)",
            "slope = (by - ay) / np.where(meets.any(axis=0), bx - ax, 2.0)",
        ): "not read where the edge meets no line",
        (
            "near, corners = 1e-8 * np.ptp(x), np.sort(x)",
            "near, corners = 1e-8 / np.ptp(x), np.sort(x)",
        ): "a length that is next to nothing, either way",
        (
            "longest = max(float(lengths.max(initial=0.0)) for lengths, _ in slices)",
            "longest = max(float(lengths.max(initial= -1.0)) for lengths, _ in slices)",
        ): "some outline has a length, or the next line says so",
    },
    "nesting/cutting/verify/paper.py": {
        (
            "@dataclass(frozen=True, slots=True, eq=False)",
            "@dataclass(frozen=True, slots=False, eq=False)",
        ): "slots save room and nothing else",
        (
            "@lru_cache(maxsize=1024)  # asked for each better lay, of each of its pieces",
            "@lru_cache(maxsize= 1023)  # asked for each better lay, of each of its pieces",
        ): "what is no longer kept is made anew",
        (
            "p, at, q = (np.array(line.interpolate(one).coords[0]) for one in (behind, station, ahead))",
            "p, at, q = (np.array(line.interpolate(one).coords[ -1]) for one in (behind, station, ahead))",
        ): "a point has one coordinate",
    },
    "nesting/cutting/verify/room.py": {
        (
            "if signed_area(np.concatenate([edge.vertices[:-1] for edge in edges])) < 0:",
            "if signed_area(np.concatenate([edge.vertices[:-1] for edge in edges])) < 1:",
        ): "no piece is as small as a square millimetre",
        (
            "if signed_area(np.concatenate([edge.vertices[:-1] for edge in edges])) < 0:",
            "if signed_area(np.concatenate([edge.vertices[:-1] for edge in edges])) < -1:",
        ): "no piece is as small as a square millimetre",
        (
            "off = (outline - fold[0]) @ out",
            "off = (outline - fold[ -1]) @ out",
        ): "square to a line, either end of it is as far",
        (
            "return _half_plane(fold[0], out if off.max() > -off.min() else -out, 1e4 + 10 * float(np.ptp(outline)))",
            "return _half_plane(fold[0], out if off.max() > -off.min() else -out, 1e4 + 9 * float(np.ptp(outline)))",
        ): "nine times as far as the piece is past it as ten times is",
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
    "nesting/pattern/allowance.py": {
        (
            "if not outline.is_valid or outline.area == 0:",
            "if not outline.is_valid or outline.area == 1:",
        ): "an outline without an inside is not valid either",
        (
            "if not outline.is_valid or outline.area == 0:",
            "if not outline.is_valid or outline.area == -1:",
        ): "an outline without an inside is not valid either",
        (
            "for (i, j), corner in zip(following, meetings, strict=True):",
            "for (i, j), corner in zip(following, meetings, strict=False):",
        ): "as many of one as of the other",
        (
            "corners.append(corner.run_on(outline.union(bands[j] if corner.a > corner.b else bands[i])))",
            "corners.append(corner.run_on(outline.union(bands[j] if corner.a >= corner.b else bands[i])))",
        ): "of two that are the same nothing runs on",
        (
            "return without_collinear(_outer_ring(_up_to_fold(shape, fold)), fold_y=float(fold.vertices[0, 1]))",
            "return without_collinear(_outer_ring(_up_to_fold(shape, fold)), fold_y=float(fold.vertices[ 1, 1]))",
        ): "a fold runs exactly along x",
        (
            "return without_collinear(_outer_ring(_up_to_fold(shape, fold)), fold_y=float(fold.vertices[0, 1]))",
            "return without_collinear(_outer_ring(_up_to_fold(shape, fold)), fold_y=float(fold.vertices[ -1, 1]))",
        ): "a fold runs exactly along x",
        (
            "return abs(self.a - self.b) < SAME_MM",
            "return abs(self.a - self.b) <= SAME_MM",
        ): "two lengths that are equal to the last digit",
        (
            "if self.cos > math.cos(math.radians(STEP_TURN_DEG)):",
            "if self.cos >= math.cos(math.radians(STEP_TURN_DEG)):",
        ): "two lengths that are equal to the last digit",
        (
            "if self.sin < 0 or min(self.along) >= 0:",
            "if self.sin <= 0 or min(self.along) >= 0:",
        ): "edges that run straight on, or back, are steps before that",
        (
            "if self.sin < 0 or min(self.along) >= 0:",
            "if self.sin < 0 or min(self.along) > 0:",
        ): "two lengths that are equal to the last digit",
        (
            "return reach > min(MITRE_LIMIT * max(self.a, self.b), self.room_mm)",
            "return reach >= min(MITRE_LIMIT * max(self.a, self.b), self.room_mm)",
        ): "two lengths that are equal to the last digit",
        (
            "return 0.0 if wide_end_shows or min(self.a, self.b) < SAME_MM else OVERLAP_MM",
            "return 0.0 if wide_end_shows or min(self.a, self.b) <= SAME_MM else OVERLAP_MM",
        ): "two lengths that are equal to the last digit",
        (
            "into_wide = OVERLAP_MM * (-self.u if self.a > self.b else self.v)",
            "into_wide = OVERLAP_MM * (-self.u if self.a >= self.b else self.v)",
        ): "they differ here",
        (
            "elif self.sin < 0 or min(self.a, self.b) < SAME_MM > min(self.along):",
            "elif self.sin <= 0 or min(self.a, self.b) < SAME_MM > min(self.along):",
        ): "edges that run straight on, or back, are steps before that",
        (
            "elif self.sin < 0 or min(self.a, self.b) < SAME_MM > min(self.along):",
            "elif self.sin < 0 or min(self.a, self.b) <= SAME_MM > min(self.along):",
        ): "two lengths that are equal to the last digit",
        (
            "elif self.sin < 0 or min(self.a, self.b) < SAME_MM > min(self.along):",
            "elif self.sin < 0 or min(self.a, self.b) < SAME_MM >= min(self.along):",
        ): "two lengths that are equal to the last digit",
        (
            "elif min(self.along) >= 0:",
            "elif min(self.along) > 0:",
        ): "two lengths that are equal to the last digit",
        (
            "elif self.a > self.b: # The narrow band runs on into the end of the wide one.",
            "elif self.a >= self.b: # The narrow band runs on into the end of the wide one.",
        ): "they differ here",
        (
            "if self.even or self.step or self.sin > 0:",
            "if self.even or self.step or self.sin >= 0:",
        ): "edges that run straight on are steps before that",
        (
            "forward, outward = (self.u, _outward(self.u)) if self.a > self.b else (-self.v, _outward(self.v))",
            "forward, outward = (self.u, _outward(self.u)) if self.a >= self.b else (-self.v, _outward(self.v))",
        ): "they differ here",
        (
            "if gained.distance(shapely.Point(own_end + reach)) < ON_LINE_MM:",
            "if gained.distance(shapely.Point(own_end + reach)) <= ON_LINE_MM:",
        ): "two lengths that are equal to the last digit",
        (
            "if self.even or self.step or self.sin < 0 or self.along[0 if before else 1] >= 0:",
            "if self.even or self.step or self.sin <= 0 or self.along[0 if before else 1] >= 0:",
        ): "edges that run straight on, or back, are steps before that",
        (
            "if self.even or self.step or self.sin < 0 or self.along[0 if before else 1] >= 0:",
            "if self.even or self.step or self.sin < 0 or self.along[0 if before else 1] > 0:",
        ): "two lengths that are equal to the last digit",
        (
            "return band if gone.distance(far_end) < ON_LINE_MM else band.difference(gone)",
            "return band if gone.distance(far_end) <= ON_LINE_MM else band.difference(gone)",
        ): "two lengths that are equal to the last digit",
        (
            "return shapely.union_all([part for part in shapely.get_parts(shape) if part.distance(at) < ON_LINE_MM])",
            "return shapely.union_all([part for part in shapely.get_parts(shape) if part.distance(at) <= ON_LINE_MM])",
        ): "two lengths that are equal to the last digit",
        (
            "if allowance_mm < SAME_MM:",
            "if allowance_mm <= SAME_MM:",
        ): "two lengths that are equal to the last digit",
        (
            "for at, (u, v) in zip(vertices[1:-1], pairwise(directions), strict=True):",
            "for at, (u, v) in zip(vertices[1:-1], pairwise(directions), strict=False):",
        ): "as many of one as of the other",
        (
            "if float(u @ v) > math.cos(math.radians(CURVE_TURN_DEG)):",
            "if float(u @ v) >= math.cos(math.radians(CURVE_TURN_DEG)):",
        ): "two lengths that are equal to the last digit",
        (
            "if turn <= 0 or allowance_mm < SAME_MM:",
            "if turn < 0 or allowance_mm < SAME_MM:",
        ): "no corner, either way",
        (
            "if turn <= 0 or allowance_mm < SAME_MM:",
            "if turn <= 0 or allowance_mm <= SAME_MM:",
        ): "two lengths that are equal to the last digit",
        ("if half < 1e-12:", "if half <= 1e-12:"): "two lengths that are equal to the last digit",
        ("if reach <= limit_mm:", "if reach < limit_mm:"): "two lengths that are equal to the last digit",
        ("y = float(fold.vertices[0, 1])", "y = float(fold.vertices[ 1, 1])"): "a fold runs exactly along x",
        ("y = float(fold.vertices[0, 1])", "y = float(fold.vertices[ -1, 1])"): "a fold runs exactly along x",
        (
            "above = fold.vertices[-1, 0] > fold.vertices[0, 0]",
            "above = fold.vertices[-1, 0] >= fold.vertices[0, 0]",
        ): "a fold runs along x one way, and not on the spot",
        (
            "above = fold.vertices[-1, 0] > fold.vertices[0, 0]",
            "above = fold.vertices[1, 0] > fold.vertices[0, 0]",
        ): "a fold runs along x one way, and not on the spot",
        (
            "shapely.box(left - 1, y, right + 1, high + 1)",
            "shapely.box(left - 2, y, right + 1, high + 1)",
        ): "a margin about the shape",
        (
            "shapely.box(left - 1, y, right + 1, high + 1)",
            "shapely.box(left - 0, y, right + 1, high + 1)",
        ): "a margin about the shape",
        (
            "shapely.box(left - 1, y, right + 1, high + 1)",
            "shapely.box(left - 1, y, right + 2, high + 1)",
        ): "a margin about the shape",
        (
            "shapely.box(left - 1, y, right + 1, high + 1)",
            "shapely.box(left - 1, y, right + 0, high + 1)",
        ): "a margin about the shape",
        (
            "shapely.box(left - 1, y, right + 1, high + 1)",
            "shapely.box(left - 1, y, right + 1, high + 2)",
        ): "a margin about the shape",
        (
            "shapely.box(left - 1, y, right + 1, high + 1)",
            "shapely.box(left - 1, y, right + 1, high + 0)",
        ): "a margin about the shape",
        (
            "else shapely.box(left - 1, low - 1, right + 1, y)",
            "else shapely.box(left - 2, low - 1, right + 1, y)",
        ): "a margin about the shape",
        (
            "else shapely.box(left - 1, low - 1, right + 1, y)",
            "else shapely.box(left - 0, low - 1, right + 1, y)",
        ): "a margin about the shape",
        (
            "else shapely.box(left - 1, low - 1, right + 1, y)",
            "else shapely.box(left - 1, low - 2, right + 1, y)",
        ): "a margin about the shape",
        (
            "else shapely.box(left - 1, low - 1, right + 1, y)",
            "else shapely.box(left - 1, low - 0, right + 1, y)",
        ): "a margin about the shape",
        (
            "else shapely.box(left - 1, low - 1, right + 1, y)",
            "else shapely.box(left - 1, low - 1, right + 2, y)",
        ): "a margin about the shape",
        (
            "else shapely.box(left - 1, low - 1, right + 1, y)",
            "else shapely.box(left - 1, low - 1, right + 0, y)",
        ): "a margin about the shape",
        (
            "shape.intersection(side), lambda p: np.where([[False, True]] & (abs(p - y) < ON_LINE_MM), y, p)",
            "shape.intersection(side), lambda p: np.where([[False, True]] & (abs(p - y) <= ON_LINE_MM), y, p)",
        ): "two lengths that are equal to the last digit",
        (
            "ring = np.roll(ring, -int(np.lexsort((ring[:, 1], -ring[:, 0]))[0]), axis=0)",
            "ring = np.roll(ring, -int(np.lexsort((ring[:, 0], -ring[:, 0]))[0]), axis=0)",
        ): "any corner farthest along x stays",
        (
            "ring = np.roll(ring, -int(np.lexsort((ring[:, 1], -ring[:, 0]))[0]), axis=0)",
            "ring = np.roll(ring, -int(np.lexsort((ring[:, 1], ring[:, 0]))[0]), axis=0)",
        ): "the corner farthest back stays as well",
        (
            "first, last = (right, left) if ring[:, 1].mean() > fold_y else (left, right)",
            "first, last = (right, left) if ring[:, 1].mean() >= fold_y else (left, right)",
        ): "a ring is not all on its fold",
        (
            "if half < 1e-12:",
            "if half < -0.999999999999:",
        ): "a wedge of no width turns by half, which no outline does",
    },
    "nesting/units.py": {
        (
            'raise BadLength(f"{_as_written(value)} is more than {LONGEST_MM / 1e6:g} km long.", _GOOD_FORMS)',
            'raise BadLength(f"{_as_written(value)} is more than {LONGEST_MM // 1e6:g} km long.", _GOOD_FORMS)',
        ): "whole kilometres",
        (
            'raise BadLength(f"{_as_written(value)} is more than {LONGEST_MM / 1e6:g} km long.", _GOOD_FORMS)',
            'raise BadLength(f"{_as_written(value)} is more than {LONGEST_MM / 999999.0:g} km long.", _GOOD_FORMS)',
        ): "told to six digits",
        (
            "return whole if value >= 0 else -whole",
            "return whole if value > 0 else -whole",
        ): "0 is its own opposite",
    },
}
"""By module: the line as it is and as it would be, both without the blanks around them; and why no test can
tell them apart."""
