"""Rules about microphone systems: devices that do not work together, accessories that do not fit."""

from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.equipment.microphone_accessories import has_a_source, pick_ups
from proposal.design.equipment.microphone_switches import abilities_of, asked_of
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.rooms.room_kinds import RoomKind
from proposal.design.sound.muting import BY_GROUP, OF_ALL, mute_points, mutes_asked
from proposal.errors import Place
from proposal.model.equipment.devices import Accessory, Microphone, SystemDevice
from proposal.model.microphone_positions import Switch
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed, written_place
from proposal.review.model_remedies import is_foreign, muting, of_one_system, one_for_all
from proposal.review.rooms import rooms_of
from proposal.standards.sources import EDITABLE_DEFAULT


def mixed_systems(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each kind of room with devices of several systems, which do not work together."""
    for kind in design.kinds:
        by_system: dict[str, list[str]] = {}
        for name, model in _of_systems(kind):
            entry = project.library.entry(model)
            if isinstance(entry, SystemDevice):
                by_system.setdefault(entry.works_with, []).append(name)
        if len(by_system) < 2:
            continue
        told = "; ".join(
            f"{system}: {listed(sorted(set(by_system[system]), key=natural))}" for system in sorted(by_system)
        )
        yield Finding(
            rule="mixed-systems",
            severity="error",
            where=kind.key,
            place=written_place(
                project,
                *(("fixed", "devices", device_tag(kind.key, name), "model") for name, _ in _of_systems(kind)),
                ("fixed", "rooms", kind.key),
                (*kind.path, "system"),
                (*kind.path, "microphones"),
            ),
            message=f"Devices of {rooms_of(kind)} are of systems that do not work together: {told}.",
            value=float(len(by_system)),
            limit=1.0,
            unit="systems",
            source=EDITABLE_DEFAULT,
            remedy=of_one_system(
                project,
                kind,
                [
                    (name, model)
                    for name, model in _of_systems(kind)
                    if is_foreign(project, kind.sizing.system, model)
                ],
            ),
        )


def several_systems(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where rooms got different systems because nobody chose one for the building."""
    if project.brief.rules.microphones.system:
        return
    by_system: dict[str, list[RoomKind]] = {}
    for kind in design.kinds:
        if kind.sizing.microphones:
            by_system.setdefault(kind.sizing.system, []).append(kind)
    kinds = [kind for one in by_system.values() for kind in one]
    if len(by_system) < 2 or all(kind.layout.system for kind in kinds):
        return
    told = "; ".join(
        f"{system} in {listed([room for kind in by_system[system] for room in kind.rooms])}"
        for system in sorted(by_system)
    )
    yield Finding(
        rule="several-systems",
        severity="warning",
        where="radio",
        place=project.place("project", "rules", "microphones", "system"),
        message=f"Each room got the system that costs least there, and they do not work together: {told}. "
        "Microphones, spares and chargers of one cannot be used with another, and their radios are not "
        "synchronised.",
        value=float(len(by_system)),
        limit=1.0,
        unit="systems",
        source=EDITABLE_DEFAULT,
        remedy=one_for_all(project, kinds),
    )


def _of_systems(kind: RoomKind) -> Iterator[tuple[str, str]]:
    """Yield code and model of what works in one system only."""
    yield from ((code, model) for code, model in kind.sizing.microphones.items() if model)
    yield from ((code, model) for code, model in kind.sizing.spares_by_code.items() if model)
    for size in kind.sizing.sizes:
        yield from size.by_code.items()
    for code, position in kind.layout.microphones.items():
        yield from ((f"{model} at {code}", model) for model in position.accessories)


def wrong_accessories(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each accessory that does not go with the form of its microphone."""
    for kind in design.kinds:
        for code, position in kind.layout.microphones.items():
            for n, model in enumerate(position.accessories):
                entry = project.library.entry(model)
                if isinstance(entry, Accessory) and position.form not in entry.forms:
                    yield Finding(
                        rule="accessory-does-not-fit",
                        severity="error",
                        where=kind.key,
                        place=project.place(*kind.path, "microphones", code, "accessories", n),
                        message=f"The {entry.role} {model} does not go with the {position.form} microphone "
                        f"{code} of {rooms_of(kind)}.",
                        source=EDITABLE_DEFAULT,
                        remedy=f"It goes with {listed(entry.forms)} microphones: choose another, or none.",
                    )


def bodypacks_without_source(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each bodypack whose accessories, written by hand, pick up no sound."""
    for kind in design.kinds:
        for code, position in kind.layout.microphones.items():
            if position.form != "bodypack" or not position.accessories:
                continue
            if has_a_source(project, position.accessories):
                continue
            told = [
                f"{model} ({project.library.accessories[model].description})"
                for model in pick_ups(project, kind.sizing.system)
            ]
            yield Finding(
                rule="bodypack-without-source",
                severity="error",
                where=kind.key,
                place=project.place(*kind.path, "microphones", code, "accessories"),
                message=f"Nothing that picks up sound is among the accessories of the bodypack {code} of "
                f"{rooms_of(kind)}.",
                source=EDITABLE_DEFAULT,
                remedy=f"Name {_either(told)} among its accessories, or a cord where an instrument feeds it."
                if told
                else "Add a headset or a lavalier of its system to the library, and name it.",
            )


def switches(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for switches that cannot do what is asked, a warning where people hold one unasked."""
    for kind in design.kinds:
        refused: dict[tuple[str, Switch], list[str]] = {}
        held: dict[str, list[str]] = {}
        rooms = set(kind.rooms)
        for channel in design.channels.channels:
            if channel.room not in rooms or channel.spare:
                continue
            entry = project.library.entry(channel.model)
            if not isinstance(entry, Microphone):
                continue
            asked = asked_of(kind.layout, channel.code)
            wrong = asked not in abilities_of(entry) if asked else channel.switch == "push to talk"
            if not wrong:
                continue
            if asked:
                codes = refused.setdefault((channel.model, asked), [])
            else:
                codes = held.setdefault(channel.model, [])
            if channel.code not in codes:
                codes.append(channel.code)
        for (model, asked), codes in refused.items():
            able = abilities_of(_microphone(project, model))
            yield Finding(
                rule="switch-not-possible",
                severity="error",
                where=kind.key,
                place=_switch_place(project, kind, codes[0]),
                message=f"The switches of {counted(len(codes), 'microphone')} of {rooms_of(kind)} "
                f"({listed(codes)}) are asked to be {asked}; {model} can be {_either(able)}.",
                source=EDITABLE_DEFAULT,
                remedy=_remedy(_others(project, kind, codes[0], model, asked), f"ask for {_either(able)}."),
            )
        for model, codes in held.items():
            yield Finding(
                rule="button-held-unasked",
                severity="warning",
                where=kind.key,
                place=_switch_place(project, kind, codes[0]),
                message=f"People hold a button for as long as they speak at "
                f"{counted(len(codes), 'microphone')} of {rooms_of(kind)} ({listed(codes)}): {model} can do "
                "nothing else, and nobody asked for it.",
                source=EDITABLE_DEFAULT,
                remedy=_remedy(
                    _others(project, kind, codes[0], model, "toggle"),
                    "write switch: push to talk where wanted.",
                ),
            )


def _either(switches: Sequence[str]) -> str:
    return " or ".join(switches)


def _microphone(project: Project, model: str) -> Microphone:
    entry = project.library.entry(model)
    assert isinstance(entry, Microphone)
    return entry


def _switch_place(project: Project, kind: RoomKind, code: str) -> Place:
    """Return where the switch of a microphone is asked for, else its position."""
    return written_place(
        project,
        (*kind.path, "microphones", code, "switch"),
        (*kind.path, "switch"),
        (*kind.path, "microphones", code),
    )


def _remedy(models: Sequence[str], else_words: str) -> str:
    """Return a remedy: models that would do, if there are any, or what else helps."""
    if not models:
        return else_words[0].upper() + else_words[1:]
    return f"Choose {_either(models)} for each of them in fixed.yaml, or {else_words}"


def _others(project: Project, kind: RoomKind, code: str, now: str, wanted: Switch) -> list[str]:
    """Return the models of the same system that could stand at a position with such a switch."""
    position, system = kind.layout.microphones[code], _microphone(project, now).works_with
    return sorted(
        model
        for model, entry in project.library.of_kind("microphone").items()
        if isinstance(entry, Microphone)
        and entry.works_with == system
        and (entry.form, entry.pattern) == (position.form, position.pattern)
        and (entry.hears_return or not position.return_audio)
        and entry.works_in(project.brief.region)
        and position.mounting in (None, *entry.mounting)
        and wanted in abilities_of(entry)
    )


def mutes_that_nothing_sets(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each kind of room with mute groups that nothing in the design can set."""
    for kind in design.kinds:
        layout = kind.layout
        named = {one.mute_group for one in layout.microphones.values()}
        groups = sorted(named | {one.mute_group for one in layout.wired_microphones.values()}, key=natural)
        devices = [one for one in design.devices if one.room == kind.rooms[0]]
        points = {name for _, name in mute_points(devices, design.entries)}
        if not mutes_asked(layout) or BY_GROUP in points or (len(groups) == 1 and OF_ALL in points):
            continue
        yield Finding(
            rule="mute-not-possible",
            severity="warning",
            where=kind.key,
            place=written_place(
                project, (*kind.path, "mute_operators"), (*kind.path, "microphones"), kind.path
            ),
            message=f"Nothing in {rooms_of(kind)} can mute "
            + (
                f"one of the groups {listed(groups)} alone."
                if len(groups) > 1
                else "all its microphones at once."
            ),
            source=EDITABLE_DEFAULT,
            remedy=muting(project, kind),
        )


def without_holder(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for microphones on a ceiling, a wall or a stand that nothing is named to hold."""
    for kind in design.kinds:
        open_codes = [
            code
            for code, position in kind.layout.microphones.items()
            if position.mounting in ("ceiling", "wall", "stand")
            and (model := kind.sizing.microphones[code])
            and isinstance(entry := project.library.entry(model), Microphone)
            and not entry.fixings_included
            and not any(_holds(project, model) for model in position.accessories)
        ]
        if not open_codes:
            continue
        first = sorted(open_codes, key=natural)
        yield Finding(
            rule="microphone-without-holder",
            severity="warning",
            where=kind.key,
            place=project.place(*kind.path, "microphones", first[0], "mounting"),
            message=f"Nothing is named to hold {counted(len(first), 'microphone')} of {rooms_of(kind)} "
            f"({listed(first)}) where they are mounted: no holder is counted or priced.",
            source=EDITABLE_DEFAULT,
            remedy="Name a mount among the accessories of each, or write `fixings_included` where the "
            "microphone brings its own.",
        )


def _holds(project: Project, model: str) -> bool:
    entry = project.library.entry(model)
    return isinstance(entry, Accessory) and entry.role == "mount"


MICROPHONE_SYSTEM_RULES: tuple[Rule, ...] = (
    mixed_systems,
    several_systems,
    wrong_accessories,
    bodypacks_without_source,
    switches,
    mutes_that_nothing_sets,
    without_holder,
)
