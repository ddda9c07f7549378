"""Rows of the way of sound, of settings and of the meeting day, made from the design."""

from collections.abc import Sequence
from typing import TypedDict

from proposal.design.charging.room_days import GroupDay, RoomDay
from proposal.design.design import Design
from proposal.design.network.streams import Stream
from proposal.design.owner.owner_streams import owner_tags, with_owner_tags
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.channels import Channel
from proposal.design.sound.configuration import Setting
from proposal.design.sound.control_points import Control
from proposal.design.sound.muting import MuteState
from proposal.document.headings import Words
from proposal.document.making.by_name import ByName
from proposal.document.rows.charging import FurtherDay, MeetingDay, MuteRow, PackDay
from proposal.document.rows.sound import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow
from proposal.standards.battery import run_time_h

_CHANNEL = ByName(ChannelRow, Channel, "form", "channel", "stream", "position", "return_audio")
_STREAM = ByName(StreamRow, Stream)
_END, _SETTING, _CONTROL = (
    ByName(AudioEndRow, AudioEnd),
    ByName(SettingRow, Setting),
    ByName(ControlRow, Control),
)
_MUTE = ByName(MuteRow, MuteState)


class ChannelParts(TypedDict):
    """The rows about the way of sound."""

    channels: tuple[ChannelRow, ...]
    streams: tuple[StreamRow, ...]
    audio_ends: tuple[AudioEndRow, ...]
    settings: tuple[SettingRow, ...]
    controls: tuple[ControlRow, ...]


def channel_parts(design: Design, words: Words) -> ChannelParts:
    """Return the fields of the document that hold channels, streams, settings and control points, by name."""
    groups = {stream.number: stream.group for stream in design.channels.streams}
    room_of, owners = {one.tag: one.room for one in design.devices}, owner_tags(design.owners)
    return {
        "channels": tuple(
            _CHANNEL.of(
                one,
                form=words.text("channel.spare", form=one.form) if one.spare else one.form,
                channel=one.channel or None,
                stream=one.stream or None,
                group=groups.get(one.stream, ""),
                position=one.position or None,
                return_audio="yes" if one.return_audio else "",
            )
            for one in design.channels.channels
        ),
        "streams": tuple(
            _STREAM.of(one, bandwidth_bit_s=one.bandwidth_bit_per_s)
            for one in with_owner_tags(design.channels.streams, design.owners)
        ),
        "audio_ends": tuple(
            _END.of(
                one,
                owners=tuple(tag for code in one.joined if (tag := owners.get((room_of[one.device], code)))),
            )
            for one in design.ends
        ),
        "settings": tuple(_SETTING.of(one) for one in design.settings),
        "controls": tuple(_CONTROL.of(one) for one in design.controls),
    }


def mute_rows(states: tuple[MuteState, ...]) -> tuple[MuteRow, ...]:
    """Return the truth table of a kind of room."""
    return tuple(_MUTE.of(one) for one in states)


class DayParts(TypedDict):
    """The rows about the meeting days of a kind of room."""

    day: MeetingDay | None
    further_days: tuple[FurtherDay, ...]


def meeting_days(days: Sequence[RoomDay]) -> DayParts:
    """Return the fields of a kind of room that hold its meeting days, by name.

    days: the usual one first; none where no sessions are written.
    """
    return {
        "day": next((MeetingDay(**_day_fields(day)) for day in days if not day.name), None),
        "further_days": tuple(FurtherDay(name=day.name, **_day_fields(day)) for day in days if day.name),
    }


class _DayFields(TypedDict):
    reserve: float
    docked_share: float
    in_use_share: float
    night_h: float
    sessions: tuple[tuple[float, float], ...]
    packs: tuple[PackDay, ...]


def _day_fields(day: RoomDay) -> _DayFields:
    return {
        "reserve": day.rules.reserve,
        "docked_share": day.rules.docked_share,
        "in_use_share": day.rules.in_use_share,
        "night_h": day.night_h,
        "sessions": day.sessions,
        "packs": tuple(_pack_day(day, group) for group in day.groups),
    }


def _pack_day(day: RoomDay, group: GroupDay) -> PackDay:
    lowest = group.lowest
    battery = group.battery
    return PackDay(
        form=group.form,
        in_use=group.in_use,
        spares=group.spares,
        without_slot=group.without_slot,
        verdict=day.judged(group),
        run_time_h=run_time_h(
            battery.energy,
            battery.aged_share,
            group.pack.in_use_w,
            day.rules.full_at_start,
            day.rules.reserve,
        ),
        fresh_lowest=group.fresh.lowest,
        aged_lowest=lowest.lowest,
        lowest_at=lowest.lowest_at,
        empty_minutes=lowest.empty_minutes,
        full_after_h=lowest.full_after_h,
        held_lowest=group.held.lowest,
        held_swaps=len(group.held.swaps),
        pool=group.pool.spares if group.pool else None,
        pool_swaps=len(group.pool.swaps) if group.pool else 0,
        more_slots=group.more_slots,
        longer_breaks_min=group.longer_breaks_min,
        last_end=group.last_end,
        charge_w=group.charge_w,
        charged_w=group.pack.charge_w,
        fresh=group.fresh.points,
        aged=group.aged.points,
        slotless=group.slotless.points if group.slotless else (),
    )
