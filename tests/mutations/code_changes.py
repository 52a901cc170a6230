"""Small mistakes put into the code on purpose: where they can stand, and the code with one of them.

What a slip of the hand would do, one at a time: a comparison turned or moved by its boundary, the
smaller of two made the larger or one of them forgotten, a sum that takes only its largest, a
number that is off, `and` for `or`, plus for minus, two arguments swapped. Text, annotations and
default values are left alone: a message says the same with or without them.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Final, NamedTuple, TypeAlias

Alternative: TypeAlias = tuple[str, ast.expr]

_BOUNDARY: Final[dict[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
}
_TURNED: Final[dict[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: ast.GtE,
    ast.LtE: ast.Gt,
    ast.Gt: ast.LtE,
    ast.GtE: ast.Lt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
_ARITHMETIC: Final[dict[type[ast.operator], type[ast.operator]]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
}
_OTHER_NAME: Final = {
    "min": "max",
    "max": "min",
    "smallest": "largest",
    "largest": "smallest",
    "any": "all",
    "all": "any",
}
_WORKING: Final = ("smallest", "largest", "total")
_TEXTS: Final = {"tabled", "declared", "named"}
"""Functions that take a number's name and words."""
_NO_SWAP: Final = {"isinstance", "getattr", "hasattr", "range", "cast", *_TEXTS}
_SYMMETRIC: Final = {"_join", "_side", "hypot", "isclose", "join", "same_sign"}
"""Functions that say or do the same of two whichever comes first."""
_TOLERANCE: Final = 1e-6
"""Numbers up to this only take up what binary arithmetic loses."""
_TOLERANCES: Final = {"SNAP", "TINY", "SLACK", "TOLERANCE", "NEAR", "ENOUGH", "_HAIR", "_ROUNDING"}
"""Names of such numbers in the code."""

STEERING: Final = {"_share_of_next", "_interpolated_share", "_widening", "_ROUNDS"}
"""Functions and constants that say where a solver looks next, and no more.

What holds the zero, what ends the search and what it returns stand elsewhere: with any of these
mistakes the same zero is found, sooner or later, which `test_code_changes.py` tries with each.
"""
REMEMBERING: Final = {"_is_small", "_elements", "SMALL"}
"""Functions and constants that say in which of two stores a solution is remembered, and no more."""


class Change(NamedTuple):
    """One mistake.

    kind: comparison, boundary, choice (min, max, sum, any, all), forgotten (a member of these),
    arithmetic, constant, logic or swap. node, way: which node of the tree, in the order of a walk,
    and which of its ways. scope: the function that it stands in, or the constant of the file.
    first, last: lines of the statement around it.
    """

    kind: str
    node: int
    way: int
    scope: str
    line: int
    head: int
    first: int
    before: str
    after: str


def changes_of(source: str) -> Iterator[Change]:
    """Every mistake that can be made in a file, but for those that change no result."""
    return (change for change in every_change(source) if change.scope not in STEERING | REMEMBERING)


def every_change(source: str) -> Iterator[Change]:
    """Every mistake that can be made in a file."""
    tree = ast.parse(source)
    found = _Places(tree)
    for number, node in enumerate(ast.walk(tree)):
        place = found.of.get(node)
        if place is None or not isinstance(node, ast.expr):
            continue
        scope, head, statement = place
        for way, (kind, other) in enumerate(_alternatives(node)):
            yield Change(
                kind,
                number,
                way,
                scope,
                node.lineno,
                head,
                statement.lineno,
                ast.unparse(node),
                ast.unparse(other),
            )


def changed(source: str, change: Change) -> ast.Module:
    """The tree of a file with one mistake in it."""
    tree = ast.parse(source)
    node = next(n for i, n in enumerate(ast.walk(tree)) if i == change.node)
    assert isinstance(node, ast.expr)
    other = list(_alternatives(node))[change.way][1]
    ast.copy_location(other, node)
    whole = _Replaced(node, other).visit(tree)
    assert isinstance(whole, ast.Module)
    return ast.fix_missing_locations(whole)


class _Replaced(ast.NodeTransformer):
    def __init__(self, old: ast.expr, new: ast.expr) -> None:
        self.old = old
        self.new = new

    def visit(self, node: ast.AST) -> ast.AST:
        return self.new if node is self.old else super().generic_visit(node)


class _Places:
    """For each expression that counts, the function and the statement that it stands in."""

    def __init__(self, tree: ast.Module) -> None:
        self._head = 0
        self.of: dict[ast.AST, tuple[str, int, ast.stmt]] = {}
        for statement in tree.body:
            self._in_file(statement)

    def _in_file(self, statement: ast.stmt, above: str = "") -> None:
        if isinstance(statement, ast.FunctionDef):
            self._head = statement.lineno
            self._in_function(statement, f"{above}{statement.name}")
        elif isinstance(statement, ast.ClassDef):
            for inner in statement.body:
                if isinstance(inner, ast.FunctionDef | ast.ClassDef):
                    self._in_file(inner, f"{above}{statement.name}.")
        elif isinstance(statement, ast.Assign | ast.AnnAssign) and not above:
            target = statement.targets[0] if isinstance(statement, ast.Assign) else statement.target
            if isinstance(target, ast.Name) and isinstance(statement.value, ast.Constant):
                self.of[statement.value] = (target.id, 0, statement)

    def _in_function(self, function: ast.FunctionDef, scope: str) -> None:
        for statement in function.body:
            self._statement(statement, scope)

    def _statement(self, statement: ast.stmt, scope: str) -> None:
        if isinstance(statement, ast.FunctionDef):
            self._in_function(statement, scope)
            return
        if isinstance(statement, ast.Assert | ast.Raise):
            return
        for name, value in ast.iter_fields(statement):
            if name in ("annotation", "decorator_list"):
                continue
            for each in value if isinstance(value, list) else [value]:
                if isinstance(each, ast.stmt):
                    self._statement(each, scope)
                elif isinstance(each, ast.AST):
                    self._expression(each, scope, statement)

    def _expression(self, node: ast.AST, scope: str, statement: ast.stmt) -> None:
        if isinstance(node, ast.JoinedStr):
            return
        if isinstance(node, ast.stmt):  # a case of a match, a handler
            self._statement(node, scope)
            return
        self.of[node] = (scope, self._head, statement)
        for child in ast.iter_child_nodes(node):
            if not (isinstance(child, ast.keyword) and child.arg == "strict"):
                self._expression(child, scope, statement)


