"""The prices that a client ever received, as an issued record keeps them: its own and all before it."""

import json
from collections.abc import Iterable, Sequence
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.publish.program_folders import ISSUED
from proposal.publish.record_contents import content
from proposal.publish.record_order import last_record_folders, layout_in
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
                "issued": True,
            }
        )
        for one in received
    )


def received_text(received: Sequence[Received]) -> str:
    """Return prices as a file keeps them, a state a line."""
    lines = (json.dumps(one.model_dump(mode="json"), ensure_ascii=False) for one in received)
    return "[\n" + ",\n".join(lines) + "\n]\n"


def received_until(records: Iterable[Path]) -> tuple[Received, ...]:
    """Return the prices that records keep: their own and those of all revisions before them, each once.

    records: folders of those that no other follows; nothing of one that was written before records kept them.
    Raises InputError where they cannot be read.
    """
    found = {(one.state, one.key): one for record in records for one in _received_of(record)}
    return tuple(found.values())


def _received_of(record: Path) -> tuple[Received, ...]:
    data = content(record, layout_in(record), RECEIVED)
    if data is None:
        return ()
    try:
        prices = _PRICES.validate_json(data)
    except ValidationError as error:
        first = error.errors()[0]
        message = f"wanted the prices that the client received; found {first['msg']}"
        raise InputError([Problem(Place(f"{ISSUED}/{record.name}/{RECEIVED}"), "", message)]) from error
    # Records of before did not say that they are what they are.
    return tuple(one.model_copy(update={"issued": True}) for one in prices)


def received_before(folder: Path) -> tuple[Received, ...]:
    """Return the prices that the client of a project ever received with an issued revision.

    folder: the project folder.
    Raises InputError where the order of the records is not clear, or the last one cannot be read.
    """
    return received_until(last_record_folders(folder))
