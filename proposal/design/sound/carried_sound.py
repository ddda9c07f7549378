"""What each output of a mixer or breakout carries, and on which outputs a return is sent on."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proposal.design.connections.amplifier_channels import AmplifierChannel
from proposal.design.equipment.placed_devices import Placed
from proposal.design.sound.audio_ends import AudioEnd, audio_ends
from proposal.design.sound.channels import ChannelPlan
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.quantities.formatting import listed

RETURN_FROM, MIX = "return audio from ", "mix"


def room_ends(
    project: Project,
    room: str,
    devices: Sequence[Placed],
    amplifiers: Mapping[str, AmplifierChannel],
    plan: ChannelPlan,
) -> tuple[AudioEnd, ...]:
    """Return what is connected to the mixers or breakouts of a room, outputs with what they carry.

    devices: of the room.  amplifiers: its channels of them, by the line that they play.
    plan: channels and streams of the project.
    Loudspeakers and listeners get the mix, all return audio and the mixes of other rooms, which are closed in
    the states that do not join them. A destination gets the same but its own return audio, so that nobody far
    away hears himself. Other rooms get the mix alone, talkers a return alone. What does not mix sends each
    thing on as it came.
    """
    ends = audio_ends(project, room, devices, amplifiers, plan)
    layout = project.rooms[room].layout
    models = {device.tag: device.model for device in devices}
    entry = project.library.entry(models[ends[0].device]) if ends else None
    mixes = isinstance(entry, Mixer) or (isinstance(entry, Breakout) and entry.mixes)
    came = [end for end in ends if end.direction == "input" and end.port]
    returns = {code: end.name for end in came for code in end.joined if code in layout.returns}
    others = [end.name for end in came if end.name.startswith("mix of ") and end.name.endswith("other rooms")]

    def carried(end: AudioEnd) -> tuple[str, ...]:
        source = _alone(layout, end)
        if source:
            return (source,)
        if not mixes:
            return ()
        own = {code for code in end.joined if code in layout.destinations}
        back = [name for code, name in returns.items() if code not in own]
        return tuple(dict.fromkeys((MIX, *back, *others)))

    return tuple(
        replace(end, carries=carried(end)) if end.direction == "output" and end.port else end for end in ends
    )


def _alone(layout: RoomType, end: AudioEnd) -> str:
    """Return the one thing that an output carries, empty where that is the mix with what comes back."""
    if end.name.startswith("return audio of ") and end.name.endswith(" for talkers"):
        return RETURN_FROM + end.name.removeprefix("return audio of ").removesuffix(" for talkers")
    if end.name.startswith("mix of "):
        return MIX
    names = (layout.destinations[code].name for code in end.joined if code in layout.destinations)
    source = next(
        (end.name.removesuffix(f" for {name}") for name in names if end.name.endswith(f" for {name}")), MIX
    )
    return "" if source == MIX or end.name.startswith("loudspeakers, ") else source


def end_words(end: AudioEnd, ends: Sequence[AudioEnd]) -> str:
    """Return what comes in or goes out at a port: where it is from, what it carries, where it goes on.

    end: input or output of a mixer or breakout.
    ends: all inputs and outputs of it.
    """
    first = f"stream {end.stream} channel {end.position}, " if end.position else ""
    count = f"{end.channels} {'channel' if end.channels == 1 else 'channels'}"
    told = all(one != MIX and end.name.startswith(f"{one} for ") for one in end.carries)
    carries = "" if told else f"; carries {listed(end.carries)}"
    onward = _sent_on(end, ends)
    return f"{first}{end.name}, {count}{carries}" + (f"; sent on to {onward}" if onward else "")


def _sent_on(end: AudioEnd, ends: Sequence[AudioEnd]) -> str:
    """Return where a return goes on, `outputs A1, A2 and stream 3`; empty for all but returns."""
    if end.direction != "input" or not end.name.startswith(RETURN_FROM):
        return ""
    outputs = [one for one in ends if one.direction == "output" and end.name in one.carries]
    ports = [one.port for one in outputs if not one.stream]
    streams = [str(one.stream) for one in outputs if one.stream]
    told = [
        f"{noun if len(names) == 1 else f'{noun}s'} {', '.join(names)}"
        for noun, names in (("output", ports), ("stream", streams))
        if names
    ]
    return " and ".join(told) or "no output"
