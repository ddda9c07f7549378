"""Print the JSON Schemas of files: `proposal schema`."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer

from proposal.commands.arguments import LibraryFolder, given_path
from proposal.running import say


class SchemaKind(StrEnum):
    """What a schema describes."""

    project = "project"
    building = "building"
    room_type = "room_type"
    room = "room"
    rooms_csv = "rooms_csv"
    fixed = "fixed"
    requirements = "requirements"
    alternate = "alternate"
    library = "library"
    labour = "labour"
    price_list = "price_list"
    document = "document"


def schema(
    kind: Annotated[
        SchemaKind, typer.Argument(metavar="KIND", help="Kind of file to describe.")
    ] = SchemaKind.project,
    write: Annotated[
        Path | None,
        typer.Option(
            "--write",
            metavar="FOLDER",
            parser=given_path,
            help="Write the schemas of all kinds into a folder instead.",
        ),
    ] = None,
    models: Annotated[
        bool,
        typer.Option(
            "--models",
            help="List the models of the library instead, kind by kind: the codes that files may name, what "
            "each is and what it needs.",
        ),
    ] = False,
    text: Annotated[
        bool,
        typer.Option("--text", help="Print a list to read: a line a field, with its form and its default."),
    ] = False,
    library: LibraryFolder = None,
) -> None:
    """Print the JSON Schema of a kind of file, the same as a list to read, or the models that files may name.

    KIND is project, building, room_type, room, rooms_csv, fixed, requirements, alternate, library, labour or
    price_list (a mapping of `import`) for what people write, or document for what `export` prints.
    """
    if models:
        _list_models(library)
        return
    from proposal.exports.document_json import document_schema
    from proposal.model.schema import schema_of, schema_text, schemas
    from proposal.model.schema_in_words import schema_in_words
    from proposal.publish.output_paths import write_user_files

    if write is None:
        one = document_schema() if kind is SchemaKind.document else schema_of(kind.value)
        if text:
            say("\n".join(schema_in_words(one)))
        else:
            say(schema_text(one), ended=True)
        return
    known: dict[str, dict[str, Any]] = {**schemas(), "document": document_schema()}
    files = {write / f"{name}.schema.json": schema_text(one).encode("utf-8") for name, one in known.items()}
    write_user_files(files)
    say(f"{len(known)} schemas written to {write}")


def _list_models(library: Path | None) -> None:
    """Print the models of the shared library and of a company's own."""
    from proposal.model.equipment.models_in_words import models_in_words
    from proposal.model.loading import load_project
    from proposal.resources import resource

    # The starter has no library of its own: what it may name is what every project may.
    known = load_project(resource("shared") / "starter", library=library).library
    say("\n".join(models_in_words(known)))
