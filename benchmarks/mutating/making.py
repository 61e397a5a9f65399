"""The mutants of a module: it with one small fault, by the operators of Cosmic Ray and one of our own."""

from __future__ import annotations

import ast
import copy
import functools
import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

__all__ = ["Mutant", "Spot", "function_at", "mutant_at", "spots_in"]

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


@dataclass(frozen=True, slots=True)
class Mutant:
    """A module with one fault.

    `was` and `became` are the lines that differ, without the blanks around them; `line` is the first of them.
    """

    line: int
    was: str
    became: str
    source: str


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
