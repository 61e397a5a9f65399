"""Would a test notice? ``nice python -m benchmarks.mutants nesting/units.py``; needs ``.[mutation]``.

One small fault at a time is put into a module, and the tests that concern it are run; a fault that all of
them pass shows what no test asks. The faults (mutants) are those of Cosmic Ray's operators, to which leaving
out a statement is added. Cosmic Ray's own command starts Python anew for each of them, two and a half seconds
of processor time where a test takes a hundredth; here the tests are run once, what they loaded is kept, and
each mutant is tried in a fork of that process. No file is changed.

Which tests concern a module, and the mutants that no test can tell from the module, each with why, stand in
``mutants.toml``. Only tests that run the mutated function are run, the quick ones first. A mutant is killed
when a test fails, when the module cannot be imported, and when it takes three times the processor time of
the module as it is, ten seconds at least.
"""

from __future__ import annotations

import argparse
import ast
import copy
import functools
import gc
import importlib
import importlib.machinery
import importlib.util
import itertools
import json
import os
import random
import resource
import sys
import threading
import time
import tomllib
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from types import FrameType, ModuleType
from typing import Any

ROOT = Path(__file__).parent.parent
PLAN = Path(__file__).with_name("mutants.toml")

_OPPOSITES = (("Lt", "GtE"), ("LtE", "Gt"), ("Eq", "NotEq"), ("Is", "IsNot"))
_NEIGHBOURS = (("Lt", "LtE"), ("Gt", "GtE"))
_SUMS = (("Add", "Sub"), ("Mul", "Div"), ("FloorDiv", "Div"), ("Mod", "Mul"), ("Pow", "Mul"))
_BITS = (("LShift", "RShift"), ("BitAnd", "BitOr"), ("BitXor", "BitAnd"))


def _both_ways(kind: str, pairs: Iterable[tuple[str, str]]) -> list[str]:
    return [f"Replace{kind}Operator_{a}_{b}" for pair in pairs for a, b in (pair, pair[::-1])]


