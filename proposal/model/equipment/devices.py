"""The kinds of device a wireless conference-microphone system is built from."""

from collections.abc import Collection, Mapping
from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Written
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import (
    Battery,
    CeilingKind,
    Count,
    Delay,
    OctaveBands,
    PoeClass,
    PoeType,
    Positive,
    Radio,
    Rate,
    Region,
    Size,
    Watts,
)
from proposal.model.equipment.sound_devices import (
    Amplifier,
    AssistiveDevice,
    Loudspeaker,
    Mixer,
    WiredMicrophone,
)
from proposal.model.equipment.standby_supplies import StandbySupply
from proposal.model.microphone_positions import Form, Pattern
from proposal.quantities.parsing import (
    Current,
    Fraction,
    Length,
    Level,
    Mass,
    Power,
    SoundLevel,
)


class SystemDevice(Device):
    """A device that works only with devices of its own system."""

    system: Annotated[str, Field(max_length=100)] = Field(
        default="", description="System whose devices work together; left out, the maker's name."
    )

    @property
    def works_with(self) -> str:
        """Return the name of the system that it works in."""
        return self.system or self.maker


class Microphone(SystemDevice):
    """A wireless conference microphone."""

    kind: Literal["microphone"] = Field(default="microphone", description="Kind of entry.")
    form: Form = Field(description="Handheld, bodypack, boundary or gooseneck.")
    pattern: Pattern = Field(description="Pickup pattern.")
    radio: Radio = Field(description="Its radio.")
    body_loss: Annotated[Level, Field(ge=0, le=100)] = Field(
        description="Loss of the body that holds or wears it, on the wanted path."
    )
    battery: Battery = Field(description="Its battery.")
    sensitivity: Level = Field(description="Sensitivity at 1 kHz, referred to 1 V/Pa.")
    self_noise: SoundLevel = Field(description="Equivalent noise level, A-weighted.")
    highest_level: SoundLevel = Field(description="Highest sound level it takes.")
    distance_factor: Annotated[float, Field(ge=1, le=2)] = Field(
        description="Distance factor: an omnidirectional one picks up as much of the room at a distance of 1."
    )
    off_axis: OctaveBands[Level] | None = Field(
        default=None, description="Rejection at 180°, by octave band; left out, the pattern's ideal."
    )
    hears_return: bool = Field(default=False, description="Whether the talker can hear return audio at it.")
    mute_switch: Literal["toggle", "push to talk", "push to mute", "none"] = Field(
        default="toggle", description="What its switch does as delivered."
    )
    mute_switches: tuple[Literal["toggle", "push to talk", "push to mute", "none"], ...] = Field(
        default=(), description="What else its switch can be set to do."
    )

    def works_in(self, region: Region) -> bool:
        """Return whether it may be used in a region."""
        return region in self.radio.regions


class Accessory(SystemDevice):
    """Something that goes with a microphone: what is worn, put on, plugged in or kept beside it."""

    kind: Literal["accessory"] = Field(default="accessory", description="Kind of entry.")
    role: Literal["lavalier", "headset", "capsule", "cover", "pack", "cord", "mount"] = Field(
        description="What it is."
    )
    forms: Annotated[tuple[Form, ...], Field(min_length=1)] = Field(
        description="Forms of microphone that it goes with."
    )


class AccessPoint(SystemDevice):
    """An access point that links microphones by radio and sends their audio on the network."""

    kind: Literal["access_point"] = Field(default="access_point", description="Kind of entry.")
    channels: Annotated[int, Field(gt=0, le=120)] = Field(description="Microphones it serves.")
    radio: Radio = Field(description="Its radio.")
    encryption: str = Field(default="", description="How speech is kept private on the air.")
    least_spacing: Annotated[Length, Field(ge=0, le=1000)] = Field(
        description="Least distance from another access point; common practice."
    )

    def works_in(self, region: Region) -> bool:
        """Return whether it may be used in a region."""
        return region in self.radio.regions


class SlotGroup(Written):
    """Charge slots that take the same forms of microphone, each slot one microphone."""

    count: Annotated[int, Field(gt=0, le=100)] = Field(description="Slots of this sort.")
    forms: Annotated[tuple[Form, ...], Field(min_length=1, max_length=4)] = Field(
        description="Forms that one of them takes."
    )


