"""Start a project: `proposal new`."""

import shlex
from pathlib import Path
from typing import Annotated

import typer

from proposal.commands.arguments import given_path
from proposal.running import say


def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", parser=given_path, help="Where to write it.")],
) -> None:
    """Write a small starter project that builds.

    FOLDER must not exist yet.
    """
    from proposal.publish.starter_project import new_project

    new_project(folder)
    say(f"{folder} is ready: edit its files, then run  proposal build {shlex.quote(str(folder))}")
