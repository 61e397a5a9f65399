"""Each mutant in a fork of a process that has loaded all but what reaches the mutant."""

from __future__ import annotations

import ast
import gc
import importlib.machinery
import importlib.util
import os
import resource
import sys
import threading
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import FrameType, ModuleType
from typing import Any

from benchmarks.mutating.making import Mutant

__all__ = ["Tests", "forked", "survives", "watched"]

ROOT = Path(__file__).parents[2]

CPU_TIMES, CPU_LEAST_S = 3, 10
"""Processor time after which a mutant counts as killed: so many times the module's own, and at least."""

EXAMPLES = 30
"""Of hypothesis for each property that asks for no number of its own: fewer than the tests themselves."""

WALL_S = 1800
"""Seconds on the clock after which a mutant that only waits counts as killed."""


@dataclass(frozen=True, slots=True)
class Tests:
    """What concerns a module: where to look, and of each test its seconds and the functions it runs."""

    paths: tuple[str, ...]
    seconds: dict[str, float]
    runs: dict[str, frozenset[str]]

    def reaching(self, function: str | None) -> list[str]:
        """The tests that run a function, named by its qualified name; all of them for None."""
        return [test for test in self.seconds if function is None or function in self.runs[test]]


class _Loader(importlib.machinery.SourceFileLoader):
    """Loads a module from another source than its file's."""

    def __init__(self, name: str, path: str, source: str) -> None:
        super().__init__(name, path)
        self.source = source

    def get_code(self, fullname: str) -> Any:
        return compile(self.source, self.path, "exec", dont_inherit=True)


class _Finder:
    """Finds one module in the source given, and leaves all others to Python."""

    def __init__(self, module: str, path: Path, source: str) -> None:
        self.module, self.path, self.source = module, str(path), source

    def find_spec(self, name: str, path: object = None, target: ModuleType | None = None) -> Any:
        if name != self.module:
            return None
        loader = _Loader(name, self.path, self.source)
        return importlib.util.spec_from_file_location(name, self.path, loader=loader)


class _Watch:
    """A plugin of pytest: which functions of the module each test runs, and its processor time."""

    def __init__(self, path: Path) -> None:
        self.path = str(path)
        self.seconds: dict[str, float] = {}
        self.runs: defaultdict[str, set[str]] = defaultdict(set)
        self.for_all: set[str] = set()
        """Run by fixtures and while tests are collected: what they give may be used by any test."""
        self.now = self.for_all
        threading.settrace(self._called)
        sys.settrace(self._called)

    def _called(self, frame: FrameType, event: str, argument: object) -> None:
        code = frame.f_code
        if code.co_filename == self.path:
            self.now.add(code.co_qualname.partition(".<locals>")[0])

    def pytest_runtest_call(self, item: Any) -> None:
        sys.settrace(self._called)
        self.now = self.runs[item.nodeid]
        self.seconds[item.nodeid] = -time.process_time()

    def pytest_runtest_teardown(self, item: Any) -> None:
        if item.nodeid in self.seconds:
            self.seconds[item.nodeid] += time.process_time()
        self.now = self.for_all
        sys.settrace(self._called)


class _Choice:
    """A plugin of pytest: only these tests, the quick files and the quick tests first."""

    def __init__(self, tests: Tests, chosen: Iterable[str]) -> None:
        self.tests, self.chosen = tests, set(chosen)

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        known = self.tests.seconds
        items[:] = [item for item in items if item.nodeid in self.chosen or item.nodeid not in known]
        by_file: Counter[str] = Counter()
        for item in items:
            by_file[item.nodeid.partition("::")[0]] += known.get(item.nodeid, 0.0)
        items.sort(key=lambda i: (by_file[i.nodeid.partition("::")[0]], known.get(i.nodeid, 0.0)))


