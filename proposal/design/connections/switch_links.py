"""The links between switches: the medium and modules of each, its cable between racks or cord in one."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Literal

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import AMBIENT_USE, EQUIPMENT_CORD_USE, LinkUses, link_checks
from proposal.design.connections.cable_choice import data_cable, fibre_cable
from proposal.design.connections.cable_ends import FIBRE_PLUG
from proposal.design.connections.cable_runs import length_by_hand, model_by_hand, route_uses
from proposal.design.connections.cable_temperature import temperature_segments
from proposal.design.connections.data_cables import PANEL_JACK
from proposal.design.connections.jackets import in_ceilings, jacket_needs
from proposal.design.connections.patch_cords import Cord, cord, fibre_cord
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.network.switch_costs import FIBRES_OF
from proposal.design.network.switch_joins import OWNER, SwitchJoin, SwitchJoins
from proposal.design.numbers.numbering import cable_identity
from proposal.design.pathways.cable_routes import CableRoute
from proposal.design.pathways.right_angled_runs import pathway_height_uses
from proposal.design.pathways.routing import Router
from proposal.design.rooms.device_positions import first_rack
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import NetworkPart, Switch
from proposal.model.equipment.entry import Device
from proposal.model.project import Project

Medium = Literal["copper", "fibre"]
COPPER_FORMS, FIBRE_FORMS = ("8P8C jack", "either"), ("fibre module", "either")


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchLink:
    """How two switches are joined.

    join: which ports.
    medium: copper or fibre; empty where nothing of the library suits both.
    module: model code of the module in each of the two uplink ports, empty for copper.
    speed_bit_per_s: data rate of the link.
    cords: at both ends of a cable between racks, or the one cord between two switches in a room.
    cable: from rack to rack; None in one equipment room.
    length_m: of the cable, or of the one cord, m.
    reach_m: farthest that the modules drive, m; None for copper.
    """

    join: SwitchJoin
    medium: Medium | Literal[""]
    module: str
    speed_bit_per_s: float
    cords: tuple[Cord, ...]
    cable: Cable | None
    length_m: float
    reach_m: float | None

    @property
    def identity(self) -> str:
        """Return the identity of its cable, or of its cord: a switch, its port and what it ends in."""
        end = self.join.end or self.join.end_port
        return (
            self.cable.identity if self.cable else cable_identity(self.join.start, self.join.start_port, end)
        )


@dataclass(frozen=True, slots=True)
class _Run:
    """The way between two racks, m and words, and what its length rests on."""

    route: CableRoute
    slack_m: float
    slack_ends_m: tuple[float, float]
    length_m: float
    measured: bool
    needs: tuple[str, ...]
    uses: tuple[str, ...]


def switch_links(
    project: Project,
    router: Router,
    joins: SwitchJoins,
    switches: Mapping[str, Placed],
    entries: Mapping[str, Device],
) -> tuple[SwitchLink, ...]:
    """Return the link of each join of switches, in their order.

    router: finds the route from rack to rack.
    switches, entries: the switches and their entries of the library by tag.
    Copper is taken where both ports take it and the link is short enough, else the fibre whose modules, cords
    and cable cost least, then the faster one.
    """
    return tuple(_link(project, router, join, switches[join.start], entries) for join in joins.joins)


def _link(
    project: Project, router: Router, join: SwitchJoin, start: Placed, entries: Mapping[str, Device]
) -> SwitchLink:
    ends = [entries[tag] for tag in (join.start, join.end) if tag]
    switches = [one for one in ends if isinstance(one, Switch)]
    speed = min(one.uplink_speed for one in switches)
    run = None if join.within_a_room else _between_racks(project, router, join, start)
    # The owner's port is taken for a jack, as nothing else is known of it.
    copper = all(one.uplink_form in COPPER_FORMS for one in switches) or join.end == OWNER
    if copper and run is None:
        one = cord(project, "rack", None)
        cords = (one,) if one else ()
        length_m = sum(cord.length_m for cord in cords)
        return SwitchLink(
            join=join, medium="copper", module="", speed_bit_per_s=speed, cords=cords, cable=None,
            length_m=length_m, reach_m=None,
        )  # fmt: skip
    if copper and run is not None:
        cable = _copper_cable(project, join, start, run)
        if cable.holds:
            return SwitchLink(
                join=join, medium="copper", module="", speed_bit_per_s=speed, cords=cable.cords, cable=cable,
                length_m=run.length_m, reach_m=None,
            )  # fmt: skip
    fibre = all(one.uplink_form in FIBRE_FORMS for one in switches)
    choices = list(_fibres(project, join, start, run, speed)) if fibre else []
    if not choices:
        length_m = run.length_m if run else 0.0
        return SwitchLink(
            join=join, medium="", module="", speed_bit_per_s=speed, cords=(), cable=None, length_m=length_m,
            reach_m=None,
        )  # fmt: skip
    return min(choices, key=lambda one: (one[0], -one[1].speed_bit_per_s, one[1].module))[1]


def _fibres(
    project: Project, join: SwitchJoin, start: Placed, run: _Run | None, speed: float
) -> Iterator[tuple[Decimal, SwitchLink]]:
    """Yield every link by fibre that reaches, with what its modules, cords and cable cost."""
    for code, module in sorted(project.library.network_parts.items()):
        kinds = FIBRES_OF.get(module.fibre, ())
        if module.role != "fibre module" or module.speed > speed:
            continue
        for kind in kinds:
            one = fibre_cord(project, kind)
            if one is None:
                continue
            cords = (one,) if run is None else (one, one)
            model = fibre_cable(project, kind, run.needs) if run else ""
            length_m = run.length_m if run else one.length_m
            if (run and not model) or not _reaches(module, length_m, cords, run):
                continue
            cable = _cable(project, join, start, run, "fibre", model, cords) if run else None
            if cable is not None:
                cable = replace(cable, reach_m=module.reach)
            cost = 2 * unit_cost(project, module)
            cost += sum((unit_cost(project, project.library.entry(one.model)) for one in cords), Decimal(0))
            if cable and run:
                each = unit_cost(project, project.library.entry(cable.model))
                cost += each * Decimal(repr(round(run.length_m, 3)))
            yield (
                cost,
                SwitchLink(
                    join=join,
                    medium="fibre",
                    module=code,
                    speed_bit_per_s=module.speed,
                    cords=cords,
                    cable=cable,
                    length_m=length_m,
                    reach_m=module.reach,
                ),
            )


def _reaches(module: NetworkPart, length_m: float, cords: tuple[Cord, ...], run: _Run | None) -> bool:
    """Return whether a pair of modules drives a link, its cords included."""
    whole_m = length_m + (sum(one.length_m for one in cords) if run else 0.0)
    return module.reach is None or whole_m <= module.reach


def _between_racks(project: Project, router: Router, join: SwitchJoin, start: Placed) -> _Run:
    """Return the way from the rack of one equipment room to that of another."""
    rules, building = project.brief.rules.cabling, project.building
    end_storey = building.equipment_rooms[join.end_room].storey
    identity = _cable_identity(project, join)
    fixed = project.fixed.cables.get(identity)
    route = router.route(
        start.at, start.height_m, start.storey, join.end_room, pinned=fixed.route if fixed else ()
    )
    route = in_ceilings(project, route, start.room, start.storey, end_storey)
    slack_m = 2 * rules.rack_slack + rules.termination
    measured_m = length_by_hand(project, identity)
    storeys = dict.fromkeys((start.storey, end_storey))
    uses = (
        "project.rules.cabling.rack_slack",
        "project.rules.cabling.termination",
        "project.rules.cabling.routing_factor",
        "project.rules.cabling.rack_height",
        f"building.equipment_rooms.{join.start_room}.joined_to",
        *(("building.shafts",) if len(storeys) > 1 else ()),
        *(use for storey in storeys for use in pathway_height_uses(project, storey)),
        *(route_uses(project, route) if route.pathways else ()),
    )
    return _Run(
        route=route,
        slack_m=slack_m,
        slack_ends_m=(rules.rack_slack, rules.rack_slack),
        length_m=route.length_m + slack_m if measured_m is None else measured_m,
        measured=measured_m is not None,
        needs=jacket_needs(project, route, rises=start.storey != end_storey),
        uses=() if measured_m is not None else tuple(dict.fromkeys(uses)),
    )


def _cable_identity(project: Project, join: SwitchJoin) -> str:
    return cable_identity(join.start, join.start_port, first_rack(project, join.end_room))


def _copper_cable(project: Project, join: SwitchJoin, start: Placed, run: _Run) -> Cable:
    """Return the copper cable of a link from rack to rack, with its checks."""
    model = model_by_hand(project, _cable_identity(project, join)) or data_cable(project, False, run.needs)
    entry = project.library.cables.get(model)
    one = cord(project, "rack", entry)
    cords = (one, one) if one else ()
    cable = _cable(project, join, start, run, "network", model, cords)
    uses = LinkUses(length=run.uses, warmth=(AMBIENT_USE,), cords=(EQUIPMENT_CORD_USE,))
    checked = link_checks(
        cable.warmth,
        cable.cords_m,
        screened=bool(entry and entry.screened),
        cord_gauge_awg=project.brief.rules.cabling.cord_gauge,
        uses=uses,
    )
    return replace(cable, checked=checked, link_uses=uses)


def _cable(
    project: Project,
    join: SwitchJoin,
    start: Placed,
    run: _Run,
    signal: str,
    model: str,
    cords: tuple[Cord, ...],
) -> Cable:
    """Return a cable from rack to rack, whatever it is made of."""
    connector = PANEL_JACK if signal == "network" else FIBRE_PLUG
    return Cable(
        identity=_cable_identity(project, join),
        signal=signal,
        start=join.start,
        start_port=join.start_port,
        start_connector=connector,
        end=first_rack(project, join.end_room),
        end_port="",
        end_connector=connector,
        room=join.start_room,
        model=model,
        start_storey=start.storey,
        end_storey=project.building.equipment_rooms[join.end_room].storey,
        route=run.route,
        slack_m=run.slack_m,
        slack_ends_m=run.slack_ends_m,
        length_m=run.length_m,
        measured=run.measured,
        warmth=temperature_segments(project, run.route, run.length_m, {}),
        cords=cords,
        uses=run.uses,
        start_rack=first_rack(project, join.start_room),
    )
