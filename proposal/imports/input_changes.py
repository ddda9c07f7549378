"""Changed inputs, written into the text of the files that hold them, each alone in its place."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from proposal.document.making.price_inputs import SHARE, Keys
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.errors import InputError, Place, Problem
from proposal.exports.workbook.planned_days import day_of, is_day
from proposal.field_classes import dataclass
from proposal.imports.input_places import LABOUR_FILE, LIBRARY_FILE, InputPlace, InputPlaces
from proposal.imports.workbook_inputs import ChangedInput
from proposal.model.reading.scalar_edits import (
    Nested,
    NotEditableError,
    new_file,
    put,
    told_anew,
    with_values,
)
from proposal.model.reading.yaml_tree import read_yaml
from proposal.quantities.currencies import is_currency, smallest_unit
from proposal.quantities.rounding import rounded

_MARK = b"\xef\xbb\xbf"
_DIGITS = 12
_WORDS = (
    *("supplier", "article", "price_source", "priced_on", "prices_hold_until"),
    *("description", "internal_note", "deductive"),
)
"""Fields that are not told one by one."""
_ON_BOTH = "tax on goods and services"
HEADS: Mapping[str, Sequence[str]] = {
    LIBRARY_FILE: (
        "# Prices of the estimate of this project; they go before those of the libraries below.",
        "source: workbook of the estimator",
    ),
    LABOUR_FILE: (
        "# Hours and rates of the estimate of this project; they go before those of the libraries below.",
        "source: workbook of the estimator",
    ),
}


@dataclass(frozen=True, slots=True)
class InputChange:
    """One value of a file that is written anew.

    key: of the input.  was, value: as files write them.  where: the file and, of what is there, the place.
    times: the new value as a multiple of the old one, None of zero.
    """

    key: str
    was: str
    value: str
    where: InputPlace
    times: Decimal | None

    @property
    def is_figure(self) -> bool:
        """Whether it is a figure, and not a word about one, such as where a price comes from."""
        return self.key.rpartition(".")[2] not in _WORDS


def input_changes(
    places: InputPlaces, changed: Iterable[ChangedInput], paths: Mapping[str, Keys]
) -> tuple[InputChange, ...]:
    """Return what is to be written of changed inputs, in the order of files and places.

    paths: keys of every input one by one, by its key.
    """
    found = []
    for one in changed:
        keys = paths[one.row.key]
        targets = [keys, (*keys[:-1], "services")] if one.row.what == _ON_BOTH else [keys]
        times = one.value / one.row.value if one.row.value else None
        for target in targets:
            found.append(
                InputChange(
                    ".".join(target),
                    written(one.row, one.row.value),
                    written(one.row, one.value),
                    places.of(target),
                    times,
                )
            )
        if one.name:
            named = (*keys[:-1], "name")
            found.append(InputChange(".".join(named), "", one.name, places.of(named), None))
    return tuple(sorted(found, key=lambda change: (change.where.file, change.where.place or Place(""))))


def written(row: PriceInputRow, value: Decimal) -> str:
    """Return a value of an input as a file has it: `43.75 EUR`, `7.5 %`, `1.25`, `2031-06-30`.

    row: the input.
    """
    if is_day(row):
        day = day_of(value)
        assert day is not None
        return day.isoformat()
    exact = Decimal(f"{value:.{_DIGITS}g}")
    if row.unit == SHARE:
        return f"{_short(exact * 100)} %"
    if is_currency(row.unit) and row.what != "exchange rate":
        whole = rounded(exact, smallest_unit(row.unit))
        return f"{whole if whole == exact else _short(exact)} {row.unit}"
    return _short(exact)


def _short(value: Decimal) -> str:
    return f"{value.normalize():f}"


def changed_files(
    contents: Mapping[str, bytes],
    changes: Sequence[InputChange],
    heads: Mapping[str, Sequence[str]] = HEADS,
) -> dict[str, bytes]:
    """Return the new content of every file that changes, by name.

    contents: of all files that changes may be in, by name.
    heads: first lines of files that are not there yet.
    Raises InputError where a value shares its place with others, or another one would change too.
    """
    problems: list[Problem] = []
    found: dict[str, bytes] = {}
    for file in dict.fromkeys(change.where.file for change in changes):
        here = [change for change in changes if change.where.file == file]
        before = contents.get(file)
        try:
            if before is None:
                values: Nested = {}
                for change in here:
                    put(values, change.where.path, change.value)
                found[file] = new_file(heads.get(file, ()), values).encode("utf-8")
                continue
            edits = [(change.where.place or change.where.path, change.value) for change in here]
            text = with_values(before.removeprefix(_MARK).decode("utf-8"), edits)
            found[file] = (_MARK if before.startswith(_MARK) else b"") + text.encode("utf-8")
        except NotEditableError as error:
            place = here[0].where.place or Place(file)
            message = f"wanted values each in a place of its own; found {error}"
            problems.append(Problem(place, here[0].key, message))
    problems += _other_changes(contents, found, changes)
    if problems:
        raise InputError(problems)
    return found


def _other_changes(
    contents: Mapping[str, bytes], found: Mapping[str, bytes], changes: Sequence[InputChange]
) -> Iterable[Problem]:
    """Yield a problem for each file in which something else would change than what is meant to."""
    for file, content in found.items():
        wrong: list[Problem] = []
        before = read_yaml(contents[file], file, []) if file in contents else None
        after = read_yaml(content, file, wrong)
        meant = [one for one in changes if one.where.file == file]
        told = {path for path in told_anew(before, after) if file in contents or path != ("source",)}
        if wrong or after is None or len(told) != len({one.where.path for one in meant}):
            message = "wanted values each in a place of its own; found one that stands for others too"
            yield Problem(meant[0].where.place or Place(file), meant[0].key, message)
