"""What is changed in a mutant: the operators of cosmic-ray that mean something here, and two of our own.

Contents: `CHOSEN` (names), `Chosen` (the provider that hands them to cosmic-ray), `NothingReturned`, `ArgumentsSwapped`,
`passed_over` (why a place is no mutant at all, or "").

Left out of cosmic-ray's operators are those that turn a figure into bits (`a >> b` for `a * b`): they end in a TypeError
on floats and would make the share of killed mutants look better than it is. Strings are not changed at all.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Any, ClassVar

import parso
from cosmic_ray.operators.operator import Example, Operator
from cosmic_ray.operators.provider import OperatorProvider

BINARY = ("Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "Pow_Mul", "FloorDiv_Div", "Mod_Div", "BitOr_BitAnd", "BitAnd_BitOr")
COMPARED = (
    "Eq_NotEq", "NotEq_Eq", "Lt_LtE", "Lt_GtE", "LtE_Lt", "LtE_Gt", "Gt_GtE", "Gt_LtE", "GtE_Gt", "GtE_Lt",
    "Is_IsNot", "IsNot_Is",
)  # fmt: skip
UNARY = ("Delete_USub", "Delete_Not", "Delete_Invert")
WORDS = (
    "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd", "AddNot", "NumberReplacer",
    "ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "ZeroIterationForLoop", "ExceptionReplacer", "RemoveDecorator",
)  # fmt: skip
CHOSEN: tuple[str, ...] = (
    *(f"ReplaceBinaryOperator_{name}" for name in BINARY),
    *(f"ReplaceComparisonOperator_{name}" for name in COMPARED),
    *(f"ReplaceUnaryOperator_{name}" for name in UNARY),
    *WORDS,
)


class NothingReturned(Operator):
    """`return x` becomes `return None`, and the body of a lambda becomes `None`."""

    def mutation_positions(self, node: Any) -> Iterator[tuple[Any, Any]]:
        if node.type in ("return_stmt", "lambdef") and node.children[-1].get_code().strip() != "None":
            yield node.children[-1].start_pos, node.children[-1].end_pos

    def mutate(self, node: Any, index: int) -> Any:
        node.children[-1] = parso.parse(" None")
        return node

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("def f(): return 1", "def f(): return None"), Example("f = lambda: 1", "f = lambda: None"))


class ArgumentsSwapped(Operator):
    """The first two positional arguments of a call change places."""

    def mutation_positions(self, node: Any) -> Iterator[tuple[Any, Any]]:
        places = self._places(node)
        if places:
            yield node.children[places[0]].start_pos, node.children[places[1]].end_pos

    def mutate(self, node: Any, index: int) -> Any:
        a, b = self._places(node)
        node.children[a], node.children[b] = node.children[b], node.children[a]
        return node

    @staticmethod
    def _places(node: Any) -> list[int]:
        if node.type != "arglist" or node.parent.type != "trailer":
            return []
        places = [i for i, child in enumerate(node.children) if child.type not in ("operator", "argument")][:2]
        texts = {node.children[i].get_code().strip() for i in places}
        return places if len(texts) == 2 else []

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("f(a, b)", "f( b,a)"),)


class Chosen:
    """Provider of the chosen operators, by the name `core`, and of our own."""

    own: ClassVar = {"NothingReturned": NothingReturned, "ArgumentsSwapped": ArgumentsSwapped}

    def __iter__(self) -> Iterator[str]:
        return iter((*CHOSEN, *self.own))

    def __getitem__(self, name: str) -> Any:
        return self.own.get(name) or OperatorProvider()[name]


Span = tuple[tuple[int, int], tuple[int, int], str]


def passed_over(source: str) -> list[Span]:
    """Places where no test can see a change: begin and end (line, column), and why."""
    found: list[Span] = []

    def enter(node: ast.expr | None) -> None:
        if node is not None:
            found.append(((node.lineno, node.col_offset), (node.end_lineno or 0, node.end_col_offset or 0), "annotation"))

    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.arg | ast.AnnAssign):
            enter(node.annotation)
        if isinstance(node, ast.FunctionDef):
            enter(node.returns)
            lines = [each.lineno for each in node.decorator_list if "cache" in ast.unparse(each)]
            found += [((line, 0), (line + 1, 0), "a cache changes the speed alone") for line in lines]
    return found
