"""Mutants of source code: the operators are cosmic-ray's, and two of our own that it has none like."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Any

from cosmic_ray.ast import get_ast
from cosmic_ray.mutating import MutationVisitor
from cosmic_ray.operators.exception_replacer import ExceptionReplacer
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator
from mutation_one import Mutant, told
from parso import parse

_KINDS = (
    "AddNot", "NumberReplacer", "ReplaceAndWithOr", "ReplaceOrWithAnd",
    "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceUnaryOperator_Delete_Not",
    "ReplaceUnaryOperator_USub_UAdd", "ReplaceBreakWithContinue", "ReplaceContinueWithBreak",
    "ZeroIterationForLoop",
    *(f"ReplaceComparisonOperator_{pair}" for pair in (
        "Eq_NotEq", "NotEq_Eq", "Lt_LtE", "LtE_Lt", "Gt_GtE", "GtE_Gt", "Is_IsNot", "IsNot_Is",
    )),
    *(f"ReplaceBinaryOperator_{pair}" for pair in (
        "Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "BitOr_BitAnd", "BitAnd_BitOr", "BitXor_BitOr",
    )),
)  # fmt: skip
"""Each makes one change that a person might make by mistake; the neighbours of a comparison say more
than the ones far from it."""


_LARGE = 999
"""Numbers from here on count as the same number."""


class DeleteDeed(Operator):  # type: ignore[misc]
    """A statement that does something and gives nothing is not there: an fsync, a note in a list, an
    attribute set, a sum gone on with.
    """

    def mutation_positions(self, node: Any) -> Iterator[tuple[object, object]]:
        """Every such statement."""
        if getattr(node, "type", "") == "simple_stmt" and self.is_one(node.children[0]):
            yield node.start_pos, node.end_pos

    def is_one(self, statement: Any) -> bool:
        """Whether it is such a statement."""
        if statement.type == "expr_stmt":
            target, sign = statement.children[:2]
            return target.type == "atom_expr" or str(getattr(sign, "value", "="))[:-1] != ""
        return bool(statement.type == "atom_expr")

    def mutate(self, node: Any, index: int) -> object:
        """Nothing in its place."""
        nothing = parse("pass").get_first_leaf()
        nothing.prefix = node.get_first_leaf().prefix
        node.children[0] = nothing
        return node

    @classmethod
    def examples(cls) -> tuple[object, ...]:
        """None: cosmic-ray tests its own only."""
        return ()


class DeleteRaise(DeleteDeed):
    """A refusal is not there."""

    def is_one(self, statement: Any) -> bool:
        """Whether it is a ``raise``."""
        return bool(statement.type == "raise_stmt")


class ReplaceException(ExceptionReplacer):  # type: ignore[misc]
    """Another exception is caught; cosmic-ray's own knows none with a dot in its name."""

    @staticmethod
    def _name_nodes(node: Any) -> list[Any]:
        caught = node.children[1]
        listed = caught.children[1] if caught.type == "atom" else caught
        names = listed.children[::2] if listed.type == "testlist_comp" else [listed]
        return [name.get_last_leaf() for name in names]


def mutants_of(file: str, source: str) -> Iterator[Mutant]:
    """Every mutant that is other code: what changes nothing but types, texts and defaults of the
    documentation is none.

    Args:
        file: the path in the project.
        source: what stands in it.
    """
    known = {_meaning(source)}
    for operator in _operators():
        occurrence = 0
        while (changed := _mutated(source, operator, occurrence)) is not None:
            occurrence += 1
            meaning = _meaning(changed)
            if meaning and meaning not in known:
                known.add(meaning)
                yield told(file, source, changed)


def _operators() -> Iterator[Operator]:
    yield from (get_operator(f"core/{kind}")() for kind in _KINDS)
    yield from (ReplaceException(), DeleteDeed(), DeleteRaise())


def _mutated(source: str, operator: Operator, occurrence: int) -> str | None:
    visitor = MutationVisitor(occurrence, operator)
    made = visitor.walk(get_ast(source))
    return str(made.get_code()) if visitor.mutation_applied else None


def _meaning(source: str) -> str:
    """The code without its annotations and large numbers; empty where it is none."""
    try:
        tree = ast.parse(source)
    except SyntaxError:
        return ""
    return ast.dump(_Bare().visit(tree))


class _Bare(ast.NodeTransformer):
    """Takes off what only a type checker reads, and that a dataclass is frozen and has slots: that keeps
    programmers from mistakes, and changes nothing that a program without them does. So do marks of how an
    argument may be given; and a limit of a thousand moved by one is the same limit. What only Windows does
    is not run where mutants are.
    """

    def visit_If(self, node: ast.If) -> ast.If:
        if ast.unparse(node.test) == "sys.platform == 'win32'":
            node.body = [ast.Pass()]
        self.generic_visit(node)
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.ClassDef:
        node.decorator_list = []
        self.generic_visit(node)
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.Constant:
        if isinstance(node.value, int | float) and abs(node.value) >= _LARGE:
            node.value = _LARGE
        return node

    def visit_arguments(self, node: ast.arguments) -> ast.arguments:
        self.generic_visit(node)
        node.args = [*node.posonlyargs, *node.args, *node.kwonlyargs]
        node.posonlyargs, node.kwonlyargs = [], []
        node.defaults = [*node.defaults, *(value for value in node.kw_defaults if value)]
        node.kw_defaults = []
        return node

    def visit_arg(self, node: ast.arg) -> ast.arg:
        node.annotation = None
        return node

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.FunctionDef:
        node.returns = None
        self.generic_visit(node)
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AnnAssign:
        node.annotation = ast.Constant("")
        self.generic_visit(node)
        return node
