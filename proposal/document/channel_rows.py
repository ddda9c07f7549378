"""Rows about the way of sound and the devices on it: channels, streams, settings, control points."""

from pydantic import Field

from proposal.document.readers import NotClient, Shown


class ChannelRow(Shown):
    """A microphone and the way of its sound."""

    microphone: NotClient[str] = Field(default="", description="Tag.")
    room: NotClient[str] = Field(default="", description="Tag of its room.")
    name: NotClient[str] = Field(default="", description="Name by which every device on its way knows it.")
    form: NotClient[str] = Field(default="", description="Form; `spare` before it where it is one.")
    model: NotClient[str] = Field(default="", description="Model code.")
    access_point: NotClient[str] = Field(
        default="", description="Tag of its access point; empty where it takes another's channel."
    )
    channel: NotClient[int | None] = Field(default=None, description="Channel there.")
    stream: NotClient[int | None] = Field(default=None, description="Number of its network stream.")
    group: NotClient[str] = Field(default="", description="Multicast group of that stream.")
    position: NotClient[int | None] = Field(default=None, description="Channel in that stream.")
    mixing: NotClient[str] = Field(default="", description="Tag of the mixer or breakout that takes it.")
    input: NotClient[str] = Field(default="", description="Input of the mixer, or output of the breakout.")
    berth: NotClient[str] = Field(default="", description="Charger and slots.")
    mute_group: NotClient[str] = Field(default="", description="Mute group.")
    switch: NotClient[str] = Field(default="", description="What its switch does.")
    return_audio: NotClient[str] = Field(default="", description="yes where its talker hears return audio.")


class StreamRow(Shown):
    """A stream of networked audio."""

    number: NotClient[int] = Field(default=0, description="Number in the project.")
    name: NotClient[str] = Field(default="", description="Name.")
    room: NotClient[str] = Field(default="", description="Tag of the room it belongs to.")
    sender: NotClient[str] = Field(
        default="", description="Tag of what sends it, or code of what others furnish."
    )
    carries: NotClient[str] = Field(default="", description="What it carries.")
    channels: NotClient[int] = Field(default=0, description="Channels.")
    group: NotClient[str] = Field(default="", description="Multicast group.")
    receivers: NotClient[tuple[str, ...]] = Field(
        default=(), description="Tags of what takes it, or codes of what others furnish."
    )
    bandwidth_bit_s: NotClient[float] = Field(default=0.0, description="What it takes of a link, bit/s.")


class AudioEndRow(Shown):
    """An input or output of a mixer or breakout beside those of microphones."""

    device: NotClient[str] = Field(default="", description="Tag of the mixer or breakout.")
    direction: NotClient[str] = Field(default="", description="input or output.")
    port: NotClient[str] = Field(default="", description="Port, or stream of networked audio.")
    name: NotClient[str] = Field(default="", description="What is connected.")
    signal: NotClient[str] = Field(default="", description="How it is carried.")
    channels: NotClient[int] = Field(default=0, description="Channels.")


class SettingRow(Shown):
    """A step of a device's configuration sheet."""

    device: NotClient[str] = Field(default="", description="Tag of the device.")
    step: NotClient[int] = Field(default=0, description="Place in the order of the work, from 1.")
    name: NotClient[str] = Field(default="", description="What is set.")
    value: NotClient[str] = Field(default="", description="What it is set to.")


class ControlRow(Shown):
    """Something that a control system can read or set."""

    device: NotClient[str] = Field(default="", description="Tag of the device.")
    point: NotClient[str] = Field(default="", description="What it is.")
    access: NotClient[str] = Field(default="", description="read, set, or read and set.")
    value: NotClient[str] = Field(default="", description="What it holds.")
    through: NotClient[str] = Field(default="", description="Tag of the device that answers for it.")
    address: NotClient[str] = Field(default="", description="Where that one answers.")
    port: NotClient[str] = Field(default="", description="Transport and port of its control.")