class Charger(SystemDevice):
    """A charger, which may also pair microphones with the system."""

    kind: Literal["charger"] = Field(default="charger", description="Kind of entry.")
    slot_groups: Annotated[tuple[SlotGroup, ...], Field(min_length=1, max_length=8)] = Field(
        description="Its charge slots by the forms that they take; they are numbered in this order."
    )
    slot_power: Annotated[Power, Field(gt=0, le=1000)] = Field(description="Highest power into one slot.")
    shared_power: Annotated[Power, Field(gt=0, le=1000)] = Field(
        description="Highest power into all slots at once."
    )
    pairs: bool = Field(
        default=False, description="Whether a microphone in a slot is paired with the system."
    )

    @property
    def slots(self) -> int:
        """Return the number of its charge slots."""
        return sum(group.count for group in self.slot_groups)

    @property
    def forms_by_slot(self) -> tuple[tuple[Form, ...], ...]:
        """Return the forms that each slot takes, in the order of the slots."""
        return tuple(group.forms for group in self.slot_groups for _ in range(group.count))

    def slots_for(self, forms: Collection[Form]) -> int:
        """Return how many of its slots take any of some forms."""
        return sum(group.count for group in self.slot_groups if not set(forms).isdisjoint(group.forms))


class BuiltInSwitch(Written):
    """The small switch inside a device."""

    ports: Positive = Field(description="Ports for other devices.")
    poe_ports: Count = Field(
        description="How many of them feed PoE; they are numbered after those that isolate."
    )
    poe_class: PoeClass = Field(default=0, description="Class of those ports.")
    poe_type: PoeType = Field(default=1, description="Type of those ports.")
    budget: Watts = Field(default=0.0, description="Power for all of them.")
    priorities: Positive = Field(
        default=1, description="Levels of port priority when the budget is short; 1 where it knows none."
    )
    isolating_ports: Count = Field(
        default=0,
        description="How many of the ports can keep a building network away from the system; they are "
        "numbered first.",
    )
    speed: Rate = Field(description="Data rate of its ports.")
    managed: bool = Field(default=False, description="Whether VLAN and multicast can be set.")
    forwarding_delay: Delay | None = Field(
        default=None, description="Time a frame takes through it; left out, a question to its maker."
    )


class Breakout(Device):
    """A breakout from networked audio to analogue outputs, with analogue inputs for return audio."""

    kind: Literal["breakout"] = Field(default="breakout", description="Kind of entry.")
    channels: Positive = Field(description="Networked channels it brings out.")
    return_inputs: Count = Field(description="Analogue inputs for return audio.")
    mixes: bool = Field(
        default=False, description="Whether it can send a mix of all that it receives to an output."
    )
    switch: BuiltInSwitch | None = Field(default=None, description="The switch inside it, if any.")
    highest_level: Level = Field(description="Highest analogue level, referred to 0.775 V.")


class Switch(Device):
    """A network switch that feeds PoE."""

    kind: Literal["switch"] = Field(default="switch", description="Kind of entry.")
    access_ports: Positive = Field(description="Copper ports for devices.")
    poe_ports: Count = Field(description="How many of them feed PoE; they are numbered first.")
    poe_class: PoeClass = Field(description="Class of a PoE port.")
    poe_type: PoeType = Field(description="Type of a PoE port, 1 to 4; its least voltage follows from it.")
    budget: Watts = Field(description="Power for all PoE ports together.")
    poe_efficiency: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of the mains power that reaches its ports."
    )
    budget_with_one_supply_lost: Watts | None = Field(
        default=None,
        description="Power for all PoE ports when one of several supplies fails; left out, a question to its "
        "maker.",
    )
    priorities: Positive = Field(description="Levels of port priority when the budget is short.")
    speed: Rate = Field(description="Data rate of an access port.")
    uplinks: Count = Field(description="Uplink ports beside the access ports.")
    uplink_speed: Rate = Field(description="Data rate of an uplink.")
    uplink_form: Literal["fibre module", "8P8C jack", "either"] = Field(
        default="fibre module", description="What an uplink takes."
    )
    switching_rate: Rate = Field(description="Data rate through the switch.")
    managed: bool = Field(description="Whether it can be set up.")
    vlans: Annotated[int, Field(ge=0, le=1_000_000)] = Field(default=0, description="VLANs it can hold.")
    multicast_groups: Annotated[int, Field(ge=0, le=1_000_000)] = Field(
        default=0, description="Multicast groups it can hold."
    )
    igmp_snooping: bool = Field(
        default=False, description="Whether it forwards multicast only to ports that ask for it."
    )
    igmp_querier: bool = Field(default=False, description="Whether it can be the multicast querier.")
    priority_queues: Positive = Field(default=1, description="Queues for DSCP.")
    boundary_clock: bool = Field(default=False, description="Whether it takes part in IEEE 1588.")
    energy_efficient_ethernet: Literal["none", "can be turned off", "always on"] = Field(
        default="can be turned off", description="Energy-efficient Ethernet disturbs the clock."
    )
    forwarding_delay: Delay = Field(description="Time a frame takes through it.")


