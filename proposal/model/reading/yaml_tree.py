"""YAML files, read into a tree without giving any scalar a meaning."""

import re
from collections.abc import Iterator
from collections.abc import Sequence as Sequence_
from dataclasses import field
from typing import Any

import yaml

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.reading.text_files import UNPRINTABLE, text_of
from proposal.model.reading.tree import Mapping, Node, Sequence, Text
from proposal.quantities.messages import printable, shown

DEEPEST = 100
MOST_PARTS = 100_000
MOST_PROBLEMS = 100

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_tuple: Any = tuple.__new__  # what a NamedTuple does itself, through one call more
_PLAIN_TAGS = (None, "!", "tag:yaml.org,2002:str")

# What the parser says → what its reader can do something about.
_FAULTS = {
    "mapping values are not allowed in this context": "a second colon, or a wrong indentation; a text with a "
    "colon stands in quotes",
    "could not find expected ':'": "a name without its colon",
    "did not find expected key": "a line that fits no level above it",
    "did not find expected node content": "no value where one should stand",
    "did not find expected '-' indicator": "a line in a list that does not begin with `- `",
    "did not find expected ',' or ']'": "a list in brackets that is not closed",
    "did not find expected ',' or '}'": "a mapping in braces that is not closed",
    "found unexpected end of stream": "the end of the file inside a quoted text",
    "exceeded maximum nesting depth": f"more than {DEEPEST} levels",
}
_FORBIDDEN_BEGINNINGS = {"\t": "a tab where YAML takes spaces only"}


@dataclass(slots=True)
class _Open:
    """A mapping or list whose end has not been read yet."""

    place: Place
    is_mapping: bool
    anchor: str | None
    entries: dict[str, tuple[Place, Node]] = field(default_factory=dict)
    items: list[Node] = field(default_factory=list)
    key: Text | None = None
    wants_value: bool = False
    parts: int = 1
    depth: int = 0


class _StopError(Exception):
    """Nothing more of this file can be read."""


def read_yaml(data: bytes, file: str, problems: list[Problem]) -> Mapping | None:
    """Return what a YAML file says, or None where nothing can be made of it.

    data: the file's bytes.
    file: as it is named in messages.
    problems: whatever is wrong is added here, with its line and column.
    """
    text = text_of(data, file, problems)
    if text is None:
        return None
    node = _Reader(file, problems).read(text)
    if node is None or isinstance(node, Mapping):
        return node
    found = "a list" if isinstance(node, Sequence) else shown(node.value)
    problems.append(
        Problem(node.place, "", f"wanted names with values, such as `name: value`; found {found}")
    )
    return None


