"""Equipment that the owner has: where it stands, its ports, and what it takes part in."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Name, Written, asked, assumed
from proposal.model.equipment.parts import Count, Delay, PoeClass, PoeInput, PoeType, Ports, Watts
from proposal.model.room_shape import Point
from proposal.quantities.parsing import Length

OwnerKind = Literal[
    "codec",
    "recorder",
    "interpreter console",
    "press feed",
    "control processor",
    "switch",
    "other equipment",
]
_FreePort = Annotated[int, Field(ge=1, le=1_000)]


class OwnerSwitch(Written):
    """What a switch of the owner has free for this system; nothing beyond that is used."""

    free: Annotated[tuple[_FreePort, ...], Field(min_length=1, max_length=500)] = Field(
        description="Numbers of its ports that are free, such as [21, 22, 23, 24]."
    )
    poe_ports: Count = Field(
        default=0,
        description="How many of the free ports feed power over Ethernet; their class and budget are written "
        "beside it.",
    )
    poe_class: PoeClass = asked(
        lambda: 3, "Highest class that they feed.", "Highest class that the owner's switch feeds"
    )
    poe_type: PoeType = Field(default=1, description="Type of its power over Ethernet, 1 to 4.")
    budget: Annotated[Watts, Field(gt=0)] | None = asked(
        lambda: None,
        "Power over Ethernet that is free for this system, such as 120 W; the owner is asked where left out, "
        "and each of its ports is taken to feed its class.",
        "Power over Ethernet that is free on the owner's switch",
    )
    forwarding_delay: Delay | None = Field(
        default=None,
        description="How long a frame takes through it, as its maker says; a question to the owner where "
        "left out.",
    )


class OwnerEquipment(Written):
    """One thing that the owner furnishes and that is joined to the system."""

    kind: OwnerKind = Field(
        description="Codec, recorder, interpreter console, press feed, control processor, switch, or other "
        "equipment."
    )
    name: Name = Field(description="What the owner calls it.")
    party: Annotated[str, Field(max_length=10)] = Field(
        default="",
        description="Letters of the party that furnishes it and puts it in place, such as IN, as "
        "responsibilities name them; left out, whoever furnishes the equipment of the owner.",
    )
    ports: Annotated[Mapping[str, Ports], Field(max_length=50)] = Field(
        default={},
        description="Its ports that may be used, by the letters that name them, such as N for N1, N2.",
    )
    serves: Annotated[tuple[str, ...], Field(max_length=100)] = Field(
        default=(), description="Codes of the destinations and returns of its rooms that it is."
    )
    rooms: Annotated[tuple[Name, ...], Field(max_length=500)] = Field(
        default=(),
        description="Tags of the rooms it serves, where it stands in an equipment room.",
    )
    at: Point | None = assumed(
        None,
        "Position in its room's own coordinates, x then y.",
        "Equipment of the owner stands beside the chargers, or in the first rack of an equipment room",
    )
    height: Annotated[Length, Field(ge=0, le=20)] | None = Field(
        default=None, description="Height above the floor; that of the chargers where left out."
    )
    rack: str = Field(
        default="", description="Code of its rack in an equipment room; the first one where left out."
    )
    rack_units: Count = Field(default=0, description="Rack units it takes; 0 where it is not in a rack.")
    power: Watts = Field(default=0.0, description="Power that it takes from the mains.")
    heat: Watts | None = Field(
        default=None, description="Heat that it gives off; all of its power where left out."
    )
    poe: PoeInput | None = Field(default=None, description="What it takes over its network cable, if any.")
    switch: OwnerSwitch | None = Field(
        default=None,
        description="Of a switch in an equipment room: what is free on it for this system. No switch of "
        "ours is added beside it by itself; one is written in fixed.yaml under devices.",
    )
    addresses: Count = Field(default=1, description="Network addresses it takes where it is on the network.")
