"""How many microphones, access points, chargers, breakouts and mixers a kind of room takes."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal

from proposal.design.equipment.amplifier_choice import amplifier_size
from proposal.design.equipment.assistive_choice import assistive_set
from proposal.design.equipment.audio_needs import AudioNeeds, microphones_at_once
from proposal.design.equipment.built_in_switch import still_serves, with_own_switch
from proposal.design.equipment.charger_choice import least_chargers, slots_by_form, slots_given
from proposal.design.equipment.device_capacity import Size, capacity, options_of, size_of
from proposal.design.equipment.microphone_accessories import accessories_of
from proposal.design.equipment.microphone_choice import (
    Unmet,
    for_region,
    microphone_at,
    spare_microphone,
)
from proposal.design.equipment.microphone_switches import switches_not_possible
from proposal.design.equipment.mixing_choice import mixing_size, needs_of, with_carried
from proposal.design.equipment.room_network import APART, network_of
from proposal.design.equipment.room_switch import room_switch
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.equipment.wired_choice import wired_models
from proposal.design.numbers.numbering import device_code, device_tag, natural
from proposal.design.solving.objective import cover
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Charger, SystemDevice
from proposal.model.microphone_positions import Form
from proposal.model.project import FixedRoom, Project
from proposal.model.rooms import RoomType


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """The microphone system of one kind of room.

    system: its name in the library, by which its devices work together.
    channels: radio channels needed.
    slots: charge slots needed.
    sizes: boxes by kind, in the order of the signal.
    microphones: model by code of position, empty where the library has none.
    accessories: models of what goes with each of them, by its code.
    spares: model and count of spare microphones by form.
    spare_codes: code of each of them, in the order of `spare_models`; empty where they are counted from 1.
    hung_order: codes of the access points in the order in which they get the places that placement finds;
        empty where that is the order of codes.
    own_switch: the model whose switch serves the room: a breakout's own, or a switch that stands in the room;
        empty where there is none.
    unmet: what the library cannot supply.
    """

    system: str
    channels: int
    slots: int
    sizes: tuple[Size, ...]
    microphones: Mapping[str, str]
    accessories: Mapping[str, tuple[str, ...]]
    spares: Mapping[Form, tuple[str, int]]
    own_switch: str
    unmet: tuple[Unmet, ...]
    spare_codes: tuple[str, ...] = ()
    hung_order: tuple[str, ...] = ()

    @property
    def spare_models(self) -> tuple[str, ...]:
        """Return the model of each spare microphone, form by form."""
        return tuple(model for _, (model, count) in sorted(self.spares.items()) for _ in range(count))

    @property
    def spares_by_code(self) -> Mapping[str, str]:
        """Return the model of each spare microphone by its code in the room, in order of codes."""
        models = self.spare_models
        codes = self.spare_codes or tuple(
            device_code("spare_microphone", n) for n in range(1, len(models) + 1)
        )
        return dict(sorted(zip(codes, models, strict=True), key=lambda item: natural(item[0])))

    def size(self, kind: str) -> Size | None:
        """Return the boxes of a kind, None where the room takes none."""
        return next((size for size in self.sizes if size.kind == kind), None)


_NOTHING = Sizing(
    system="",
    channels=0,
    slots=0,
    sizes=(),
    microphones={},
    accessories={},
    spares={},
    own_switch="",
    unmet=(),
)


def size_room(project: Project, layout: RoomType, fixed: FixedRoom) -> Sizing:
    """Return the least-cost microphone system of a room, or the designer's own, checked.

    project: its region, currency, rules and library.
    layout: the room's layout.
    fixed: sizes chosen by hand; what stands there is not replaced.
    Of several systems the one that lacks least is taken, then the one whose switches do what is asked at most
    microphones, then the least cost of the room's microphones and boxes, then the fewest boxes, the least
    spare and the order of names. A room in which nothing is planned takes nothing.
    """
    if layout.nothing_planned:
        return _NOTHING
    made = [_sized(project, layout, fixed, system) for system in systems_open(project, layout, fixed)]
    if len(made) == 1:
        return made[0]
    return min(
        made,
        key=lambda one: (
            len(one.unmet),
            len(switches_not_possible(project, layout, one.microphones)),
            _cost(project, one),
            sum(len(size.models) for size in one.sizes),
            sum(size.spare for size in one.sizes),
            one.system,
        ),
    )


def systems_open(project: Project, layout: RoomType, fixed: FixedRoom) -> tuple[str, ...]:
    """Return the microphone systems that a room may have: the one written, those chosen by hand, or all.

    Where nothing is left to choose from, it is one without a name.
    """
    written = layout.system or project.brief.rules.microphones.system
    if written:
        return (written,)
    chosen = [*(fixed.access_points or ()), *(fixed.chargers or ())]
    chosen += [code for position in layout.microphones.values() for code in position.accessories]
    entries = [project.library.entry(code) for code in chosen]
    by_hand = {entry.works_with for entry in entries if isinstance(entry, SystemDevice)}
    return tuple(sorted(by_hand or project.library.systems)) or ("",)


def _sized(project: Project, layout: RoomType, fixed: FixedRoom, system: str) -> Sizing:
    """Return the least-cost sizes of a room whose microphones are of one system."""
    unmet: list[Unmet] = []
    microphones = {
        code: microphone_at(project, system, layout, code, unmet) for code in sorted(layout.microphones)
    }
    accessories = {
        code: accessories_of(project, system, position) for code, position in layout.microphones.items()
    }
    unmet += [
        Unmet(f"headset or lavalier for bodypacks {for_region(project, system)}", ("microphones", code))
        for code, position in sorted(layout.microphones.items())
        if position.form == "bodypack" and not accessories[code]
    ]
    spares: dict[Form, tuple[str, int]] = {}
    for form, count in sorted(layout.spare_microphones.items()):
        if count:
            spares[form] = (spare_microphone(project, system, layout, form, unmet), count)
    channels = microphones_at_once(layout)
    by_form = slots_by_form(layout)
    sizes = [
        _size(project, "access_point", channels, fixed.access_points, unmet, system),
        _chargers(project, system, by_form, fixed.chargers, unmet),
    ]
    own_switch = ""
    needs = needs_of(project, layout, sizes[0].models)
    if layout.output == "mixer":
        sizes.append(mixing_size(project, "mixer", needs, fixed.mixers))
    else:
        breakouts = mixing_size(project, "breakout", needs, fixed.breakouts)
        own_switch, breakouts = with_own_switch(project, layout, breakouts, sizes, needs)
        sizes.append(breakouts)
    unmet += _mixing_unmet(project, sizes[-1])
    if network_of(project, layout) in APART and not own_switch:
        stands = room_switch(project, layout, sizes)
        if stands is None:
            unmet.append(Unmet("switch that stands in a room and takes all its devices", ("network",)))
        else:
            own_switch = stands.models[0]
            sizes.append(stands)
    for code, model in wired_models(project, layout).items():
        if not model:
            wanted = layout.wired_microphones[code]
            unmet.append(
                Unmet(
                    f"{wanted.pattern} {wanted.form} wired microphone",
                    ("wired_microphones", code, "form"),
                )
            )
    assistive = assistive_set(project, layout)
    for role in assistive.lacking if assistive else ():
        barred = " and ".join(one for one, _ in assistive.barred) if assistive else ""
        told = f" without {barred}, which is not allowed," if barred else ""
        unmet.append(Unmet(f"{role}{told} for assistive listening", ("assistive_listening",)))
    if layout.loudspeakers:
        amplifiers = amplifier_size(project, layout)
        sizes.append(amplifiers)
        if not amplifiers.models:
            unmet.append(Unmet(f"amplifier {for_region(project, '')}", ("loudspeakers",)))
        if not project.library.loudspeakers:
            unmet.append(Unmet("ceiling loudspeaker", ("loudspeakers",)))
    return Sizing(
        system=system,
        channels=channels,
        slots=sum(by_form.values()),
        sizes=tuple(sizes),
        microphones=microphones,
        accessories=accessories,
        spares=spares,
        own_switch=own_switch,
        unmet=tuple(dict.fromkeys(unmet)),
    )


def _cost(project: Project, sizing: Sizing) -> Decimal:
    """Return what the microphones and boxes of a room cost, in the project's currency."""
    models = [model for size in sizing.sizes for model in size.models]
    models += [model for held in sizing.accessories.values() for model in held]
    models += [model for model in (*sizing.microphones.values(), *sizing.spare_models) if model]
    return sum((cost_of_one(project, project.library.entry(model)) for model in models), Decimal(0))


