"""Rows about the way of sound and the devices on it: channels, streams, settings, control points."""

from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import NotClient, Shown


class ChannelRow(Shown):
    """A microphone and the way of its sound."""

    microphone: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag.")
    room: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of its room.")
    name: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Name by which every device on its way knows it."
    )
    form: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Form; `spare` before it where it is one."
    )
    model: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Model code.")
    access_point: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of its access point; empty where it takes another's channel."
    )
    channel: Annotated[NotClient[int | None], Holds("number")] = Field(
        default=None, description="Channel there."
    )
    stream: Annotated[NotClient[int | None], Holds("number")] = Field(
        default=None, description="Number of its network stream."
    )
    group: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Multicast group of that stream."
    )
    position: Annotated[NotClient[int | None], Holds("number")] = Field(
        default=None, description="Channel in that stream."
    )
    mixing: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the mixer or breakout that takes it."
    )
    input: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Input of the mixer, or output of the breakout."
    )
    berth: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Charger and slots.")
    mute_group: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Mute group.")
    switch: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What its switch does.")
    return_audio: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="yes where its talker hears return audio."
    )


class StreamRow(Shown):
    """A stream of networked audio."""

    number: Annotated[NotClient[int], Holds("number")] = Field(
        default=0, description="Number in the project."
    )
    name: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Name.")
    room: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the room it belongs to."
    )
    sender: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of what sends it, or code of what others furnish."
    )
    carries: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What it carries.")
    channels: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Channels.")
    group: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Multicast group.")
    receivers: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Tags of what takes it, or codes of what others furnish."
    )
    bandwidth_bit_s: Annotated[NotClient[float], Holds("bits per second")] = Field(
        default=0.0, description="What it takes of a link, bit/s."
    )


class AudioEndRow(Shown):
    """An input or output of a mixer or breakout beside those of microphones."""

    device: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the mixer or breakout."
    )
    direction: Annotated[NotClient[str], Holds("text")] = Field(default="", description="input or output.")
    port: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Port, or stream of networked audio."
    )
    name: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What is connected.")
    signal: Annotated[NotClient[str], Holds("text")] = Field(default="", description="How it is carried.")
    channels: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Channels.")


class SettingRow(Shown):
    """A step of a device's configuration sheet."""

    device: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of the device.")
    step: Annotated[NotClient[int], Holds("number")] = Field(
        default=0, description="Place in the order of the work, from 1."
    )
    name: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What is set.")
    value: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What it is set to.")


class ControlRow(Shown):
    """Something that a control system can read or set."""

    device: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of the device.")
    point: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What it is.")
    access: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="read, set, or read and set."
    )
    value: Annotated[NotClient[str], Holds("text")] = Field(default="", description="What it holds.")
    through: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the device that answers for it."
    )
    address: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Where that one answers."
    )
    port: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Transport and port of its control."
    )
