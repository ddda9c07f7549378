"""Arguments and options that several commands have."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class ReaderName(StrEnum):
    """Whose edition."""

    client = "client"
    reviewer = "reviewer"
    estimator = "estimator"
    installer = "installer"


def given_path(text: str) -> Path:
    """Return a path as it was named; an empty one would be the folder where the program was called.

    text: as typed.
    Raises BadParameter where it is empty.
    """
    if not text.strip():
        raise typer.BadParameter("wanted a path; found an empty text")
    return Path(text)


def given_text(text: str) -> str:
    """Return what is printed later on, as it was typed.

    text: as typed.
    Raises BadParameter where it is empty, as of a variable that is not set, or no text in UTF-8.
    """
    if not text.strip():
        raise typer.BadParameter("wanted a text; found an empty one")
    if any("\ud800" <= letter <= "\udfff" for letter in text):
        raise typer.BadParameter("wanted text in UTF-8; found other bytes")
    return text


ProjectFolder = Annotated[
    Path, typer.Argument(metavar="PROJECT", parser=given_path, help="The project folder.")
]
READER, READERS_TO_CHOOSE = "READER", "client, reviewer, estimator or installer"
EditionOption = Annotated[
    ReaderName, typer.Option("--edition", metavar=READER, help=f"Whose edition: {READERS_TO_CHOOSE}.")
]
Jobs = Annotated[
    int | None,
    typer.Option(
        "--jobs",
        metavar="N",
        min=1,
        max=64,
        help="How many processes may work at once; by default as many as there are processors.",
    ),
]
LibraryFolder = Annotated[
    Path | None,
    typer.Option(
        "--library",
        metavar="FOLDER",
        parser=given_path,
        help="A company's own equipment library; by default the one that PROPOSAL_LIBRARY names, if any.",
    ),
]
