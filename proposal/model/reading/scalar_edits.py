"""Single values of a YAML file changed in their own place, comments and order kept.

The signs of one value are replaced, or one entry is added below the last of its mapping. Whoever calls
reads the result again and sees that nothing else says anything new (`told_anew`).
"""

import json
import re
from collections.abc import Sequence as AnySequence
from dataclasses import field
from typing import Any, NamedTuple

import yaml

from proposal.errors import Place
from proposal.field_classes import dataclass
from proposal.model.reading.tree import Mapping, Node, Text
from proposal.model.reading.tree import Sequence as List

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_PLAIN_KEY = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._/-]*[A-Za-z0-9])?")
_SAFE_VALUE = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 .%()'&/-]*[A-Za-z0-9.%)])?")
_STEP = 2
_BLOCK_TEXTS = ("|", ">")


Nested = dict[str, "str | Nested"]
"""Names within names, and values."""


class NotEditableError(Exception):
    """A value is written in a way that no single place of the file stands for; the message says how."""


@dataclass(slots=True)
class _Span:
    """Where something begins and ends in the text, ends of block mappings at the last thing in them.

    style: of a scalar; "flow" or "block" of a mapping or list; "alias".
    """

    start: int
    end: int
    line: int
    column: int
    style: str
    entries: dict[str, "_Span"] = field(default_factory=dict)
    items: list["_Span"] = field(default_factory=list)
    key: str | None = None
    is_mapping: bool = False


Where = Place | AnySequence[str]


class _Change(NamedTuple):
    """Signs in the place of others.  column: of the mapping that gets more entries."""

    start: int
    end: int
    signs: str
    column: int = 0


def with_values(text: str, edits: AnySequence[tuple[Where, str]]) -> str:
    """Return the text of a YAML file with values changed or added, each once.

    text: without byte order mark.
    edits: where, and the new value. Where: place of a value that is there; or keys from the top, of which the
        last ones may be missing yet. Values: such as `43.75 EUR`, `7.5 %` or a text.
    Raises NotEditableError where no single place stands for a value.
    """
    root = _spans(text)
    changes: list[_Change] = []
    added: dict[int, tuple[_Span, Nested]] = {}
    for where, value in edits:
        if isinstance(where, Place):
            changes.append(_replaced(text, _at(root, where), value))
            continue
        keys, here = list(where), root
        while keys and here.is_mapping and keys[0] in here.entries:
            here = here.entries[keys.pop(0)]
        if not keys:
            changes.append(_replaced(text, here, value))
        elif not here.is_mapping:
            raise NotEditableError("a value where names with values are wanted")
        else:
            put(added.setdefault(id(here), (here, {}))[1], keys, value)
    changes += [_added(text, mapping, new) for mapping, new in added.values()]
    # From the end, so that places stay; of what is added in one place, what stands further in comes first.
    for change in sorted(changes, key=lambda one: (-one.start, one.column)):
        text = text[: change.start] + change.signs + text[change.end :]
    return text


def put(nested: Nested, keys: AnySequence[str], value: str) -> None:
    """Put a value into names within names.

    keys: from the outermost.
    Raises NotEditableError where one of the outer names already has a value.
    """
    *above, last = keys
    for key in above:
        inner = nested.setdefault(key, {})
        if not isinstance(inner, dict):
            raise NotEditableError("a value where names with values are wanted")
        nested = inner
    nested[last] = value


def new_file(head: AnySequence[str], values: Nested) -> str:
    """Return the text of a file that says some values.

    head: lines at its top.
    values: names within names, and values.
    """
    return "\n".join([*head, *_lines(values, 0), ""])


def told_anew(before: Node | None, after: Node | None) -> set[tuple[str | int, ...]]:
    """Return the paths at which two texts of a file differ.

    before, after: what it said, and what it says now; None where there was no file.
    """
    old, new = dict(_leaves(before)), dict(_leaves(after))
    return {path for path in (*old, *new) if old.get(path) != new.get(path)}


def _leaves(node: Node | None) -> list[tuple[tuple[str | int, ...], str]]:
    found: list[tuple[tuple[str | int, ...], str]] = []
    waiting: list[tuple[tuple[str | int, ...], Node]] = [] if node is None else [((), node)]
    while waiting:
        path, one = waiting.pop()
        if isinstance(one, Text):
            found.append((path, one.value))
        elif isinstance(one, Mapping):
            waiting += [((*path, key), inner) for key, (_, inner) in one.entries.items()]
        elif isinstance(one, List):
            waiting += [((*path, n), inner) for n, inner in enumerate(one.items)]
    return found


