"""The states of a project that can be compared: issued revisions, folders, commits, and the present one."""

import gc
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from proposal.differences.changes import Changes, State
from proposal.differences.inputs import InputRow, Inputs, inputs_of
from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.inputs import InputChange, input_changes
from proposal.model.issued import MANIFEST
from proposal.publish.record import INPUTS, LIBRARY, document_in, files_in
from proposal.publish.record_contents import contents
from proposal.publish.record_layouts import PROPOSAL
from proposal.publish.record_order import layout_in
from proposal.quantities.messages import printable
from proposal.resources import company_library, resource

PRESENT = "."
_REVISION = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,15}")
_PREFIXES = ("revision", "folder", "git")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProjectState:
    """A state with what it was made from.

    state: what it is called and says, before anybody's edition of it is made.
    files: the project's own files by path.
    library: the data beside the project by path; None where it is what this program and call have.
    """

    state: State
    files: Mapping[str, bytes]
    library: Mapping[str, bytes] | None


def compared(project: Path, before: str, after: str, reader: Reader, library: Path | None = None) -> Changes:
    """Return what changed between two states of a project, as a reader sees it.

    project: the project folder.
    before, after: each an issued revision's identity, `.` for the present state, the path of another
        project folder, or a git commit, tag or branch; `revision:`, `folder:` or `git:` before it says which
        of them is meant.
    library: a company's own library.
    Raises InputError where a name stands for no state or for several, or a state cannot be read.
    """
    from proposal.editions import changes_for
    from proposal.model.folder_files import read_folder

    # An empty name would be the folder where the program was called.
    empty = [Place(place) for place, name in (("BEFORE", before), ("AFTER", after)) if not name.strip()]
    if empty:
        raise InputError(Problem(place, "", "wanted a state; found an empty name") for place in empty)
    missing: list[Problem] = []
    if not project.is_dir() and read_folder(project, missing) is None:
        raise InputError(missing)
    chosen = [_chosen(project, name, library) for name in (before, after)]
    problems = [one for one in chosen if isinstance(one, Problem)]
    if problems:
        raise InputError(problems)
    first, second = (one() for one in chosen if not isinstance(one, Problem))
    return changes_for(reader, first.state, second.state, inputs_between(first, second, library))


def inputs_between(before: ProjectState, after: ProjectState, library: Path | None) -> Inputs:
    """Return what changed in the inputs of two states, for all readers together.

    library: a company's own library that states without data of their own were computed with.
    """
    rows = [_input_row(one) for one in input_changes(before.files, after.files)]
    return inputs_of(rows, _elsewhere(before, after, library))


def _input_row(change: InputChange) -> InputRow:
    return InputRow(
        path=change.path,
        before=change.before,
        after=change.after,
        file=change.place.file,
        line=change.place.line,
        kind=change.kind,
    )


def _elsewhere(before: ProjectState, after: ProjectState, library: Path | None) -> list[str]:
    """Return what else differs: the program and the data beside the project."""
    found: list[str] = []
    versions = [one.state.document.program_version for one in (before, after)]
    if versions[0] != versions[1]:
        found.append(f"computed by version {versions[1]} of the program, before by version {versions[0]}")
    if before.library is None and after.library is None:
        return found
    present = None if before.library is not None and after.library is not None else present_library(library)
    then, now = (present if one.library is None else one.library for one in (before, after))
    assert then is not None
    assert now is not None
    names = sorted(name for name in {*then, *now} if then.get(name) != now.get(name))
    if names:
        more = f" and {len(names) - 3} more" if len(names) > 3 else ""
        found.append(f"other data beside the project: {', '.join(map(printable, names[:3]))}{more}")
    return found


def present_library(library: Path | None) -> dict[str, bytes]:
    """Return the data that this program and a company's library hold now, by path as records name it."""
    from proposal.model.loading import LABOUR

    found = _below(
        resource("shared"), "shared", ("equipment", "materials", LABOUR, "price", "radio", "wording")
    )
    company = company_library(library)
    if company is not None:
        found |= _below(company, "company", ("", LABOUR))
    return found


def _below(folder: Path, name: str, inside: Sequence[str]) -> dict[str, bytes]:
    return {
        f"{name}/{inner}/{path.name}" if inner else f"{name}/{path.name}": path.read_bytes()
        for inner in inside
        for path in sorted((folder / inner).glob("*.yaml"))
        if path.is_file() and not path.name.startswith(".")
    }