OPERATORS = (
    *("AddNot", "NumberReplacer", "ReplaceAndWithOr", "ReplaceOrWithAnd", "ReplaceTrueWithFalse"),
    *("ReplaceFalseWithTrue", "ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "ZeroIterationForLoop"),
    *("ExceptionReplacer", "RemoveDecorator", "ReplaceUnaryOperator_Delete_Not"),
    *("ReplaceUnaryOperator_Delete_USub", "ReplaceUnaryOperator_Delete_Invert"),
    *_both_ways("Comparison", (*_OPPOSITES, *_NEIGHBOURS)),
    *_both_ways("Binary", (*_SUMS, *_BITS)),
)
"""Of Cosmic Ray: each operator by its opposite and its nearest neighbour, not by all of its kind."""

CPU_TIMES, CPU_LEAST_S = 3, 10
"""Processor time after which a mutant counts as killed: so many times the module's own, and at least."""

EXAMPLES = 30
"""Of hypothesis for each property that asks for no number of its own: fewer than the tests themselves."""

WALL_S = 1800
"""Seconds on the clock after which a mutant that only waits counts as killed."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """A module with one fault.

    `was` and `became` are the lines that differ, without the blanks around them; `line` is the first of them.
    """

    line: int
    was: str
    became: str
    source: str


@dataclass(frozen=True, slots=True)
class Tests:
    """What concerns a module: where to look, and of each test its seconds and the functions it runs."""

    paths: tuple[str, ...]
    seconds: dict[str, float]
    runs: dict[str, frozenset[str]]

    def reaching(self, function: str | None) -> list[str]:
        """The tests that run a function, named by its qualified name; all of them for None."""
        return [test for test in self.seconds if function is None or function in self.runs[test]]


class LeaveOut:
    """An operator for Cosmic Ray: a call, a yield, a raise or a change to a name is left out."""

    def mutation_positions(self, node: Any) -> Iterator[tuple[Any, Any]]:
        """Where this operator applies, once for each node."""
        if node.type == "simple_stmt" and self._does_something(node.children[0]):
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        """`pass` in its place."""
        import parso

        return parso.parse(f"{node.get_first_leaf().prefix}pass\n").children[0]

    @staticmethod
    def _does_something(statement: Any) -> bool:
        if statement.type != "expr_stmt":
            return statement.type in ("atom_expr", "power", "yield_expr", "raise_stmt")
        name, sign = statement.children[:2]
        changed = name.get_code().strip()
        return sign.type == "operator" and (
            sign.value != "=" or changed in ast_names(statement.children[-1].get_code())
        )


def ast_names(code: str) -> set[str]:
    """The names that an expression reads."""
    return {node.id for node in ast.walk(ast.parse(f"({code.strip()})")) if isinstance(node, ast.Name)}


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an operator can make a fault: a node of the parsed module, and the how-manieth fault there."""

    operator: Any
    node: Any
    index: int


def spots_in(source: str) -> list[Spot]:
    """All of them, in the order of the lines."""
    import parso
    from cosmic_ray.plugins import get_operator

    operators = [*(get_operator(f"core/{name}")() for name in OPERATORS), LeaveOut()]
    return [
        Spot(operator, node, index)
        for node in _nodes(parso.parse(source))
        for operator in operators
        for index, _ in enumerate(operator.mutation_positions(node))
    ]


def _nodes(node: Any) -> Iterator[Any]:
    yield node
    for child in getattr(node, "children", ()):
        yield from _nodes(child)


def mutant_at(source: str, spot: Spot) -> Mutant | None:
    """The module with that fault; None where it differs in words and types only, or is no Python."""
    node, parent = spot.node, spot.node.parent
    prefix = node.get_first_leaf().prefix
    node.parent = None  # only this node is copied, not all of the module
    copied = copy.deepcopy(node)
    node.parent = copied.parent = parent
    changed = spot.operator.mutate(copied, spot.index)
    begins = [0, *itertools.accumulate(len(line) for line in source.splitlines(keepends=True))]
    (first, column), (last, end) = node.start_pos, node.end_pos
    before, after = source[: begins[first - 1] + column - len(prefix)], source[begins[last - 1] + end :]
    mutated = before + (changed.get_code() if changed is not None else prefix) + after
    try:
        if _meaning(source) == _meaning(mutated):
            return None
    except SyntaxError:
        return None
    return _told(source, mutated, first)


@functools.lru_cache(2)
def _meaning(source: str) -> str:
    """The code without types and docstrings: modules of one meaning are no mutants of each other."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            node.returns = None
        if isinstance(node, ast.arg):
            node.annotation = None
        if isinstance(node, ast.arguments):  # the star of a signature is no product
            node.args = [*node.posonlyargs, *node.args, *node.kwonlyargs]
            node.defaults = [*node.defaults, *filter(None, node.kw_defaults)]
            node.posonlyargs, node.kwonlyargs, node.kw_defaults = [], [], []
        if isinstance(node, ast.AnnAssign):
            node.annotation = ast.Constant(None)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            node.value = ast.Constant(None)
    return ast.dump(tree)


def _told(source: str, mutated: str, line: int) -> Mutant:
    old, new = source.splitlines(), mutated.splitlines()
    while old and new and old[-1] == new[-1]:
        old.pop()
        new.pop()
    same = next(
        (k for k, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new))
    )
    return Mutant(line, _one_line(old[same:]), _one_line(new[same:]), mutated)


def _one_line(lines: Sequence[str]) -> str:
    return " ".join(" ".join(line.split()) for line in lines)


def function_at(source: str, line: int) -> str | None:
    """The qualified name of the function whose body has that line; None outside of all, and for heads."""

    def within(node: ast.AST, path: str) -> str | None:
        for child in ast.iter_child_nodes(node):
            if not isinstance(child, ast.FunctionDef | ast.ClassDef):
                found = within(child, path)
                if found:
                    return found
            elif child.body[0].lineno <= line <= (child.end_lineno or 0):
                name = f"{path}{child.name}"
                if isinstance(child, ast.ClassDef):
                    return within(child, f"{name}.")
                return name
        return None

    return within(ast.parse(source), "")


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

    Not the tests, nor the modules that reach the one in question through their imports: those each fork
    loads for itself, so that all of them see the mutant.
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
    """Unload the tests, and all of our modules that reach this one through their imports."""
    files = {name: Path(getattr(loaded, "__file__", None) or "/") for name, loaded in sys.modules.items()}
    ours = {name: file for name, file in files.items() if file.is_relative_to(ROOT) and name != "__main__"}
    imports = {name: _imported(file) for name, file in ours.items()}
    reaching = {module}
    while more := {name for name, others in imports.items() if others & reaching} - reaching:
        reaching |= more
    for name, file in ours.items():
        if name in reaching or file.is_relative_to(ROOT / "tests"):
            del sys.modules[name]


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


def main() -> None:
    """Read the command line, try the mutants of each module, tell."""
    plan = tomllib.loads(PLAN.read_text(encoding="utf-8"))
    parser = argparse.ArgumentParser(description="Put small faults into a module; does a test notice?")
    parser.add_argument("modules", nargs="*", help=f"paths; all of {PLAN.name} if none is given")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--lines", default="", help="only mutants of these lines: 10-40")
    parser.add_argument("--sample", type=int, default=0, help="only so many spots, drawn by chance (seed 0)")
    asked = parser.parse_args()
    os.chdir(ROOT)
    for name in asked.modules or plan["tests"]:
        line = forked(lambda name=name: (0, try_all(name, plan, asked)))[1]
        print(line, flush=True)


def try_all(name: str, plan: dict[str, Any], asked: argparse.Namespace) -> str:
    """Try the mutants of one module; a JSON object of what came of it."""
    path, module = ROOT / name, name.removesuffix(".py").replace("/", ".")
    settings = plan["tests"][name]
    os.environ.update(settings.get("environment", {}))
    began = time.perf_counter()
    tests = watched(module, path, settings["run"])
    source = path.read_text(encoding="utf-8")
    if not survives(module, path, Mutant(0, "", "", source), tests, None):
        raise SystemExit(f"The tests of {path} do not pass in a fork.")
    spots = spots_in(source)
    drawn = random.Random(0).sample(range(len(spots)), min(asked.sample or len(spots), len(spots)))
    chosen = [mutant for k in sorted(drawn) if (mutant := mutant_at(source, spots[k]))]
    if asked.lines:
        first, last = map(int, asked.lines.split("-"))
        chosen = [mutant for mutant in chosen if first <= mutant.line <= last]
    why = {(left["was"], left["became"]): left["why"] for left in plan.get("left", {}).get(name, [])}
    same = [m for m in chosen if (m.was, m.became) in why]
    tried = [m for m in chosen if (m.was, m.became) not in why]
    functions = [function_at(source, mutant.line) for mutant in tried]
    survived = []
    with ThreadPoolExecutor(asked.jobs) as pool:
        lives = pool.map(lambda m, f: survives(module, path, m, tests, f), tried, functions)
        for done, (mutant, lived) in enumerate(zip(tried, lives, strict=True), start=1):
            print(f"\r{done} of {len(tried)}", end="", file=sys.stderr, flush=True)
            if lived:
                survived.append(mutant)
                print(f"{name}:{mutant.line}\n  - {mutant.was}\n  + {mutant.became}", flush=True)
    found = {
        "module": name,
        "spots": len(spots),
        "tried": len(chosen),
        "the same": len(same),
        "killed": len(tried) - len(survived),
        "survived": len(survived),
        "killed, pct of all": round(100 * (1 - (len(same) + len(survived)) / len(chosen)), 1),
        "killed, pct of those that differ": round(100 * (1 - len(survived) / len(tried)), 1),
        "tests": len(tests.seconds),
        "seconds": round(time.perf_counter() - began),
    }
    return json.dumps(found)


if __name__ == "__main__":
    main()
