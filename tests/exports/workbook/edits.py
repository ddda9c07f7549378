"""Edits of inputs: in the project, computed anew with the design held fixed; and in a workbook's own cell."""

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from pydantic import BaseModel

from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities.money import Money

Edit = tuple[str, str]
"""Keys of an input, joined by points, and its new value."""


def recomputed(base: Computed, edits: Sequence[Edit]) -> Computed:
    """Return everything computed anew with some inputs changed; the design and the reels stay as they are."""
    project = base.project
    for key, value in edits:
        project = _changed(project, _path(project, key), value)
    return base.with_same_equipment(project)


def _path(project: Project, key: str) -> list[str]:
    """Return the fields and keys that lead from a project to what an input is written as."""
    head, _, rest = key.partition(".")
    if head == "library":
        model = next(
            one
            for one in sorted((one.model for one in project.library.entries()), key=len, reverse=True)
            if rest.startswith(f"{one}.")
        )
        field = next(
            name for name in type(project.library).model_fields if model in getattr(project.library, name)
        )
        return ["library", field, model, *rest.removeprefix(f"{model}.").split(".")]
    if key.split(".")[1] in ("overtime", "overtime_work"):
        return ["brief", *key.split(".")]
    if key.startswith("labour.rates."):
        return ["labour", "trades", *key.split(".")[2:]]
    if head == "labour":
        return key.split(".")
    return ["brief", *key.split(".")]


def _changed(part: Any, path: Sequence[str], value: str) -> Any:
    """Return a part of a project with one value changed, and nothing kept that followed from the old one."""
    if not path:
        if isinstance(part, Money):
            return Money(Decimal(value), part.currency)
        return type(part)(value)
    first, *rest = path
    if isinstance(part, Mapping):
        return {**part, first: _changed(part[first], rest, value)}
    assert isinstance(part, BaseModel)
    fields = {name: getattr(part, name) for name in type(part).model_fields}
    return type(part).model_construct(
        part.model_fields_set, **{**fields, first: _changed(fields[first], rest, value)}
    )


def typed_in(data: bytes, cells: Mapping[str, str]) -> bytes:
    """Return a workbook with other values in some cells of its third sheet, the inputs.

    cells: new values by the names of the cells.
    """
    source, made = zipfile.ZipFile(io.BytesIO(data)), io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            content = source.read(name)
            if name == INPUTS_FILE:
                text = content.decode()
                for cell, value in cells.items():
                    text, count = re.subn(
                        rf'(<c r="{cell}"[^>]*><v>)[^<]*(</v>)', rf"\g<1>{value}\g<2>", text
                    )
                    assert count == 1, cell
                content = text.encode()
            target.writestr(name, content)
    return made.getvalue()


INPUTS_FILE = "xl/worksheets/sheet3.xml"