def _chosen(project: Path, name: str, library: Path | None) -> Callable[[], ProjectState] | Problem:
    """Return how the state that a name stands for is read, or what is wrong with the name."""
    from proposal.publish.git_commits import commit_of, complaint_of_git

    kind, _, rest = name.partition(":")
    only = kind if kind in _PREFIXES and rest else ""
    wanted = rest if only else name
    if wanted == PRESENT and only in ("", "folder"):
        return lambda: folder_state(project, "the present state", library, "")
    found: dict[str, Callable[[], ProjectState]] = {}
    record = project / "issued" / wanted
    if only in ("", "revision") and _REVISION.fullmatch(wanted) and (record / MANIFEST).is_file():
        found["revision"] = lambda: record_state(record, wanted)
    folder = Path(wanted)
    if only in ("", "folder") and folder.is_dir():
        shown_as = printable(wanted.rstrip("/") or wanted)
        found["folder"] = lambda: folder_state(folder, f"folder {shown_as}", library, f"{shown_as}/")
    commit = commit_of(project, wanted) if only in ("", "git") else None
    if commit is not None:
        found["git"] = lambda: commit_state(project, wanted, commit, library)
    if len(found) == 1:
        return next(iter(found.values()))
    place = Place(printable(name))
    if not found:
        what = _WHAT.get(only, "an issued revision, `.`, a project folder, or a commit, tag or branch of git")
        why = complaint_of_git(project) if only in ("", "git") and project.is_dir() else ""
        return Problem(place, "", f"wanted {what}; found none of this name" + (f" ({why})" if why else ""))
    several = " and ".join(f"{prefix}:{printable(wanted)}" for prefix in found)
    return Problem(place, "", f"wanted a name that stands for one state; found {several}: write one of these")


_WHAT: Mapping[str, str] = {
    "revision": "an issued revision",
    "folder": "a project folder",
    "git": "a commit, tag or branch of git",
}


def folder_state(folder: Path, label: str, library: Path | None, prefix: str) -> ProjectState:
    """Return the state of a project folder, computed now.

    folder: the project folder.
    label: what the state is called.
    library: a company's own library.
    prefix: what stands before its files in messages.
    Raises InputError where the project is wrong.
    """
    from proposal.document.making.document import document_of
    from proposal.model.folder_files import read_folder
    from proposal.model.loading import load_project
    from proposal.pipeline import compute

    # As in other commands: what is computed stays, and to search it for cycles takes time.
    enabled = gc.isenabled()
    gc.disable()
    try:
        files = read_folder(folder, []) or {}
        document = document_of(compute(load_project(folder, library=library)))
    except InputError as error:
        raise InputError(replace(one, place=_within(prefix, one.place)) for one in error.problems) from None
    finally:
        if enabled:
            gc.freeze()  # what was read and computed is kept to the end: it is not collected later either
            gc.enable()
    return ProjectState(state=_state(label, document), files=files, library=None)


def _within(prefix: str, place: Place) -> Place:
    """Return a place with what tells of which state it is; shared data belong to none."""
    return place if place.file.startswith("shared/") else place._replace(file=prefix + place.file)


def commit_state(project: Path, name: str, commit: str, library: Path | None) -> ProjectState:
    """Return the state of a project in a commit.

    project: the project folder.
    name: as it was asked for.
    commit: identity of the commit.
    library: a company's own library.
    """
    from proposal.publish.files import temporary_folder
    from proposal.publish.git_commits import write_commit

    short = commit[:10]
    label = f"commit {printable(name)}" + ("" if commit.startswith(name) else f" ({short})")
    with temporary_folder() as folder:
        write_commit(project, commit, printable(name), folder)
        return folder_state(folder.path, label, library, f"{printable(name)}:")


def record_state(record: Path, revision: str) -> ProjectState:
    """Return the state of an issued revision, as its record keeps it; nothing is computed.

    record: its folder.
    revision: its identity.
    """
    return state_in(contents(record, layout_in(record), (PROPOSAL,)), revision)


def state_in(held: Mapping[str, bytes], revision: str) -> ProjectState:
    """Return the state of an issued revision.

    held: the contents of its record.
    revision: its identity.
    """
    return ProjectState(
        state=_state(f"revision {revision}", document_in(held, printable(f"issued/{revision}"))),
        files=files_in(held, INPUTS),
        library=files_in(held, LIBRARY),
    )


def _state(label: str, document: Document) -> State:
    return State(label=label, document=document, date=document.cover.revision.date)
