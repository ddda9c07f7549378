"""The examples printed in the standard of merge patches, applied to trees and to untyped libraries."""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from proposal.errors import Place
from proposal.model.equipment.library import merge_patch
from proposal.model.reading.tree import Mapping, Node, Sequence, Text, merge

pytestmark = pytest.mark.published

with (Path(__file__).parent / "merge_patch_rfc_7396.csv").open(encoding="utf-8", newline="") as file:
    CASES = list(csv.DictReader(file))
EACH = pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
HERE = Place("test.yaml", 1, 1)


def tree(value: Any) -> Node:
    """Return a value of JSON as the tree that a YAML file with it makes."""
    if isinstance(value, dict):
        return Mapping({key: (HERE, tree(inner)) for key, inner in value.items()}, HERE)
    if isinstance(value, list):
        return Sequence(tuple(tree(item) for item in value), HERE)
    return (
        Text("null", HERE, plain=True)
        if value is None
        else Text(str(value), HERE, not isinstance(value, str))
    )


def shape(node: Node) -> Any:
    """Return what a tree says, nulls apart from texts."""
    if isinstance(node, Mapping):
        return {key: shape(inner) for key, (_, inner) in node.entries.items()}
    if isinstance(node, Sequence):
        return [shape(item) for item in node.items]
    return None if node.is_null else node.value


@EACH
def test_a_tree_is_merged_as_printed(case: dict[str, str]) -> None:
    original, patch, result = (json.loads(case[name]) for name in ("original", "patch", "result"))
    assert shape(merge(tree(original), tree(patch))) == shape(tree(result))


@EACH
def test_an_untyped_library_is_merged_as_printed(case: dict[str, str]) -> None:
    original, patch, result = (json.loads(case[name]) for name in ("original", "patch", "result"))
    assert merge_patch(original, patch) == result


def test_all_examples_are_here_and_name_their_source() -> None:
    assert len(CASES) == 15
    assert all("RFC 7396" in case["source"] and case["memory"] in ("yes", "no") for case in CASES)
