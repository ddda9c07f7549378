"""Rows about pathways: nodes, pathways, what lies in each, conduits as cables are pulled through them."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows, composed

Point = tuple[float, float]


class NodeRow(Row):
    """A point where pathways meet or end."""

    schedule: ClassVar = Schedule("node", subject="pathways", key=("tag",))

    tag: Annotated[str, Shows("node", NOT_CLIENT, "tag")] = Field(default="", description="Tag.")
    kind: Annotated[str, Shows("kind", NOT_CLIENT, "word")] = Field(
        default="", description="Junction, floor box or pull box."
    )
    storey: Annotated[str, Shows("storey", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of its storey."
    )
    at: Annotated[Point, Shows("position", NOT_CLIENT, "coordinates")] = Field(
        default=(0.0, 0.0), description="Position in the building, m."
    )
    height_m: Annotated[float, Shows("above_the_floor", NOT_CLIENT, "position")] = Field(
        default=0.0, description="Height above the floor, m."
    )
    box: Annotated[str, Shows("box_as_given", NOT_CLIENT)] = Field(
        default="", description="Size, depth and cover of a box, as whoever furnishes it tells them."
    )


class ContentRow(Row):
    """The cables of one type and signal in one pathway."""

    schedule: ClassVar = Schedule("content", subject="pathways", key=("pathway", "type", "signal"))

    pathway: Annotated[str, Shows("pathway", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the pathway."
    )
    type: Annotated[str, Shows("cable", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of the cables."
    )
    signal: Annotated[str, Shows("signal", NOT_CLIENT, "word")] = Field(
        default="", description="Network, loudspeaker line, analogue."
    )
    count: Annotated[int, Shows("cables", NOT_CLIENT, "count")] = Field(default=0, description="How many.")
    diameter_m: Annotated[float, Shows("outside_diameter", NOT_CLIENT, "small length")] = Field(
        default=0.0, description="Outside diameter of one, m."
    )


class PathwayRow(Row):
    """One pathway and how full it is."""

    schedule: ClassVar = Schedule(
        "pathway",
        subject="pathways",
        key=("tag",),
        views={
            "check": "tag verdict kind space temperature_c fill limit spare jam_ratio powered tied "
            "rise_k owner_cables",
            "pull": "tag kind begins_at ends_at drops_at length_m size spacing_m divided barrier bends "
            "radius_m pull_points",
            "price": "tag kind begins_at ends_at length_m size width_m depth_m size_from existing "
            "pull_points",
        },
    )

    tag: Annotated[str, Shows("pathway", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag."
    )
    kind: Annotated[str, Shows("kind", NOT_CLIENT, "word")] = Field(
        default="", description="Tray, conduit, hooks, sleeve or riser shaft, as building.yaml has it."
    )
    from_node: Annotated[str, Shows("from_node", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag of the node it begins at."
    )
    to_node: Annotated[str, Shows("to_node", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag of the node it ends at."
    )
    from_storey: Annotated[str, Shows("from_storey", NOT_CLIENT, "tag")] = Field(
        default="", description="Storey of the first node."
    )
    to_storey: Annotated[str, Shows("to_storey", NOT_CLIENT, "tag")] = Field(
        default="", description="Storey of the second node."
    )
    space: Annotated[str, Shows("space", NOT_CLIENT)] = Field(
        default="", description="Name of the space it lies in."
    )
    temperature_c: Annotated[float, Shows("air", NOT_CLIENT, "temperature")] = Field(
        default=0.0, description="Highest air temperature there, °C."
    )
    drops_at: Annotated[Point | None, Shows("changes_height_at", NOT_CLIENT, "coordinates")] = Field(
        default=None,
        description="Where a conduit goes from the height of one end to that of the other, m; None where "
        "nobody says.",
    )
    length_m: Annotated[float, Shows("length", NOT_CLIENT, "length", sums=True)] = Field(
        default=0.0, description="Length, m."
    )
    size: Annotated[str, Shows("trade_size_or_model", NOT_CLIENT)] = Field(
        default="", description="Trade size, or model of hooks."
    )
    tray: Annotated[str, Shows("sort_of_tray", NOT_CLIENT, "word", follows=True)] = Field(
        default="", description="Wire mesh, ladder or perforated; empty for others."
    )
    chosen: Annotated[bool, Shows("chosen", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether the program chose the size."
    )
    existing: Annotated[bool, Shows("existing", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether it is there already."
    )
    straight: Annotated[bool, Shows("goes_straight", ALL, "flag")] = Field(
        default=True,
        description="Whether it goes straight from node to node; of a longer one the way is not known.",
    )
    owner_cables: Annotated[int, Shows("cables_of_the_owner", NOT_CLIENT, "count", zero=False)] = Field(
        default=0, description="Cables of the owner that lie in it already."
    )
    divided: Annotated[bool, Shows("divided", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether a divider keeps loudspeaker lines apart in it."
    )
    barrier: Annotated[bool, Shows("barrier", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether a barrier parts it from mains cables."
    )
    width_m: Annotated[float | None, Shows("width", NOT_CLIENT, "small length")] = Field(
        default=None, description="Width of a tray, m."
    )
    depth_m: Annotated[float | None, Shows("depth", NOT_CLIENT, "small length")] = Field(
        default=None, description="Depth of a tray, m."
    )
    internal_diameter_m: Annotated[float | None, Shows("inside", NOT_CLIENT, "small length")] = Field(
        default=None, description="Inside diameter of a conduit, m."
    )
    outside_diameter_m: Annotated[float | None, Shows("outside_diameter", NOT_CLIENT, "small length")] = (
        Field(default=None, description="Outside diameter of a conduit, m.")
    )
    spacing_m: Annotated[float | None, Shows("supports_every", NOT_CLIENT, "length", subject="lengths")] = (
        Field(default=None, description="From one of its hooks, straps or hangers to the next, m.")
    )
    cables: Annotated[tuple[str, ...], Shows("cables", NOT_CLIENT, "tag", follows=True)] = Field(
        default=(), description="Identities of its cables."
    )
    powered: Annotated[int, Shows("with_power", NOT_CLIENT, "count", zero=False, follows=True)] = Field(
        default=0, description="Cables with power over Ethernet."
    )
    tied: Annotated[int | None, Shows("tied_together", NOT_CLIENT, "count", follows=True)] = Field(
        default=None, description="Cables tied in one bundle; None where nothing lies in it."
    )
    rise_k: Annotated[float | None, Shows("bundle_warming", NOT_CLIENT, "temperature rise", follows=True)] = (
        Field(default=None, description="Warming of its warmest bundle by power over Ethernet, K.")
    )
    fill: Annotated[float | None, Shows("filled", NOT_CLIENT, "share", follows=True)] = Field(
        default=None, description="Share that is filled."
    )
    limit: Annotated[float | None, Shows("limit", NOT_CLIENT, "share")] = Field(
        default=None, description="Share that may be filled."
    )
    spare: Annotated[int | None, Shows("room_for", NOT_CLIENT, "count", follows=True)] = Field(
        default=None, description="Further cables of the widest that fit."
    )
    jam_ratio: Annotated[float | None, Shows("jam_ratio", NOT_CLIENT, "ratio")] = Field(
        default=None, description="Jam ratio of three cables."
    )
    bends: Annotated[tuple[float, ...], Shows("bends", NOT_CLIENT, "degrees")] = Field(
        default=(), description="Its bends, degrees."
    )
    radius_m: Annotated[float | None, Shows("radius", NOT_CLIENT, "small length")] = Field(
        default=None, description="Radius of its bends, m."
    )
    pull_points: Annotated[int, Shows("pull_points", NOT_CLIENT, "count", sums=True, zero=False)] = Field(
        default=0, description="Pull points between its ends."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict", empty="nothing_to_check")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )

    @composed(Shows("from", NOT_CLIENT, together=True))
    def begins_at(self) -> str:
        """Node it begins at, and its storey."""
        return f"{self.from_node} ({self.from_storey})"

    @composed(Shows("to", NOT_CLIENT, together=True))
    def ends_at(self) -> str:
        """Node it ends at, and its storey."""
        return f"{self.to_node} ({self.to_storey})"

    @composed(Shows("size_from", NOT_CLIENT, "word", together=True))
    def size_from(self) -> str:
        """Who chose its size; nothing where it has none."""
        return ("program" if self.chosen else "designer") if self.size else ""


class PenetrationRow(Row):
    """One opening that a pathway makes through a rated wall or floor."""

    schedule: ClassVar = Schedule("penetration", subject="pathways", key=("tag",))

    tag: Annotated[str, Shows("opening", ALL, "tag")] = Field(
        default="", description="Its tag: pathway, and W or F with a number along it."
    )
    pathway: Annotated[str, Shows("pathway", ALL, "tag")] = Field(
        default="", description="Tag of the pathway."
    )
    crosses: Annotated[str, Shows("crosses", ALL, "word")] = Field(
        default="", description="Wall or floor, fire-rated."
    )
    fire_rating: Annotated[str, Shows("fire_rating", ALL, empty="not_stated")] = Field(
        default="", description="Fire rating of the wall or floor, as it is stated; empty where it is not."
    )
    storey: Annotated[str, Shows("storey", ALL, "tag", link="tag")] = Field(
        default="", description="Storey of the wall; that above the floor."
    )
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(default="", description="Kind of the pathway.")
    size: Annotated[str, Shows("trade_size_or_model", ALL)] = Field(
        default="", description="Trade size of a conduit or sleeve."
    )
    width_m: Annotated[float | None, Shows("width", ALL, "small length")] = Field(
        default=None, description="Width of a tray, m."
    )
    depth_m: Annotated[float | None, Shows("depth", ALL, "small length")] = Field(
        default=None, description="Depth of a tray, m."
    )
    cables: Annotated[int, Shows("cables", ALL, "count", sums=True, follows=True)] = Field(
        default=0, description="Cables that pass."
    )
    sleeves: Annotated[tuple[str, ...], Shows("sleeves", ALL, follows=True)] = Field(
        default=(), description="Size of each sleeve to set, as conduit is sold there, and what passes in it."
    )
    insides_m: Annotated[
        tuple[float, ...], Shows("inside", NOT_CLIENT, ("small length",), drawn=True, follows=True)
    ] = Field(default=(), description="Inside diameter of each of these sleeves, m.")
    limits: Annotated[tuple[float, ...], Shows("limit", NOT_CLIENT, ("share",), drawn=True, follows=True)] = (
        Field(default=(), description="Share of each of these sleeves that may be filled.")
    )
    closed: Annotated[str, Shows("closed", ALL, "word")] = Field(
        default="", description="Round the cables, in the sleeve, or in and round the sleeves."
    )
    closed_by: Annotated[str, Shows("closed_by", ALL, "word")] = Field(
        default="", description="us or others, as the matrix of duties says."
    )


class PullRow(Row):
    """Conduits that are pulled through as one."""

    schedule: ClassVar = Schedule("pull", subject="pathways", key=("conduits",))

    conduits: Annotated[tuple[str, ...], Shows("conduits", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags in order."
    )
    from_node: Annotated[str, Shows("from", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag of the node it begins at."
    )
    to_node: Annotated[str, Shows("to", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag of the node it ends at."
    )
    cables: Annotated[int, Shows("cables", NOT_CLIENT, "count")] = Field(
        default=0, description="Cables in it."
    )
    length_m: Annotated[float, Shows("length", NOT_CLIENT, "length")] = Field(
        default=0.0, description="Length, m."
    )
    degrees: Annotated[float, Shows("bends", NOT_CLIENT, "degrees")] = Field(
        default=0.0, description="Sum of its bends, degrees."
    )
    pull_points: Annotated[int, Shows("pull_points", NOT_CLIENT, "count")] = Field(
        default=0, description="Pull points between its ends."
    )
    wanted_points: Annotated[int, Shows("better_with", NOT_CLIENT, "count")] = Field(
        default=0, description="Pull points that keep every pull to 180° and 30 m."
    )
    worst_degrees: Annotated[float, Shows("most_bends_of_a_pull", NOT_CLIENT, "degrees")] = Field(
        default=0.0, description="Most bends of one pull, degrees."
    )
    longest_m: Annotated[float, Shows("longest_pull", NOT_CLIENT, "length")] = Field(
        default=0.0, description="Longest pull, m."
    )
    tension_n: Annotated[float | None, Shows("tension", NOT_CLIENT, "newtons")] = Field(
        default=None, description="Tension of the hardest pull in the better direction, N."
    )
    tension_limit_n: Annotated[float | None, Shows("tension_limit", NOT_CLIENT, "newtons")] = Field(
        default=None, description="What the cables take, N."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails."
    )
