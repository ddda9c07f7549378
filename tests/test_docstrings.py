"""Public functions say in their docstring what each parameter is, where its type does not tell."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

PROGRAM = Path(__file__).parent.parent / "proposal"
MODULES = sorted(PROGRAM.rglob("*.py"))


class Public(NamedTuple):
    """A public function: its name, its parameters, and the docstrings that may tell of them."""

    name: str
    parameters: tuple[ast.arg, ...]
    docstring: str


@cache
def parsed(source: str) -> ast.Module:
    """Return a module as it is read; the same one is asked for by every test of this file."""
    return ast.parse(source)


def public_functions(source: str) -> Iterator[Public]:
    """Yield the public functions of a module and of its public classes."""
    module = parsed(source)
    yield from _public_in(module, "", ast.get_docstring(module) or "")


def _public_in(node: ast.Module | ast.ClassDef, prefix: str, around: str) -> Iterator[Public]:
    for part in node.body:
        if isinstance(part, ast.ClassDef) and not part.name.startswith("_"):
            yield from _public_in(part, f"{part.name}.", f"{around}\n{ast.get_docstring(part) or ''}")
        elif isinstance(part, ast.FunctionDef) and not part.name.startswith("_"):
            given = (*part.args.posonlyargs, *part.args.args, *part.args.kwonlyargs)
            parameters = tuple(one for one in given if one.arg not in ("self", "cls"))
            yield Public(f"{prefix}{part.name}", parameters, f"{ast.get_docstring(part) or ''}\n{around}")


@cache
def types_of_the_program() -> frozenset[str]:
    """Return the names of classes and types that the program defines: they say what a value of theirs is."""
    names = set()
    for module in MODULES:
        for part in parsed(module.read_text("utf-8")).body:
            if isinstance(part, ast.ClassDef):
                names.add(part.name)
            elif isinstance(part, ast.Assign):
                names |= {target.id for target in part.targets if isinstance(target, ast.Name)}
    return frozenset(name for name in names if name[:1].isupper() and not name.isupper())


def unnamed(function: Public, types: frozenset[str]) -> list[str]:
    """Return the parameters that neither a type of the program nor a help text nor the docstring explains."""
    told = frozenset(re.findall(r"\w+", function.docstring))
    return [
        parameter.arg
        for parameter in function.parameters
        if not (_words_in(parameter.annotation) & types)
        and "help" not in _words_in(parameter.annotation)
        and parameter.arg not in told
    ]


def _words_in(annotation: ast.expr | None) -> frozenset[str]:
    if annotation is None:
        return frozenset()
    parts = [part for part in ast.walk(annotation) if isinstance(part, ast.Name | ast.keyword)]
    quoted = [part.value for part in ast.walk(annotation) if isinstance(part, ast.Constant)]
    return frozenset(
        [
            *(part.id if isinstance(part, ast.Name) else str(part.arg) for part in parts),
            *(word for text in quoted if isinstance(text, str) for word in re.findall(r"\w+", text)),
        ]
    )


def test_every_parameter_of_a_public_function_is_explained() -> None:
    types = types_of_the_program()
    missing = {
        f"{module.relative_to(PROGRAM).as_posix()}: {function.name}": found
        for module in MODULES
        for function in public_functions(module.read_text("utf-8"))
        if (found := unnamed(function, types))
    }
    assert missing == {}, f"wanted each of these in the docstring, with its unit: {missing}"


def test_a_parameter_that_nothing_explains_is_found() -> None:
    (function,) = public_functions(
        "def span(first: Room, width: float, depth: float) -> float:\n"
        '    """Return a width.\n\n    width: m.\n    """'
    )
    assert unnamed(function, frozenset({"Room"})) == ["depth"]
    assert unnamed(function, frozenset()) == ["first", "depth"]


def raised_in(function: ast.FunctionDef) -> Iterator[str]:
    """Yield the names of the errors that a function raises itself, not what it calls or holds."""
    held = {
        id(part)
        for one in ast.walk(function)
        if isinstance(one, ast.FunctionDef | ast.Lambda) and one is not function
        for part in ast.walk(one)
    }
    for part in ast.walk(function):
        if isinstance(part, ast.Raise) and part.exc is not None and id(part) not in held:
            error = part.exc.func if isinstance(part.exc, ast.Call) else part.exc
            name = error.attr if isinstance(error, ast.Attribute) else getattr(error, "id", "")
            # One that was caught, or made elsewhere, has a name in small letters.
            if name[:1].isupper():
                yield name


def untold(source: str) -> list[str]:
    """Return the public functions that raise an error of which their docstring says nothing."""
    module = parsed(source)
    functions = [one for one in ast.walk(module) if isinstance(one, ast.FunctionDef)]
    within = {part for one in functions for part in ast.walk(one) if part is not one}
    return [
        f"{one.name}: {error}"
        for one in functions
        if not one.name.startswith("_") and one not in within
        for error in raised_in(one)
        if error not in (ast.get_docstring(one) or "")
    ]


def test_every_error_that_a_public_function_raises_is_told() -> None:
    # What a command says of itself is printed for users.
    quiet = {PROGRAM / "cli.py", *(PROGRAM / "commands").rglob("*.py")} - {PROGRAM / "commands/arguments.py"}
    assert [
        f"{module.relative_to(PROGRAM)}: {found}"
        for module in MODULES
        if module not in quiet
        for found in untold(module.read_text("utf-8"))
    ] == []


def test_an_error_that_nothing_tells_is_found() -> None:
    told = (
        'def span():\n    """Return it.\n\n    Raises LookupError where none.\n    """\n    raise LookupError'
    )
    assert untold(told) == []
    assert untold(told.replace("raise LookupError", "raise errors.OtherError('x')")) == ["span: OtherError"]
    assert untold("def span():\n    def inner():\n        raise LookupError\n    return inner") == []
