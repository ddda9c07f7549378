"""The prices that a client ever received, as an issued record keeps them: its own and all before it."""

import json
import os
from collections.abc import Sequence
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.publish.own_paths import ISSUED, regular_content
from proposal.publish.record_order import last_record_folder
from proposal.review.received import Received

RECEIVED = "received.json"
_PRICES: TypeAdapter[tuple[Received, ...]] = TypeAdapter(tuple[Received, ...])


def issued_prices(revision: str, received: Sequence[Received]) -> tuple[Received, ...]:
    """Return what a client receives of a revision, as it is told once the revision is an earlier one.

    received: the base first, then combinations of its alternates.
    """
    return tuple(
        one.model_copy(
            update={
                "state": "combination" if one.key else "revision",
                "key": f"{revision} {one.key}".rstrip(),
                "label": f"revision {revision}, {one.label}" if one.key else f"revision {revision}",
            }
        )
        for one in received
    )


def received_text(received: Sequence[Received]) -> str:
    """Return prices as a file keeps them, a state a line."""
    lines = (json.dumps(one.model_dump(mode="json"), ensure_ascii=False) for one in received)
    return "[\n" + ",\n".join(lines) + "\n]\n"


def received_until(record: Path) -> tuple[Received, ...]:
    """Return the prices that a record keeps: its own and those of all revisions before it.

    record: its folder; nothing where it was written before records kept them.
    Raises InputError where they cannot be read.
    """
    if not os.path.lexists(record / RECEIVED):
        return ()
    place = Place(f"{ISSUED}/{record.name}/{RECEIVED}")
    try:
        data = regular_content(record / RECEIVED)
    except OSError as error:
        message = f"wanted the prices that the client received; found {error.strerror or 'none'}"
        raise InputError([Problem(place, "", message)]) from error
    try:
        return _PRICES.validate_json(data or b"")
    except ValidationError as error:
        first = error.errors()[0]
        message = f"wanted the prices that the client received; found {first['msg']}"
        raise InputError([Problem(place, "", message)]) from error


def received_before(folder: Path) -> tuple[Received, ...]:
    """Return the prices that the client of a project ever received with an issued revision.

    folder: the project folder.
    Raises InputError where the order of the records is not clear, or the last one cannot be read.
    """
    last = last_record_folder(folder)
    return () if last is None else received_until(last)
