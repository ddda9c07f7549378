"""Rows for the client's network team: VLANs, what stands on them, what it uses, what is to be asked."""

from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows, composed, gathered


class VlanRow(Row):
    """A VLAN of the building that the system uses."""

    schedule: ClassVar = Schedule("vlan", subject="addresses", key=("name",))

    name: Annotated[str, Shows("name", ALL)] = Field(description="Its key under subnets.")
    vlan: Annotated[int, Shows("vlan", ALL, "number")] = Field(description="Number.")
    purpose: Annotated[str, Shows("purpose", ALL)] = Field(description="What travels on it.")
    network: Annotated[str, Shows("address_range", ALL)] = Field(description="Range of addresses.")
    gateway: Annotated[str, Shows("gateway", ALL)] = Field(description="Address of its gateway.")
    addressing: Annotated[str, Shows("addressing", ALL)] = Field(
        description="static, or reserved by the building's DHCP."
    )
    addresses_used: Annotated[int, Shows("addresses_used", ALL, "count")] = Field(
        description="Addresses given to devices."
    )
    addresses_kept: Annotated[int, Shows("addresses_kept", ALL, "count", zero=False)] = Field(
        default=0, description="Addresses that were given in an earlier issue and are given to nothing else."
    )
    addresses_free: Annotated[int, Shows("addresses_free", ALL, "count")] = Field(
        description="Addresses that are left, without the gateway's and those kept."
    )
    querier: Annotated[str, Shows("multicast_querier", ALL, "tag", link="tag", empty="none_of_ours")] = Field(
        description="Tag of the one switch of ours that asks who listens; empty where none of ours does."
    )
    clock_leader: Annotated[str, Shows("clock_leader", ALL, "tag", link="tag", empty="none")] = Field(
        description="Tag of the device that leads the clock."
    )
    clock_next: Annotated[str, Shows("next_clock_leader", ALL, "tag", link="tag", empty="none")] = Field(
        description="Tag of the device that leads when the first one is off."
    )
    groups: Annotated[int, Shows("multicast_groups", ALL, "count")] = Field(
        description="Multicast groups of streams on it."
    )
    audio_bit_s: Annotated[float, Shows("all_streams", ALL, "bits per second")] = Field(
        description="What all its streams take together, bit/s."
    )


class OnTheNetwork(Protocol):
    """What the document tells of the network as a whole."""

    @property
    def network_uses(self) -> tuple["NetworkUseRow", ...]:
        """Every use of the network."""

    @property
    def network_models(self) -> tuple["NetworkModelRow", ...]:
        """Every model on it."""


