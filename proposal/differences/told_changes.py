"""What changed, told in sentences: by cause and subject, with what the price of each room does.

Every sentence is made of two documents that were restricted to one reader, so that none tells more than the
reader may see.
"""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from proposal.differences.building_sentences import building_sentences
from proposal.differences.changes import Changes
from proposal.differences.inputs import PLACED, ROOM_TYPE, AskedRow
from proposal.differences.rewritten_texts import rewritten_texts
from proposal.differences.room_sentences import room_sentences
from proposal.differences.terms_sentences import day_sentences, terms_sentences
from proposal.document.document import Document
from proposal.document.offer_totals import offered_rooms
from proposal.document.rows.price import NOTHING
from proposal.document.rows.rooms import RoomRow
from proposal.document.schedule import ALL, BUYERS, Row, Schedule, Shows, composed
from proposal.quantities import formatting

ChangeCause = Literal["chosen", "asked", "follows", "dates", "terms", "texts"]
"""Chosen among the alternates; asked for in the brief; what follows in other rooms and in the building."""
_MOST_NAMED = 2
"""More rooms of one kind are named by their tags."""
BUILDING = ""
"""Key of what serves several rooms, as in the offer."""


class ToldChange(Row):
    """What changed about one subject: rooms that changed alike, the building, days, terms."""

    schedule: ClassVar = Schedule("told_change", subject="terms", key=("cause", "about"))

    cause: Annotated[ChangeCause, Shows("follows_from", ALL, drawn=True)] = Field(description="Why.")
    about: Annotated[str, Shows("what", ALL)] = Field(
        default="", description="What it is about, in words; empty where the cause says it."
    )
    sentences: Annotated[tuple[str, ...], Shows("in_detail", ALL, lines=True)] = Field(
        default=(), description="What changed, a sentence each."
    )
    price_before: Annotated[Decimal | None, Shows("input_before", BUYERS, "money", sums=True)] = Field(
        default=None, description="Price before tax in the earlier state; none where it has no price."
    )
    price_now: Annotated[Decimal | None, Shows("input_after", BUYERS, "money", sums=True)] = Field(
        default=None, description="Price before tax now."
    )

    @composed(Shows("difference", BUYERS, "difference", sums=True))
    def price_difference(self) -> Decimal | None:
        """How much more it costs now."""
        if self.price_before is None and self.price_now is None:
            return None
        return (self.price_now or NOTHING) - (self.price_before or NOTHING)


def told_changes(changes: Changes) -> tuple[ToldChange, ...]:
    """Return what changed between two states, in sentences: what was chosen and asked for first.

    changes: of one reader. Prices of rooms are those that both documents tell; together they come to the
    difference of the whole price.
    """
    return (
        *_chosen(changes),
        *_rooms(changes),
        *_other("dates", day_sentences(changes)),
        *_other("terms", terms_sentences(changes)),
        *(ToldChange(cause="texts", about=title, sentences=told) for title, told in rewritten_texts(changes)),
    )


def _chosen(changes: Changes) -> Iterator[ToldChange]:
    known = {row.key for row in changes.before.document.included_alternates}
    for row in changes.after.document.included_alternates:
        if row.key not in known:
            yield ToldChange(
                cause="chosen",
                about=row.name,
                sentences=(row.description, "It is part of the proposal and of its price now."),
            )


def _other(cause: ChangeCause, sentences: Iterable[str]) -> Iterator[ToldChange]:
    told = tuple(sentences)
    if told:
        yield ToldChange(cause=cause, sentences=told)


def _rooms(changes: Changes) -> Iterator[ToldChange]:
    """Yield rooms that changed, those alike together, and what serves several rooms."""
    before, after = changes.before.document, changes.after.document
    then, now = _prices(before), _prices(after)
    comparable = before.cover.currency == after.cover.currency
    asked = _asked(changes)
    alike: dict[tuple[int, tuple[str, ...], bool], list[RoomRow]] = {}
    rooms = {row.tag: row for row in (*before.rooms, *after.rooms)}
    for tag, room in rooms.items():
        told = room_sentences(tag, before, after, changes.inputs.asked)
        dearer = comparable and then.get(tag) != now.get(tag)
        if told or dearer:
            # Where nothing but the share of the price changed, nothing was asked for.
            rank = asked.get(tag, 2) if told else 2
            alike.setdefault((rank, told, dearer), []).append(room)
    for (rank, sentences, _), members in sorted(alike.items(), key=lambda one: one[0][0]):
        tags = [room.tag for room in members]
        yield ToldChange(
            cause="asked" if rank < 2 else "follows",
            about=_called(members) if sentences else f"Other rooms: {_tags(members)}",
            sentences=sentences,
            price_before=_sum(then, tags) if comparable else None,
            price_now=_sum(now, tags) if comparable else None,
        )
    told = building_sentences(changes)
    if told or (comparable and then.get(BUILDING) != now.get(BUILDING)):
        yield ToldChange(
            cause="follows",
            about="The building as a whole",
            sentences=told,
            price_before=then.get(BUILDING) if comparable else None,
            price_now=now.get(BUILDING) if comparable else None,
        )


def _called(rooms: list[RoomRow]) -> str:
    if len(rooms) > _MOST_NAMED and len({room.type for room in rooms}) == 1:
        return f"{rooms[0].type}: {_tags(rooms)}"
    return formatting.listed([f"{room.name} ({room.tag})" for room in rooms])


def _tags(rooms: list[RoomRow]) -> str:
    return formatting.listed([room.tag for room in rooms])


def _prices(document: Document) -> Mapping[str, Decimal]:
    return {row.key: row.price for row in offered_rooms(document.offer)}


def _sum(prices: Mapping[str, Decimal], tags: list[str]) -> Decimal | None:
    held = [prices[tag] for tag in tags if tag in prices]
    return sum(held, NOTHING) if held else None


def _asked(changes: Changes) -> dict[str, int]:
    """Return the rooms that something was asked for: 0 where a device was placed, else 1."""
    before, after = changes.before.document, changes.after.document
    found: dict[str, int] = {}
    for document in (before, after):
        devices = {row.tag: row.room for row in document.devices}
        kinds: dict[str, set[str]] = {}
        for room in document.rooms:
            kinds.setdefault(_type_key(document, room), set()).add(room.tag)
        for one in changes.inputs.asked:
            for tag in _rooms_of(one, devices, kinds):
                found[tag] = min(found.get(tag, 1), 0 if one.kind == PLACED else 1)
    return found


def _rooms_of(one: AskedRow, devices: Mapping[str, str], kinds: Mapping[str, set[str]]) -> Iterable[str]:
    if one.kind == PLACED:
        return [devices[one.name]] if one.name in devices else []
    return kinds.get(one.name, ()) if one.kind == ROOM_TYPE else [one.name]


def _type_key(document: Document, room: RoomRow) -> str:
    """Return the name of a room's type, for a room with a sheet of its own too."""
    tags = {row.tag for row in document.rooms}
    by_title = {sheet.title: sheet.key for sheet in document.room_sheets if sheet.key not in tags}
    return by_title.get(room.type, room.sheet)
