"""Run the program under watch and print which fields of the project's models it reads, as JSON.

Called by test_declared.py in a process of its own: `python -m tests.declared.reads PROJECT…`. Every field
of every model that can be reached from `Project` gets a watch in its class. A watch sees `thing.field` at
the moment when it runs; it is taken away at the first read that counts, so that runs stay quick.

A read counts where code of `proposal/` outside `proposal/model/` makes it, or where a method or property of
a model makes it for such code. Not counted: validation, the checks of the model, looking for defaults,
comparing, hashing, copying, dumping and printing whole models. Not seen: a field that only a branch reads
which none of the projects takes (then a project of the tests lacks something), and whether what is read
changes anything.
"""

import inspect
import json
import shutil
import sys
import typing
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from types import FrameType
from typing import Any, NoReturn, cast

from pydantic import BaseModel

from proposal.document.making.document import document_of
from proposal.document.making.proposal import alternate_document
from proposal.document.making.sensitivity import cases_of
from proposal.model.loading import load_source
from proposal.model.project import Project
from proposal.pipeline import compute
from proposal.publish.preview import Making
from proposal.publish.proposal_preview import ProposalPreview
from tests.long_form import LONG

Field = tuple[str, str]
"""A class, with the module of its subject, and a field that is declared in it."""
# Where a project's own hourly rates are laid over those of the labour data, which alone are read later.
COMPUTING = ("proposal.model.labour.labour_files",)
# Where a model is read to be made or checked, whoever asks for it.
MAKING = tuple(
    f"proposal.model.{name}"
    for name in (
        "alternate_files",
        "assembly",
        "assumptions",
        "checks",
        "loading",
        "pictures",
        "reading",
        "schema",
        "source",
    )
)


def declared() -> dict[Field, type[BaseModel]]:
    """Return every field that can be reached from `Project`, with the class that declares it."""
    found: dict[Field, type[BaseModel]] = {}
    waiting: list[Any] = [Project]
    seen: set[Any] = set()
    while waiting:
        annotation = waiting.pop()
        waiting += typing.get_args(annotation)
        if not isinstance(annotation, type) or not issubclass(annotation, BaseModel) or annotation in seen:
            continue
        seen.add(annotation)
        for name, info in annotation.model_fields.items():
            owner = owner_of(annotation, name)
            found[called(owner), name] = owner
            waiting.append(info.annotation)
            waiting += typing.get_type_hints(owner).values()
    return found


def called(owner: type[BaseModel]) -> str:
    """Return what a class is called in the list of exceptions, such as `devices.Rack`."""
    return f"{owner.__module__.rpartition('.')[2]}.{owner.__name__}"


def owner_of(kind: type[BaseModel], name: str) -> type[BaseModel]:
    """Return the class in which a field of a model is declared first."""
    declaring = [one for one in kind.__mro__ if name in inspect.get_annotations(one)]
    owner = declaring[-1]
    assert issubclass(owner, BaseModel)
    return owner


class Watch:
    """Stands for a field in its class and tells of reads; the value itself stays in the instance."""

    def __init__(self, field: Field, read: dict[Field, str]) -> None:
        self.field, self.read = field, read

    def __get__(self, thing: Any, owner: Any = None) -> Any:
        name = self.field[1]
        if thing is None:
            raise AttributeError(name)
        value = thing.__dict__[name]
        if self.field not in self.read:
            reader = reader_of(sys._getframe(1))
            if reader:
                self.read[self.field] = reader
        return value

    def __set__(self, thing: Any, value: Any) -> None:
        thing.__dict__[self.field[1]] = value


def reader_of(frame: FrameType | None) -> str:
    """Return the module and line that a read is made for, empty where it does not count."""
    while frame is not None:
        module = str(frame.f_globals.get("__name__", ""))
        if module in COMPUTING:
            return f"{module}:{frame.f_lineno}"
        if module.startswith(("pydantic", *MAKING)):
            return ""
        if module.startswith("proposal.") and not module.startswith("proposal.model."):
            return f"{module}:{frame.f_lineno}"
        if module.startswith("tests."):
            return ""
        frame = frame.f_back
    return ""


@contextmanager
def watched(fields: dict[Field, type[BaseModel]]) -> Iterator[dict[Field, str]]:
    """Give the reads that are made meanwhile: by field, who read it first."""
    read: dict[Field, str] = {}
    for field, owner in fields.items():
        type.__setattr__(owner, field[1], Watch(field, read))
    try:
        yield read
    finally:
        for field, owner in fields.items():
            type.__delattr__(owner, field[1])


def run(folder: Path) -> None:
    """Make all that a project's proposal says, but its sites and drawings; alternates in the long form.

    No field is read for an alternate alone: the long form would find it not listed.
    """
    source = load_source(folder)
    document_of(compute(source.base))
    for key in source.open if LONG else ():
        alternate_document(source, key)
    cases_of(source.base)


class PagesShownError(Exception):
    """A preview is as far as to show its pages."""


class Showing:
    """Stands for the making of a preview, and ends it before the first page is made."""

    def say_pending(self, words: str) -> None:
        """Take what is still to come."""

    def show_ahead(self, contents: Callable[[str], bytes | None]) -> NoReturn:
        """Take what gives pages and pictures."""
        raise PagesShownError


def show(folder: Path) -> None:
    """Begin to preview a project: what sites read of it besides its editions."""
    with TemporaryDirectory() as place, suppress(PagesShownError):
        copy = Path(place) / folder.name
        shutil.copytree(folder, copy, ignore=shutil.ignore_patterns("build"))
        source = load_source(copy)
        preview = ProposalPreview(copy, None, "client", lambda: (source, compute(source.base)))
        preview.rebuild(cast(Making, Showing()))


def main(folders: list[str]) -> None:
    fields = declared()
    with watched(fields) as read:
        for folder in folders:
            run(Path(folder))
        show(Path(folders[-1]))
    print(json.dumps({"declared": sorted(fields), "read": [[*field, read[field]] for field in sorted(read)]}))


if __name__ == "__main__":
    main(sys.argv[1:])
