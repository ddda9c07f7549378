"""Where each portable set is used in which states, and what of radio holds there."""

from collections.abc import Mapping
from functools import cached_property

from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_plan import AirPlan, only
from proposal.design.radio.portable_radio import is_outdoors
from proposal.design.radio.radio_neighbours import Link
from proposal.design.radio.radio_plan import PlannedLink, RadioDesign, planned_links
from proposal.design.radio.radio_states import alike_states
from proposal.design.radio.received_margins import Margin
from proposal.design.radio.slot_plan import Outcome
from proposal.design.solving.halving import least
from proposal.field_classes import dataclass
from proposal.model.project import Project


@dataclass(frozen=True, kw_only=True)
class PortableUse:
    """A portable set in a place, in states that are alike for radio.

    set, place: tag of the set and key of the place; states: names.
    outdoors: whether the place is outdoors; outlet: whether an outlet of the mains is there.
    margins: of its linked microphones there; air: the plan of carriers and slots in these states.
    """

    set: str
    place: str
    states: tuple[str, ...]
    outdoors: bool
    outlet: bool
    margins: tuple[Margin, ...]
    air: AirPlan

    @property
    def outcome(self) -> Outcome:
        """What came of planning these states."""
        return self.air.plan.outcome

    @property
    def missing(self) -> tuple[Link, ...]:
        """Return the microphones that find no place on the air beside the others, of rooms and sets."""
        return tuple(link for link in self.air.missing if link.kind == "link")

    @cached_property
    def most_planned(self) -> int:
        """The most microphones of the set, its first ones, with which a plan is found; all where one is.

        It is looked for by halving, in few steps each.
        """
        if self.outcome == "planned":
            return len(self._own)
        return least(0, len(self._own), lambda most: not self._planned_with(most)) - 1

    @cached_property
    def planned_without(self) -> bool:
        """Whether a plan is found for all others where the set is put away."""
        return self._planned_with(0)

    @property
    def _own(self) -> list[int]:
        return [n for n, link in enumerate(self.air.links) if link.room == self.set and link.kind == "link"]

    def _planned_with(self, most: int) -> bool:
        kept = sorted(set(range(len(self.air.links))) - set(self._own[most:]))
        return self.air.tried(only(self.air.disturbance, kept)).plan.outcome == "planned"

    @cached_property
    def planned(self) -> Mapping[str, PlannedLink]:
        """Where the plan puts each of its microphones, by tag."""
        links = planned_links(self.air)
        return {one.link.identity: one for one in links if one.link.room == self.set}


def portable_uses(project: Project, radio: RadioDesign) -> tuple[PortableUse, ...]:
    """Return every use of a portable set, in order of tags, then of states as they are written."""
    if radio.states:
        each = [(one.alike, one.margins, one.air) for one in radio.states]
    else:
        each = [(alike, radio.margins, radio.air) for alike in alike_states(project)]
    found = [
        PortableUse(
            set=tag,
            place=place,
            states=alike.names,
            outdoors=is_outdoors(project, place),
            outlet=project.building.portable_places[place].outlet,
            margins=tuple(margin for margin in margins if margin.room == tag),
            air=air,
        )
        for alike, margins, air in each
        for tag, place in alike.portable
    ]
    return tuple(sorted(found, key=lambda one: natural(one.set)))
