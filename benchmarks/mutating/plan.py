"""Which tests concern a module, and which mutants no test can tell from it, each with why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["PLAN", "Plan"]


@dataclass(frozen=True, slots=True)
class Plan:
    """What is known of a module.

    Attributes
    ----------
    run : tuple of str
        Paths of tests, and the module's own where it has examples.
    same : mapping of (line as it is, line as it would be) to str
        Why that mutant does the same; both lines without the blanks around them.
    environment : mapping
        Set before anything is loaded.
    keeps_results : bool
        Whether what one test has made another may use, so that only the first is seen to run what made it.
    """

    run: tuple[str, ...]
    same: Mapping[tuple[str, str], str] = field(default_factory=dict)
    environment: Mapping[str, str] = field(default_factory=dict)
    keeps_results: bool = False


VERIFIER = tuple(
    f"tests/cutting/verify/{name}.py"
    for name in ("test_every_fault", "test_verify", "test_garments", "test_wishes_kept")
)

PLAN = {
    "nesting/units.py": Plan(
        run=(
            "tests/test_units.py",
            "nesting/units.py",
        )
    ),
    "nesting/pattern/counts.py": Plan(
        run=(
            "tests/pattern/test_counts.py",
            "nesting/pattern/counts.py",
        )
    ),
    "nesting/pattern/allowance.py": Plan(run=("tests/pattern/test_allowance.py",)),
    "nesting/cloth/buying.py": Plan(
        run=(
            "tests/cloth",
            "nesting/cloth/buying.py",
        )
    ),
    "nesting/cloth/cloth.py": Plan(run=("tests/cloth",)),
    "nesting/packing/verify.py": Plan(run=("tests/packing/test_verify.py",)),
    "nesting/packing/bounds/rows.py": Plan(run=("tests/packing/bounds/test_rows.py",)),
    "nesting/packing/bounds/slices.py": Plan(run=("tests/packing/bounds/test_slices.py",)),
    "nesting/packing/bounds/proof.py": Plan(
        run=("tests/packing/bounds/test_exhaustion.py", "tests/packing/bounds/test_kernel.py"),
        environment={"NUMBA_DISABLE_JIT": "1"},  # so that a step out of its room is an error
    ),
    "nesting/packing/bounds/kernel.py": Plan(
        run=("tests/packing/bounds/test_kernel.py",),
        environment={"NUMBA_DISABLE_JIT": "1"},  # compiling takes seconds for each mutant
    ),
    "nesting/packing/bounds/bound.py": Plan(
        run=(
            "tests/packing/bounds/test_parts.py",
            "tests/packing/bounds/test_bound.py",
        )
    ),
    "nesting/cutting/flat/opening.py": Plan(run=("tests/cutting/flat/test_opening.py", *VERIFIER)),
    "nesting/cutting/flat/rebuilding.py": Plan(run=("tests/cutting/flat/test_opening.py", *VERIFIER)),
    "nesting/cutting/verify/faults.py": Plan(run=VERIFIER),
    "nesting/cutting/verify/pieces.py": Plan(run=VERIFIER),
    "nesting/cutting/verify/room.py": Plan(
        run=("tests/cutting/verify/test_room.py", "tests/cutting/verify/test_paper.py", *VERIFIER)
    ),
    "nesting/cutting/verify/lines.py": Plan(run=("tests/cutting/verify/test_line_points.py", *VERIFIER)),
    "nesting/cutting/verify/wishes.py": Plan(run=VERIFIER),
    "nesting/cutting/verify/sharing.py": Plan(
        run=("tests/cutting/verify/test_every_fault.py", "tests/cutting/verify/test_left_and_shared.py")
    ),
    "nesting/cutting/verify/leftover.py": Plan(
        run=("tests/cutting/verify/test_every_fault.py", "tests/cutting/verify/test_left_and_shared.py")
    ),
    "nesting/cutting/verify/paper.py": Plan(
        run=(
            "tests/cutting/verify/test_paper.py",
            "tests/cutting/verify/test_every_fault.py",
        ),
        keeps_results=True,
    ),
}
