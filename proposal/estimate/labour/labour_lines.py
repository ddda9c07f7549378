"""Labour lines: every task counted over devices, cables, rooms, kinds of room, storeys and sheets."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from decimal import Decimal

from proposal.design.connections.cable import Cable
from proposal.design.design import Design
from proposal.design.equipment.our_duties import LINE_VOLTAGE, is_ours
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.pathway_graph import node_height_m
from proposal.design.pathways.penetrations import furnishes_fire_stopping
from proposal.design.pathways.right_angled_runs import pathway_height_m
from proposal.design.radio.portable_radio import rooms_with_radio, storey_of, used_in
from proposal.design.rooms.device_positions import FURNITURE
from proposal.estimate.labour.labour_line import Additions, LabourLine, role_of
from proposal.estimate.takeoff.box_lines import boxes_for_us
from proposal.estimate.takeoff.lines import exact
from proposal.estimate.takeoff.mains_outlet_lines import circuits_for_us, indoors, marks_for_us
from proposal.estimate.takeoff.pathway_lines import hooks_along, pathways_to_make
from proposal.estimate.takeoff.supports import chosen_hooks
from proposal.estimate.takeoff.systems import NETWORK, RACKS, SERVICES, SYSTEM_OF_SIGNAL, system_of_kind
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import RackPart
from proposal.model.equipment.materials import PatchPanel
from proposal.model.labour.labour import Labour, Task
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.project import Project
from proposal.quantities.rounding import HUNDREDTH, rounded, step_of

HOURS_A_METRE = step_of(5)
ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class _Counted:
    """Something that a task is done to, before equal ones become a line."""

    cause: str
    room: str
    storey: str
    system: str
    units: Decimal
    hours_a_unit: Decimal
    height_m: float = 0.0
    model: str = ""
    group: tuple[str, ...] = ()
    pulled_together: int = 1
    repeats: bool = False


def unit_lines(
    project: Project, design: Design, sheets: Sequence[str], labour: Labour, choices: LabourChoices
) -> list[LabourLine]:
    """Return a line for equal units of each task: same room, same hours, same conditions.

    sheets: numbers of the drawing sheets whose hours are counted.
    """
    counting = _Counting(project, design, sheets, labour)
    numbers = storey_numbers(project)
    lines = []
    for key, task in labour.tasks.items():
        if task.hours is None:
            continue
        grouped: dict[tuple[object, ...], list[_Counted]] = {}
        additions_of: dict[tuple[object, ...], Additions] = {}
        for one in counting.of(key, task):
            found = _additions(project, numbers, labour, choices, task, one)
            like = (one.room, one.storey, one.model, one.hours_a_unit, one.group, found)
            grouped.setdefault(like, []).append(one)
            additions_of[like] = found
        for kind, members in grouped.items():
            lines.append(_line(key, task, labour, members, additions_of[kind]))
    return lines


def _line(
    key: str, task: Task, labour: Labour, members: Sequence[_Counted], additions: Additions
) -> LabourLine:
    first = members[0]
    units = sum((one.units for one in members), Decimal(0))
    factor = _group_factor(labour, first.pulled_together)
    whole = ONE + sum((addition for _, addition in additions), Decimal(0))
    return LabourLine(
        task=key,
        name=task.name,
        trade=task.trade,
        phase=task.phase,
        room=first.room,
        storey=first.storey,
        system=first.system,
        model=first.model,
        units=units,
        unit="m" if task.length is not None else "each",
        hours_a_unit=first.hours_a_unit,
        group_factor=factor,
        additions=additions,
        hours=rounded(units * first.hours_a_unit * factor * whole, HUNDREDTH),
        causes=tuple(sorted(dict.fromkeys(one.cause for one in members), key=natural)),
    )


def _group_factor(labour: Labour, cables: int) -> Decimal:
    reached = [group for group in labour.pull_groups.values() if group.cables <= cables]
    return max(reached, key=lambda group: group.cables).factor if reached else ONE


def _additions(
    project: Project,
    storeys: Mapping[str, int],
    labour: Labour,
    choices: LabourChoices,
    task: Task,
    one: _Counted,
) -> Additions:
    """Return what conditions add to a unit, by name; those of 0 are left out.

    storeys: their numbers from the ground.
    """
    found: list[tuple[str, Decimal]] = []
    kind = project.rooms[one.room].type if one.room in project.rooms else ""
    chosen = (
        *choices.conditions,
        *choices.room_conditions.get(kind, ()),
        *choices.room_conditions.get(one.room, ()),
    )
    for name in dict.fromkeys(chosen):
        condition = labour.conditions[name]
        if task.phase in condition.phases:
            found.append((condition.name, Decimal(repr(condition.addition))))
    if task.at_height:
        reached = [step for step in labour.heights.values() if step.above <= one.height_m + 1e-9]
        if reached:
            highest = max(reached, key=lambda step: step.above)
            found.append(("height of the work", Decimal(repr(highest.addition))))
    upper = labour.upper_storeys
    if upper and one.storey and task.phase in upper.phases:
        above = max(storeys[one.storey] - upper.above, 0)
        found.append(("upper storey", above * Decimal(repr(upper.addition))))
    again = labour.repetition
    if again and one.repeats and task.phase in again.phases:
        found.append(("repeated room", -Decimal(repr(again.reduction))))
    return tuple((name, addition) for name, addition in found if addition)


def storey_numbers(project: Project) -> Mapping[str, int]:
    """Return the storeys' numbers from the ground, the lowest at or above it being 1; 0 for those below."""
    storeys = project.building.storeys
    above = sorted((storey.height, name) for name, storey in storeys.items() if storey.height >= 0)
    return dict.fromkeys(storeys, 0) | {name: number for number, (_, name) in enumerate(above, 1)}


