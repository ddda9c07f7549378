"""Rows about pathways: nodes, pathways, what lies in each, conduits as cables are pulled through them."""

from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import NotClient, Shown

Point = tuple[float, float]


class NodeRow(Shown):
    """A point where pathways meet or end."""

    tag: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag.")
    kind: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Junction, floor box or pull box."
    )
    storey: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of its storey.")
    at: Annotated[NotClient[Point], Holds("coordinates")] = Field(
        default=(0.0, 0.0), description="Position in the building, m."
    )
    height_m: Annotated[NotClient[float], Holds("length")] = Field(
        default=0.0, description="Height above the floor, m."
    )


class ContentRow(Shown):
    """The cables of one type and signal in one pathway."""

    pathway: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of the pathway.")
    type: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Model code of the cables.")
    signal: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Network, loudspeaker line, analogue."
    )
    count: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="How many.")
    diameter_m: Annotated[NotClient[float], Holds("small length")] = Field(
        default=0.0, description="Outside diameter of one, m."
    )


class PathwayRow(Shown):
    """One pathway and how full it is."""

    tag: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag.")
    kind: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Tray, conduit, hooks, sleeve or riser shaft, as building.yaml has it."
    )
    from_node: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the node it begins at."
    )
    to_node: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the node it ends at."
    )
    from_storey: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Storey of the first node."
    )
    to_storey: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Storey of the second node."
    )
    space: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Name of the space it lies in."
    )
    temperature_c: Annotated[NotClient[float], Holds("temperature")] = Field(
        default=0.0, description="Highest air temperature there, °C."
    )
    length_m: Annotated[NotClient[float], Holds("length")] = Field(default=0.0, description="Length, m.")
    size: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Trade size, or model of hooks."
    )
    chosen: Annotated[NotClient[bool], Holds("flag")] = Field(
        default=False, description="Whether the program chose the size."
    )
    width_m: Annotated[NotClient[float | None], Holds("small length")] = Field(
        default=None, description="Width of a tray, m."
    )
    depth_m: Annotated[NotClient[float | None], Holds("small length")] = Field(
        default=None, description="Depth of a tray, m."
    )
    internal_diameter_m: Annotated[NotClient[float | None], Holds("small length")] = Field(
        default=None, description="Inside diameter of a conduit, m."
    )
    cables: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Identities of its cables."
    )
    powered: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Cables with power over Ethernet."
    )
    fill: Annotated[NotClient[float | None], Holds("share")] = Field(
        default=None, description="Share that is filled."
    )
    limit: Annotated[NotClient[float | None], Holds("share")] = Field(
        default=None, description="Share that may be filled."
    )
    spare: Annotated[NotClient[int | None], Holds("count")] = Field(
        default=None, description="Further cables of the widest that fit."
    )
    jam_ratio: Annotated[NotClient[float | None], Holds("ratio")] = Field(
        default=None, description="Jam ratio of three cables."
    )
    bends: Annotated[NotClient[tuple[float, ...]], Holds("degrees")] = Field(
        default=(), description="Its bends, degrees."
    )
    radius_m: Annotated[NotClient[float | None], Holds("small length")] = Field(
        default=None, description="Radius of its bends, m."
    )
    pull_points: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Pull points between its ends."
    )
    verdict: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )


class PullRow(Shown):
    """Conduits that are pulled through as one."""

    conduits: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Tags in order."
    )
    from_node: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the node it begins at."
    )
    to_node: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the node it ends at."
    )
    cables: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Cables in it.")
    length_m: Annotated[NotClient[float], Holds("length")] = Field(default=0.0, description="Length, m.")
    degrees: Annotated[NotClient[float], Holds("degrees")] = Field(
        default=0.0, description="Sum of its bends, degrees."
    )
    pull_points: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Pull points between its ends."
    )
    wanted_points: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Pull points that keep every pull to 180° and 30 m."
    )
    worst_degrees: Annotated[NotClient[float], Holds("degrees")] = Field(
        default=0.0, description="Most bends of one pull, degrees."
    )
    longest_m: Annotated[NotClient[float], Holds("length")] = Field(
        default=0.0, description="Longest pull, m."
    )
    tension_n: Annotated[NotClient[float | None], Holds("newtons")] = Field(
        default=None, description="Tension of the hardest pull in the better direction, N."
    )
    tension_limit_n: Annotated[NotClient[float | None], Holds("newtons")] = Field(
        default=None, description="What the cables bear, N."
    )
    verdict: Annotated[NotClient[str], Holds("text")] = Field(default="", description="holds or fails.")
