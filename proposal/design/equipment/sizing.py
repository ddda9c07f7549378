"""How many microphones, access points, chargers, breakouts and mixers a kind of room takes."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from proposal.design.equipment.built_in_switch import still_serves, with_own_switch
from proposal.design.equipment.device_capacity import Size, capacity, options_of, size_of, works_here
from proposal.design.equipment.unit_costs import cost_of_one, unit_cost
from proposal.design.numbers.numbering import device_code, device_tag, natural
from proposal.design.solving.objective import Option, cover
from proposal.model.equipment.devices import Charger, Microphone
from proposal.model.project import FixedRoom, Project
from proposal.model.rooms import Form, Pattern, RoomType


@dataclass(frozen=True, slots=True)
class Unmet:
    """Something the library cannot supply: in words, and the path in the layout that asks for it."""

    what: str
    path: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """The microphone system of one kind of room.

    channels: radio channels needed.
    slots: charge slots needed.
    sizes: boxes by kind, in the order of the signal.
    microphones: model by code of position, empty where the library has none.
    spares: model and count of spare microphones by form.
    spare_codes: code of each of them, in the order of `spare_models`; empty where they are counted from 1.
    hung_order: codes of the access points in the order in which they get the places that placement finds;
        empty where that is the order of codes.
    own_switch: the breakout model whose own switch serves the room, empty where there is none.
    unmet: what the library cannot supply.
    """

    channels: int
    slots: int
    sizes: tuple[Size, ...]
    microphones: Mapping[str, str]
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


def size_room(project: Project, layout: RoomType, fixed: FixedRoom) -> Sizing:
    """Return the least-cost microphone system of a room, or the designer's own, checked.

    project: its region, currency and library.
    layout: the room's layout.
    fixed: sizes chosen by hand; what stands there is not replaced.
    """
    unmet: list[Unmet] = []
    microphones = {
        code: _microphone(project, position.form, position.pattern, position.return_audio, code, unmet)
        for code, position in sorted(layout.microphones.items())
    }
    spares: dict[Form, tuple[str, int]] = {}
    for form, count in sorted(layout.spare_microphones.items()):
        if count:
            spares[form] = (_spare(project, layout, form, unmet), count)
    channels = channels_needed(layout)
    by_form = slots_by_form(project, layout)
    talkers = len(layout.microphones)
    sizes = [
        _size(project, "access_point", channels, fixed.access_points, unmet),
        _chargers(project, by_form, fixed.chargers, unmet),
    ]
    own_switch = ""
    if layout.output == "mixer":
        sizes.append(_size(project, "mixer", talkers, fixed.mixers, unmet))
    else:
        breakouts = _size(project, "breakout", talkers, fixed.breakouts, unmet)
        own_switch, breakouts = with_own_switch(project, layout, breakouts, sizes)
        sizes.append(breakouts)
    zones = len({loudspeaker.zone for loudspeaker in layout.loudspeakers.values()})
    if zones:
        sizes.append(_size(project, "amplifier", zones, None, unmet))
        if not project.library.loudspeakers:
            unmet.append(Unmet("ceiling loudspeaker", ("loudspeakers",)))
    return Sizing(
        channels=channels,
        slots=sum(by_form.values()),
        sizes=tuple(sizes),
        microphones=microphones,
        spares=spares,
        own_switch=own_switch,
        unmet=tuple(dict.fromkeys(unmet)),
    )


def channels_needed(layout: RoomType) -> int:
    """Return the radio channels of a room: one for each microphone, and for spares where they are linked."""
    spares = sum(layout.spare_microphones.values()) if layout.spares_linked else 0
    return len(layout.microphones) + spares


def slots_by_form(project: Project, layout: RoomType) -> dict[Form, int]:
    """Return the charge slots that the microphones of each form take, spare ones included."""
    slots: dict[Form, int] = {}
    counts = Counter(position.form for position in layout.microphones.values())
    counts.update(layout.spare_microphones)
    for form, count in sorted(counts.items()):
        if count:
            slots[form] = project.library.charge_slots.of(form) * count
    return slots


def slots_needed(project: Project, layout: RoomType) -> int:
    """Return the charge slots of a room: by form, spare microphones included."""
    return sum(slots_by_form(project, layout).values())


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
            given = sum(capacity(entries[model]) for model in models)
            size = replace(size, models=models, given=given, by_hand=True, codes=codes)
        sizes.append(size)
    microphones = {
        code: fixed_model(code, "microphone") or model for code, model in sizing.microphones.items()
    }
    own_switch = sizing.own_switch if still_serves(project, sizing.own_switch, sizes) else ""
    return replace(sizing, sizes=tuple(sizes), microphones=microphones, own_switch=own_switch)


def _size(
    project: Project, kind: str, need: int, by_hand: Mapping[str, int] | None, unmet: list[Unmet]
) -> Size:
    """Return the boxes of one kind: the designer's, or the least-cost ones."""
    entries = project.library.of_kind(kind)
    if by_hand is not None:
        return size_of(kind, need, by_hand.items(), entries, by_hand=True)
    chosen = cover(options_of(project, kind), (need,))
    if chosen is None:
        path = ("loudspeakers",) if kind == "amplifier" else ("microphones",)
        unmet.append(Unmet(f"{kind.replace('_', ' ')} for the region {_region(project)}", path))
    return size_of(kind, need, chosen or (), entries, by_hand=False)


