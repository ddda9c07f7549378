"""The streams of networked audio with the tags of the owner's equipment in them."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.design.network.streams import Stream
from proposal.design.owner.owner_devices import OwnerDevice


def with_owner_tags(streams: Sequence[Stream], owners: Sequence[OwnerDevice]) -> tuple[Stream, ...]:
    """Return the streams with the tags of the owner's equipment in place of what it is in a room."""
    tags = {
        (room, code): one.device.tag for one in owners for room in one.rooms for code in one.written.serves
    }
    return tuple(
        replace(
            stream,
            sender=tags.get((stream.room, stream.sender), stream.sender),
            receivers=tuple(tags.get((stream.room, tag), tag) for tag in stream.receivers),
        )
        for stream in streams
    )
