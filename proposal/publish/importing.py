"""Files that come back, taken into the files of a project and its libraries: all of them, or none."""

import stat
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from proposal.document.making.document import document_of
from proposal.document.making.price_inputs import input_paths
from proposal.errors import InputError, Place, Problem
from proposal.imports.input_changes import InputChange, changed_files, input_changes
from proposal.imports.input_places import InputPlaces, texts_of
from proposal.imports.workbook_inputs import ReadInputs, read_inputs
from proposal.imports.xlsx_sheets import LARGEST_BOOK
from proposal.model.equipment.entry import Layer
from proposal.model.loading import load_source, read_folder
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from proposal.publish.files import write_outputs
from proposal.publish.program_folders import own_folders
from proposal.publish.project_lock import exclusive
from proposal.quantities.messages import printable, shown
from proposal.resources import company_library


@dataclass(frozen=True, slots=True)
class Import:
    """What a file that came back changes.

    changes: value by value.  moved: inputs that changed in the project since, and not in the workbook.
    before, held, after: as it was, with the new figures and the same equipment, and chosen anew.
    files: new content of every file that changes.
    """

    changes: tuple[InputChange, ...]
    moved: tuple[str, ...]
    before: Computed
    held: Computed
    after: Computed
    files: Mapping[Path, bytes]


def workbook_import(book: Path, folder: Path, library: Path | None, writable: Sequence[Layer]) -> Import:
    """Return what a workbook of the estimator changes of a project; nothing is written.

    book: the file.  folder: of the project.  library: of a company, as the call names it.
    writable: layers whose files may change.
    Raises InputError where the workbook cannot be taken, with everything that is wrong with it.
    """
    name, data = printable(str(book)), content_of(book)
    source = load_source(folder, library=library)
    before = compute(source.base)
    document = document_of(before)
    read = read_inputs(data, name, document.price_inputs, document.cover)
    changes = input_changes(InputPlaces(source, writable), read.changed, input_paths(before))
    contents = texts_of(source, read_folder(folder, []) or {})
    new = changed_files(contents, changes)
    changed = _loaded(folder, library, new, f"as {name} has it")
    after = compute(changed.base)
    _refuse_lost(name, read, after)
    return Import(
        changes=changes,
        moved=read.moved,
        before=before,
        held=before.with_same_equipment(changed.base),
        after=after,
        files={_path_of(one, folder, library): content for one, content in new.items()},
    )


def content_of(file: Path) -> bytes:
    """Return what a file holds that a user names; raises InputError where it is none, or too large."""
    try:
        found = file.stat()
        wrong = "" if stat.S_ISREG(found.st_mode) else "wanted a file; found something else"
        if found.st_size > LARGEST_BOOK:
            wrong = f"wanted at most {LARGEST_BOOK // 1_000_000} MB; found {found.st_size / 1e6:.0f} MB"
        if not wrong:
            return file.read_bytes()
    except FileNotFoundError:
        wrong = "wanted a file; found nothing"
    raise InputError([Problem(Place(printable(str(file))), "", wrong)])


def _loaded(folder: Path, library: Path | None, new: Mapping[str, bytes], cause: str) -> ProjectSource:
    """Return the project as it would be; what is wrong with it then says what made it so."""
    try:
        return load_source(folder, library=library, instead=new)
    except InputError as error:
        raise InputError(
            [Problem(one.place, one.field, f"{one.message}, {cause}") for one in error.problems]
        ) from None


def _refuse_lost(name: str, read: ReadInputs, after: Computed) -> None:
    """Raise InputError where the price would not follow a value: it is set elsewhere once more."""
    now = {row.key: row.value for row in document_of(after).price_inputs}
    problems = []
    for one in read.changed:
        value = now.get(one.row.key)
        if value is not None and float(value) != float(f"{one.value:.12g}"):
            message = f"wanted {one.value:f} to count; found {value:f}, which a file above it says"
            problems.append(Problem(Place(name), one.cell, f"{shown(one.row.key)}: {message}"))
    if problems:
        raise InputError(problems)


def _path_of(name: str, folder: Path, library: Path | None) -> Path:
    company = company_library(library)
    beginning = "" if company is None else f"{printable(str(company))}/"
    if company is not None and name.startswith(beginning):
        return company / name.removeprefix(beginning)
    return folder / name


def write_import(found: Import, folder: Path) -> None:
    """Write the files that an import changes, all of them or none, while no other run is at work.

    folder: of the project.
    """
    with exclusive(own_folders(folder).build):
        write_outputs(found.files)