def _spans(text: str) -> _Span:
    """Return what a file holds with its places; it has been read once and is correct YAML."""
    open_parts: list[_Span] = []
    root: _Span | None = None
    events: Any = yaml.parse(text, Loader=_LOADER)
    for event in events:
        done: _Span | None = None
        if isinstance(event, yaml.ScalarEvent):
            done = _span(event, event.style or "")
            done.key = event.value
        elif isinstance(event, yaml.AliasEvent):
            done = _span(event, "alias")
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            opened = _span(event, "flow" if event.flow_style else "block")
            opened.is_mapping = isinstance(event, yaml.MappingStartEvent)
            open_parts.append(opened)
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            done = open_parts.pop()
            if done.style == "flow":
                ended: Any = event.end_mark
                done.end = ended.index
            done.key = None
        if done is None:
            continue
        if not open_parts:
            root = done
            continue
        _put(open_parts[-1], done)
    if root is None:
        raise NotEditableError("an empty file")
    return root


def _span(event: Any, style: str) -> _Span:
    mark = event.start_mark
    return _Span(mark.index, event.end_mark.index, mark.line + 1, mark.column + 1, style)


def _put(around: _Span, done: _Span) -> None:
    around.end = max(around.end, done.end)
    if not around.is_mapping:
        around.items.append(done)
    elif around.key is None:
        around.key = done.key or ""
        if not around.entries and around.style == "block":
            around.column = done.column  # an anchor may stand before its first key
    else:
        around.entries[around.key] = done
        around.key = None


def _at(root: _Span, place: Place) -> _Span:
    waiting = [root]
    while waiting:
        one = waiting.pop()
        if (one.line, one.column) == (place.line, place.column) and not one.entries and not one.items:
            return one
        waiting += [*one.entries.values(), *one.items]
    raise NotEditableError("no value of its own")


def _replaced(text: str, span: _Span, value: str) -> _Change:
    if span.is_mapping or span.items or span.style == "block":
        raise NotEditableError("names with values where one value is wanted")
    if span.style == "alias":
        raise NotEditableError("an alias of a value that stands elsewhere")
    if span.style in _BLOCK_TEXTS:
        raise NotEditableError("a text of several lines")
    quote = span.style
    if quote:
        signs = (
            json.dumps(value, ensure_ascii=False) if quote == '"' else "'" + value.replace("'", "''") + "'"
        )
        return _Change(span.start, span.end, signs)
    # A key may have nothing after its colon.
    before = " " if span.start == span.end and not text[: span.start].endswith(" ") else ""
    return _Change(span.start, span.end, before + _as_scalar(value))


def _as_scalar(value: str) -> str:
    return value if _SAFE_VALUE.fullmatch(value) else json.dumps(value, ensure_ascii=False)


def _as_key(key: str) -> str:
    return key if _PLAIN_KEY.fullmatch(key) else json.dumps(key, ensure_ascii=False)


def _lines(values: Nested, indent: int) -> list[str]:
    found: list[str] = []
    for key, value in values.items():
        beginning = " " * indent + _as_key(key)
        if isinstance(value, str):
            found.append(f"{beginning}: {_as_scalar(value)}")
        else:
            found += [f"{beginning}:", *_lines(value, indent + _STEP)]
    return found


def _in_braces(values: Nested) -> str:
    entries = (
        f"{_as_key(key)}: {_as_scalar(value) if isinstance(value, str) else '{' + _in_braces(value) + '}'}"
        for key, value in values.items()
    )
    return ", ".join(entries)


def _added(text: str, mapping: _Span, values: Nested) -> _Change:
    """Return what is added below the last entry of a mapping, or beside it on its line."""
    if mapping.style == "flow":
        last = max((one.end for one in mapping.entries.values()), default=None)
        at = mapping.start + 1 if last is None else last
        return _Change(at, at, f"{'' if last is None else ', '}{_in_braces(values)}", mapping.column)
    at = mapping.end
    if not (at and text[at - 1] == "\n"):
        end = text.find("\n", at)
        at = len(text) if end < 0 else end + 1
    ending = "\r\n" if "\r\n" in text[: at + 1] else "\n"
    before = ending if at and text[at - 1] != "\n" else ""
    lines = "".join(line + ending for line in _lines(values, mapping.column - 1))
    return _Change(at, at, before + lines, mapping.column)
