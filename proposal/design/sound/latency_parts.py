"""The parts of the time that sound takes from a microphone: devices, radio link and network."""

from collections.abc import Mapping

from proposal.design.network.switch_paths import OWNERS_NETWORK, SwitchWays
from proposal.design.sound.channels import Channel
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Project
from proposal.standards import aes67
from proposal.standards.latency import network_delay_ms
from proposal.standards.working import Working, working

BUFFER_USE = "project.rules.latency.receive_buffer"
NETWORK = "network"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the way of sound.

    name: microphone, radio link, access point, network, mixer, breakout or amplifier.
    at: tag of the device; for the network, of the switches that are passed.
    delay_s: None where nobody says.
    asked: who is to be asked then, such as the model whose maker does not say.
    working: of the network.
    """

    name: str
    at: tuple[str, ...]
    delay_s: float | None
    asked: str = ""
    working: Working | None = None


class Parts:
    """What parts of the way take, from the library and from the way through the switches."""

    def __init__(self, project: Project, entries: Mapping[str, Device], ways: SwitchWays) -> None:
        """Take what is known.

        entries: library entry by tag.
        ways: through the switches.
        """
        self._project, self._entries, self._ways = project, entries, ways

    def to_access_point(self, channel: Channel) -> tuple[Part, ...]:
        """Return microphone, radio link and access point of a channel."""
        point = self._entries[channel.access_point]
        link_s = point.radio.latency if isinstance(point, AccessPoint) else None
        return (
            self.device(channel.microphone, "microphone"),
            Part(
                name="radio link",
                at=(channel.access_point,),
                delay_s=link_s,
                asked=point.model if link_s is None else "",
            ),
            self.device(channel.access_point, "access point"),
        )

    def device(self, tag: str, name: str) -> Part:
        """Return a device as a part.

        tag: of the device.
        name: of the part.
        """
        entry = self._entries[tag]
        return Part(
            name=name, at=(tag,), delay_s=entry.latency, asked=entry.model if entry.latency is None else ""
        )

    def mixing(self, tag: str, *, cancelling: bool = False) -> Part:
        """Return a mixer or breakout as a part.

        tag: of the device.
        cancelling: whether sound passes an echo canceller in it.
        """
        entry = self._entries[tag]
        name = "mixer" if isinstance(entry, Mixer) else "breakout"
        part = self.device(tag, name)
        if cancelling and isinstance(entry, Mixer) and entry.latency_with_echo_canceller is not None:
            return Part(
                name="mixer with echo canceller", at=(tag,), delay_s=entry.latency_with_echo_canceller
            )
        return part

    def network(self, sender: str, receiver: str) -> Part | None:
        """Return the network between two devices as a part; None where no way leads there.

        sender, receiver: tags of devices.
        """
        switches = self._ways.between(sender, receiver)
        return None if switches is None else self._through(sender, receiver, switches)

    def onto_network(self, sender: str, receiver: str) -> Part | None:
        """Return the network to a receiver that nobody placed: the switch of the sender; None without one.

        sender: tag of the device.
        receiver: what it is called.
        """
        switch = self._ways.switch_of(sender)
        return None if switch is None else self._through(sender, receiver, (switch,))

    def _through(self, sender: str, receiver: str, switches: tuple[str, ...]) -> Part:
        delays = {tag: self._ways.delay_s(tag) for tag in switches}
        unknown = [tag for tag, delay_s in delays.items() if delay_s is None]
        if unknown:
            return Part(name=NETWORK, at=switches, delay_s=None, asked=self._asked(unknown[0]))
        shown = working(
            network_delay_ms,
            title=f"Delay of networked audio from {sender} to {receiver}",
            uses=(BUFFER_USE,),
            packet_time_ms=1000 * aes67.PACKET_TIME_S,
            forwarding_ms=tuple(1000 * (delay_s or 0.0) for delay_s in delays.values()),
            buffer_ms=1000 * self._project.brief.rules.latency.receive_buffer,
        )
        return Part(name=NETWORK, at=switches, delay_s=shown.result / 1000, working=shown)

    def _asked(self, switch: str) -> str:
        entry = self._entries.get(switch)
        return entry.model if entry is not None and entry.model else OWNERS_NETWORK
