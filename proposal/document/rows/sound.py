"""Rows about the signal path and the devices on it: channels, streams, settings, control points."""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.portable_sets import PortableLinkRow
from proposal.document.rows.radio import RadioMoveRow
from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows, composed, gathered

# A box to be ticked on paper.
TICK = "☐"


class OnTheAir(Protocol):
    """What says where a microphone lies on the air in states other than the usual one."""

    @property
    def radio_moves(self) -> Sequence[RadioMoveRow]:
        """Links that lie elsewhere in other states."""

    @property
    def portable_links(self) -> Sequence[PortableLinkRow]:
        """Links of portable microphones in each place."""


class ChannelRow(Row):
    """A microphone and the path of its signal."""

    schedule: ClassVar = Schedule("channel", subject="sound", key=("microphone",))

    microphone: Annotated[str, Shows("microphone", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag."
    )
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of its room."
    )
    name: Annotated[str, Shows("name", NOT_CLIENT)] = Field(
        default="", description="Name by which every device on its way knows it."
    )
    form: Annotated[str, Shows("form", NOT_CLIENT, "word")] = Field(
        default="", description="Form; `spare` before it where it is one."
    )
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    access_point: Annotated[str, Shows("access_point", NOT_CLIENT, "tag", link="tag", empty="any")] = Field(
        default="", description="Tag of its access point; empty where it takes another's channel."
    )
    channel: Annotated[int | None, Shows("channel", NOT_CLIENT, "number")] = Field(
        default=None, description="Channel there."
    )
    stream: Annotated[int | None, Shows("stream", NOT_CLIENT, "number")] = Field(
        default=None, description="Number of its network stream."
    )
    group: Annotated[str, Shows("multicast_group", NOT_CLIENT, subject="addresses")] = Field(
        default="", description="Multicast group of that stream."
    )
    position: Annotated[int | None, Shows("channel_in_stream", NOT_CLIENT, "number")] = Field(
        default=None, description="Channel in that stream."
    )
    mixing: Annotated[str, Shows("mixer_or_breakout", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the mixer or breakout that takes it."
    )
    input: Annotated[str, Shows("input_or_output", NOT_CLIENT)] = Field(
        default="", description="Input of the mixer, or output of the breakout."
    )
    berth: Annotated[str, Shows("charger_and_slot", NOT_CLIENT)] = Field(
        default="", description="Charger and slots."
    )
    mute_group: Annotated[str, Shows("mute_group", NOT_CLIENT)] = Field(default="", description="Mute group.")
    switch: Annotated[str, Shows("switch", NOT_CLIENT)] = Field(
        default="", description="What its switch does."
    )
    return_audio: Annotated[str, Shows("return_audio", NOT_CLIENT)] = Field(
        default="", description="yes where its talker hears return audio."
    )

    @gathered(Shows("in_other_states", NOT_CLIENT, empty="the_same"))
    def in_other_states(self, document: OnTheAir) -> str:
        """Carrier and slot pairs in each state in which they are others than usual."""
        places = [
            *(
                (one.states, one.carrier, one.slots, one.further)
                for one in document.radio_moves
                if one.identity == self.microphone
            ),
            *(
                (one.states, one.carrier, one.slots, one.further)
                for one in document.portable_links
                if one.microphone == self.microphone
            ),
        ]
        return "; ".join(
            ", ".join(
                [
                    f"{', '.join(states)}: carrier {carrier}",
                    f"slot pairs {', '.join(map(str, slots))}",
                    *further,
                ]
            )
            for states, carrier, slots, further in dict.fromkeys(places)
            if carrier is not None
        )

    @composed(Shows("serial_number", NOT_CLIENT, "blank"))
    def serial_number(self) -> str:
        """Serial number, to be filled in."""
        return ""

    @composed(Shows("paired_and_named", NOT_CLIENT, "blank"))
    def paired(self) -> str:
        """A box to tick when it is paired and named."""
        return TICK

    @composed(Shows("by_on", NOT_CLIENT, "blank"))
    def paired_by(self) -> str:
        """Who paired it and when, to be filled in."""
        return ""


class StreamRow(Row):
    """A stream of networked audio."""

    schedule: ClassVar = Schedule("stream", subject="sound", key=("name",))

    number: Annotated[int, Shows("stream", NOT_CLIENT, "number")] = Field(
        default=0, description="Number in the project."
    )
    name: Annotated[str, Shows("name", NOT_CLIENT)] = Field(default="", description="Name.")
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the room it belongs to."
    )
    sender: Annotated[str, Shows("sent_by", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of what sends it, or code of what others furnish."
    )
    carries: Annotated[str, Shows("carries", NOT_CLIENT)] = Field(default="", description="What it carries.")
    channels: Annotated[int, Shows("channels", NOT_CLIENT, "count", sums=True)] = Field(
        default=0, description="Channels."
    )
    group: Annotated[str, Shows("multicast_group", NOT_CLIENT, subject="addresses")] = Field(
        default="", description="Multicast group."
    )
    receivers: Annotated[tuple[str, ...], Shows("taken_by", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of what takes it, or codes of what others furnish."
    )
    bandwidth_bit_s: Annotated[float, Shows("on_the_wire", NOT_CLIENT, "bits per second")] = Field(
        default=0.0, description="What it takes of a link, bit/s."
    )


class AudioEndRow(Row):
    """An input or output of a mixer or breakout beside those of microphones."""

    schedule: ClassVar = Schedule("audio_end", subject="sound", key=("device", "direction", "port"))

    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the mixer or breakout."
    )
    direction: Annotated[str, Shows("way", NOT_CLIENT)] = Field(default="", description="input or output.")
    port: Annotated[str, Shows("port", NOT_CLIENT, empty="none left")] = Field(
        default="", description="Port, or stream of networked audio."
    )
    name: Annotated[str, Shows("connected", NOT_CLIENT)] = Field(default="", description="What is connected.")
    joined: Annotated[tuple[str, ...], Shows("other_end", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of the devices at its other end, or codes of what others furnish."
    )
    owners: Annotated[tuple[str, ...], Shows("owner_equipment", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of the owner's equipment that these codes are in its room."
    )
    signal: Annotated[str, Shows("signal", NOT_CLIENT, "word")] = Field(
        default="", description="How it is carried."
    )
    channels: Annotated[int, Shows("channels", NOT_CLIENT, "count")] = Field(
        default=0, description="Channels."
    )
    carries: Annotated[tuple[str, ...], Shows("carries", NOT_CLIENT)] = Field(
        default=(), description="What an output carries, in words; none of an input."
    )


class SettingRow(Row):
    """A step of a device's configuration sheet."""

    schedule: ClassVar = Schedule("setting", subject="sound", key=("device", "name"), shares_key=True)

    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", follows=True)] = Field(
        default="", description="Tag of the device."
    )
    step: Annotated[int, Shows("step", NOT_CLIENT, "number", serial=True)] = Field(
        default=0, description="Place in the order of the work, from 1."
    )
    name: Annotated[str, Shows("setting", NOT_CLIENT)] = Field(default="", description="What is set.")
    value: Annotated[str, Shows("value", NOT_CLIENT)] = Field(default="", description="What it is set to.")

    @composed(Shows("set", NOT_CLIENT, "blank"))
    def is_set(self) -> str:
        """A box to tick when it is set."""
        return TICK


class ControlRow(Row):
    """Something that a control system can read or set."""

    schedule: ClassVar = Schedule("control", subject="sound", key=("device", "point"))

    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", link="tag", follows=True)] = Field(
        default="", description="Tag of the device."
    )
    point: Annotated[str, Shows("point", NOT_CLIENT)] = Field(default="", description="What it is.")
    access: Annotated[str, Shows("access", NOT_CLIENT)] = Field(
        default="", description="read, set, or read and set."
    )
    value: Annotated[str, Shows("holds", NOT_CLIENT)] = Field(default="", description="What it holds.")
    through: Annotated[
        str, Shows("answered_by", NOT_CLIENT, "tag", link="tag", empty="nobody", follows=True)
    ] = Field(default="", description="Tag of the device that answers for it.")
    address: Annotated[str, Shows("address", NOT_CLIENT, subject="addresses", follows=True)] = Field(
        default="", description="Where that one answers."
    )
    port: Annotated[str, Shows("port", NOT_CLIENT)] = Field(
        default="", description="Transport and port of its control."
    )