class NetworkHostRow(Row):
    """One device on the network: its port, its address, and what it sends and takes."""

    schedule: ClassVar = Schedule(
        "network_host",
        subject="addresses",
        key=("device",),
        views={
            "check": "device kind model room vlan addressing sent_groups taken_groups sent_bit_s taken_bit_s "
            "control_bit_s",
            "terminate": "device room switch_port vlan speed_bit_s mac_address",
            "test": "device kind model host addresses vlan addressing switch_port protocols mac_address",
        },
    )

    device: Annotated[str, Shows("device", ALL, "tag", link="tag")] = Field(description="Tag.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment, in words.")
    model: Annotated[str, Shows("model", ALL, "tag", link="model", empty="none")] = Field(
        default="", description="Model code; empty for the owner's."
    )
    room: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room in which it is."
    )
    host: Annotated[str, Shows("host_name", ALL, "tag")] = Field(description="Host name.")
    addresses: Annotated[tuple[str, ...], Shows("address", ALL, ("text",))] = Field(
        description="Its addresses; none where none is planned."
    )
    vlan: Annotated[int | None, Shows("vlan", ALL, "number")] = Field(
        default=None, description="VLAN of its port."
    )
    addressing: Annotated[str, Shows("addressing", ALL)] = Field(
        description="static, or reserved by the building's DHCP."
    )
    switch_port: Annotated[str, Shows("switch_port", ALL, link="tag")] = Field(
        description="Switch and port to which it leads; empty where it leads to none."
    )
    speed_bit_s: Annotated[float | None, Shows("speed", ALL, "speed of a port")] = Field(
        default=None, description="Data rate of its port, bit/s."
    )
    sent_groups: Annotated[tuple[str, ...], Shows("groups_sent", ALL, ("text",))] = Field(
        description="Multicast groups that it sends."
    )
    taken_groups: Annotated[tuple[str, ...], Shows("groups_taken", ALL, ("text",))] = Field(
        description="Multicast groups that it takes."
    )
    sent_bit_s: Annotated[float, Shows("audio_sent", ALL, "bits per second", zero=False)] = Field(
        description="Networked audio that it sends, on the wire, bit/s."
    )
    taken_bit_s: Annotated[float, Shows("audio_taken", ALL, "bits per second", zero=False)] = Field(
        description="Networked audio that it takes, on the wire, bit/s."
    )
    control_bit_s: Annotated[float, Shows("control_and_monitoring", ALL, "bits per second", zero=False)] = (
        Field(description="Control and monitoring, bit/s.")
    )
    protocols: Annotated[tuple[str, ...], Shows("protocols", ALL, ("text",), lines=True)] = Field(
        description="Transport and port of each use, with its way and its DSCP."
    )

    @composed(Shows("mac_address", ALL, "blank"))
    def mac_address(self) -> str:
        """MAC address, to be filled in when the device is there."""
        return ""

    @gathered(Shows("to_be_opened", ALL, ("text",), lines=True))
    def openings(self, document: OnTheNetwork) -> tuple[str, ...]:
        """What has to be opened for each of its uses."""
        uses = {one.partition(":")[0] for one in self.protocols}
        return tuple(
            f"{one.use}: {one.opening.rstrip('.')}" for one in document.network_uses if one.use in uses
        )

    @gathered(Shows("how_it_is_found", ALL))
    def found_by(self, document: OnTheNetwork) -> str:
        """How it is found on the network, with or without a display."""
        return _of_model(document, self.model, "found_by")

    @gathered(Shows("how_it_is_updated", ALL))
    def updated_by(self, document: OnTheNetwork) -> str:
        """How its software is updated."""
        return _of_model(document, self.model, "updated_by")

    @gathered(Shows("time_and_clock", ALL))
    def time_needed(self, document: OnTheNetwork) -> str:
        """What it needs of time of day and clock."""
        return _of_model(document, self.model, "time_needed")

    @gathered(Shows("name_servers", ALL))
    def names_needed(self, document: OnTheNetwork) -> str:
        """What it needs of name servers."""
        return _of_model(document, self.model, "names_needed")

    @gathered(Shows("encryption_on_the_network", ALL))
    def encryption(self, document: OnTheNetwork) -> str:
        """Whether its sound and its settings are encrypted on the network."""
        return _of_model(document, self.model, "encryption")

    @gathered(Shows("certificates", ALL))
    def certificates(self, document: OnTheNetwork) -> str:
        """Which certificates it holds."""
        return _of_model(document, self.model, "certificates")


def _of_model(document: OnTheNetwork, model: str, field: str) -> str:
    """Return what is told of a model on the network; empty where nothing is."""
    row = next((one for one in document.network_models if one.model == model), None)
    return str(getattr(row, field)) if row else ""


class SwitchTrafficRow(Row):
    """One switch with what passes it and what it has to hold, against what it can."""

    schedule: ClassVar = Schedule("switch_traffic", subject="ports", key=("tag",))

    tag: Annotated[str, Shows("switch", ALL, "tag", link="tag")] = Field(description="Tag.")
    verdict: Annotated[str, Shows("verdict", ALL, "verdict")] = Field(description="holds or fails.")
    ports: Annotated[int, Shows("ports", ALL, "count", sums=True)] = Field(
        default=0, description="Ports for devices."
    )
    free: Annotated[int, Shows("ports_free", ALL, "count", sums=True)] = Field(
        default=0, description="Ports to which nothing of the system leads."
    )
    for_panels: Annotated[int, Shows("ports_for_panels", ALL, "count", sums=True)] = Field(
        default=0, description="Free ports that are kept for panels that mute."
    )
    passing_bit_s: Annotated[float, Shows("passes_the_switch", ALL, "bits per second")] = Field(
        description="Sum over all its ports of what comes in and goes out, bit/s."
    )
    rate_bit_s: Annotated[float, Shows("switches_at_most", ALL, "speed of a port")] = Field(
        description="What it switches at most, bit/s."
    )
    groups: Annotated[int, Shows("multicast_groups", ALL, "count")] = Field(
        description="Multicast groups that pass it."
    )
    most_groups: Annotated[int, Shows("groups_it_holds", ALL, "count")] = Field(
        description="Multicast groups that it can hold."
    )
    vlans: Annotated[int, Shows("vlans", ALL, "count")] = Field(description="VLANs on it.")
    most_vlans: Annotated[int, Shows("vlans_it_holds", ALL, "count")] = Field(
        description="VLANs that it can hold."
    )
    queues: Annotated[int, Shows("priority_queues", ALL, "count")] = Field(
        description="Queues that it has for DSCP; three are needed."
    )
    clock: Annotated[str, Shows("clock_in_it", ALL)] = Field(
        description="boundary clock, or that it hands the clock on only."
    )
    fullest_port: Annotated[str, Shows("fullest_port", ALL, empty="none")] = Field(
        description="Its port with the highest load in one direction for its speed."
    )
    fullest_bit_s: Annotated[float, Shows("load_of_that_port", ALL, "bits per second")] = Field(
        description="That load, bit/s."
    )
    fullest_rate_bit_s: Annotated[float, Shows("speed_of_that_port", ALL, "speed of a port")] = Field(
        description="Data rate of that port, bit/s."
    )

    @composed(Shows("ports_that_stay_free", ALL, "count", sums=True))
    def stays_free(self) -> int:
        """Free ports less those for panels."""
        return self.free - self.for_panels