def forked(work: Callable[[], tuple[int, str]], cpu_s: float | None = None) -> tuple[int, str]:
    """Run a function in a fork: its exit code, 0 for well, and the words that it returned.

    With a limit of processor time it is silent, and ended when it takes longer than that.
    """
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        code = 1
        try:
            os.close(read)
            if cpu_s is not None:
                _bounded(cpu_s)
            code, told = work()
            with os.fdopen(write, "w", encoding="utf-8") as pipe:
                pipe.write(told)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    os.close(write)
    clock = threading.Timer(WALL_S, _end, [child])
    if cpu_s is not None:
        clock.start()
    with os.fdopen(read, encoding="utf-8") as pipe:
        told = pipe.read()
    _, status = os.waitpid(child, 0)
    clock.cancel()
    return os.waitstatus_to_exitcode(status), told


def _bounded(cpu_s: float) -> None:
    os.setsid()
    resource.setrlimit(resource.RLIMIT_CPU, (int(cpu_s) + 1, int(cpu_s) + 2))
    silence = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(silence, stream)


def _end(child: int) -> None:
    try:
        os.killpg(child, 9)
    except ProcessLookupError:
        return


def _pytest(paths: Sequence[str], plugin: object) -> int:
    import pytest

    options = ["-x", "-q", "--assert=plain", "-p", "no:cacheprovider", "--hypothesis-profile=mutants"]
    return int(pytest.main([*options, *paths], plugins=[plugin]))


def watched(module: str, path: Path, tests: Sequence[str]) -> Tests:
    """Run the tests that concern a module once on the module as it is, and keep loaded what they loaded.

    Not what could have seen the module: that each fork loads for itself.
    """
    import hypothesis

    hypothesis.settings.register_profile(
        "mutants",
        deadline=None,
        max_examples=EXAMPLES,
        derandomize=True,
        database=None,
        phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
        suppress_health_check=[hypothesis.HealthCheck.too_slow],
    )
    watch = _Watch(path)
    code = _pytest(tests, watch)
    sys.settrace(None)
    threading.settrace(None)  # type: ignore[arg-type]
    if code:
        raise SystemExit(f"The tests of {path} do not pass as it is.")
    _forget(module)
    gc.collect()
    gc.freeze()  # no fork need look through what was loaded before it
    return Tests(
        tuple(tests),
        watch.seconds,
        {test: frozenset(watch.runs[test] | watch.for_all) for test in watch.seconds},
    )


def _forget(module: str) -> None:
    """Unload the tests and our own modules, so that each fork loads them anew with the mutant.

    For a module of the engine only those that reach it through their imports: kernels are slow to load.
    """
    files = {name: Path(getattr(loaded, "__file__", None) or "/") for name, loaded in sys.modules.items()}
    ours = {
        name: file
        for name, file in files.items()
        if any(file.is_relative_to(ROOT / folder) for folder in ("nesting", "cli", "tests", "benchmarks"))
        and not name.startswith("benchmarks.mutat")
        and name != "__main__"
    }
    forgotten = {name for name, file in ours.items() if file.is_relative_to(ROOT / "tests")} | {module}
    if module.startswith("nesting.packing."):
        imports = {name: _imported(file) for name, file in ours.items()}
        while more := {name for name, others in imports.items() if others & forgotten} - forgotten:
            forgotten |= more
    else:
        forgotten |= ours.keys()
    for name in forgotten:
        sys.modules.pop(name, None)


def _imported(file: Path) -> set[str]:
    """The modules that one names in its imports, wherever in it."""
    names = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        if isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return names


def survives(module: str, path: Path, mutant: Mutant, tests: Tests, function: str | None) -> bool:
    """Whether every test that reaches a mutant passes."""
    chosen = tests.reaching(function)

    def work() -> tuple[int, str]:
        sys.meta_path.insert(0, _Finder(module, path, mutant.source))  # type: ignore[arg-type]
        return _pytest(tests.paths, _Choice(tests, chosen)), ""

    if not chosen:
        return True
    limit_s = max(CPU_LEAST_S, CPU_TIMES * sum(tests.seconds[test] for test in chosen))
    return forked(work, limit_s)[0] == 0
