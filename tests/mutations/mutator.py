"""The small faults that a module can have: one change of its source each."""

import ast
import copy
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

# What stands in for what.
_COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
_FUNCTIONS = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}
# What these do cannot be undone: neither they nor their arguments are mutated.
_DESTROYING = frozenset({"rmtree", "unlink", "rmdir", "rename", "replace", "move", "kill", "killpg"})
# Calls of these are the same whichever argument comes first.
_SYMMETRIC = frozenset({"min", "max", "dist", "hypot", "isclose", "gcd"})
# Keywords that guard against our own mistakes alone.
_GUARDS = frozenset({"strict", "slots", "frozen", "kw_only"})
_PLAIN = (ast.Constant, ast.Name, ast.Call, ast.Attribute)


@dataclass(frozen=True, slots=True)
class Mutation:
    """One change of one module.

    path: of the module, from the root of the tree.
    function: that it lies in, with its class; empty at the top.
    line, last: lines that it lies on, from 1.
    kind: what is changed: a constant, a comparison and so on.
    before, after: text that is replaced, and what replaces it.
    begin, end: offsets of the text in the source, in bytes.
    where: the line that it begins on, as it is written.
    """

    path: str
    function: str
    line: int
    last: int
    kind: str
    before: str
    after: str
    begin: int
    end: int
    where: str = ""

    @property
    def identity(self) -> tuple[str, str, str, str, str]:
        """What names it in another state of the tree: not the number of its line, but what stands there."""
        return self.path, self.function, self.where, " ".join(self.before.split()), self.after

    def applied(self, source: str) -> str:
        """Return the source of the module with the change made."""
        held = source.encode()
        return (held[: self.begin] + self.after.encode() + held[self.end :]).decode()


def mutations_of(path: str, source: str) -> list[Mutation]:
    """Return every mutation of a module, in the order of its text."""
    tree = ast.parse(source)
    starts, lines = [0], source.encode().splitlines(keepends=True)
    for line in lines:
        starts.append(starts[-1] + len(line))
    found = []
    for node, function, kind, after in _Changes().of(tree):
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        begin = starts[node.lineno - 1] + node.col_offset
        end = starts[node.end_lineno - 1] + node.end_col_offset
        before = source.encode()[begin:end].decode()
        if before == after:
            continue
        where = lines[node.lineno - 1].decode().strip()
        found.append(
            Mutation(path, function, node.lineno, node.end_lineno, kind, before, after, begin, end, where)
        )
    return sorted(found, key=lambda one: (one.begin, one.end, one.kind, one.after))


_Found = tuple[ast.expr | ast.stmt, str, str, str]


class _Changes:
    """Walks a module and yields what can be changed: node, function, kind, text in its place."""

    def of(self, tree: ast.Module) -> Iterator[_Found]:
        yield from self._statements(tree.body, "")

    def _statements(self, body: Sequence[ast.stmt], where: str) -> Iterator[_Found]:
        for statement in body:
            yield from self._statement(statement, where)

    def _statement(self, node: ast.stmt, where: str) -> Iterator[_Found]:
        if isinstance(node, ast.Import | ast.ImportFrom | ast.Assert | ast.Global | ast.Nonlocal):
            return
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            return  # A docstring.
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            inner = f"{where}.{node.name}" if where else node.name
            for decorator in node.decorator_list:
                yield from self._expressions(decorator, inner)
            if not isinstance(node, ast.ClassDef):
                for default in (*node.args.defaults, *(one for one in node.args.kw_defaults if one)):
                    yield from self._expressions(default, inner)
            yield from self._statements(node.body, inner)
            return
        if where and _droppable(node):
            yield node, where, "dropped statement", "pass"
        for _, value in ast.iter_fields(node):
            for part in value if isinstance(value, list) else [value]:
                if isinstance(part, ast.stmt):
                    yield from self._statement(part, where)
                elif isinstance(part, ast.ExceptHandler | ast.match_case):
                    yield from self._statements(part.body, where)
                elif isinstance(part, ast.withitem):
                    yield from self._expressions(part.context_expr, where)
                elif isinstance(part, ast.expr) and not _is_annotation(node, part):
                    yield from self._expressions(part, where)
        if isinstance(node, ast.If | ast.While):
            yield node.test, where, "negated condition", f"not ({ast.unparse(node.test)})"

    def _expressions(self, node: ast.expr, where: str) -> Iterator[_Found]:
        # The places of what stands in a formatted text are not exact.
        if isinstance(node, ast.JoinedStr) or _destroys(node):
            return
        for kind, changed in _changed(node):
            text = ast.unparse(changed)
            yield node, where, kind, text if isinstance(changed, _PLAIN) else f"({text})"
        for part in ast.iter_child_nodes(node):
            if isinstance(part, ast.expr):
                yield from self._expressions(part, where)
            elif isinstance(part, ast.comprehension):
                yield from self._expressions(part.iter, where)
                for condition in part.ifs:
                    yield from self._expressions(condition, where)
                    yield condition, where, "negated condition", f"(not ({ast.unparse(condition)}))"
            elif isinstance(part, ast.keyword) and part.arg not in _GUARDS:
                yield from self._expressions(part.value, where)


