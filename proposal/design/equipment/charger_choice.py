"""Which chargers have a slot for every microphone, where slots take some forms of microphone only.

Slots suffice if, for every choice of forms, there are as many slots that take any of them as there are
microphones of them; that each slot can then be given to one form is Hall's theorem.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations

from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.solving.objective import Chosen, Option, cover
from proposal.model.equipment.devices import Charger
from proposal.model.microphone_positions import Form
from proposal.model.project import Project
from proposal.model.rooms import RoomType


def slots_by_form(layout: RoomType) -> dict[Form, int]:
    """Return the charge slots that the microphones of each form take, spare ones included: one each."""
    counts = Counter(position.form for position in layout.microphones.values())
    counts.update(layout.spare_microphones)
    return {form: count for form, count in sorted(counts.items()) if count}


def least_chargers(project: Project, system: str, by_form: Mapping[Form, int]) -> Chosen | None:
    """Return model code and count of the chargers of a system that cover a need at least cost, exactly.

    system: that of the microphones.
    by_form: slots needed by form.
    None where no number of chargers will do.
    """
    chargers = {
        code: entry
        for code, entry in project.library.of_kind("charger").items()
        if isinstance(entry, Charger) and entry.works_with == system
    }
    wanted: dict[tuple[int, ...], int] = {}
    for some in _choices(tuple(by_form)):
        gives = tuple(entry.slots_for(some) for entry in chargers.values())
        wanted[gives] = max(wanted.get(gives, 0), sum(by_form[form] for form in some))
    columns = sorted(wanted, key=lambda gives: (-wanted[gives], gives))
    options = tuple(
        Option(code, cost_of_one(project, entry), tuple(column[n] for column in columns))
        for n, (code, entry) in enumerate(chargers.items())
    )
    return cover(options, tuple(wanted[column] for column in columns))


def slots_usable(chargers: Iterable[Charger], by_form: Mapping[Form, int]) -> int:
    """Return how many of the slots needed the chargers can really give, form by form.

    by_form: slots needed by form.
    """
    boxes = list(chargers)
    short = max(
        (
            sum(by_form[form] for form in some) - sum(one.slots_for(some) for one in boxes)
            for some in _choices(tuple(by_form))
        ),
        default=0,
    )
    return sum(by_form.values()) - max(short, 0)


def slots_given(chargers: Iterable[Charger], by_form: Mapping[Form, int]) -> int:
    """Return how many slots chargers give a room: those that take its forms, fewer where a form lacks any.

    by_form: slots needed by form; slots that take none of these forms are not counted.
    """
    boxes = list(chargers)
    usable = slots_usable(boxes, by_form)
    if usable < sum(by_form.values()):
        return usable
    return sum(one.slots_for(by_form) for one in boxes)


def _choices(forms: Sequence[Form]) -> list[tuple[Form, ...]]:
    return [some for count in range(1, len(forms) + 1) for some in combinations(forms, count)]