class _Reader:
    """Builds the tree from the parser's events, without recursion, so that no depth can exhaust the stack."""

    def __init__(self, file: str, problems: list[Problem]) -> None:
        self.file = file
        self.problems = problems
        self.open: list[_Open] = []
        self.anchors: dict[str, tuple[Node, int, int]] = {}
        self.root: Node | None = None
        self.found = 0
        self.parts = 0

    def read(self, text: str) -> Node | None:
        documents = 0
        try:
            for event in _events(text):
                if isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    if documents > 1:
                        self._stop(
                            event.start_mark, "wanted one document; found the beginning of a second one"
                        )
                else:
                    self._take(event)
        except _StopError:
            return None
        except yaml.YAMLError as error:
            self._note_syntax(error, text)
            return None
        if self.root is None or (isinstance(self.root, Text) and self.root.plain and not self.root.value):
            self.problems.append(
                Problem(Place(self.file), "", "wanted names with values, `{}` for none; found an empty file")
            )
            return None
        return self.root

    def _place(self, mark: Any) -> Place:
        return Place(self.file, mark.line + 1, mark.column + 1)

    def _problem(self, place: Place, message: str) -> None:
        # The names that lead here, as far as they are open.
        path = ".".join(part.key.value for part in self.open if part.key is not None)
        self.problems.append(Problem(place, shown(path) if path else "", message))
        self.found += 1
        if self.found >= MOST_PROBLEMS:
            raise _StopError

    def _stop(self, mark: Any, message: str) -> None:
        self._problem(self._place(mark), message)
        raise _StopError

    def _note_syntax(self, error: yaml.YAMLError, text: str) -> None:
        mark = getattr(error, "problem_mark", None)
        place = self._place(mark) if mark else Place(self.file)
        reason = getattr(error, "problem", None) or "text that cannot be read"
        if mark and (slip := _slip(text.splitlines()[: mark.line + 1])):
            line, column, what = slip
            self.problems.append(
                Problem(Place(self.file, line, column), "", f"wanted correct YAML; found {what}")
            )
            return
        if reason == "found character that cannot start any token":
            letter = (
                text[error_index : error_index + 1]
                if (error_index := getattr(mark, "index", -1)) >= 0
                else ""
            )
            reason = _FORBIDDEN_BEGINNINGS.get(
                letter, f"{shown(letter)}, which only a quoted text may begin with"
            )
        found = _FAULTS.get(reason, reason.removeprefix("found "))
        self.problems.append(Problem(place, "", f"wanted correct YAML; found {found}"))

    def _take(self, event: Any) -> None:
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self._take_scalar(event)
        elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
            self._check_tag(event)
            if len(self.open) >= DEEPEST:
                self._stop(event.start_mark, f"wanted at most {DEEPEST} levels; found one more")
            self.open.append(
                _Open(self._place(event.start_mark), kind is yaml.MappingStartEvent, event.anchor)
            )
        elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
            done = self.open.pop()
            node: Node = (
                Mapping(done.entries, done.place)
                if done.is_mapping
                else Sequence(tuple(done.items), done.place)
            )
            self._remember(done.anchor, node, done.parts, done.depth + 1)
            self._put(node, done.parts, done.depth + 1, event.start_mark)
        elif kind is yaml.AliasEvent:
            self._take_alias(event)

    def _take_scalar(self, event: Any) -> None:
        """Take a name or a value, which nearly all events are: what is usual goes without another call."""
        mark, style, value = event.start_mark, event.style, event.value
        if event.tag is not None:
            self._check_tag(event)
        if style == '"' and (bad := UNPRINTABLE.search(value)):
            found = f"wanted a text of printable characters; found {printable(bad[0])}"
            self._problem(self._place(mark), found)
        place = _tuple(Place, (self.file, mark.line + 1, mark.column + 1))
        text = _tuple(Text, (value, place, not style))
        if event.anchor is not None:
            self._remember(event.anchor, text, 1, 0)
        around = self.open[-1] if self.open else None
        if around is None or not around.is_mapping or self.parts >= MOST_PARTS:
            self._put(text, 1, 0, mark)
            return
        around.parts += 1
        self.parts += 1
        if around.wants_value:
            self._put_entry(around, text)
        else:
            around.wants_value = True
            around.key = text

    def _take_alias(self, event: Any) -> None:
        if event.anchor not in self.anchors:
            open_anchors = [part.anchor for part in self.open]
            what = "itself" if event.anchor in open_anchors else "nothing above it"
            self._stop(event.start_mark, f"wanted an alias of something above; found *{event.anchor}, {what}")
        node, parts, depth = self.anchors[event.anchor]
        if len(self.open) + depth > DEEPEST:
            self._stop(
                event.start_mark, f"wanted at most {DEEPEST} levels; found more through *{event.anchor}"
            )
        self._put(node, parts, depth, event.start_mark, aliased=True)

    def _remember(self, anchor: str | None, node: Node, parts: int, depth: int) -> None:
        if anchor is not None:
            self.anchors[anchor] = (node, parts, depth)

    def _check_tag(self, event: Any) -> None:
        if event.tag not in _PLAIN_TAGS:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._problem(self._place(event.start_mark), f"wanted a value without a tag; found {shown(tag)}")

    def _put(self, node: Node, parts: int, depth: int, mark: Any, *, aliased: bool = False) -> None:
        """Put a finished part into what is open around it."""
        if not self.open:
            self.root = node
            return
        around = self.open[-1]
        around.parts += parts
        if depth > around.depth:
            around.depth = depth
        # What is put here for the second time, through its container, has been counted.
        self.parts += parts if isinstance(node, Text) or aliased else 1
        if self.parts > MOST_PARTS:
            self._stop(mark, f"wanted at most {MOST_PARTS} values, aliases counted out; found more")
        if not around.is_mapping:
            around.items.append(node)
        elif not around.wants_value:
            around.wants_value = True
            if isinstance(node, Text):
                around.key = node
            else:
                found = "a mapping" if isinstance(node, Mapping) else "a list"
                self._problem(node.place, f"wanted a name before the colon; found {found}")
        else:
            self._put_entry(around, node)

    def _put_entry(self, around: _Open, node: Node) -> None:
        key, around.wants_value = around.key, False
        around.key = None
        if key is None:
            return
        if key.value in around.entries:
            first = around.entries[key.value][0]
            self._problem(
                key.place,
                f"wanted each name once; found {shown(key.value)} again, first in line {first.line}",
            )
        else:
            around.entries[key.value] = (key.place, node)


_OPENED = re.compile(r"""[^#"']*[:,\[{-]\s*(["'])(?:(?!\1).)*""")
_NO_SPACE = re.compile(r"(\s*[A-Za-z]\w*):[^\s/:\d][^:{}\[\]]*")


def _slip(lines: Sequence_[str]) -> tuple[int, int, str] | None:
    """Return line, column and name of the slip behind what the parser says, None where we know none.

    lines: of the file, up to where the parser stopped; the slip stands in the last two that say something.
    """
    told = [(number, line) for number, line in enumerate(lines, 1) if line.strip() and line.strip()[0] != "#"]
    for number, line in reversed(told[-2:]):
        if opened := _OPENED.fullmatch(line):
            return number, opened.start(1) + 1, "a quote that is opened in this line and not closed"
        if spaceless := _NO_SPACE.fullmatch(line):
            return number, spaceless.end(1) + 1, "a colon without a space after it, as in `name: value`"
    return None


def _events(text: str) -> Iterator[Any]:
    try:
        loader = _LOADER(text)
        try:
            while (event := loader.get_event()) is not None:
                yield event
        finally:
            loader.dispose()
    except (ValueError, OverflowError) as error:
        # The parser that is written in Python fails so on escapes such as "\U99999999".
        raise yaml.YAMLError(str(error)) from error


def unknowns_in(data: bytes, file: str) -> dict[str, tuple[str, ...]]:
    """Return by place, `file:line:column`, the names that lead to each value that is not known yet.

    data: of a YAML file.  file: as it is named in places.
    """
    found: dict[str, tuple[str, ...]] = {}
    tree = read_yaml(data, file, [])
    waiting: list[tuple[tuple[str, ...], Node | None]] = [((), tree)]
    while waiting:
        path, node = waiting.pop()
        if isinstance(node, Mapping):
            waiting += [((*path, key), inner) for key, (_, inner) in node.entries.items()]
        elif isinstance(node, Text) and node.is_unknown:
            found[str(node.place)] = path
    return found