class NetworkUseRow(Row):
    """One use of the network: what has to be opened for it, and for whom."""

    schedule: ClassVar = Schedule("network_use", subject="addresses", key=("use", "protocol"))

    use: Annotated[str, Shows("use", ALL)] = Field(description="What it is for.")
    protocol: Annotated[str, Shows("transport_and_port", ALL)] = Field(description="Transport and port.")
    way: Annotated[str, Shows("way", ALL)] = Field(description="Who begins.")
    group: Annotated[str, Shows("multicast_group", ALL)] = Field(
        description="Its multicast group; empty where it has none."
    )
    dscp: Annotated[int, Shows("dscp", ALL, "number")] = Field(
        description="Mark of priority that its packets carry."
    )
    opening: Annotated[str, Shows("to_be_opened", ALL)] = Field(description="What has to be opened for it.")
    devices: Annotated[int, Shows("devices", ALL, "count")] = Field(description="Devices that use it.")
    kinds: Annotated[tuple[str, ...], Shows("kinds_of_device", ALL, ("text",))] = Field(
        description="Their kinds."
    )


NOT_ENCRYPTED = "not encrypted"
"""What is told of speech on the air that nothing keeps private."""


class NetworkModelRow(Row):
    """A model on the network: how it is found and updated, and what it needs besides."""

    schedule: ClassVar = Schedule("network_model", subject="addresses", key=("model",))

    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment, in words.")
    devices: Annotated[int, Shows("devices", ALL, "count")] = Field(description="How many of it there are.")
    found_by: Annotated[str, Shows("how_it_is_found", ALL, empty="ask_the_maker")] = Field(
        description="How it is found on the network."
    )
    updated_by: Annotated[str, Shows("how_it_is_updated", ALL, empty="ask_the_maker")] = Field(
        description="How its software is updated."
    )
    time_needed: Annotated[str, Shows("time_and_clock", ALL, empty="ask_the_maker")] = Field(
        description="What it needs of time of day and clock."
    )
    names_needed: Annotated[str, Shows("name_servers", ALL, empty="ask_the_maker")] = Field(
        description="What it needs of name servers."
    )
    encryption: Annotated[str, Shows("encryption_on_the_network", ALL, empty="ask_the_maker")] = Field(
        default="", description="Whether sound and settings are encrypted on the network, and how."
    )
    encryption_on_air: Annotated[str, Shows("encryption_on_the_air", ALL)] = Field(
        default="", description="How speech is encrypted on the air; empty for what is no access point."
    )
    certificates: Annotated[str, Shows("certificates", ALL, empty="ask_the_maker")] = Field(
        description="Which certificates it holds."
    )


class NetworkQuestionRow(Row):
    """Something about the network that somebody has to answer."""

    schedule: ClassVar = Schedule("network_question", subject="addresses", key=("asked", "question"))

    asked: Annotated[str, Shows("to_be_asked", ALL)] = Field(description="Who can answer.")
    question: Annotated[str, Shows("to_be_found_out", ALL)] = Field(description="What is asked.")
    until_then: Annotated[str, Shows("taken_meanwhile", ALL)] = Field(
        description="What is taken until it is answered."
    )
