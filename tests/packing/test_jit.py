"""Compiled code is kept between runs, thrown away when it is out of date, and entered where it may be."""

import ast
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from nesting.packing import jit, kept_code

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
    monkeypatch.setattr(jit, "_STAMP", (*jit._STAMP, ("kernels/line.py", 1, 1)))
    assert not found_on_disk()


ENGINE = Path(jit.__file__).parent
FOLDERS = [ENGINE, *sorted(file.parent for file in ENGINE.glob("*/__init__.py"))]


def test_every_module_of_the_engine_lies_in_one_of_its_folders():
    assert {"bounds", "kernels", "outlines", "walks"} <= {folder.name for folder in FOLDERS}
    assert {file.parent for file in ENGINE.rglob("*.py")} == set(FOLDERS)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_a_change_in_any_folder_of_the_engine_changes_the_stamp_of_what_is_kept(folder, tmp_path):
    assert jit._stamp_of(ENGINE) == jit._STAMP
    engine = tmp_path / "packing"
    shutil.copytree(ENGINE, engine, ignore=shutil.ignore_patterns("__pycache__"))
    before = jit._stamp_of(engine)
    assert jit._stamp_of(engine) == before
    module = min((engine / folder.relative_to(ENGINE)).glob("*.py"))
    module.write_text(module.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert jit._stamp_of(engine) != before


@pytest.fixture
def nowhere(monkeypatch):
    """No directory where compiled code may be kept, and nothing said of it yet."""
    monkeypatch.setattr(jit, "folder_for", lambda function: None)
    monkeypatch.setattr(kept_code, "_said", set())


def doubled(x):
    return 2.0 * x


def halved(x):
    return 0.5 * x


def test_where_nothing_can_be_kept_that_is_said_once_and_kernels_work(nowhere, caplog):
    double, half = jit.entry_kernel(doubled), jit.entry_kernel(halved)
    assert [record.getMessage() for record in caplog.records] == [
        "compiled code can't be kept on disk here; it is compiled again on every start"
    ]
    assert (double(4.0), half(4.0)) == (8.0, 2.0)
    assert jit.kept_in(double) is None
    assert not jit.is_kept(double)
    assert jit.is_loaded(double)


WORKSHOP = f"""
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

kernels = {{}}
exec({DOUBLING!r}, kernels)  # code of no file, so numba has no place for what it compiles

def work(x):
    return kernels["double"](x), kernels["double"].stats.cache_path

if __name__ == "__main__":
    print(work(4.0))
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as workers:
        print(*workers.map(work, [5.0, 6.0]))
"""


def test_a_person_whose_workers_keep_nothing_reads_so_once(tmp_path):
    (tmp_path / "workshop.py").write_text(WORKSHOP, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(tmp_path / "workshop.py")],
        env={**os.environ, "PYTHONPATH": str(Path(jit.__file__).parents[2])},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.split("\n") == ["(8.0, None)", "(10.0, None) (12.0, None)", ""], done.stderr
    assert done.stderr == "compiled code can't be kept on disk here; it is compiled again on every start\n"


COMPILED = {"kernel", "inner_kernel", "entry_kernel", "_compiled"}  # the last is that of benchmarks


def kernels_of(tree):
    """The kernels of a module and by what each is compiled."""
    for node in ast.walk(tree):
        for decorator in getattr(node, "decorator_list", ()):
            if getattr(decorator, "id", None) in COMPILED:
                yield node, decorator.id


def closed_kernels_of(tree):
    """Names of those that only other kernels may call."""
    return {node.name for node, kind in kernels_of(tree) if kind in {"kernel", "inner_kernel"}}


def named_from_python(tree, closed):
    """Where a module names one of the closed kernels outside of kernels, but to have it compiled or plain."""
    imports = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    engine = [node for node in imports if (node.module or "").startswith("nesting.packing")]
    aliases = [alias for node in engine for alias in node.names]
    names = {alias.asname or alias.name for alias in aliases if alias.name in closed}
    names |= closed_kernels_of(tree)
    modules = {alias.asname or alias.name for alias in aliases}
    compiling = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and getattr(node.func, "id", None) in {"compile_for", "plain"}
    ]
    allowed = [kernel for kernel, _ in kernels_of(tree)] + compiling
    inside = {id(node) for outer in allowed for node in ast.walk(outer)}
    for node in ast.walk(tree):
        by_name = isinstance(node, ast.Name) and node.id in names
        by_module = (
            isinstance(node, ast.Attribute)
            and node.attr in closed
            and getattr(node.value, "id", None) in modules
        )
        if (by_name or by_module) and id(node) not in inside:
            yield ast.unparse(node)


def test_kernels_without_a_way_in_are_called_by_kernels_only():
    """Called from Python they would end the process without a word."""
    root = Path(jit.__file__).parents[2]
    files = [file for part in ("nesting", "cli", "benchmarks") for file in (root / part).rglob("*.py")]
    trees = {file: ast.parse(file.read_text(encoding="utf-8")) for file in files}
    closed = set().union(*map(closed_kernels_of, trees.values()))
    assert {"refine", "measure", "random_share"} <= closed
    rooms = {file.parent.name for file, tree in trees.items() if closed_kernels_of(tree)}
    assert rooms == {"bounds", "kernels", "outlines", "walks"}
    assert {file.name: found for file in files if (found := [*named_from_python(trees[file], closed)])} == {}


def test_a_closed_kernel_named_from_python_is_noticed():
    wrong = """
from nesting.packing.walks import restart
from nesting.packing.kernels.settle import settle as push

@kernel
def one(walk):
    push(walk)

def other(walk):
    compile_for(push, walk)
    one(walk)
    push(walk)
    restart.after_lull(walk)
"""
    found = named_from_python(ast.parse(wrong), {"settle", "after_lull"})
    assert sorted(found) == ["one", "push", "restart.after_lull"]


def with_twins_that_call_kernels(tree, closed):
    """Kernels whose Python twin is asked for though it calls another kernel."""
    bodies = {node.name: node for node, _ in kernels_of(tree)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", None) == "plain":
            named = {part.id for part in ast.walk(bodies[node.args[0].id]) if isinstance(part, ast.Name)}
            if named & closed:
                yield node.args[0].id


def test_twins_in_python_call_no_kernels():
    root = Path(jit.__file__).parents[2]
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in (root / "nesting").rglob("*.py")]
    closed = set().union(*map(closed_kernels_of, trees))
    assert [found for tree in trees for found in with_twins_that_call_kernels(tree, closed)] == []
    wrong = """
@inner_kernel
def one(x):
    return other(x)

python_one = plain(one)
"""
    assert [*with_twins_that_call_kernels(ast.parse(wrong), {"one", "other"})] == ["one"]