def _droppable(node: ast.stmt) -> bool:
    """Say whether the module still reads without a statement."""
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Call) and not _destroys(node.value)
    return isinstance(node, ast.AugAssign | ast.Continue | ast.Break | ast.Raise)


def _is_annotation(node: ast.stmt, part: ast.expr) -> bool:
    return isinstance(node, ast.AnnAssign) and part is node.annotation


def _destroys(node: ast.expr) -> bool:
    return isinstance(node, ast.Call) and _name(node) in _DESTROYING


def _name(node: ast.Call) -> str:
    """Return the last name of what is called."""
    function = node.func
    return function.attr if isinstance(function, ast.Attribute) else str(getattr(function, "id", ""))


def _changed(node: ast.expr) -> Iterator[tuple[str, ast.expr]]:
    """Yield the kinds of change of one expression, and what it becomes; nothing inside it is changed."""
    if isinstance(node, ast.Constant):
        yield from (("constant", ast.Constant(value)) for value in _other_constants(node.value))
    elif isinstance(node, ast.Compare):
        for place, operator in enumerate(node.ops):
            for other in _COMPARISONS[type(operator)]:
                changed = copy.deepcopy(node)
                changed.ops[place] = other()
                yield "comparison", changed
    elif isinstance(node, ast.BinOp) and type(node.op) in _ARITHMETIC:
        if not _is_text(node.left) and not _is_text(node.right):
            yield "arithmetic", ast.BinOp(node.left, _ARITHMETIC[type(node.op)](), node.right)
    elif isinstance(node, ast.BoolOp):
        yield "boolean", ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield "boolean" if isinstance(node.op, ast.Not) else "arithmetic", node.operand
    elif isinstance(node, ast.IfExp):
        yield "negated condition", ast.IfExp(ast.UnaryOp(ast.Not(), node.test), node.body, node.orelse)
    elif isinstance(node, ast.Call):
        yield from _changed_calls(node)


def _changed_calls(node: ast.Call) -> Iterator[tuple[str, ast.expr]]:
    function = node.func
    name = _name(node)
    if (
        len(node.args) > 1
        and name not in _SYMMETRIC
        and not any(isinstance(one, ast.Starred) for one in node.args[:2])
    ):
        first, second, *rest = node.args
        if ast.dump(first) != ast.dump(second):
            yield "swapped arguments", ast.Call(function, [second, first, *rest], node.keywords)
    if name in _FUNCTIONS:
        changed = copy.deepcopy(node)
        if isinstance(changed.func, ast.Attribute):
            changed.func.attr = _FUNCTIONS[name]
        else:
            changed.func = ast.Name(_FUNCTIONS[name])
        yield "function", changed
    if name == "range" and node.args:
        last = 0 if len(node.args) == 1 else 1
        changed = copy.deepcopy(node)
        changed.args[last] = ast.BinOp(changed.args[last], ast.Add(), ast.Constant(1))
        yield "off by one", changed


def _other_constants(value: object) -> tuple[object, ...]:
    if isinstance(value, bool):
        return (not value,)
    if isinstance(value, int):
        return (value + 1, value - 1)
    if isinstance(value, float):
        return (value * 1.1, value + 1.0) if value else (1.0,)
    return ()


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))
