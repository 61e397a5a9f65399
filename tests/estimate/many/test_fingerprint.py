"""Keys of kept results: equal for equal things, and for nothing else."""

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Nap
from nesting.cutting.search.laying import Effort
from nesting.estimate.many.fingerprint import fingerprint, program_mark
from nesting.estimate.many.jobs import LayJob
from tests.conftest import box, make_piece, make_project, on_fold, pairs

plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


@given(plain, plain)
def test_things_have_one_fingerprint_exactly_when_they_are_written_alike(one, other):
    assert (fingerprint(one) == fingerprint(other)) is (repr(one) == repr(other))


def test_arrays_differ_by_shape_and_kind_of_number_too():
    flat = np.arange(4.0)
    marks = {
        fingerprint(a) for a in (flat, flat.reshape(2, 2), flat.astype(np.float32), flat.astype(np.int64))
    }
    assert len(marks) == 4


def test_what_cannot_be_told_apart_is_refused():
    with pytest.raises(TypeError, match="object has no fingerprint"):
        fingerprint((1, object()))


def test_another_process_gives_the_same(jacket_like):
    code = "from nesting.estimate.many.fingerprint import *; print(fingerprint('a', 0.1), program_mark())"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == [fingerprint("a", 0.1), program_mark()]


def test_a_job_is_known_by_what_bears_on_its_lay_alone(jacket_like):
    project = jacket_like
    cloth = project.cloths["main"]
    key = LayJob.of(project, "main").key

    def with_cloth(**changes):
        return replace(project, cloths={"main": replace(cloth, **changes)})

    same = [
        replace(project, title="another", version="trial", currency="€", notes=("a note",)),
        with_cloth(name="wool", price_per_m=9.0),
        replace(project, cloths={**project.cloths, "lining": replace(cloth, key="lining")}),
    ]
    assert {LayJob.of(one, "main").key for one in same} == {key}
    others = [
        LayJob.of(with_cloth(width_mm=cloth.width_mm + 1), "main"),
        LayJob.of(with_cloth(nap=Nap.ONE_WAY), "main"),
        LayJob.of(with_cloth(step_mm=50.0), "main"),
        LayJob.of(replace(project, pieces=project.pieces[:2]), "main"),
        LayJob.of(make_project(make_piece("front", box(300, 500), pairs())), "main"),
        LayJob.of(make_project(make_piece("front", box(300, 500), on_fold(), on_fold="edge 3")), "main"),
        LayJob.of(project, "main", Effort(seconds=1.0)),
        LayJob.of(project, "main", seed=1),
    ]
    assert len({key, *(job.key for job in others)}) == 1 + len(others)
