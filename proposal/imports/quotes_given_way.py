"""Prices of other suppliers that give way to one that is taken: kept in their files, as comments."""

import re
from collections.abc import Mapping, Sequence

from proposal.errors import Problem
from proposal.imports.input_changes import InputChange
from proposal.model.reading.scalar_edits import told_anew
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import node_at
from proposal.model.reading.yaml_tree import read_yaml
from proposal.quantities.messages import printable

Path = tuple[str, ...]
_MARK = b"\xef\xbb\xbf"
_OF_ENTRY, _REELS = 2, "reels"
"""How many keys lead to an entry of a library, and below which of its keys its reels stand."""


def gives_way(
    contents: Mapping[str, bytes], changes: Sequence[InputChange], folder: str, why: str
) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """Return files in which prices give way to those that are taken, and what is said of them.

    contents: of every file of the libraries, by name.  changes: what is taken, in files of one supplier each.
    folder: of the library that takes it; others are left as they are.
    why: whose price is taken, such as `Anytown Wholesale, quote 77 of 2031-03-28`.
    Prices in a form that cannot be changed line by line stay: a finding tells that two are given.
    """
    found: dict[str, bytes] = {}
    told: list[str] = []
    taken = dict.fromkeys(
        (change.where.file, change.where.path[:-1]) for change in changes if change.where.path[-1] == "cost"
    )
    for own, path in taken:
        for name, content in contents.items():
            if name == own or not name.startswith(f"{folder}/"):
                continue
            before = found.get(name, content)
            after = _without(before, name, path, why)
            if after is not None:
                found[name] = after
                told.append(f"{name}: {', '.join(_thing(path))} gives way to {why}; kept as a comment")
    return found, tuple(told)


def _thing(path: Path) -> Path:
    """Return what a price is of: model code, and the reel where it is one."""
    return tuple(key for key in path[1:] if key != "reels")


def _without(content: bytes, name: str, path: Path, why: str) -> bytes | None:
    """Return a file with the prices of one thing as comments; None where it has none, or not alone."""
    tree = read_yaml(content, name, [])
    if tree is None or not _is_quote(tree, path):
        return None
    lines = content.removeprefix(_MARK).decode("utf-8").split("\n")
    if not _comment_out(lines, path, why):
        return None
    text = "\n".join(lines)
    problems: list[Problem] = []
    after = read_yaml(text.encode("utf-8"), name, problems)
    if problems or after is None or any(not _is_of(one, path) for one in told_anew(tree, after)):
        return None
    return (_MARK if content.startswith(_MARK) else b"") + text.encode("utf-8")


def _is_of(changed: Sequence[str | int], path: Path) -> bool:
    """Say whether a key belongs to a thing itself; those of its reels do not belong to an entry."""
    return changed[: len(path)] == path and (len(path) > _OF_ENTRY or _REELS not in changed[_OF_ENTRY:])


def _is_quote(tree: Tree, path: Path) -> bool:
    """Say whether the price of a thing stands there as a supplier's, as `import` writes it."""
    model = node_at(tree, path[:2])
    if not isinstance(model, Tree) or node_at(tree, (*path, "cost")) is None:
        return False
    return any(node_at(tree, (*keys, "supplier")) is not None for keys in (path, path[:2]))


def _comment_out(lines: list[str], path: Path, why: str) -> bool:
    """Make comments of the lines of a thing, and of the keys above it that then hold nothing."""
    span = _span(lines, path)
    if span is None:
        return False
    first, end = span
    reels = _span(lines, (*path, _REELS)) if len(path) == _OF_ENTRY else None
    # A price by the metre gives way alone: reels have their own.
    own = [(first, end)] if reels is None else [(first + 1, reels[0]), (reels[1], end)]
    for part in own:
        _as_comments(lines, *part)
    indent = re.match(r" *", lines[first])
    assert indent is not None
    for depth in range(len(path) - 1, 0, -1):
        above = _span(lines, path[:depth])
        if above is None:
            return False
        if any(line.strip() and not line.lstrip().startswith("#") for line in lines[above[0] + 1 : above[1]]):
            break
        _as_comments(lines, above[0], above[0] + 1)
    lines.insert(first, f"{indent[0]}# Gave way to {printable(why)}:")
    return True


def _as_comments(lines: list[str], first: int, end: int) -> None:
    for n in range(first, end):
        text = lines[n].lstrip(" ")
        if text.strip() and not text.startswith("#"):
            lines[n] = f"{' ' * (len(lines[n]) - len(text))}# {text}"


def _span(lines: Sequence[str], path: Path) -> tuple[int, int] | None:
    """Return the lines of what stands under keys in block form: the first, and the one behind the last."""
    first, end, indent = -1, len(lines), -1
    for key in path:
        inside = [n for n in range(first + 1, end) if _holds(lines[n])]
        if not inside or _indent(lines[inside[0]]) <= indent:
            return None
        indent = _indent(lines[inside[0]])
        named = re.compile(rf"""(["']?){re.escape(key)}\1:\s*(?:#.*)?\r?$""")
        own = [n for n in inside if _indent(lines[n]) == indent and named.match(lines[n].strip(" "))]
        if len(own) != 1:
            return None
        first = own[0]
        end = next((n for n in inside if n > first and _indent(lines[n]) <= indent), end)
    return first, end


def _holds(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
