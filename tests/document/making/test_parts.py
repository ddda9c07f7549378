"""What subjects hand to the document is typed: the type checker reads both ends."""

import ast
from pathlib import Path

import pytest

import proposal.document

MODULES = sorted(Path(proposal.document.__file__).parent.rglob("*.py"))


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_no_function_hands_on_a_dictionary_of_anything(path: Path) -> None:
    handed = [
        node.name
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef)
        for one in (node.returns, *(argument.annotation for argument in node.args.args))
        if one is not None and ast.unparse(one).endswith(("dict[str, Any]", "Mapping[str, Any]"))
    ]
    assert handed == []
