"""The project: everything a project folder says, checked and frozen."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field

from proposal.errors import Place
from proposal.model.alternate import Alternate
from proposal.model.base import Written, unwritten
from proposal.model.design_rules import Rules, Subnet, Terms
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library import Library
from proposal.model.figure_layers import layer_of
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.mains import OF_REGION, Mains
from proposal.model.pathways.building import Building
from proposal.model.price.commercial import Commercial, Price
from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.programme import Programme
from proposal.model.radio.radio import RadioLosses
from proposal.model.requirements.requirements import Requirement
from proposal.model.rooms import Room, RoomType
from proposal.model.wording.wording import ResponsibilityChanges, ScopeChanges, Standing
from proposal.quantities.dates import Date
from proposal.quantities.parsing import Colour, Length

Region = Literal["europe", "north_america"]
UnitSystem = Literal["metric", "us_customary"]
Path = tuple[str | int, ...]
_CHOICES = ("rates", "overtime", "overtime_work")
"""What of labour a project says itself."""


class Party(Written):
    """A company or public body with somebody to write to."""

    name: str = Field(description="Name as it appears on the cover.")
    contact: str = Field(default="", description="Person or office to write to.")
    address: tuple[str, ...] = Field(
        default=(),
        description="Address, a line an entry; telephone and e-mail too.",
        examples=[["1 Example Square", "Anytown"]],
    )


class Branding(Written):
    """How the proposal looks."""

    colour: Colour = Field(default="#1f4e5f", description="Leading colour, such as #1f4e5f.")
    logo: str = Field(default="", description="File in images/ shown on every page, SVG or PNG.")


class Revision(Written):
    """One revision of the proposal."""

    identity: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,15}$")] = Field(
        description="Letter or number, such as A."
    )
    date: Date = Field(description="Date of the revision, such as 2031-04-15.")
    purpose: str = Field(description="What it is issued for, such as `for comment`.")
    prepared_by: str = Field(default="", description="Who prepared it.")
    checked_by: str = Field(default="", description="Who checked it.")
    changes: str = Field(default="", description="What changed since the last one, in a sentence.")


class AcceptedFinding(Written):
    """A finding that the designer accepts, with reason, name and date."""

    rule: str = Field(description="Name of the rule, as the findings page prints it.")
    where: str = Field(description="Tag of what it concerns.")
    reason: str = Field(min_length=3, description="Why it is accepted.")
    accepted_by: str = Field(min_length=1, description="Who accepts it.")
    date: Date = Field(description="When it was accepted.")


class Brief(Written):
    """What project.yaml holds."""

    name: str = Field(min_length=1, description="Name of the project.")
    number: str = Field(default="", description="The integrator's number of the project.")
    client: Party = Field(description="Who receives the proposal.")
    integrator: Party = Field(description="Who makes it.")
    site: str = Field(description="The building, as the client calls it.")
    goals: tuple[str, ...] = Field(
        default=(),
        description="What the client wants to reach, a line a goal.",
        examples=[["Every member is heard.", "No cable lies on the floor."]],
    )
    revision: Revision = Field(description="The revision being made.")
    history: Mapping[str, Revision] = Field(
        default={}, description="Earlier revisions by their identity, for the table on the cover."
    )
    region: Region = Field(description="Radio region: europe (ten carriers) or north_america (five).")
    units: UnitSystem = Field(default="metric", description="Units in which the proposal is written.")
    locale: Annotated[str, Field(pattern=r"^[a-z]{2,3}(_[A-Z]{2})?$")] = Field(
        default="en_GB", description="Language and country that set numbers and dates, such as en_GB."
    )
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")] = Field(
        default="EUR", description="ISO code of the project's currency, such as EUR."
    )
    branding: Branding = Field(default=unwritten(Branding), description="Colour and logo.")
    subnets: Mapping[str, Subnet] = Field(default={}, description="Networks the building offers, by name.")
    mains: Mains = Field(default=unwritten(Mains), description="Voltage and frequency of the mains.")
    rules: Rules = Field(default=unwritten(Rules), description="Rules of the design.")
    terms: Terms = Field(default=unwritten(Terms), description="Commercial terms.")
    labour: LabourChoices = Field(
        default=unwritten(LabourChoices), description="Conditions of the work, and crew sizes."
    )
    price: Price = Field(
        default=unwritten(Price), description="How costs become prices; surcharges, taxes and payments."
    )
    programme: Programme = Field(default=unwritten(Programme), description="Calendar and days set by others.")
    scope: ScopeChanges = Field(
        default=unwritten(ScopeChanges),
        description="Changes of the standing scope, exclusions, assumptions, handover and security.",
    )
    responsibilities: ResponsibilityChanges = Field(
        default=unwritten(ResponsibilityChanges),
        description="Changes of the standing matrix of who does what.",
    )
    accepted_findings: Mapping[str, AcceptedFinding] = Field(
        default={}, description="Findings accepted by the designer, each under a name of your own."
    )
    accepted_alternates: tuple[str, ...] = Field(
        default=(),
        description="Alternates that the client has chosen: names of files in alternates/ without their "
        "ending, in the order in which they are applied.",
    )
    internal_note: str = Field(default="", description="For the integrator's own estimators only.")

    @property
    def mains_voltage(self) -> float:
        """Return the voltage of the outlets, V."""
        return self.mains.voltage or OF_REGION[self.region][0]

    @property
    def mains_frequency(self) -> float:
        """Return the frequency of the mains, Hz."""
        return self.mains.frequency or OF_REGION[self.region][1]

    @property
    def commercial(self) -> Commercial:
        """Return the rules for labour, price and programme together."""
        return Commercial.model_construct(labour=self.labour, price=self.price, programme=self.programme)


class FixedDevice(Written):
    """Decisions by hand about one device."""

    model: str = Field(default="", description="Model code.")
    at: tuple[Length, Length] | None = Field(default=None, description="Position in the building, x then y.")
    height: Annotated[Length, Field(ge=-20, le=100)] | None = Field(
        default=None, description="Height above the floor."
    )
    address: str = Field(default="", description="Network address.")
    switch_port: str = Field(default="", description="Switch and port, such as ER1-SW1/4.")
    rack: str = Field(default="", description="Tag of the rack of its equipment room, such as ER1-RK1.")
    rack_unit: Annotated[int, Field(ge=1, le=100)] | None = Field(
        default=None, description="Lowest unit that it takes in its rack, counted from below."
    )


class FixedCable(Written):
    """Decisions by hand about one cable."""

    length: Annotated[Length, Field(gt=0, le=5000)] | None = Field(
        default=None, description="Measured length, slack included; replaces the estimate."
    )
    type: str = Field(default="", description="Model code of the cable.")
    route: tuple[str, ...] = Field(
        default=(), description="Tags of the pathways it takes, in order from the device."
    )


FixedCount = Annotated[int, Field(ge=1, le=100)]


class FixedRoom(Written):
    """The sizes a designer has chosen for one room, by model code and count."""

    access_points: Mapping[str, FixedCount] | None = Field(default=None, description="Access points.")
    chargers: Mapping[str, FixedCount] | None = Field(default=None, description="Chargers.")
    breakouts: Mapping[str, FixedCount] | None = Field(default=None, description="Breakouts.")
    mixers: Mapping[str, FixedCount] | None = Field(default=None, description="Mixers.")


class Fixed(Written):
    """What fixed.yaml holds: decisions by hand, checked and never replaced."""

    rooms: Mapping[str, FixedRoom] = Field(default={}, description="Sizes by room tag.")
    devices: Mapping[str, FixedDevice] = Field(default={}, description="Decisions by device tag.")
    cables: Mapping[str, FixedCable] = Field(default={}, description="Decisions by cable identity.")


class Assumption(Written):
    """A default that was taken because nothing was written."""

    path: Path = Field(description="Where the value would stand.")
    title: str = Field(description="How it reads in the proposal.")
    value: Any = Field(description="The value taken, in SI.")
    kind: str = Field(default="", description="Kind of quantity, for its unit.")
    source: str = Field(description="Published, common practice or editable default.")


class Question(Written):
    """A value the project says is unknown; the default computes meanwhile."""

    path: Path = Field(description="Where `unknown` stands.")
    title: str = Field(description="What has to be found out.")
    value: Any = Field(description="The value taken meanwhile, in SI.")
    kind: str = Field(default="", description="Kind of quantity, for its unit.")
    place: Place = Field(description="File and line.")


class Numbered(Written):
    """A number that an issued revision gave, and whether its thing is gone."""

    number: str = Field(description="Tag, port, address or sheet number.")
    retired: bool = Field(default=False, description="Whether the thing is no longer there.")
    at: tuple[float, float] | None = Field(
        default=None, description="Of a device that the program places: where in its room, m."
    )
    model: str = Field(default="", description="Of a device: its model code.")


class Project(Written):
    """A whole project folder, checked."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", populate_by_name=True, arbitrary_types_allowed=True
    )

    brief: Brief = Field(alias="project", description="project.yaml.")
    building: Building = Field(description="building.yaml.")
    room_types: Annotated[Mapping[str, RoomType], Field(min_length=1)] = Field(
        description="Room types by name: room_types/<name>.yaml."
    )
    rooms: Annotated[Mapping[str, Room], Field(min_length=1)] = Field(
        description="Rooms by tag: rooms.csv and rooms/<tag>.yaml."
    )
    fixed: Fixed = Field(default=unwritten(Fixed), description="fixed.yaml.")
    requirements: Mapping[str, Requirement] = Field(
        default={}, description="What the client asks for, by tag: requirements.yaml."
    )
    wording: Mapping[str, str] = Field(
        default={}, description="The author's prose by name: wording/<name>.md."
    )
    images: Mapping[str, bytes] = Field(default={}, repr=False, exclude=True, description="Files in images/.")
    library: Library = Field(exclude=True, repr=False, description="The resolved equipment library.")
    labour: Labour = Field(
        default=unwritten(Labour),
        exclude=True,
        repr=False,
        description="The resolved labour data: hours and rates.",
    )
    usual_labour: Labour = Field(
        default=unwritten(Labour),
        exclude=True,
        repr=False,
        description="The shared library's labour data, without anything of the house's own.",
    )
    standing: Standing = Field(
        default=unwritten(Standing),
        exclude=True,
        repr=False,
        description="Standing wording of the shared library.",
    )
    radio_losses: RadioLosses = Field(
        default=unwritten(RadioLosses),
        exclude=True,
        repr=False,
        description="What radio loses at walls and floors.",
    )
    client_knowledge: ClientKnowledge | None = Field(
        default=None,
        exclude=True,
        repr=False,
        description="What a client is taken to know of the prices; nothing is said of it where left out.",
    )
    alternates: Mapping[str, Alternate] = Field(
        default={}, description="Alternates by key, those accepted among them: alternates/<key>.yaml."
    )
    issued: Mapping[str, Numbered] = Field(
        default={}, description="Numbers given by issued revisions, by identity."
    )
    assumptions: tuple[Assumption, ...] = Field(default=(), description="Defaults taken.")
    questions: tuple[Question, ...] = Field(default=(), description="Values said to be unknown.")
    places: Mapping[Path, Place] = Field(
        default={}, exclude=True, repr=False, description="Where each value was written."
    )

    layers: Mapping[Path, Layer] = Field(
        default={},
        exclude=True,
        repr=False,
        description="Layer of each figure of the libraries that is not the shared one's, by its keys.",
    )
    given_twice: Mapping[Path, tuple[Place, ...]] = Field(
        default={},
        exclude=True,
        repr=False,
        description="Places of prices that files of one layer give more than once, by model code and field.",
    )

    @property
    def planned_rooms(self) -> Mapping[str, Room]:
        """The rooms in which something is planned, by tag."""
        return {tag: room for tag, room in self.rooms.items() if not room.layout.nothing_planned}

    def layer(self, *keys: str) -> str:
        """Return where a figure comes from: the project, a library, or, in words, the program's default.

        keys: as the price rests on it, such as `library`, model code, `cost`.
        """
        if keys[0] == "library" or (keys[0] == "labour" and keys[1] not in _CHOICES):
            return layer_of(self.layers, *keys)
        if ("project", *keys) in self.places:
            return "project"
        if keys[:2] == ("labour", "rates"):
            return layer_of(self.layers, "labour", "trades", *keys[2:])
        return "default"

    def place(self, *path: str | int) -> Place:
        """Return the place of a value in the files, or of the nearest thing that holds it.

        path: keys from the top, such as `rooms`, `B101`, `type`.
        """
        for length in range(len(path), 0, -1):
            found = self.places.get(path[:length])
            if found:
                return found
        return Place("project.yaml")
