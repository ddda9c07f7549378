"""Rows of what mutes groups of microphones: control panels or computers that the client furnishes."""

from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.rooms import RoomSheet
from proposal.document.schedule import ALL, Row, Schedule, Shows
from proposal.field_classes import dataclass

ALL_TOGETHER = "all"
"""What mutes every microphone of a room."""
BY_GROUP = "mute"
"""The control point that mutes one input, and so each group by itself."""


class MuteControlRow(Row):
    """What the panels or computers of a kind of room have to mute, and who sets it."""

    schedule: ClassVar = Schedule("mute_control", subject="sound", key=("kind",))

    kind: Annotated[str, Shows("kind_of_room", ALL)] = Field(description="The kind of room.")
    rooms: Annotated[tuple[str, ...], Shows("rooms", ALL, "tag", link="tag")] = Field(
        description="Tags of its rooms, each of which needs one."
    )
    groups: Annotated[tuple[str, ...], Shows("muted_together", ALL)] = Field(
        description="Mute groups; all where every microphone is of one."
    )
    operators: Annotated[tuple[str, ...], Shows("set_and_released_by", ALL, empty="not_stated")] = Field(
        description="Group and who sets and releases its mute."
    )
    controls: Annotated[tuple[str, ...], Shows("by_equipment_of_the_owner", ALL, empty="to_be_chosen")] = (
        Field(description="Control processors of the owner that serve the rooms.")
    )

    joined_at: Annotated[tuple[str, ...], Shows("mutes_joined_at", ALL, empty="none_left")] = Field(
        default=(),
        description="Free ports at which they join the network, in the room or in its rack.",
    )
    run_m: Annotated[float | None, Shows("longest_run_of_ours", ALL, "length", empty="in_the_room")] = Field(
        default=None,
        description="Longest network cable of ours between one of the rooms and those ports, m; none where "
        "they are in the room.",
    )
    passes: Annotated[tuple[str, ...], Shows("openings_on_the_way", ALL, "tag", empty="none")] = Field(
        default=(), description="Tags of the openings in rated walls and floors on that way."
    )

    @property
    def people(self) -> tuple[str, ...]:
        """Who sets and releases mutes there, each once; one that nobody names where none is told."""
        return tuple(dict.fromkeys(one.partition(": ")[2] or one for one in self.operators)) or ("",)


@dataclass(frozen=True, slots=True)
class PanelCount:
    """How many panels that mute are wanted of the client.

    least: one in each room.  most: where people who mute in one room do not share one.
    shared: tags of the rooms in which several people mute.
    """

    least: int
    most: int
    shared: tuple[str, ...]

    @property
    def more(self) -> bool:
        """Whether more than one a room may be wanted."""
        return self.most > self.least


def panel_count(rows: Sequence[MuteControlRow]) -> PanelCount:
    """Return how many panels that mute are wanted where no equipment of the owner is known to do it.

    rows: of all kinds of room.
    """
    wanted = [row for row in rows if not row.controls]
    return PanelCount(
        least=sum(len(row.rooms) for row in wanted),
        most=sum(len(row.rooms) * len(row.people) for row in wanted),
        shared=tuple(room for row in wanted if len(row.people) > 1 for room in row.rooms),
    )


def mute_controls(sheets: Sequence[RoomSheet]) -> Iterator[MuteControlRow]:
    """Yield a row for each kind of room in which several microphones are to be muted at once.

    sheets: of the kinds of room.
    """
    for sheet in sheets:
        groups = mute_groups(sheet)
        asked = len(groups) > 1 or bool(sheet.mute_operators)
        if sheet.mute_points and asked:
            yield MuteControlRow(
                kind=sheet.title,
                rooms=sheet.rooms,
                groups=(*groups, ALL_TOGETHER) if mutes_groups(sheet, groups) else (ALL_TOGETHER,),
                operators=_operators(sheet, groups),
                controls=sheet.mute_controls,
                joined_at=sheet.mutes_joined_at,
                run_m=sheet.mutes_run_m,
                passes=sheet.mutes_pass,
            )


def mutes_groups(sheet: RoomSheet, groups: Sequence[str]) -> bool:
    """Return whether there are several groups and each can be muted by itself, not all microphones alone.

    groups: mute groups of a kind of room.
    """
    return len(groups) > 1 and any(name == BY_GROUP for _, name in sheet.mute_points)


def _operators(sheet: RoomSheet, groups: Sequence[str]) -> tuple[str, ...]:
    """Return who sets which mute, in the order of the groups; once where it is the same person for all."""
    by = dict(sheet.mute_operators)
    known = [group for group in (*groups, ALL_TOGETHER) if group in by]
    if len(known) > 1 and len({by[group] for group in known}) == 1:
        return (by[known[0]],)
    return tuple(f"{group}: {by[group]}" for group in known)


def mute_groups(sheet: RoomSheet) -> tuple[str, ...]:
    """Return the mute groups of a room's microphones, those of wireless ones first."""
    every = [one.mute_group for one in sheet.microphones]
    every += [one.mute_group for one in sheet.wired_microphones]
    return tuple(dict.fromkeys(group for group in every if group))
