"""Alternates that an estimator added in the workbook, as files of their own."""

from collections.abc import Container, Iterable, Mapping, Sequence

from proposal.errors import InputError, Place, Problem
from proposal.exports.workbook.spare_alternates import is_spare_alternate
from proposal.field_classes import dataclass
from proposal.imports.input_changes import InputChange, written
from proposal.imports.input_places import InputPlace
from proposal.imports.workbook_inputs import ChangedInput
from proposal.model.alternate import ALTERNATES
from proposal.quantities.file_names import file_name
from proposal.quantities.messages import shown

_NOTE = "Added in the estimator's workbook; say in description why the client might want it."


@dataclass(frozen=True, slots=True)
class NewAlternates:
    """What makes the files of added alternates.

    changes: value by value.  heads: first lines of the files.  keys: of the alternates.
    """

    changes: tuple[InputChange, ...]
    heads: Mapping[str, Sequence[str]]
    keys: tuple[str, ...]


def new_alternates(changed: Iterable[ChangedInput], files: Container[str], book: str) -> NewAlternates:
    """Return what makes the files of the alternates among changed inputs.

    files: names of those that the project has.  book: the workbook, as messages name it.
    Raises InputError where a name is that of an alternate already.
    """
    problems: list[Problem] = []
    changes: list[InputChange] = []
    heads: dict[str, Sequence[str]] = {}
    keys: list[str] = []
    for one in changed:
        if not is_spare_alternate(one.row):
            continue
        key = file_name(one.name, "alternate").replace("-", "_")
        file = f"{ALTERNATES}/{key}.yaml"
        if file in files or file in heads:
            message = (
                f"{one.row.key}: wanted a name that no alternate has yet; found {shown(one.name)} ({file})"
            )
            problems.append(Problem(Place(book), one.cell, message))
            continue
        heads[file] = ("# yaml-language-server: $schema=../schema/alternate.schema.json",)
        keys.append(key)
        allowance = ("changes", "project", "price", "allowances", key)
        values: dict[tuple[str, ...], str] = {
            ("name",): one.name,
            ("description",): f"{one.name}.",
            ("internal_note",): _NOTE,
            **({("deductive",): "true"} if one.value < 0 else {}),
            (*allowance, "name"): one.name,
            (*allowance, "price"): written(one.row, one.value),
        }
        for path, value in values.items():
            where = InputPlace(file, path, None)
            changes.append(InputChange(".".join((ALTERNATES, key, *path)), "", value, where, None))
    if problems:
        raise InputError(problems)
    return NewAlternates(tuple(changes), heads, tuple(keys))