class Rack(Device):
    """An equipment rack."""

    kind: Literal["rack"] = Field(default="rack", description="Kind of entry.")
    units: Annotated[int, Field(ge=1, le=50)] = Field(description="Rack units for equipment (44.45 mm each).")
    usable_depth: Size = Field(description="Depth between front rail and rear cables.")
    load: Annotated[Mass, Field(gt=0, le=10_000)] = Field(description="Weight it can carry.")
    style: Literal["floor", "wall", "furniture"] = Field(description="Where it stands.")
    rails: Literal["front", "front and rear"] = Field(description="Rails for mounting.")
    fan_airflow_m3_h: Annotated[float, Field(ge=0)] = Field(
        default=0.0, description="Air its own fans move, m³/h; 0 where it has none."
    )


class RackPart(Device):
    """A part that fills or serves a rack."""

    kind: Literal["rack_part"] = Field(default="rack_part", description="Kind of entry.")
    role: Literal[
        "blank panel", "vent panel", "shelf", "cable manager", "power strip", "fan panel", "mains cord",
        "earthing kit", "battery pack",
    ] = Field(description="What it is for.")  # fmt: skip
    inlet_form: str = Field(
        default="", description="Sort of inlet that a mains cord leads to, such as IEC 60320 C14."
    )
    length: Annotated[Length, Field(ge=0, le=100)] = Field(default=0.0, description="Length of a mains cord.")
    outlets: Count = Field(default=0, description="Mains outlets it offers.")
    outlet_form: str = Field(
        default="",
        description="Sort of those outlets, or of the outlet a mains cord goes into, such as IEC 60320 C13.",
    )
    rated_current: Current | None = Field(default=None, description="Current it may carry.")
    airflow_m3_h: Annotated[float, Field(ge=0)] = Field(default=0.0, description="Air it moves, m³/h.")


class Mount(Device):
    """A mount or remote bracket for a device."""

    kind: Literal["mount"] = Field(default="mount", description="Kind of entry.")
    carries: tuple[str, ...] = Field(description="Kinds of device it carries.")
    load: Mass = Field(description="Weight it can carry.")
    ceilings: tuple[CeilingKind, ...] = Field(
        default=(), description="Kinds of ceiling that it is made for; all where left out."
    )


class NetworkPart(Device):
    """A fibre module, a media converter or a PoE source for one port."""

    kind: Literal["network_part"] = Field(default="network_part", description="Kind of entry.")
    role: Literal["fibre module", "media converter", "PoE source"] = Field(description="What it is for.")
    speed: Rate = Field(description="Data rate.")
    fibre: Literal["none", "multimode", "single mode"] = Field(default="none", description="Fibre it takes.")
    reach: Annotated[Length, Field(gt=0)] | None = Field(default=None, description="Longest fibre it drives.")
    poe_class: PoeClass = Field(default=0, description="Class of the PoE it feeds; 0 with no type: none.")
    poe_type: PoeType | None = Field(default=None, description="Type of the PoE it feeds, if any.")


DEVICE_FIELDS: Mapping[str, type[Device]] = {
    "microphones": Microphone,
    "wired_microphones": WiredMicrophone,
    "accessories": Accessory,
    "access_points": AccessPoint,
    "chargers": Charger,
    "breakouts": Breakout,
    "mixers": Mixer,
    "switches": Switch,
    "amplifiers": Amplifier,
    "loudspeakers": Loudspeaker,
    "racks": Rack,
    "rack_parts": RackPart,
    "standby_supplies": StandbySupply,
    "assistive_devices": AssistiveDevice,
    "mounts": Mount,
    "network_parts": NetworkPart,
}
