"""Which microphone stands at each position of a room: the least-cost one that can do what is asked."""

from collections import Counter
from collections.abc import Mapping

from proposal.design.equipment.device_capacity import works_here
from proposal.design.equipment.microphone_switches import abilities_of, asked_of
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.numbers.numbering import natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Microphone
from proposal.model.microphone_positions import Form, MicrophoneMounting, Pattern, Switch
from proposal.model.project import Project
from proposal.model.rooms import RoomType

MOUNTED: Mapping[MicrophoneMounting, str] = {
    "ceiling": "for a ceiling",
    "wall": "for a wall",
    "table": "for a table",
    "stand": "for a stand",
    "furniture": "for building into furniture",
}


@dataclass(frozen=True, slots=True)
class Unmet:
    """Something the library cannot supply: in words, and the path in the layout that asks for it."""

    what: str
    path: tuple[str, ...]


def spare_microphone(project: Project, system: str, layout: RoomType, form: Form, unmet: list[Unmet]) -> str:
    """Return the model of spare microphones of a form: that most of the room's microphones of it are.

    system: of the room.  unmet: what the library lacks is added to it.
    """
    alike = [place for place in layout.microphones.values() if place.form == form]
    usual: Pattern | None = None
    if alike:
        usual = min(Counter(place.pattern for place in alike).items(), key=lambda item: (-item[1], item[0]))[
            0
        ]
    returning = any(place.return_audio for place in alike)
    path = ("spare_microphones", form)
    return _fitting(project, system, form, usual, returning, path, unmet, switch=layout.switch)


def microphone_at(project: Project, system: str, layout: RoomType, code: str, unmet: list[Unmet]) -> str:
    """Return the least-cost microphone for a position, empty where the library has none.

    system: of the room.  code: of the position in the layout.  unmet: what the library lacks is added to it.
    One whose switch does what is asked there goes before one that cannot.
    """
    position = layout.microphones[code]
    return _fitting(
        project,
        system,
        position.form,
        position.pattern,
        position.return_audio,
        ("microphones", code, "form"),
        unmet,
        position.mounting,
        asked_of(layout, code),
    )


def _fitting(
    project: Project,
    system: str,
    form: Form,
    pattern: Pattern | None,
    hears_return: bool,
    path: tuple[str, ...],
    unmet: list[Unmet],
    mounting: MicrophoneMounting | None = None,
    switch: Switch | None = None,
) -> str:
    """Return the least-cost microphone of a system, form and pattern, empty where the library has none.

    mounting: where it is held; None where that is left to its form.
    switch: what is asked of its switch; None where nobody says.
    """
    fitting = [
        (
            switch not in (None, *abilities_of(entry)),
            unit_cost(project, entry),
            natural(model),
            model,
        )
        for model, entry in project.library.of_kind("microphone").items()
        if isinstance(entry, Microphone)
        and entry.works_with == system
        and entry.form == form
        and pattern in (None, entry.pattern)
        and (entry.hears_return or not hears_return)
        and mounting in (None, *entry.mounting)
        and works_here(project, entry)
    ]
    if not fitting:
        words = [pattern or "", form, "microphone", "with return audio" if hears_return else ""]
        words += [MOUNTED[mounting]] if mounting else []
        what = " ".join(word for word in words if word)
        unmet.append(Unmet(f"{what} {for_region(project, system)}", path))
        return ""
    return min(fitting)[-1]


def for_region(project: Project, system: str) -> str:
    """Return for which region, and of which system, something is wanted, in words.

    system: its name; empty where it does not matter.
    """
    region = f"for the region {project.brief.region.replace('_', ' ')}"
    return f"of the system {system} {region}" if system else region
