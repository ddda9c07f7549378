"""The inputs of an issued record: every file that a revision was computed from, and what they make again.

`inputs/` holds the project's own files as they were, `library/shared/` and `library/company/` the data that
shipped with the program and the company's own. They are written beside the records, and the revision is
computed from them as they lie there, before they go into the record's archive.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path

from proposal.errors import InputError, Problem
from proposal.model.folder_files import read_folder
from proposal.model.issued import REGISTER_BEFORE
from proposal.model.loading import LABOUR, SHARED_LIBRARY, load_source, register_of
from proposal.model.source import ProjectSource
from proposal.publish.record import INPUTS, LIBRARY
from proposal.resources import company_library, resource

SHARED_FOLDERS = (*SHARED_LIBRARY, LABOUR, "price", "radio", "wording")


def frozen_inputs(folder: Path, library: Path | None) -> dict[str, bytes]:
    """Return every file that a project is computed from, by its path in a record.

    folder: the project folder.
    library: folder of a company's own library; left out, what the environment names, if anything.
    Raises InputError where the folder holds what it should not.
    """
    problems: list[Problem] = []
    files = read_folder(folder, problems)
    if files is None or problems:
        raise InputError(problems)
    found = {f"{INPUTS}/{path}": content for path, content in files.items()}
    for name in SHARED_FOLDERS:
        found |= _data_files(resource("shared") / name, f"{LIBRARY}/shared/{name}")
    company = company_library(library)
    if company is not None:
        found |= _data_files(company, f"{LIBRARY}/company")
        found |= _data_files(company / LABOUR, f"{LIBRARY}/company/{LABOUR}")
    return found


def _data_files(folder: Path, name: str) -> Mapping[str, bytes]:
    return {f"{name}/{path.name}": path.read_bytes() for path in _yaml_files(folder)}


def _yaml_files(folder: Path) -> Iterator[Path]:
    if folder.is_dir():
        for path in sorted(folder.iterdir()):
            if path.name.endswith(".yaml") and not path.name.startswith(".") and path.is_file():
                yield path


def frozen_source(record: Path, name: str, named: Mapping[str, str]) -> ProjectSource:
    """Return what makes the project of a record: from its own files alone, wherever it lies.

    record: its folder.  name: the same as a project names it, such as `issued/B`, for messages.
    named: what the call that issued it named otherwise than project.yaml.
    Raises InputError where the record does not hold a good project.
    """
    problems: list[Problem] = []
    before = register_of(record, REGISTER_BEFORE, problems, name)
    if problems:
        raise InputError(problems)
    company = record / LIBRARY / "company"
    return load_source(
        record / INPUTS,
        library=company if company.is_dir() else None,
        issued=before,
        named=named,
        shared=record / LIBRARY / "shared",
    )
