"""The boxes of one kind that a room takes, and what the models of a kind can give it."""

from collections import Counter
from collections.abc import Iterable, Mapping

from proposal.design.equipment.audio_needs import Carried
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.numbers.numbering import device_code, natural
from proposal.design.solving.objective import Option
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import SystemDevice
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.sound_devices import Amplifier
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """The boxes of one kind for a room.

    kind: kind of entry, such as access_point.
    need: channels, slots or inputs the room needs of this kind.
    models: model code of each box, in the order of their ordinals.
    given: what the boxes give together.
    by_hand: whether the designer fixed them.
    codes: code of each box in the room, in the order of models; empty where they are counted from 1.
    carried: of mixers and breakouts: each sort of input and output, with what is needed and given.
    """

    kind: str
    need: int
    models: tuple[str, ...]
    given: int
    by_hand: bool
    codes: tuple[str, ...] = ()
    carried: tuple[Carried, ...] = ()

    @property
    def lacking(self) -> tuple[Carried, ...]:
        """Return the sorts of input and output that fall short."""
        return tuple(one for one in self.carried if one.spare < 0)

    @property
    def boxes(self) -> tuple[tuple[str, int], ...]:
        """Return model code and count, in order of codes."""
        return tuple(sorted(Counter(self.models).items()))

    @property
    def spare(self) -> int:
        """Return what the boxes give over the need; negative where they fall short."""
        return self.given - self.need

    @property
    def by_code(self) -> Mapping[str, str]:
        """Return the model of each box by its code in the room, such as AP1, in order of codes."""
        codes = self.codes or tuple(device_code(self.kind, n) for n in range(1, len(self.models) + 1))
        return dict(sorted(zip(codes, self.models, strict=True), key=lambda item: natural(item[0])))


_CAPACITY = {
    "access_point": "channels",
    "charger": "slots",
    "mixer": "inputs",
    "breakout": "channels",
    "switch": "access_ports",
}


def capacity(entry: Entry) -> int:
    """Return the channels, slots, inputs or ports of one box.

    An amplifier plays as many zones as it has channels and analogue inputs that feed them.
    """
    if isinstance(entry, Amplifier):
        return min(entry.channels, entry.line_inputs)
    return int(getattr(entry, _CAPACITY[str(getattr(entry, "kind", ""))]))


def size_of(
    kind: str, need: int, boxes: Iterable[tuple[str, int]], entries: Mapping[str, Entry], *, by_hand: bool
) -> Size:
    """Return the size that boxes make.

    kind: of device.
    need: channels, slots or inputs wanted.
    by_hand: whether people fixed the boxes.
    boxes: model code and count.
    entries: entries of the kind by model code.
    """
    models = tuple(code for code, count in sorted(boxes) for _ in range(count))
    given = sum(capacity(entries[code]) for code in models)
    return Size(kind=kind, need=need, models=models, given=given, by_hand=by_hand)


def options_of(project: Project, kind: str, system: str = "") -> tuple[Option, ...]:
    """Return the models of one kind that may be used in the project's region, each with its capacity.

    system: that of the boxes, where they work in one system only.
    """
    return tuple(
        Option(code, cost_of_one(project, entry), (capacity(entry),))
        for code, entry in project.library.of_kind(kind).items()
        if works_here(project, entry) and (not isinstance(entry, SystemDevice) or entry.works_with == system)
    )


def works_here(project: Project, entry: Entry) -> bool:
    """Return whether an entry may be used in the project's region; what has no radio always may."""
    works_in = getattr(entry, "works_in", None)
    return works_in is None or bool(works_in(project.brief.region))
