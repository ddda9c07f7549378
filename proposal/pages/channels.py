"""Channels and settings: an overview, and a page a place with its channel list and configuration sheets."""

from typing import ClassVar

from proposal.document.document import Document
from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow, LoudspeakerLineRow
from proposal.document.rows.sound import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow
from proposal.field_classes import dataclass
from proposal.pages.loudspeaker_lines import line_tests_table, lines_table, taps_table
from proposal.pages.markdown import Html, anchor, text
from proposal.pages.page_context import PageContext
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.paths import STREAMS, file_stem
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, stream_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.pages.tables import Column
from proposal.quantities.formatting import count_of

CHANNELS = "channels.md"
ELSEWHERE = "channels/building.md"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelPlace:
    """A room, an equipment room or the building, and all about the way of sound there.

    path: of its page.  title: not escaped.
    """

    path: str
    title: str
    channels: tuple[ChannelRow, ...]
    streams: tuple[StreamRow, ...]
    ends: tuple[AudioEndRow, ...]
    lines: tuple[LoudspeakerLineRow, ...]
    taps: tuple[LineLoudspeakerRow, ...]
    settings: tuple[SettingRow, ...]
    controls: tuple[ControlRow, ...]


def channel_places_of(document: Document) -> tuple[ChannelPlace, ...]:
    """Return channels, settings and control points by place: a change to one room changes its page alone."""
    named = [(row.tag, row.name) for row in document.rooms]
    named += [(row.tag, row.name) for row in document.equipment_rooms]
    titles = {f"channels/{file_stem(tag)}.md": f"{tag} {name}" for tag, name in named}
    titles[ELSEWHERE] = "Building"
    owner = {tag: f"channels/{file_stem(tag)}.md" for tag, _ in named}
    for device in document.devices:
        owner.setdefault(device.tag, owner.get(device.room, ELSEWHERE))
    channels = grouped(document.channels, lambda row: owner.get(row.room, ELSEWHERE))
    streams = grouped(document.streams, lambda row: owner.get(row.room, ELSEWHERE))
    ends = grouped(document.audio_ends, lambda row: owner.get(row.device, ELSEWHERE))
    lines = grouped(document.loudspeaker_lines, lambda row: owner.get(row.room, ELSEWHERE))
    taps = grouped(document.line_loudspeakers, lambda row: owner.get(row.room, ELSEWHERE))
    settings = grouped(document.settings, lambda row: owner.get(row.device, ELSEWHERE))
    controls = grouped(document.controls, lambda row: owner.get(row.device, ELSEWHERE))
    held = {**channels, **streams, **ends, **lines, **settings, **controls}
    return tuple(
        ChannelPlace(
            path=path,
            title=title,
            channels=channels.get(path, ()),
            streams=streams.get(path, ()),
            ends=ends.get(path, ()),
            lines=lines.get(path, ()),
            taps=taps.get(path, ()),
            settings=settings.get(path, ()),
            controls=controls.get(path, ()),
        )
        for path, title in titles.items()
        if path in held
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelsPage:
    """Where each place's channels and settings stand, and every stream of networked audio.

    streams_title: where there are any.  stream_parts: of many, the way to the page of each part.
    """

    template: ClassVar[str] = "channels.md.jinja"
    sum: Html
    places: Html
    streams_title: Html | None
    streams: Html | None
    stream_parts: tuple[Html, ...]


def channels_page(here: PageContext, places: tuple[ChannelPlace, ...]) -> ChannelsPage:
    """Return the overview of channels and settings."""
    document = here.document
    links = links_to_parts(
        stream_parts(document), STREAMS, here.to, lambda rows: count_of(len(rows), "stream")
    )
    linked = sum(row.channel is not None for row in document.channels)
    fields: list[Field[ChannelPlace]] = [
        Field(here.heading("place"), lambda place: here.to(place.path, place.title)),
        Field(
            Column(here.heading("microphones"), numeric=True),
            lambda place: here.count(len(place.channels) or None),
        ),
        Field(
            Column(here.heading("streams"), numeric=True),
            lambda place: here.count(len(place.streams) or None),
        ),
        Field(
            Column(here.heading("devices_to_be_set"), numeric=True),
            lambda place: here.count(len({row.device for row in place.settings}) or None),
        ),
        Field(
            Column(here.heading("control_points"), numeric=True),
            lambda place: here.count(len(place.controls) or None),
        ),
    ]
    return ChannelsPage(
        sum=text(
            f"{count_of(len(document.channels), 'microphone')}, {linked} of them with a radio channel of "
            f"their own; {count_of(len(document.streams), 'stream')} of networked audio."
        ),
        places=schedule("Channels and settings by place", fields, places),
        streams_title=text("Streams of networked audio") if document.streams else None,
        streams=_streams(here, "Every stream of networked audio", document.streams)
        if document.streams and not links
        else None,
        stream_parts=links,
    )


def streams_page(here: PageContext, part: SchedulePart[StreamRow]) -> PartPage:
    """Return the page of a part of the streams of networked audio.

    part: the streams that stand on it.
    """
    title = f"Streams of networked audio, {part.title}"
    return part_page(here, title, (CHANNELS, "Channels and settings"), _streams(here, title, part.rows))


IN_SERIES = (
    "Of a line in series, one conductor leads from the minus of each loudspeaker to the plus of the next, "
    "and the other past all of them straight back to the amplifier."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelPlacePage:
    """One place: channel list, pairing sheet, inputs and outputs, streams, lines, settings, control points.

    in_series: how loudspeakers of a line in series are joined, where there is one.
    settings: tag of the device, the id of its part of the page, and its sheet.
    """

    template: ClassVar[str] = "channel-place.md.jinja"
    title: Html
    channels: Html | None
    pairing: Html | None
    ends: Html | None
    streams: Html | None
    lines: Html | None
    taps: Html | None
    line_tests: Html | None
    in_series: Html | None
    settings: tuple[tuple[Html, Html, Html], ...]
    controls: Html | None
    overview: Html


def channel_place_page(here: PageContext, place: ChannelPlace) -> ChannelPlacePage:
    """Return the page of one place."""
    return ChannelPlacePage(
        title=text(place.title),
        channels=_channels(here, place) if place.channels else None,
        pairing=_pairing(here, place) if place.channels else None,
        ends=_ends(here, place) if place.ends else None,
        streams=_streams(here, f"Streams of networked audio, {place.title}", place.streams)
        if place.streams
        else None,
        lines=lines_table(here, place.title, place.lines) if place.lines else None,
        taps=taps_table(here, place.title, place.taps) if place.taps else None,
        line_tests=line_tests_table(here, place.title, place.lines) if place.lines else None,
        in_series=text(IN_SERIES) if any(row.wiring == "series" for row in place.lines) else None,
        settings=tuple(
            (here.tag(device), Html(f"settings-{anchor(device)}"), _settings(here, device, rows))
            for device, rows in grouped(place.settings, lambda row: row.device).items()
        ),
        controls=_controls(here, place) if place.controls else None,
        overview=here.to(CHANNELS, "All channels and settings"),
    )


def _channels(here: PageContext, place: ChannelPlace) -> Html:
    fields: list[Field[ChannelRow]] = [
        *fields_of(here, ChannelRow, "microphone"),
        *(fields_of(here, ChannelRow, "room") if place.path == ELSEWHERE else ()),
        *fields_of(
            here,
            ChannelRow,
            "name",
            "access_point",
            "channel",
            "stream",
            "group",
            "position",
            "mixing",
            "input",
            "mute_group",
            "switch",
            "return_audio",
        ),
    ]
    return schedule(
        f"From each microphone to the mix, {place.title}", fields, place.channels, mark=here.mark("channels")
    )


def _pairing(here: PageContext, place: ChannelPlace) -> Html:
    by_state = any(row.in_other_states(here.document) for row in place.channels)
    fields: list[Field[ChannelRow]] = [
        *fields_of(
            here, ChannelRow, "microphone", "name", "form", "model", "berth", "access_point", "channel"
        ),
        *fields_of(here, ChannelRow, *(("in_other_states",) if by_state else ())),
        *fields_of(here, ChannelRow, "serial_number", "paired", "paired_by"),
    ]
    return schedule(f"Pairing sheet, {place.title}", fields, place.channels)


def _ends(here: PageContext, place: ChannelPlace) -> Html:
    fields: list[Field[AudioEndRow]] = [
        *fields_of(
            here,
            AudioEndRow,
            "device",
            "direction",
            "port",
            "name",
            "carries",
            "joined",
            "owners",
            "signal",
            "channels",
        ),
    ]
    return schedule(
        f"Inputs and outputs beside the microphones', {place.title}",
        fields,
        place.ends,
        mark=here.mark("audio_ends"),
    )


def _streams(here: PageContext, caption: str, rows: tuple[StreamRow, ...]) -> Html:
    fields: list[Field[StreamRow]] = [
        *fields_of(
            here,
            StreamRow,
            "number",
            "name",
            "room",
            "sender",
            "carries",
            "channels",
            "group",
            "receivers",
            "bandwidth_bit_s",
        ),
    ]
    return schedule(caption, fields, rows)


def _settings(here: PageContext, device: str, rows: tuple[SettingRow, ...]) -> Html:
    fields: list[Field[SettingRow]] = [
        *fields_of(here, SettingRow, "step", "name", "value", "is_set"),
    ]
    return schedule(f"Configuration sheet, {device}", fields, rows, row_heads=2)


def _controls(here: PageContext, place: ChannelPlace) -> Html:
    fields: list[Field[ControlRow]] = [
        *fields_of(here, ControlRow, "device", "point", "access", "value", "through", "address", "port"),
    ]
    return schedule(f"What a control system can read and set, {place.title}", fields, place.controls)
