"""Compiled code is kept between runs, and thrown away when it is out of date."""

import importlib.util

from nesting.packing import jit

DOUBLING = """
from nesting.packing.jit import kernel

@kernel
def double(x):
    return 2.0 * x
"""


def test_what_was_kept_is_used_until_a_module_of_the_engine_changes(tmp_path, monkeypatch):
    file = tmp_path / "doubling.py"
    file.write_text(DOUBLING)

    def found_on_disk():
        spec = importlib.util.spec_from_file_location("doubling", file)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        before = jit.is_kept(module.double)
        assert module.double(4.0) == 8.0
        assert jit.is_kept(module.double)
        assert sum(module.double.stats.cache_hits.values()) == before
        return before

    assert not found_on_disk()
    assert found_on_disk()
    monkeypatch.setattr(jit, "_STAMP", (*jit._STAMP, ("line_kernel.py", 1, 1)))
    assert not found_on_disk()
