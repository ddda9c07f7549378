"""The streams of networked audio with the tags of the owner's equipment in them."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.network.streams import Stream
from proposal.design.owner.owner_devices import OwnerDevice


def owner_tags(owners: Sequence[OwnerDevice]) -> Mapping[tuple[str, str], str]:
    """Return the tag of the owner's equipment by room and code of the destination or return that it is."""
    return {
        (room, code): one.device.tag for one in owners for room in one.rooms for code in one.written.serves
    }


def with_owner_tags(streams: Sequence[Stream], owners: Sequence[OwnerDevice]) -> tuple[Stream, ...]:
    """Return the streams with the tags of the owner's equipment in place of what it is in a room."""
    tags = owner_tags(owners)
    return tuple(
        replace(
            stream,
            sender=tags.get((stream.room, stream.sender), stream.sender),
            receivers=tuple(tags.get((stream.room, tag), tag) for tag in stream.receivers),
        )
        for stream in streams
    )
