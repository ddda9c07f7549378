"""What goes with microphones: as written, and what a bodypack picks up sound with where nobody says."""

from collections.abc import Sequence

from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.numbers.numbering import natural
from proposal.model.equipment.devices import Accessory
from proposal.model.microphone_positions import MicrophonePosition
from proposal.model.project import Project

PICK_UPS = ("headset", "lavalier")
SOURCES = (*PICK_UPS, "cord")
"""Roles of what a bodypack can get its sound from: what is worn, or a cord to an instrument or a mixer."""


def pick_ups(project: Project, system: str) -> tuple[str, ...]:
    """Return the headsets and lavaliers for bodypacks of a system, least cost first."""
    fitting = [
        (unit_cost(project, entry), natural(model), model)
        for model, entry in project.library.accessories.items()
        if entry.works_with == system and entry.role in PICK_UPS and "bodypack" in entry.forms
    ]
    return tuple(model for _, _, model in sorted(fitting))


def accessories_of(project: Project, system: str, position: MicrophonePosition) -> tuple[str, ...]:
    """Return the model codes of what goes with a microphone, for a bodypack with what picks up its sound.

    system: of the microphone.
    """
    if position.form != "bodypack" or position.accessories:
        return position.accessories
    return pick_ups(project, system)[:1]


def has_a_source(project: Project, models: Sequence[str]) -> bool:
    """Return whether a bodypack can get sound from one of some accessories.

    models: model codes.
    """
    entries = [project.library.entry(model) for model in models]
    return any(isinstance(entry, Accessory) and entry.role in SOURCES for entry in entries)