def _chargers(
    project: Project, by_form: Mapping[Form, int], by_hand: Mapping[str, int] | None, unmet: list[Unmet]
) -> Size:
    """Return the chargers of a room, also where a charger takes some forms of microphone only.

    by_form: slots needed by form.
    Slots suffice if, for every choice of forms, the chargers that take any of them have slots for all of
    them; that each slot can then be given to one form is Hall's theorem.
    """
    entries = project.library.of_kind("charger")
    need = sum(by_form.values())
    if by_hand is not None:
        return size_of("charger", need, by_hand.items(), entries, by_hand=True)
    chargers = {code: entry for code, entry in entries.items() if isinstance(entry, Charger)}
    wanted: dict[tuple[int, ...], int] = {}
    for some in _choices(tuple(by_form)):
        gives = tuple(entry.slots if set(some) & set(entry.forms) else 0 for entry in chargers.values())
        wanted[gives] = max(wanted.get(gives, 0), sum(by_form[form] for form in some))
    columns = sorted(wanted, key=lambda gives: (-wanted[gives], gives))
    options = tuple(
        Option(code, cost_of_one(project, entry), tuple(column[n] for column in columns))
        for n, (code, entry) in enumerate(chargers.items())
    )
    chosen = cover(options, tuple(wanted[column] for column in columns))
    if chosen is None:
        unmet.append(Unmet(f"charger for {' and '.join(by_form)} microphones", ("microphones",)))
    return size_of("charger", need, chosen or (), entries, by_hand=False)


def _choices(forms: Sequence[Form]) -> list[tuple[Form, ...]]:
    return [some for count in range(1, len(forms) + 1) for some in combinations(forms, count)]


def slots_usable(chargers: Iterable[Charger], by_form: Mapping[Form, int]) -> int:
    """Return how many of the slots needed the chargers can really give, form by form.

    by_form: slots needed by form.
    """
    boxes = list(chargers)
    short = max(
        (
            sum(by_form[form] for form in some)
            - sum(one.slots for one in boxes if set(some) & set(one.forms))
            for some in _choices(tuple(by_form))
        ),
        default=0,
    )
    return sum(by_form.values()) - max(short, 0)


def _spare(project: Project, layout: RoomType, form: Form, unmet: list[Unmet]) -> str:
    """Return the model of spare microphones of a form: that most of the room's microphones of it are."""
    patterns: list[Pattern] = [place.pattern for place in layout.microphones.values() if place.form == form]
    usual: Pattern | None = None
    if patterns:
        usual = min(Counter(patterns).items(), key=lambda item: (-item[1], item[0]))[0]
    returning = any(place.return_audio for place in layout.microphones.values() if place.form == form)
    return _microphone(project, form, usual, returning, "", unmet)


def _microphone(
    project: Project,
    form: Form,
    pattern: Pattern | None,
    hears_return: bool,
    code: str,
    unmet: list[Unmet],
) -> str:
    """Return the least-cost microphone of a form and pattern, empty where the library has none."""
    fitting = [
        (unit_cost(project, entry), natural(model), model)
        for model, entry in project.library.of_kind("microphone").items()
        if isinstance(entry, Microphone)
        and entry.form == form
        and pattern in (None, entry.pattern)
        and (entry.hears_return or not hears_return)
        and works_here(project, entry)
    ]
    if not fitting:
        words = [pattern or "", form, "microphone", "with return audio" if hears_return else ""]
        what = " ".join(word for word in words if word)
        path = ("microphones", code, "form") if code else ("spare_microphones", form)
        unmet.append(Unmet(f"{what} for the region {_region(project)}", path))
        return ""
    return min(fitting)[2]


def _region(project: Project) -> str:
    return project.brief.region.replace("_", " ")
