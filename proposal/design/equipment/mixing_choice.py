"""The mixers or breakouts of a room: chosen exactly by the one objective, and which of them is the first."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from heapq import heappop, heappush

from proposal.design.equipment.assistive_choice import assistive_set
from proposal.design.equipment.audio_needs import (
    WHOLE_STREAMS,
    AudioNeeds,
    Carried,
    Mixing,
    audio_needs,
    carried_by_breakouts,
    carried_by_mixers,
    received_most,
    sent_most,
)
from proposal.design.equipment.device_capacity import Size, options_of, size_of
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.equipment.zone_lines import lines_of
from proposal.design.numbers.numbering import natural
from proposal.design.solving.objective import Chosen, Option, cover
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Breakout
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Project
from proposal.model.rooms import RoomType

MOST_TRIED = 3_000
"""So many sets of boxes are tried where single boxes and sums do not settle the choice."""
MOST_ABOVE = 64
"""So many channels over the need are tried after that."""


@dataclass(frozen=True, slots=True)
class FirstBox:
    """Which box of some is the first, counted from 0, and what they carry if it is."""

    number: int
    carried: tuple[Carried, ...]

    @property
    def lacking(self) -> tuple[Carried, ...]:
        """Return the sorts of input and output that fall short."""
        return tuple(one for one in self.carried if one.spare < 0)


def needs_of(project: Project, layout: RoomType, access_points: Sequence[str]) -> AudioNeeds:
    """Return what a room sends through its mixers or breakouts.

    access_points: models of those that its microphones are linked to.
    """
    entries = [project.library.entry(model) for model in access_points]
    assistive = assistive_set(project, layout)
    transmitters = len(assistive.models.get("transmitter", ())) if assistive else 0
    linked = [one for one in entries if isinstance(one, AccessPoint)]
    return audio_needs(layout, linked, transmitters, lines_of(project, layout))


def first_box(needs: AudioNeeds, boxes: Sequence[Entry]) -> FirstBox:
    """Return which of a room's mixers or breakouts is the first: the first in order that carries everything.

    Where none does, it is the one with which they lack least.
    """
    best: tuple[int, FirstBox] | None = None
    seen: set[str] = set()
    for number, one in enumerate(boxes):
        if one.model in seen:
            continue
        seen.add(one.model)
        others = [*boxes[:number], *boxes[number + 1 :]]
        found = FirstBox(number, _carried(needs, one, others))
        short = -sum(lack.spare for lack in found.lacking)
        if not short:
            return found
        if best is None or short < best[0]:
            best = (short, found)
    return best[1] if best else FirstBox(0, ())


def first_mixing(project: Project, layout: RoomType, devices: Sequence[Placed]) -> Placed | None:
    """Return the mixer, else the breakout of a room that return audio enters and that sends its mix.

    devices: of the room.
    """
    ordered = sorted((one for one in devices if one.model), key=lambda one: natural(one.tag))
    boxes = [one for one in ordered if one.kind == "mixer"]
    boxes = boxes or [one for one in ordered if one.kind == "breakout"]
    if len(boxes) < 2:
        return boxes[0] if boxes else None
    needs = needs_of(project, layout, [one.model for one in ordered if one.kind == "access_point"])
    return boxes[first_box(needs, [project.library.entry(one.model) for one in boxes]).number]


def _carried(needs: AudioNeeds, first: Entry, others: Sequence[Entry]) -> tuple[Carried, ...]:
    if isinstance(first, Mixer):
        return carried_by_mixers(needs, first, [one for one in others if isinstance(one, Mixer)])
    if isinstance(first, Breakout):
        return carried_by_breakouts(needs, first, [one for one in others if isinstance(one, Breakout)])
    return ()


def least_mixing(project: Project, kind: str, needs: AudioNeeds, including: str = "") -> Chosen | None:
    """Return model code and count of the mixers or breakouts that carry what a room sends, at least cost.

    kind: mixer or breakout.
    including: model of which one box has to be among them, empty where none has to.
    None where the library has no such boxes. Among equal costs the fewest boxes are taken, then the least
    spare, then the order of codes.
    """
    entries = project.library.of_kind(kind)
    choice = _Choice(
        needs=needs,
        entries={code: one for code, one in sorted(entries.items()) if isinstance(one, Mixer | Breakout)},
        costs={code: cost_of_one(project, one) for code, one in entries.items()},
        including=including,
    )
    for above in range(MOST_ABOVE):
        by_sums = choice.by_sums(above)
        if by_sums is None:
            return None
        if choice.carries(by_sums):
            return by_sums
        if above == 0 and (found := next(filter(choice.carries, choice.in_order()), None)):
            return found
    return None


def with_carried(size: Size, needs: AudioNeeds, entries: Mapping[str, Entry]) -> Size:
    """Return mixers or breakouts of a room with what they carry.

    entries: entries of the kind by model code.
    """
    found = first_box(needs, [entries[model] for model in size.models])
    total = "networked inputs" if size.kind == "mixer" else "analogue outputs"
    sums = {one.what: one for one in found.carried}
    need = sums[total].need if total in sums else least_need(needs, size.kind)
    return replace(size, need=need, carried=found.carried)


def least_need(needs: AudioNeeds, kind: str) -> int:
    """Return the networked inputs that a mixer needs alone, or the outputs that a breakout does.

    kind: mixer or breakout.
    """
    return needs.microphones + (needs.networked_in if kind == "mixer" else needs.line_out)


def mixing_size(project: Project, kind: str, needs: AudioNeeds, by_hand: Mapping[str, int] | None) -> Size:
    """Return the mixers or breakouts of a room: the designer's, or the least-cost ones that carry its sound.

    kind: mixer or breakout.
    by_hand: count by model code where the designer chose them.
    Where the library has none that carry everything, they are the least-cost ones by their sum.
    """
    entries = project.library.of_kind(kind)
    need = least_need(needs, kind)
    if by_hand is not None:
        return with_carried(size_of(kind, need, by_hand.items(), entries, by_hand=True), needs, entries)
    chosen = least_mixing(project, kind, needs)
    if chosen is None and needs.mixed and kind == "breakout":
        # The mix is missing and is told of; everything else is chosen as if it were there.
        chosen = least_mixing(project, kind, replace(needs, mixed=()))
    if chosen is None:
        chosen = cover(options_of(project, kind), (need,)) or ()
    return with_carried(size_of(kind, need, chosen, entries, by_hand=False), needs, entries)


@dataclass(frozen=True, kw_only=True)
class _Choice:
    """Models of one kind to choose from, and what has to be carried."""

    needs: AudioNeeds
    entries: Mapping[str, Mixing]
    costs: Mapping[str, Decimal]
    including: str

    def gives(self, code: str) -> int:
        """Return the networked inputs of a mixer, or the outputs of a breakout."""
        entry = self.entries[code]
        return received_most(entry) if isinstance(entry, Mixer) else entry.channels

    def carries(self, chosen: Chosen) -> bool:
        """Return whether boxes carry everything, one of them as the first."""
        counts = dict(chosen)
        if self.including and not counts.get(self.including):
            return False
        boxes = [self.entries[code] for code, count in chosen for _ in range(count)]
        return bool(boxes) and not first_box(self.needs, boxes).lacking

    def by_sums(self, above: int) -> Chosen | None:
        """Return the least-cost boxes by what the first has to have and the sum that all have to give.

        above: what they have to give over the need.
        """
        best: tuple[tuple[Decimal, int, int, tuple[int, ...]], Chosen] | None = None
        needs = self.needs
        for first, entry in self.entries.items():
            if not self._can_be_first(entry):
                continue
            forced = [first]
            if self.including and self.including != first:
                forced.append(self.including)
            mixer = isinstance(entry, Mixer)
            wanted = needs.microphones + (needs.networked_in if mixer else needs.line_out)
            given = sum(self.gives(code) - int(mixer) for code in forced) + int(mixer)
            options = tuple(
                Option(code, self.costs[code], (self.gives(code) - int(mixer),))
                for code, one in self.entries.items()
                if not mixer or sent_most(one) > 0
            )
            rest = cover(options, (wanted + above - given,))
            if rest is None:
                continue
            counts = Counter(dict(rest))
            counts.update(forced)
            key = self._key(counts)
            if best is None or key < best[0]:
                best = (key, tuple(sorted(counts.items())))
        return best[1] if best else None

    def _can_be_first(self, entry: Mixing) -> bool:
        """Return whether a box has everything that the first alone has to have."""
        total = {"networked inputs", "analogue outputs" if isinstance(entry, Breakout) else ""}
        total.add(WHOLE_STREAMS)
        return all(one.spare >= 0 or one.what in total for one in _carried(self.needs, entry, ()))

    def _key(self, counts: Mapping[str, int]) -> tuple[Decimal, int, int, tuple[int, ...]]:
        cost = sum((self.costs[code] * count for code, count in counts.items()), Decimal(0))
        given = sum(self.gives(code) * count for code, count in counts.items())
        return cost, sum(counts.values()), given, tuple(-counts.get(code, 0) for code in self.entries)

    def in_order(self) -> Iterator[Chosen]:
        """Yield sets of boxes in the order of the objective, as many as are tried."""
        codes = list(self.entries)
        nothing = (0,) * len(codes)
        waiting = [((Decimal(0), 0, 0, nothing), nothing)]
        seen = {nothing}
        for _ in range(MOST_TRIED):
            if not waiting:
                return
            _, counts = heappop(waiting)
            yield tuple((code, count) for code, count in zip(codes, counts, strict=True) if count)
            for n in range(len(codes)):
                more = (*counts[:n], counts[n] + 1, *counts[n + 1 :])
                if more not in seen:
                    seen.add(more)
                    heappush(waiting, (self._key(dict(zip(codes, more, strict=True))), more))