def _mixing_unmet(project: Project, size: Size) -> list[Unmet]:
    """Return what the library's mixers cannot carry; where breakouts cannot, a mixer is what lacks."""
    noun = size.kind
    if size.by_hand:
        return []
    if not size.models:
        return [Unmet(f"{noun} {for_region(project, '')}", ("microphones",))]
    if noun == "breakout":
        return []
    short = [f"{one.need} {one.what} ({one.given} given)" for one in size.lacking]
    return [Unmet(f"{noun} with {' and '.join(short)}", ("destinations",))] if short else []


def with_models_by_hand(project: Project, room: str, sizing: Sizing) -> Sizing:
    """Return the system of one room with the models that fixed.yaml gives single devices of it.

    room: tag of the room.
    A model of another kind is left out here; the caller refuses it.
    """

    def fixed_model(code: str, kind: str) -> str:
        fixed = project.fixed.devices.get(device_tag(room, code))
        return fixed.model if fixed and fixed.model in project.library.of_kind(kind) else ""

    sizes = []
    for size in sizing.sizes:
        by_hand = {code: model for code in size.by_code if (model := fixed_model(code, size.kind))}
        if by_hand:
            entries = project.library.of_kind(size.kind)
            codes, models = zip(*(dict(size.by_code) | by_hand).items(), strict=True)
            given = (
                _slots_given(project, models, slots_by_form(project.rooms[room].layout))
                if size.kind == "charger"
                else sum(capacity(entries[model]) for model in models)
            )
            size = replace(size, models=models, given=given, by_hand=True, codes=codes)
            if size.carried:
                size = with_carried(size, _needs(project, room, sizing), entries)
        sizes.append(size)
    microphones = {
        code: fixed_model(code, "microphone") or model for code, model in sizing.microphones.items()
    }
    host = sizing.own_switch
    before = sizing.size("switch")
    if before is not None and host in before.models:
        host = next(size.models[0] for size in sizes if size.kind == "switch")
    own_switch = host if still_serves(project, project.rooms[room].layout, host, sizes) else ""
    return replace(sizing, sizes=tuple(sizes), microphones=microphones, own_switch=own_switch)


def _needs(project: Project, room: str, sizing: Sizing) -> AudioNeeds:
    access_points = sizing.size("access_point")
    return needs_of(project, project.rooms[room].layout, access_points.models if access_points else ())


def _size(
    project: Project,
    kind: str,
    need: int,
    by_hand: Mapping[str, int] | None,
    unmet: list[Unmet],
    system: str = "",
) -> Size:
    """Return the boxes of one kind: the designer's, or the least-cost ones.

    system: that of the boxes, where they work in one system only.
    """
    entries = project.library.of_kind(kind)
    if by_hand is not None:
        return size_of(kind, need, by_hand.items(), entries, by_hand=True)
    chosen = cover(options_of(project, kind, system), (need,))
    if chosen is None:
        what = f"{kind.replace('_', ' ')} {for_region(project, system)}"
        unmet.append(Unmet(what, ("microphones",)))
    return size_of(kind, need, chosen or (), entries, by_hand=False)


def _chargers(
    project: Project,
    system: str,
    by_form: Mapping[Form, int],
    by_hand: Mapping[str, int] | None,
    unmet: list[Unmet],
) -> Size:
    """Return the chargers of a room: the designer's, or the least-cost ones.

    by_form: slots needed by form.
    """
    entries = project.library.of_kind("charger")
    need = sum(by_form.values())
    chosen = by_hand.items() if by_hand is not None else least_chargers(project, system, by_form)
    if chosen is None:
        where = f" of the system {system}" if system else ""
        unmet.append(Unmet(f"charger for {' and '.join(by_form)} microphones{where}", ("microphones",)))
    size = size_of("charger", need, chosen or (), entries, by_hand=by_hand is not None)
    return replace(size, given=_slots_given(project, size.models, by_form))


def _slots_given(project: Project, models: Iterable[str], by_form: Mapping[Form, int]) -> int:
    """Return the slots of chargers that microphones of a room can use.

    models: model code of each box.
    by_form: slots needed by form.
    """
    entries = (project.library.entry(model) for model in models)
    return slots_given((entry for entry in entries if isinstance(entry, Charger)), by_form)