def _alternatives(node: ast.expr) -> Iterator[Alternative]:
    if isinstance(node, ast.Compare):
        yield from _comparisons(node)
    elif isinstance(node, ast.BoolOp):
        other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        yield "logic", ast.BoolOp(other, node.values)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield "logic", node.operand
    elif isinstance(node, ast.BinOp) and type(node.op) in _ARITHMETIC:
        if not any(map(_is_text, (node.left, node.right))):
            yield "arithmetic", ast.BinOp(node.left, _ARITHMETIC[type(node.op)](), node.right)
    elif isinstance(node, ast.Constant):
        yield from _constants(node)
    elif isinstance(node, ast.Call):
        yield from _calls(node)


def _comparisons(node: ast.Compare) -> Iterator[Alternative]:
    rounding = any(_is_tolerance(each) for each in (node.left, *node.comparators))
    for kind, table in (("boundary", _BOUNDARY), ("comparison", _TURNED)):
        if kind == "boundary" and rounding:
            continue
        for i, op in enumerate(node.ops):
            if type(op) in table:
                ops = [*node.ops[:i], table[type(op)](), *node.ops[i + 1 :]]
                yield kind, ast.Compare(node.left, ops, node.comparators)


def _constants(node: ast.Constant) -> Iterator[Alternative]:
    value = node.value
    if isinstance(value, bool):
        yield "constant", ast.Constant(not value)
    elif isinstance(value, int):
        yield "constant", ast.Constant(value + 1)
    elif isinstance(value, float) and (value == 0.0 or abs(value) > _TOLERANCE):
        yield "constant", ast.Constant(value * 1.1 if value else 1.0)


def _calls(node: ast.Call) -> Iterator[Alternative]:
    name = node.func.id if isinstance(node.func, ast.Name) else ""
    if any(isinstance(arg, ast.Starred) for arg in node.args):
        return
    if name in _OTHER_NAME:
        yield "choice", ast.Call(_named(_OTHER_NAME[name]), node.args, node.keywords)
    if name == "sum":
        default = ast.keyword("default", ast.Constant(0))
        yield "choice", ast.Call(_named("max"), node.args[:1], [default])
    if name == "total":
        yield "choice", ast.Call(_named("largest"), node.args, node.keywords)
    if name in ("min", "max") and len(node.args) >= 2:
        for i in range(len(node.args)):
            left = [*node.args[:i], *node.args[i + 1 :]]
            yield (
                "forgotten",
                left[0] if len(left) == 1 else ast.Call(node.func, left, node.keywords),
            )
    elif name in (*_OTHER_NAME, "sum", "total") and node.args:
        yield from _forgotten(node, node.args[0])
    elif name == "exceeds" and len(node.args) == 2:
        yield "swap", ast.Call(node.func, node.args[::-1], node.keywords)
        yield "comparison", ast.UnaryOp(ast.Not(), node)
    elif len(node.args) >= 2 and _last_name(node.func) not in _NO_SWAP | _SYMMETRIC:
        first, second, *others = node.args
        if ast.dump(first) != ast.dump(second) and not _is_text(first) and not _is_text(second):
            yield "swap", ast.Call(node.func, [second, first, *others], node.keywords)


def _last_name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else ast.unparse(function)


def _forgotten(call: ast.Call, members: ast.expr) -> Iterator[Alternative]:
    """The last of the members written out, forgotten."""
    if isinstance(members, ast.List | ast.Tuple) and len(members.elts) >= 2:
        fewer = type(members)(members.elts[:-1], ast.Load())
        yield "forgotten", ast.Call(call.func, [fewer, *call.args[1:]], call.keywords)


def _named(name: str) -> ast.expr:
    """A name that the file may not have imported."""
    if name not in _WORKING:
        return ast.Name(name, ast.Load())
    text = f"__import__('wattproof.working', fromlist=['{name}']).{name}"
    return ast.parse(text, mode="eval").body


def _is_tolerance(node: ast.expr) -> bool:
    """True for what is reckoned with so small a number, or with one by its name."""
    for each in ast.walk(node):
        number = each.value if isinstance(each, ast.Constant) else None
        if isinstance(number, float) and 0.0 < abs(number) <= _TOLERANCE:
            return True
        if isinstance(each, ast.Name) and each.id in _TOLERANCES:
            return True
    return False


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )
