"""One cable of any kind: its ends, the parts of its length, and its checks."""

from proposal.design.connections.cable_checks import (
    LinkChecks,
    LinkUses,
)
from proposal.design.connections.cable_temperature import TemperatureSegment, hottest_c
from proposal.design.connections.patch_cords import Cord
from proposal.design.pathways.cable_routes import CableRoute
from proposal.field_classes import dataclass
from proposal.standards.working import Working


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """One cable with its length parts and checks.

    identity: device, its port and what it ends in.
    signal: network, analogue or loudspeaker line.
    start, end: tags at both ends; start_port, end_port and connectors likewise.
    room: tag of the room it serves.
    model: model code of the cable, empty where the library has none that suits.
    start_storey, end_storey: tags of storeys.
    route: the route it takes, also where the length was given by hand.
    slack_m: slack at both ends and termination, m.
    slack_ends_m: slack left at its device and at its far end, m.
    length_m: the cable as it lies, m.
    measured: whether the length was given by hand.
    warmth: how much of it lies at which temperature.
    source_w: power that its port's source allocates by class, W; 0 where it carries none.
    poe_class: class of power over Ethernet that it carries, None where it carries none.
    cords: patch cords at its ends; none for other signals.
    screened_wanted: whether the device asks for a screened cable.
    uses: dotted paths of the project inputs that its length rests on; none where it was measured.
    route_uses: those that its route rests on, and so who lies beside it.
    link_uses: those behind its checks, but for what warms it; None for other signals.
    checked: its checks on link, channel and cords; None for other signals.
    reach_m: farthest that the fibre modules at its ends drive, cords included, m; None for other signals.
    to_others: whether it is a lead to or from what others furnish and nobody placed; `end` is a code then.
    start_rack, start_panel: rack and panel port where it begins, of a cable from rack to rack; else empty.
    """

    identity: str
    signal: str
    start: str
    start_port: str
    start_connector: str
    end: str
    end_port: str
    end_connector: str
    room: str
    model: str
    start_storey: str
    end_storey: str
    route: CableRoute
    slack_m: float
    slack_ends_m: tuple[float, float]
    length_m: float
    measured: bool
    warmth: tuple[TemperatureSegment, ...]
    source_w: float = 0.0
    poe_class: int | None = None
    cords: tuple[Cord, ...] = ()
    screened_wanted: bool = False
    uses: tuple[str, ...] = ()
    route_uses: tuple[str, ...] = ()
    link_uses: LinkUses | None = None
    checked: LinkChecks | None = None
    reach_m: float | None = None
    to_others: bool = False
    start_rack: str = ""
    start_panel: str = ""

    @property
    def in_rack(self) -> bool:
        """Return whether it is a lead that lies in a rack, on a cart or between things side by side."""
        return any(stretch.in_rack for stretch in self.route.stretches)

    @property
    def in_workshop(self) -> bool:
        """Return whether it is laid where racks and carts are wired, and not on site."""
        return self.in_rack and not self.to_others

    @property
    def temperature_c(self) -> float:
        """Return the highest temperature along the cable, °C."""
        return hottest_c(self.warmth)

    @property
    def cords_m(self) -> float:
        """Return the cords at both ends together, m; 0 for other signals."""
        return sum(cord.length_m for cord in self.cords)

    @property
    def channel_m(self) -> float:
        """Return the link and its cords together, m."""
        return self.length_m + self.cords_m

    @property
    def limit_m(self) -> float | None:
        """Return the longest link, for its temperature or modules, m; None where nothing is checked."""
        if self.reach_m is not None:
            return self.reach_m - self.cords_m
        return self.checked.limit_m if self.checked else None

    @property
    def checks(self) -> tuple[Working, ...]:
        """Return the workings of its checks."""
        return self.checked.workings if self.checked else ()

    @property
    def holds(self) -> bool:
        """Return whether every check holds."""
        within_reach = self.reach_m is None or self.channel_m <= self.reach_m
        return within_reach and (self.checked is None or self.checked.holds)
