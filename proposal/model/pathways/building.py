"""The building: storeys, equipment rooms, the shafts between storeys, pathways for cables."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from proposal.model.base import Name, Written, assumed, unwritten
from proposal.model.owner_equipment import OwnerEquipment
from proposal.model.pathways.pathways import CableTemperature, Node, Pathway, Space
from proposal.model.portable_sets import PortablePlace, PortableSet
from proposal.model.radio.radio import BuildingRadio
from proposal.model.room_shape import Door, Outline, Point
from proposal.model.standby import Standby
from proposal.model.states import State
from proposal.quantities.parsing import Length, Temperature


class Storey(Written):
    """One storey."""

    name: str = Field(description="What the storey is called on drawings.")
    height: Length = Field(description="Finished floor above the building's datum.")
    floor_fire_rating: Annotated[str, Field(max_length=40)] = Field(
        default="",
        description="Fire rating of its floor, as the architect states it, such as EI 90 or 2 hours; printed "
        "at each opening in it.",
    )
    slab_to_slab: Annotated[Length, Field(gt=0, le=100)] = Field(description="Floor to the floor above.")
    outline: Outline | None = Field(
        default=None,
        description="Corners of its outer walls in the building, x then y, as its plans show them.",
    )
    pathway_height: Annotated[Length, Field(gt=0, le=100)] | None = assumed(
        None,
        "Height of horizontal cable runs above this floor.",
        "Cables run below the floor above, as far as the rules for pathways say",
    )
    ceiling_space: str = assumed(
        "",
        "Tag of the space above its ceilings, in which cables outside pathways lie.",
        "The space above the ceilings is not described: jackets there are plenum where NFPA 70 is adopted, "
        "elsewhere of the best class of reaction to fire in the library",
    )


class Rack(Written):
    """A rack in an equipment room."""

    model: str = Field(
        default="",
        description="Model code; the least-cost rack that holds what stands in it where left out.",
    )
    style: Literal["any", "floor", "wall", "furniture"] = Field(
        default="any", description="Where it may stand, where its model is left out."
    )
    faces: Literal["", "north", "east", "south", "west"] = Field(
        default="",
        description="Side of the building that its front looks at; left out, sheets say that it is open.",
    )
    standby: Standby | None = Field(
        default=None,
        description="What stays up in it when the mains fails; as in its equipment room where left out.",
    )


class EquipmentRoom(Written):
    """A room with racks where cables end."""

    name: str = Field(description="What it is called on drawings.")
    storey: Name = Field(description="Tag of its storey.")
    at: Point = Field(description="Position of its racks in the building, x then y.")
    racks: Annotated[Mapping[str, Rack], Field(min_length=1, max_length=100)] = Field(
        description="Racks by their codes, such as RK1."
    )
    outline: Outline | None = Field(
        default=None,
        description="Corners of its walls in the building, x then y; with them it has a plan of its own.",
    )
    doors: Annotated[Mapping[str, Door], Field(max_length=20)] = Field(
        default={}, description="Doors in its walls by tag, in the building's coordinates."
    )
    outlets_at: Point | None = Field(
        default=None,
        description="Where the outlets of the mains for its racks are, x then y in the building; left out, "
        "they are wanted at the racks.",
    )
    earthing_at: Point | None = Field(
        default=None,
        description="Where the earthing bar is to which its racks are bonded, x then y in the building; left "
        "out, its plan says that it is open.",
    )
    temperature: Temperature | None = Field(
        default=None,
        description="Highest air temperature in it; that of the building's rooms where left out.",
    )
    joined_to: Name | None = assumed(
        None,
        "Tag of the equipment room to whose switches its own are joined.",
        "Switches of further equipment rooms are joined to those of the first by links of their own",
    )
    owner_port: str = Field(
        default="",
        description="Port of the owner's network to which its switches are joined, instead of a link of "
        "their own to the others, as the owner names it. A switch of the owner on which devices of ours may "
        "stand is written under owner_equipment; without one, this port is all of theirs that is used. A "
        "free port of such a switch, such as ER1-OE4/21, is then used for this alone.",
    )
    standby: Standby | None = Field(
        default=None,
        description="What stays up in each of its racks when the mains fails; nothing where left out.",
    )


class Shaft(Written):
    """A vertical way for cables between storeys."""

    name: str = Field(description="What it is called on drawings.")
    at: Point = Field(description="Position in the building, x then y.")


class Building(Written):
    """The building as far as cables, radio and work depend on it."""

    storeys: Annotated[Mapping[str, Storey], Field(min_length=1, max_length=200)] = Field(
        description="Storeys by tag."
    )
    origin: Annotated[str, Field(max_length=120)] = Field(
        default="",
        description="Point of the building from which coordinates are measured, as somebody finds it on "
        "site: `the outer south-west corner of the wing`. Plans print it beside their coordinates.",
    )
    fire_alarm_contact: bool | None = Field(
        default=None,
        description="Whether the fire alarm of the building has a contact that mutes the system; left out, "
        "nobody has said so yet.",
    )
    equipment_rooms: Annotated[Mapping[str, EquipmentRoom], Field(max_length=200)] = Field(
        default={},
        description="Equipment rooms by tag; none where every room stands alone.",
    )
    shafts: Annotated[Mapping[str, Shaft], Field(max_length=200)] = assumed(
        dict,
        "Vertical ways for cables by tag; they pass all storeys.",
        "Cables change storeys straight above or below the equipment room",
    )
    ceiling_temperature: CableTemperature = assumed(
        30.0, "Highest air temperature where cables run.", "Highest air temperature where cables run"
    )
    room_temperature: Temperature = assumed(
        28.0,
        "Highest air temperature in rooms and equipment rooms.",
        "Highest air temperature in rooms and equipment rooms",
    )
    lowest_room_temperature: Temperature = assumed(
        15.0,
        "Lowest air temperature in rooms and equipment rooms.",
        "Lowest air temperature in rooms and equipment rooms",
    )
    spaces: Annotated[Mapping[str, Space], Field(max_length=1000)] = Field(
        default={}, description="Spaces that pathways lie in, by tag."
    )
    nodes: Annotated[Mapping[str, Node], Field(max_length=5000)] = Field(
        default={}, description="Points where pathways meet or end, by tag."
    )
    pathways: Annotated[Mapping[str, Pathway], Field(max_length=5000)] = Field(
        default={},
        description="Trays, conduits, hooks, sleeves and riser shafts by tag; right-angled runs without any.",
    )
    owner_equipment: Annotated[Mapping[str, Mapping[str, OwnerEquipment]], Field(max_length=1000)] = Field(
        default={},
        description="First the tag of the room or equipment room in which it stands, below it the equipment "
        "of the owner by its code, `ER1: {OE1: {kind: recorder, name: …}}`; under the name of a room type it "
        "stands in each of its rooms.",
    )
    radio: BuildingRadio = Field(
        default=unwritten(BuildingRadio),
        description="Walls and floors as radio meets them, and others on the band.",
    )
    states: Annotated[Mapping[str, State], Field(max_length=50)] = Field(
        default={}, description="States in which the building is used, by name; one without a name left out."
    )
    portable_sets: Annotated[Mapping[str, PortableSet], Field(max_length=100)] = Field(
        default={},
        description="Lines of the room schedule that are carts, by tag; each stands there where it is kept.",
    )
    portable_places: Annotated[Mapping[Name, PortablePlace], Field(max_length=500)] = Field(
        default={},
        description="Where portable sets are used: rooms by their tags, places outdoors by own names.",
    )
