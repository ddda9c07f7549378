"""Assistive listening of a room: receivers by its seats, what hearing aids need, transmitters by its area.

It is chosen where a room has to offer it and none of its destinations is such a system of somebody else's.
"""

import math
from collections.abc import Mapping
from decimal import Decimal

from proposal.design.equipment.mountings import listening_places
from proposal.design.equipment.placed_devices import signed_area_m2
from proposal.design.equipment.room_walls import Wall, inward, nearest_wall, walls_of
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.numbers.numbering import device_code
from proposal.design.solving.objective import Option, cover
from proposal.field_classes import dataclass
from proposal.model.assistive_listening import LAW_OF_TABLE, Carrier, serves_assistive_listening
from proposal.model.equipment.sound_devices import AssistiveDevice
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.quantities.tile_grid import to_tile_middle_m
from proposal.standards import assistive_listening
from proposal.standards.working import Working, working

RULES = "project.rules.assistive_listening"
_NO_CODE = "no code of the place is named; their number is an assumption of ours"
HEADROOM_M = 2.0
"""From this height on people sit under a level as well as on it: its floor counts beside the room's."""
BEFORE_THE_WALL_M = 0.5
"""How far before a wall transmitters are that may not hang on it."""
CODES: Mapping[str, str] = {
    "transmitter": "assistive_transmitter",
    "receiver": "assistive_receiver",
    "neck loop": "neck_loop",
    "receiver charger": "receiver_charger",
    "sign": "assistive_sign",
}
"""Under which kind the codes of devices are counted, by role."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AssistiveSet:
    """What a room has for assistive listening.

    seats: in the room.  receivers_wanted, compatible_wanted: by the seats, and for hearing aids.
    compatible: receivers that hearing aids can use, with a neck loop or by themselves.
    area_m2: floor area with its levels, m².
    carrier: of their sound, such as infrared; empty where the library does not say.
    barred: what may not carry it, each with the reason.
    models: model of each device by role.
    lacking: what the library cannot supply, in words.
    workings: of the counts.
    """

    seats: int
    receivers_wanted: int
    compatible_wanted: int
    compatible: int
    area_m2: float
    carrier: str
    barred: tuple[tuple[str, str], ...]
    models: Mapping[str, tuple[str, ...]]
    lacking: tuple[str, ...]
    workings: tuple[Working, ...]

    @property
    def by_code(self) -> Mapping[str, tuple[str, str]]:
        """Return role and model of each device by its code in the room, such as AT1."""
        return {
            device_code(CODES[role], n): (role, model)
            for role, models in self.models.items()
            for n, model in enumerate(models, start=1)
        }


def assistive_set(project: Project, layout: RoomType, path: str = "") -> AssistiveSet | None:
    """Return what a room has for assistive listening; None where none is asked, or others serve it.

    path: dotted path of the layout in the project, for the inputs that the workings use.
    """
    if not layout.assistive_listening or serves_assistive_listening(layout):
        return None
    counted = _wanted(project, layout, path)
    barred = not_allowed(project, layout)
    sets = [_set_by(project, layout, carrier, barred, counted) for carrier in _carriers(project, barred)]
    return min(sets, key=lambda one: (len(one.lacking), _cost(project, one), one.carrier))


def not_allowed(project: Project, layout: RoomType) -> Mapping[Carrier, str]:
    """Return what may not carry assistive listening in a room, each with the reason.

    layout: of the room; the rules of the project hold beside it.
    """
    return {**project.brief.rules.assistive_listening.not_allowed, **layout.assistive_devices.not_allowed}


def _carriers(project: Project, barred: Mapping[Carrier, str]) -> list[str]:
    """Return what may carry the sound by the library, in order; one without a name where none is left."""
    named = {one.carrier for one in project.library.assistive_devices.values() if one.carrier}
    return sorted(named - set(barred)) or ["none that is allowed" if barred else ""]


def _cost(project: Project, found: AssistiveSet) -> Decimal:
    entries = project.library.assistive_devices
    models = [model for held in found.models.values() for model in held]
    return sum((cost_of_one(project, entries[model]) for model in models), Decimal(0))


def _set_by(
    project: Project,
    layout: RoomType,
    carrier: str,
    barred: Mapping[Carrier, str],
    counted: tuple[Working, Working, float],
) -> AssistiveSet:
    """Return the devices at least cost whose sound one thing carries.

    carrier: infrared, radio or induction loop.  barred: what is not allowed.
    counted: workings of receivers, and the floor area, m².
    """
    wanted, compatible_wanted, area_m2 = counted
    asked = layout.assistive_devices.receivers or 0
    receivers, compatible = max(int(wanted.result), asked), int(compatible_wanted.result)
    transmitter, transmitters = _transmitters(project, layout, area_m2, carrier)
    models, can_hear = _receivers(project, receivers, compatible, carrier)
    models = {"transmitter": transmitter, **models}
    models["receiver charger"] = _chargers(project, receivers, carrier)
    sign = _least(project, "sign")
    models["sign"] = (sign,) * layout.assistive_devices.signs if sign else ()
    lacking = [role for role in ("transmitter", "receiver") if not models[role]]
    if can_hear < compatible:
        lacking.append("neck loop")
    told = project.library.assistive_devices[transmitter[0]].carrier if transmitter else None
    return AssistiveSet(
        seats=len(layout.seats),
        receivers_wanted=receivers,
        compatible_wanted=compatible,
        compatible=can_hear,
        area_m2=area_m2,
        carrier=told or "",
        barred=tuple(sorted(barred.items())),
        models={role: held for role, held in models.items() if held},
        lacking=tuple(lacking),
        workings=(wanted, compatible_wanted, *transmitters),
    )


def _wanted(project: Project, layout: RoomType, path: str) -> tuple[Working, Working, float]:
    """Return the workings of receivers, and of those for hearing aids, and the floor area, m²."""
    rules, seats = project.brief.rules.assistive_listening, len(layout.seats)
    used = (f"{path}.seats",) if path else ()
    if rules.share is None:
        receivers = working(
            assistive_listening.receivers_by_table,
            unit="receivers",
            uses=(f"{RULES}.share", *used),
            note="" if project.brief.region == LAW_OF_TABLE else f"{_NO_CODE[0].upper()}{_NO_CODE[1:]}.",
            seats=seats,
        )
    else:
        receivers = working(
            assistive_listening.receivers_by_share,
            unit="receivers",
            uses=(f"{RULES}.share", f"{RULES}.least", *used),
            note=f"Asked by: {rules.code}.",
            seats=seats,
            share=rules.share,
            least=rules.least,
        )
    compatible = working(
        assistive_listening.compatible_receivers,
        unit="receivers",
        uses=(f"{RULES}.compatible_share", f"{RULES}.least_compatible"),
        receivers=max(int(receivers.result), layout.assistive_devices.receivers or 0),
        share=rules.compatible_share,
        least=rules.least_compatible,
    )
    above = (one.outline for one in layout.levels.values() if one.height >= HEADROOM_M)
    return receivers, compatible, sum(abs(signed_area_m2(one)) for one in (layout.outline, *above))


def asked_by(project: Project) -> str:
    """Return what asks for the receivers: the code that the project names, else the published table.

    The table is a law of one region; elsewhere nobody is told that it asks for anything.
    """
    rules = project.brief.rules.assistive_listening
    if rules.share is not None:
        return rules.code
    return str(assistive_listening.ADA) if project.brief.region == LAW_OF_TABLE else _NO_CODE


def _of_role(project: Project, role: str, carrier: str = "") -> dict[str, AssistiveDevice]:
    """Return the entries of a role that may be used in the project's region, by model code.

    carrier: of their sound; those that name none go with all.
    """
    return {
        code: one
        for code, one in sorted(project.library.assistive_devices.items())
        if one.role == role
        and project.brief.region in one.regions
        and (not carrier or one.carrier in (None, carrier))
    }


def _least(project: Project, role: str) -> str:
    """Return the model of a role with the least cost, empty where the library has none."""
    costs = [(cost_of_one(project, one), code) for code, one in _of_role(project, role).items()]
    return min(costs)[1] if costs else ""


def _transmitters(
    project: Project, layout: RoomType, area_m2: float, carrier: str
) -> tuple[tuple[str, ...], tuple[Working, ...]]:
    """Return the transmitters of one model that reach an area at least cost, and how they were counted.

    What can be nowhere in the room is taken only where nothing else is there.
    """
    written = layout.assistive_devices.transmitters_on
    wanted = (written,) if written else ("wall", "ceiling", "stand", "table")
    found: list[tuple[bool, Decimal, int, float, str, Working]] = []
    for code, one in _of_role(project, "transmitter", carrier).items():
        if one.covers:
            counted = working(
                assistive_listening.transmitters, unit="transmitters", area_m2=area_m2, covered_m2=one.covers
            )
            count = int(counted.result)
            cost = cost_of_one(project, one) * count
            nowhere = set(wanted).isdisjoint(listening_places(layout, one))
            found.append((nowhere, cost, count, one.covers * count - area_m2, code, counted))
    if not found:
        return (), ()
    _, _, count, _, code, counted = min(found, key=lambda one: one[:5])
    return (code,) * count, (counted,)


def _receivers(
    project: Project, receivers: int, compatible: int, carrier: str
) -> tuple[dict[str, tuple[str, ...]], int]:
    """Return receivers and neck loops at least cost, and how many receivers hearing aids can use."""
    entries = _of_role(project, "receiver", carrier)
    costs = {code: cost_of_one(project, one) for code, one in entries.items()}
    usual = min(costs, key=lambda code: (costs[code], code), default="")
    if not usual:
        return {"receiver": (), "neck loop": ()}, 0
    by_itself = [code for code, one in entries.items() if one.hearing_aid_compatible]
    loops = [
        code for code, one in _of_role(project, "neck loop", carrier).items() if one.hearing_aid_compatible
    ]
    ways: list[tuple[Decimal, int, tuple[str, ...], tuple[str, ...]]] = []
    for code in by_itself:
        few = (code,) * compatible + (usual,) * max(receivers - compatible, 0)
        ways.append((sum((costs[one] for one in few), Decimal(0)), len(few), tuple(sorted(few)), ()))
    for code in loops:
        loop_cost = cost_of_one(project, project.library.assistive_devices[code]) * compatible
        many = (usual,) * max(receivers, compatible)
        ways.append(
            (costs[usual] * len(many) + loop_cost, len(many) + compatible, many, (code,) * compatible)
        )
    if not ways:
        return {"receiver": (usual,) * receivers, "neck loop": ()}, 0
    _, _, chosen, with_loop = min(ways)
    return {"receiver": chosen, "neck loop": with_loop}, compatible


def _chargers(project: Project, receivers: int, carrier: str) -> tuple[str, ...]:
    """Return chargers at least cost with a slot for every receiver."""
    options = tuple(
        Option(code, cost_of_one(project, one), (one.slots,))
        for code, one in _of_role(project, "receiver charger", carrier).items()
        if one.slots
    )
    chosen = cover(options, (receivers,)) if options and receivers else None
    return tuple(code for code, count in sorted(chosen or ()) for _ in range(count))


def transmitter_places(layout: RoomType, count: int) -> tuple[tuple[float, float], ...]:
    """Return where transmitters hang unless it is written: along the longest wall, at equal distances.

    count: of transmitters.
    """
    (x1, y1), (x2, y2) = longest_wall(layout)
    shares = [(n + 0.5) / count for n in range(count)]
    return tuple((round(x1 + s * (x2 - x1), 6), round(y1 + s * (y2 - y1), 6)) for s in shares)


def longest_wall(layout: RoomType) -> Wall:
    """Return the longest wall of a room; of equally long ones the first."""
    return max(walls_of(layout.outline), key=lambda wall: round(math.dist(*wall), 6))


def before_the_wall(layout: RoomType, point: tuple[float, float], place: str) -> tuple[float, float]:
    """Return where a transmitter is beside a point of the longest wall; under tiles, in the middle of one.

    place: ceiling or stand.
    """
    across = inward(longest_wall(layout), layout.outline)
    x, y = point[0] + across[0] * BEFORE_THE_WALL_M, point[1] + across[1] * BEFORE_THE_WALL_M
    if place == "ceiling" and layout.ceiling.tile is not None:
        to_middle = to_tile_middle_m((x, y), layout.ceiling.tile)
        x, y = x + to_middle[0], y + to_middle[1]
    return round(x, 6), round(y, 6)


def nearest_on_a_wall(layout: RoomType, point: tuple[float, float]) -> tuple[float, float]:
    """Return the point of the room's walls that is nearest to a point of its floor, both m.

    point: in the room's own coordinates.
    """
    (x1, y1), (x2, y2) = nearest_wall(layout.outline, point)
    along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / math.dist((x1, y1), (x2, y2)) ** 2
    along = max(0.0, min(1.0, along))
    return round(x1 + along * (x2 - x1), 6), round(y1 + along * (y2 - y1), 6)
