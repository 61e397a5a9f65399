"""Compiled code is kept between runs, thrown away when it is out of date, and entered where it may be."""

import ast
import importlib.util
from pathlib import Path

from nesting.packing import jit

DOUBLING = """
from nesting.packing.jit import entry_kernel

@entry_kernel
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


def kinds_of(tree):
    """The functions of a module that are kernels, by their decorators."""
    for node in ast.walk(tree):
        for decorator in getattr(node, "decorator_list", ()):
            if getattr(decorator, "id", None) in ("kernel", "inner_kernel", "entry_kernel"):
                yield node, decorator.id


def test_kernels_without_a_way_in_are_called_by_kernels_only():
    """Called from Python they would end the process without a word."""
    files = [file for file in Path(jit.__file__).parents[1].rglob("*.py") if file.name != "jit.py"]
    trees = {file: ast.parse(file.read_text(encoding="utf-8")) for file in files}
    closed = {node.name for tree in trees.values() for node, kind in kinds_of(tree) if kind != "entry_kernel"}
    assert {"refine", "settle", "random_share"} <= closed
    for file, tree in trees.items():
        within = {id(inner) for kernel, _ in kinds_of(tree) for inner in ast.walk(kernel)}
        imported = {
            alias.name
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("nesting.packing")
            for alias in node.names
        }
        own = {node.name for node, _ in kinds_of(tree)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Name) and node.id in closed & (imported | own):
                assert id(node) in within, f"{file.name}:{node.lineno} calls {node.id} from Python"
