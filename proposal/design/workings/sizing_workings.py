"""The workings of a room's sizes: sums and choices written out for the calculation pages."""

from proposal.design.equipment.built_in_switch import BUILT_IN_HEADROOM_USE
from proposal.design.equipment.charger_choice import slots_by_form
from proposal.design.equipment.device_capacity import Size, capacity
from proposal.design.equipment.sizing import Sizing
from proposal.model.microphone_positions import Form
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.quantities.formatting import count_of
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.working import Value, Working, Written

OBJECTIVE = Source(
    "least cost, then fewest boxes, then least spare, then order of codes", kind="common practice"
)
_NOUNS = {
    "access_point": ("channels", "Access points"),
    "charger": ("slots", "Chargers"),
    "mixer": ("inputs", "Mixers"),
    "breakout": ("channels", "Breakouts"),
    "amplifier": ("channels", "Amplifiers"),
    "switch": ("ports", "Switches in the room"),
}


def sizing_workings(project: Project, layout: RoomType, sizing: Sizing, path: str) -> tuple[Working, ...]:
    """Return the workings of one kind of room.

    project: its library holds the boxes.
    path: dotted path of the layout in the project, for the inputs a result uses.
    """
    spares = f"{path}.spare_microphones"
    paired = f"{path}.spares_paired"
    uses = {
        "access_point": (spares, paired),
        "charger": (spares,),
        # Whether a breakout's own switch serves the room depends on everything that would be plugged into it.
        "breakout": (f"{path}.network", BUILT_IN_HEADROOM_USE, spares, paired),
    }
    workings = []
    if sizing.channels or sizing.slots:
        workings = [_channels(layout, sizing, path, spares), _slots(layout, sizing, spares)]
    for size in sizing.sizes:
        if not size.need and not size.models:
            continue
        forms = tuple(slots_by_form(layout)) if size.kind == "charger" else ()
        workings.append(_boxes(project, size, uses.get(size.kind, ()), forms))
    return tuple(workings)


def _channels(layout: RoomType, sizing: Sizing, path: str, spares: str) -> Working:
    talkers = len(layout.microphones)
    held = sum(layout.spare_microphones.values())
    paired = int(layout.spares_paired)
    return Working(
        title="Radio channels needed",
        equation="n = m + s·p",
        numbers=Written(
            f"n = {talkers} + {held}·{paired}",
            (
                Value("m", "microphones in use at once", float(talkers), "-"),
                Value("s", "spare microphones", float(held), "-"),
                Value("p", "1 where spares are paired, else 0", float(paired), "-"),
            ),
        ),
        result=float(sizing.channels),
        unit="channels",
        source=COMMON_PRACTICE,
        uses=(spares, f"{path}.spares_paired"),
    )


def _slots(layout: RoomType, sizing: Sizing, spares: str) -> Working:
    by_form = slots_by_form(layout)
    return Working(
        title="Charge slots needed",
        equation="n = sum(m_i)",
        numbers=Written(
            "n = " + " + ".join(str(count) for count in by_form.values()),
            tuple(
                Value(f"m_{form}", f"{form} microphones, spares included", float(count), "-")
                for form, count in by_form.items()
            ),
        ),
        result=float(sizing.slots),
        unit="slots",
        source=COMMON_PRACTICE,
        uses=(spares,),
        note="Every microphone has a slot of its own, in a slot that takes its form.",
    )


def _boxes(project: Project, size: Size, uses: tuple[str, ...], forms: tuple[Form, ...]) -> Working:
    """Return the working of the boxes of one kind.

    uses: inputs that the choice rests on.
    forms: of the microphones that chargers are to hold; slots for other forms are not counted.
    """
    noun, title = _NOUNS[size.kind]
    entries = project.library.of_kind(size.kind)
    held = {code: capacity(entries[code]) for code, _ in size.boxes}
    what = noun
    notes = ["Chosen by the designer."] if size.by_hand else []
    if size.kind == "charger":
        what = f"slots for {' and '.join(forms)} microphones"
        for code, _ in size.boxes:
            charger = project.library.chargers[code]
            held[code] = charger.slots_for(forms)
            if others := charger.slots - held[code]:
                notes.append(f"{count_of(others, 'slot')} of one {code} for other forms: not counted.")
    terms = [f"{count}·{held[code]}" for code, count in size.boxes]
    values = []
    for n, (code, count) in enumerate(size.boxes, 1):
        values.append(Value(f"n_{n}", f"boxes {code}", float(count), "-"))
        values.append(Value(f"c_{n}", f"{what} of one {code}", float(held[code]), "-"))
    equation = "g = sum(n_i·c_i)"
    if beyond := sum(count * held[code] for code, count in size.boxes) - size.given:
        equation += " - u"
        terms.append(f"- {beyond}")
        values.append(
            Value("u", "slots over the need of their form, where another form lacks some", float(beyond), "-")
        )
    return Working(
        title=f"{title}: {noun} given",
        equation=equation,
        numbers=Written("g = " + (" + ".join(terms).replace("+ -", "-") or "0"), tuple(values)),
        result=float(size.given),
        unit=noun,
        limit=float(size.need),
        comparison="≥",
        source=COMMON_PRACTICE if size.by_hand else OBJECTIVE,
        uses=() if size.by_hand else uses,
        note=" ".join(notes),
    )