class _Counting:
    """What a task is done to, in a project with its design."""

    def __init__(self, project: Project, design: Design, sheets: Sequence[str], labour: Labour) -> None:
        self._project = project
        self._design = design
        self._sheets = sheets
        self._labour = labour
        self._first = {kind.key: kind.rooms[0] for kind in design.kinds}
        self._kind = {tag: kind.key for kind in design.kinds for tag in kind.rooms}

    def of(self, key: str, task: Task) -> Iterable[_Counted]:
        """Yield the devices, cables, leads, hooks, pathways, rooms or sheets that a task is done to."""
        assert task.hours is not None
        if task.to == "device":
            yield from self._devices(key, task, task.hours)
        elif task.to in ("cable", "cable end"):
            yield from self._cables(task, task.hours)
        elif task.to == "lead in a rack":
            yield from self._leads(task, task.hours)
        elif task.to == "penetration":
            yield from self._penetrations(task.hours)
        elif task.to == "room":
            yield from self._rooms(task, task.hours, self._project.planned_rooms)
        elif task.to == "room with radio":
            yield from self._rooms(task, task.hours, rooms_with_radio(self._project))
        elif task.to == "hook":
            yield from self._hooks(task.hours)
        elif task.to == "pathway":
            yield from self._pathways(task, task.hours)
        elif task.to == "rack part":
            yield from self._rack_parts(task.hours)
        elif task.to == "box":
            for one in boxes_for_us(self._project, self._design, "install"):
                cable = one.cables[0]
                yield _Counted(
                    cable.identity, cable.room, cable.start_storey, NETWORK, ONE, task.hours,
                    repeats=self._repeats(cable.room),
                )  # fmt: skip
        elif task.to in ("mains outlet", "mains circuit"):
            yield from self._of_the_mains(task.to, task.hours)
        else:
            for cause, room, storey in self._others(task.to):
                yield _Counted(cause, room, storey, SERVICES, Decimal(task.times), task.hours)

    def _repeats(self, room: str) -> bool:
        """Return whether the same room was built before."""
        return room in self._kind and self._first[self._kind[room]] != room

    def _devices(self, key: str, task: Task, hours: Decimal) -> Iterable[_Counted]:
        met: set[tuple[str, str]] = set()
        # Many devices are alike in all that decides.
        decided: dict[tuple[int, str, bool], bool] = {}
        for device in self._design.devices:
            alike = id(self._design.entries.get(device.tag)), device.kind, device.location == FURNITURE
            if alike not in decided:
                decided[alike] = self._is_done_to(key, task, device)
            if not decided[alike]:
                continue
            of_model = (self._kind.get(device.room, device.room), device.model)
            further = task.further_hours is not None and of_model in met
            met.add(of_model)
            yield _Counted(
                device.tag,
                device.room,
                device.storey,
                system_of_kind(device.kind),
                ONE,
                task.further_hours if further and task.further_hours is not None else hours,
                height_m=device.height_m,
                model=device.model,
                repeats=task.further_hours is None and self._repeats(device.room),
            )

    def _is_done_to(self, key: str, task: Task, device: Placed) -> bool:
        entry = self._design.entries.get(device.tag)
        if entry is None:
            return False
        in_furniture = device.location == FURNITURE
        return task.done_to_device(
            key, device.kind, entry.labour_task, in_furniture=in_furniture, role=role_of(entry)
        )

    def _cables(self, task: Task, hours: Decimal) -> Iterable[_Counted]:
        cables = [one for one in self._done_to(task) if not one.in_workshop]
        together: dict[tuple[str, ...], int] = {}
        for cable in cables:
            pull = _pull(cable)
            together[pull] = together.get(pull, 0) + 1
        for cable in cables:
            by_length = task.length is not None
            count = exact(cable.length_m) if by_length else ONE * (2 if task.to == "cable end" else 1)
            each = hours
            if task.length is not None:
                each = rounded(hours / exact(task.length), HOURS_A_METRE)
            pull = _pull(cable)
            yield _Counted(
                cable.identity,
                cable.room,
                cable.start_storey,
                SYSTEM_OF_SIGNAL.get(cable.signal, SERVICES),
                count,
                each,
                height_m=self._run_height_m(cable),
                group=pull if by_length else (),
                pulled_together=together[pull] if by_length else 1,
                repeats=self._repeats(cable.room),
            )

    def _leads(self, task: Task, hours: Decimal) -> Iterable[_Counted]:
        """Yield the leads that lie inside racks."""
        for cable in self._done_to(task):
            if cable.in_workshop:
                yield _Counted(
                    cable.identity,
                    cable.room,
                    cable.start_storey,
                    SYSTEM_OF_SIGNAL.get(cable.signal, SERVICES),
                    ONE,
                    hours,
                    repeats=self._repeats(cable.room),
                )

    def _done_to(self, task: Task) -> list[Cable]:
        """Return the cables with the signals that a task names."""
        return [one for one in self._design.cables if not task.signals or one.signal in task.signals]

    def _run_height_m(self, cable: Cable) -> float:
        """Return how high above the floor a cable is pulled, m: 0 where it climbs nowhere."""
        if not any(part.vertical or part.pathway for part in cable.route.stretches if part.length_m > 0):
            return 0.0
        storeys = dict.fromkeys((cable.start_storey, cable.end_storey))
        return max(pathway_height_m(self._project, storey) for storey in storeys)

    def _rooms(self, task: Task, hours: Decimal, tags: Collection[str]) -> Iterable[_Counted]:
        for tag in sorted(tags, key=natural):
            again = self._repeats(tag)
            each = task.further_hours if again and task.further_hours is not None else hours
            storey = self._project.rooms[tag].storey
            repeats = again and task.further_hours is None
            yield _Counted(tag, tag, storey, SERVICES, ONE, each, repeats=repeats)

    def _rack_parts(self, hours: Decimal) -> Iterable[_Counted]:
        """Yield what is fixed in each rack beside devices: panels, managers, strips, fans, closing panels."""
        for rack in self._design.racks:
            fixed = sum(isinstance(item.entry, RackPart | PatchPanel) for item in rack.layout.items)
            fixed += sum(len(units) for _, units in rack.closing) + (rack.earthing is not None)
            if fixed:
                device = rack.device
                yield _Counted(device.tag, device.room, device.storey, RACKS, Decimal(fixed), hours)

    def _hooks(self, hours: Decimal) -> Iterable[_Counted]:
        """Yield the hooks of each room outside pathways, as high as its storey's horizontal runs."""
        _, hung = chosen_hooks(self._project, self._design)
        project = self._project
        for room, (count, _) in hung.items():
            storey = (project.rooms.get(room) or project.building.equipment_rooms[room]).storey
            height_m = pathway_height_m(self._project, storey)
            repeats = self._repeats(room)
            yield _Counted(room, room, storey, NETWORK, count, hours, height_m=height_m, repeats=repeats)

    def _pathways(self, task: Task, hours: Decimal) -> Iterable[_Counted]:
        """Yield the pathways that are ours to make: their metres, their hooks, or one of each."""
        for one in pathways_to_make(self._project, self._design.pathways):
            if one.kind not in task.pathways or not self._project.brief.rules.takeoff.price_pathways:
                continue
            units, each = Decimal(hooks_along(self._project, one) or 1), hours
            if task.length is not None:
                units, each = exact(one.length_m), rounded(hours / exact(task.length), HOURS_A_METRE)
            storey = self._project.building.nodes[one.start].storey
            height_m = max(node_height_m(self._project, node) for node in (one.start, one.end))
            yield _Counted(one.tag, "", storey, NETWORK, units, each, height_m=height_m)

    def _penetrations(self, hours: Decimal) -> Iterable[_Counted]:
        """Yield the openings that are ours to close, each as high as the cable runs of its storey."""
        if furnishes_fire_stopping(self._project):
            for one in self._design.penetrations:
                height_m = pathway_height_m(self._project, one.storey) if one.crosses == "wall" else 0.0
                yield _Counted(one.tag, "", one.storey, NETWORK, ONE, hours, height_m=height_m)

    def _of_the_mains(self, to: str, hours: Decimal) -> Iterable[_Counted]:
        """Yield outlets or circuits of the mains that are ours to install, circuits as high as cable runs."""
        if not is_ours(self._project, LINE_VOLTAGE, "install"):
            return
        for one in circuits_for_us(self._design):
            storey, place = one.outlets[0].storey, indoors(self._project, one.place)
            if to == "mains circuit":
                height_m = pathway_height_m(self._project, storey)
                yield _Counted(one.identity, place, storey, RACKS, ONE, hours, height_m=height_m)
            else:
                for mark in marks_for_us(one):
                    yield _Counted(mark, place, storey, RACKS, ONE, hours)

    def _others(self, to: str) -> Iterable[tuple[str, str, str]]:
        """Yield cause, room and storey of what else a task may be done to."""
        building = self._project.building
        if to == "kind of room":
            # Engineering of a kind of room is no single room's: it belongs to the building.
            planned = (one for one in self._design.kinds if not one.layout.nothing_planned)
            yield from ((kind.key, "", "") for kind in planned)
        elif to == "equipment room":
            yield from ((tag, tag, one.storey) for tag, one in building.equipment_rooms.items())
        elif to in ("storey", "storey with radio"):
            planned_rooms = self._project.planned_rooms
            tags = planned_rooms if to == "storey" else rooms_with_radio(self._project)
            used = {self._project.rooms[tag].storey for tag in tags}
            yield from ((tag, "", tag) for tag in building.storeys if tag in used)
        elif to == "place of a portable set":
            yield from ((tag, tag, storey_of(self._project, place)) for tag, place in used_in(self._project))
        elif to == "sheet":
            yield from ((number, "", "") for number in self._sheets)
        else:
            yield "project", "", ""


def _pull(cable: Cable) -> tuple[str, ...]:
    """Return the key that cables pulled together share: where they end and the pathways they take."""
    return (cable.room, cable.signal, cable.end, *cable.route.pathways)
