"""The equipment library from its layers, with the place of every entry."""

from collections.abc import Mapping as MappingType
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from pydantic import ValidationError

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library import FIELD_OF_KIND, KIND_OF_FIELD, Library, layered
from proposal.model.reading.tree import Mapping, Node, Text, merge, plain
from proposal.model.reading.tree import Sequence as List
from proposal.model.reading.validation_messages import dotted, problems_of
from proposal.model.reading.yaml_tree import read_yaml
from proposal.quantities.messages import nearest, shown


@dataclass(frozen=True, slots=True)
class LibraryFile:
    """One file of one layer, not read yet.

    name: as it is named in messages.
    """

    layer: Layer
    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class ResolvedLibrary:
    """What the layers make together.

    library: None where something is wrong with it.
    codes: model codes by kind, as far as they can be told.
    problems: what is wrong.
    """

    library: Library | None
    codes: MappingType[str, tuple[str, ...]]
    problems: tuple[Problem, ...]

    @property
    def systems(self) -> tuple[str, ...]:
        """Return the names of its microphone systems, none where something is wrong with it."""
        return self.library.systems if self.library else ()


@dataclass(frozen=True, slots=True)
class _File:
    layer: Layer
    content: Mapping


@lru_cache(maxsize=4)
def resolved_library(files: tuple[LibraryFile, ...]) -> ResolvedLibrary:
    """Return the library that its layers make; the same files are not read again.

    files: lowest layer first.
    """
    read = [_read(file) for file in files]
    problems = [problem for _, found in read for problem in found]
    return _resolved([content for content, _ in read if content is not None], problems)


def place_in_library(files: Sequence[LibraryFile], model: str, field: str) -> Place:
    """Return the place of a field of an entry, or of the entry, in the highest layer that has it.

    files: of all layers.
    model: code of the entry.
    field: dotted path in the entry, empty for the whole entry.
    """
    for file in reversed(files):
        content, _ = _read(file)
        for _, entries in content.content.entries.values() if content else ():
            if isinstance(entries, Mapping) and model in entries.entries:
                place, entry = entries.entries[model]
                inner = entry.entries.get(field) if isinstance(entry, Mapping) else None
                if inner or content is None:
                    return inner[1].place if inner else place
    return Place("shared/equipment")


@lru_cache(maxsize=128)
def _read(file: LibraryFile) -> tuple[_File | None, tuple[Problem, ...]]:
    problems: list[Problem] = []
    content = read_yaml(file.data, file.name, problems)
    return (_File(file.layer, content) if content is not None else None), tuple(problems)


def _resolved(files: Sequence[_File], problems: list[Problem]) -> ResolvedLibrary:
    untyped = layered([(file.layer, _with_none(file.content)) for file in files])
    codes = {
        kind: tuple(sorted(untyped[field])) if isinstance(untyped.get(field), dict) else ()
        for kind, field in FIELD_OF_KIND.items()
    }
    repeated = _repeated_codes(files)
    if repeated:
        return ResolvedLibrary(None, codes, (*problems, *repeated))
    try:
        library = Library.model_validate(untyped)
    except ValidationError as error:
        places: Node = Mapping({}, Place("shared/equipment"))
        for file in files:
            places = merge(places, file.content)
        problems += _with_misspelt_codes(problems_of(error, Library, places, {}, dotted), files)
        return ResolvedLibrary(None, codes, tuple(problems))
    return ResolvedLibrary(library, codes, tuple(problems))


def _with_misspelt_codes(found: list[Problem], files: Sequence[_File]) -> list[Problem]:
    """Return the problems, those of an entry that seems meant for a known one as one problem.

    An entry that names only what differs has to have the code of an entry below it; with another code it
    lacks nearly everything.
    """
    lacking = [problem for problem in found if problem.message.endswith("; found nothing")]
    known: dict[str, set[str]] = {}
    meant: dict[str, Problem] = {}
    for file in files:
        for field, (_, entries) in file.content.entries.items():
            codes = known.setdefault(field, set())
            here = entries.entries if isinstance(entries, Mapping) else {}
            for code, (place, _) in here.items():
                lacks = sum(problem.field.startswith(f"{field}.{code}.") for problem in lacking)
                near = nearest(code, sorted(codes))
                if code not in codes and lacks > 2 and near:
                    message = "wanted the model code of an entry to change, or a whole entry"
                    message += f"; found {shown(code)} (did you mean {near}?)"
                    meant[f"{field}.{code}."] = Problem(place, field, message)
            codes.update(here)
    kept = [problem for problem in found if not problem.field.startswith(tuple(meant))]
    return [*kept, *meant.values()]


def _with_none(node: Node) -> Any:
    """Return a tree as dict, list and str, with None where it says `null`, as `layered` wants it."""
    if isinstance(node, Text) and node.is_null:
        return None
    if isinstance(node, Mapping):
        return {key: _with_none(inner) for key, (_, inner) in node.entries.items()}
    if isinstance(node, List):
        return [_with_none(item) for item in node.items]
    return plain(node)


def _repeated_codes(files: Sequence[_File]) -> list[Problem]:
    """Return the model codes that stand under two kinds, each at its second place."""
    problems: list[Problem] = []
    fields: dict[str, str] = {}
    for file in files:
        for field, (_, entries) in file.content.entries.items():
            if field not in KIND_OF_FIELD or not isinstance(entries, Mapping):
                continue
            for code, (place, entry) in entries.entries.items():
                if isinstance(entry, Text) and entry.is_null:
                    continue
                first = fields.setdefault(code, field)
                if first != field:
                    message = f"wanted a model code of one kind; found {shown(code)} under {first} too"
                    problems.append(Problem(place, field, message))
    return problems
