"""A project folder and the equipment libraries, read from disk into a checked project."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.model.alternate import ALTERNATES
from proposal.model.checks.checking import Surroundings
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library_files import LibraryFile
from proposal.model.folder import (
    OPTIONAL_FILES,
    OWN_LIBRARY,
    FolderParts,
    folder_parts,
    with_revision,
)
from proposal.model.folder_files import file_content, folder_entries, library_folder, read_folder
from proposal.model.issued import (
    LATEST,
    MANIFEST,
    REGISTER,
    Issue,
    ends_of,
    order_of,
    read_issue,
    read_register,
)
from proposal.model.merged_registers import NumberClash, merged_registers
from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.project import Numbered, Project
from proposal.model.radio.radio import RadioLosses
from proposal.model.reading.text_files import LARGEST_FILE
from proposal.model.shared_tables import read_client_knowledge, read_radio_losses
from proposal.model.source import ProjectSource, source_of
from proposal.model.wording.wording import Standing
from proposal.model.wording.wording_files import read_standing
from proposal.quantities.messages import printable
from proposal.resources import company_library, resource

SHARED_LIBRARY = ("equipment", "materials")
LABOUR = "labour"
LARGEST_RECORD_FILE = 200_000_000
ISSUED = "issued"
NOTHING_NAMED: Mapping[str, str] = {}
NOTHING_INSTEAD: Mapping[str, bytes] = {}


def load_project(
    folder: Path,
    *,
    library: Path | None = None,
    issued: Mapping[str, Numbered] | None = None,
    named: Mapping[str, str] = NOTHING_NAMED,
    shared: Path | None = None,
) -> Project:
    """Return the project that a folder holds, checked.

    folder: the project folder.
    library: folder of a company's own equipment library; left out, the one that the environment variable
        PROPOSAL_LIBRARY names, if any.
    issued: numbers given before, for an issued record that is computed again from its own inputs; left out,
        those of the record in the folder's `issued/` that was issued last.
    named: what the call names otherwise than project.yaml: the `identity` and `purpose` of the revision.
    shared: folder of shared data, as an issued record keeps it; left out, what ships with the program. With
        it the environment is not asked for a library.
    Raises InputError with every problem of every file.
    """
    return load_source(folder, library=library, issued=issued, named=named, shared=shared).base


def load_source(
    folder: Path,
    *,
    library: Path | None = None,
    issued: Mapping[str, Numbered] | None = None,
    named: Mapping[str, str] = NOTHING_NAMED,
    shared: Path | None = None,
    instead: Mapping[str, bytes] = NOTHING_INSTEAD,
) -> ProjectSource:
    """Return what makes the project of a folder, with its alternates or without, checked.

    The parameters are those of `load_project`.
    instead: content of files as they would be, by name: of the project folder, or of a library as messages
        name it.
    Raises InputError with every problem of every file.
    """
    problems: list[Problem] = []
    files = read_folder(folder, problems)
    if files is None:
        raise InputError(problems)
    new = (OWN_LIBRARY, f"{ALTERNATES}/", *OPTIONAL_FILES)
    own = {name: data for name, data in instead.items() if name in files or name.startswith(new)}
    parts = with_revision(folder_parts({**files, **own}, problems), named)
    data = shared or resource("shared")
    company = library if shared else company_library(library)
    # A record is the same wherever it lies.
    company_name = "company" if shared else printable(str(company))
    surroundings = Surroundings(
        libraries=_replaced(
            _library_files(parts, data, company, company_name, problems), instead, company_name
        ),
        labour_files=_replaced(
            _labour_files(parts, data, company, company_name, problems), instead, f"{company_name}/{LABOUR}"
        ),
        is_locale=_is_locale,
        standing=standing_wording(data),
        radio_losses=radio_losses(data),
        client_knowledge=client_knowledge(data),
        issued=issued_numbers(folder, problems) if issued is None else issued,
    )
    return source_of(parts, surroundings, problems)


def standing_wording(shared: Path | None = None) -> Standing:
    """Return the cautions, scope, exclusions and duties of the shared wording.

    shared: folder of shared data; left out, what ships with the program.
    Raises InputError where it cannot be read.
    """
    problems: list[Problem] = []
    files: dict[str, bytes] = {}
    data_folder = shared or resource("shared")
    for name in Standing.model_fields:
        file = f"shared/wording/{name}.yaml"
        data = file_content(data_folder / "wording" / f"{name}.yaml", file, LARGEST_FILE, problems)
        if data is not None:
            files[file] = data
    if problems:
        raise InputError(problems)
    return read_standing(tuple(files.items()))


def radio_losses(shared: Path | None = None) -> RadioLosses:
    """Return the shared table of what radio loses at walls and floors.

    shared: folder of shared data; left out, what ships with the program.
    Raises InputError where it cannot be read.
    """
    problems: list[Problem] = []
    file = "shared/radio/walls.yaml"
    data_folder = shared or resource("shared")
    data = file_content(data_folder / "radio" / "walls.yaml", file, LARGEST_FILE, problems)
    if data is None:
        raise InputError(problems)
    return read_radio_losses(file, data)


def client_knowledge(shared: Path | None = None) -> ClientKnowledge:
    """Return what a client is taken to know, of the shared data.

    shared: folder of shared data; left out, what ships with the program.
    Raises InputError where it cannot be read.
    """
    problems: list[Problem] = []
    file = "shared/price/client.yaml"
    data = file_content(
        (shared or resource("shared")) / "price" / "client.yaml", file, LARGEST_FILE, problems
    )
    if data is None:
        raise InputError(problems)
    return read_client_knowledge(file, data)


def issued_numbers(folder: Path, problems: list[Problem]) -> Mapping[str, Numbered]:
    """Return the numbers that issued revisions of a project gave: the register of the last record.

    Where branches that both issued were merged, there are several that no other follows, and their registers
    are made one.

    folder: the project folder.
    problems: what is wrong with the records' manifests, their order and those registers is added here.
    A folder whose name begins with a dot is a record that is still being written, and is none yet.
    """
    registers = _registers(folder, _last_records(folder, problems), problems)
    return registers[0][1] if len(registers) == 1 else merged_registers(registers)[0]


def number_clashes(folder: Path) -> tuple[NumberClash, ...]:
    """Return the numbers that must change because two branches that both issued revisions were merged.

    folder: the project folder; what is wrong with its records is told where it is loaded.
    """
    ends = _last_records(folder, [])
    return merged_registers(_registers(folder, ends, []))[1] if len(ends) > 1 else ()


def _registers(
    folder: Path, records: Iterable[str], problems: list[Problem]
) -> list[tuple[str, Mapping[str, Numbered]]]:
    return [
        (name, register_of(folder / ISSUED / name, REGISTER, problems, f"{ISSUED}/{name}"))
        for name in records
    ]


def _last_records(folder: Path, problems: list[Problem]) -> tuple[str, ...]:
    """Return the records that no other follows, in the order of issue; none where that is not clear."""
    issues: dict[str, Issue] = {}
    before = len(problems)
    for entry in folder_entries(folder / ISSUED, ISSUED, problems):
        if entry.name.startswith(".") or entry.name == LATEST or not entry.is_dir():
            continue
        name = f"{ISSUED}/{printable(entry.name)}/{MANIFEST}"
        data = file_content(Path(entry.path) / MANIFEST, name, LARGEST_RECORD_FILE, problems)
        issue = None if data is None else read_issue(data, name, problems)
        if issue is not None:
            issues[entry.name] = issue
    return ends_of(issues, order_of(issues, problems)) if len(problems) == before else ()


def register_of(record: Path, register: str, problems: list[Problem], name: str) -> Mapping[str, Numbered]:
    """Return a register of an issued record.

    record: its folder; name: the same for messages.
    register: name of the file: what the revision gave, or what it was computed from.
    """
    file = f"{name}/{register}"
    data = file_content(record / register, file, LARGEST_RECORD_FILE, problems)
    return {} if data is None else read_register(data, file, problems)


def _library_files(
    parts: FolderParts, shared: Path, company: Path | None, company_name: str, problems: list[Problem]
) -> list[LibraryFile]:
    """Return the files of the three layers, lowest layer first."""
    found: list[LibraryFile] = []
    for name in SHARED_LIBRARY:
        found += library_folder("shared", shared / name, f"shared/{name}", problems)
    if company is not None:
        files = library_folder("company", company, company_name, problems) if company.is_dir() else []
        if not files and not (company / LABOUR).is_dir():
            what = "none in it" if company.is_dir() else "a file" if company.exists() else "nothing"
            message = f"wanted a folder with library files (.yaml); found {what}"
            problems.append(Problem(Place(company_name), "", message))
        found += files
    return found + [LibraryFile("project", name, data) for name, data in parts.library.items()]


def _replaced(
    files: Iterable[LibraryFile], instead: Mapping[str, bytes], company_name: str
) -> tuple[LibraryFile, ...]:
    """Return library files with the content of some as it would be, new ones of a company among them."""
    found = [replace(file, data=instead.get(file.name, file.data)) for file in files]
    there = {file.name for file in found}
    found += [
        LibraryFile("company", name, data)
        for name, data in instead.items()
        if name not in there and name.rpartition("/")[0] == company_name
    ]
    order: Mapping[Layer, int] = {"shared": 0, "company": 1, "project": 2}
    return tuple(sorted(found, key=lambda file: (order[file.layer], file.name)) if instead else found)


def _labour_files(
    parts: FolderParts, shared: Path, company: Path | None, company_name: str, problems: list[Problem]
) -> list[LibraryFile]:
    """Return the files of the labour data: the shared ones, those in a company's `labour/`, the project's."""
    found = library_folder("shared", shared / LABOUR, f"shared/{LABOUR}", problems)
    if company is not None and (company / LABOUR).is_dir():
        found += library_folder("company", company / LABOUR, f"{company_name}/{LABOUR}", problems)
    return found + [LibraryFile("project", name, data) for name, data in parts.labour.items()]


@lru_cache(maxsize=16)
def _is_locale(locale: str) -> bool:
    """Say whether Babel has data for a locale, without importing it.

    It is remembered: alternates have the locale of the base, and are made without touching the disk.
    """
    babel = find_spec("babel")
    if babel is None or babel.origin is None:
        return True
    data = Path(babel.origin).parent / "locale-data"
    language, _, country = locale.partition("_")
    # Where a language has two scripts, its data is filed by script: zh_Hant_TW for zh_TW.
    names = (f"{locale}.dat", f"{language}_*_{country}.dat")
    return any(any(data.glob(name)) for name in names)
