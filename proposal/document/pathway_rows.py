"""Rows about pathways: nodes, pathways, what lies in each, conduits as cables are pulled through them."""

from pydantic import Field

from proposal.document.readers import NotClient, Shown

Point = tuple[float, float]


class NodeRow(Shown):
    """A point where pathways meet or end."""

    tag: NotClient[str] = Field(default="", description="Tag.")
    kind: NotClient[str] = Field(default="", description="Junction, floor box or pull box.")
    storey: NotClient[str] = Field(default="", description="Tag of its storey.")
    at: NotClient[Point] = Field(default=(0.0, 0.0), description="Position in the building, m.")
    height_m: NotClient[float] = Field(default=0.0, description="Height above the floor, m.")


class ContentRow(Shown):
    """The cables of one type and signal in one pathway."""

    pathway: NotClient[str] = Field(default="", description="Tag of the pathway.")
    type: NotClient[str] = Field(default="", description="Model code of the cables.")
    signal: NotClient[str] = Field(default="", description="Network, loudspeaker line, analogue.")
    count: NotClient[int] = Field(default=0, description="How many.")
    diameter_m: NotClient[float] = Field(default=0.0, description="Outside diameter of one, m.")


class PathwayRow(Shown):
    """One pathway and how full it is."""

    tag: NotClient[str] = Field(default="", description="Tag.")
    kind: NotClient[str] = Field(
        default="", description="Tray, conduit, hooks, sleeve or riser shaft, as building.yaml has it."
    )
    from_node: NotClient[str] = Field(default="", description="Tag of the node it begins at.")
    to_node: NotClient[str] = Field(default="", description="Tag of the node it ends at.")
    from_storey: NotClient[str] = Field(default="", description="Storey of the first node.")
    to_storey: NotClient[str] = Field(default="", description="Storey of the second node.")
    space: NotClient[str] = Field(default="", description="Name of the space it lies in.")
    temperature_c: NotClient[float] = Field(default=0.0, description="Highest air temperature there, °C.")
    length_m: NotClient[float] = Field(default=0.0, description="Length, m.")
    size: NotClient[str] = Field(default="", description="Trade size, or model of hooks.")
    chosen: NotClient[bool] = Field(default=False, description="Whether the program chose the size.")
    width_m: NotClient[float | None] = Field(default=None, description="Width of a tray, m.")
    depth_m: NotClient[float | None] = Field(default=None, description="Depth of a tray, m.")
    internal_diameter_m: NotClient[float | None] = Field(
        default=None, description="Inside diameter of a conduit, m."
    )
    cables: NotClient[tuple[str, ...]] = Field(default=(), description="Identities of its cables.")
    powered: NotClient[int] = Field(default=0, description="Cables with power over Ethernet.")
    fill: NotClient[float | None] = Field(default=None, description="Share that is filled.")
    limit: NotClient[float | None] = Field(default=None, description="Share that may be filled.")
    spare: NotClient[int | None] = Field(default=None, description="Further cables of the widest that fit.")
    jam_ratio: NotClient[float | None] = Field(default=None, description="Jam ratio of three cables.")
    bends: NotClient[tuple[float, ...]] = Field(default=(), description="Its bends, degrees.")
    radius_m: NotClient[float | None] = Field(default=None, description="Radius of its bends, m.")
    pull_points: NotClient[int] = Field(default=0, description="Pull points between its ends.")
    verdict: NotClient[str] = Field(default="", description="holds or fails; empty where nothing is checked.")


class PullRow(Shown):
    """Conduits that are pulled through as one."""

    conduits: NotClient[tuple[str, ...]] = Field(default=(), description="Tags in order.")
    from_node: NotClient[str] = Field(default="", description="Tag of the node it begins at.")
    to_node: NotClient[str] = Field(default="", description="Tag of the node it ends at.")
    cables: NotClient[int] = Field(default=0, description="Cables in it.")
    length_m: NotClient[float] = Field(default=0.0, description="Length, m.")
    degrees: NotClient[float] = Field(default=0.0, description="Sum of its bends, degrees.")
    pull_points: NotClient[int] = Field(default=0, description="Pull points between its ends.")
    wanted_points: NotClient[int] = Field(
        default=0, description="Pull points that keep every pull to 180° and 30 m."
    )
    worst_degrees: NotClient[float] = Field(default=0.0, description="Most bends of one pull, degrees.")
    longest_m: NotClient[float] = Field(default=0.0, description="Longest pull, m.")
    tension_n: NotClient[float | None] = Field(
        default=None, description="Tension of the hardest pull in the better direction, N."
    )
    tension_limit_n: NotClient[float | None] = Field(default=None, description="What the cables bear, N.")
    verdict: NotClient[str] = Field(default="", description="holds or fails.")
