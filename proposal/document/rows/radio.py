"""Rows about radio: what came of planning, levels, neighbourhoods and what could be added."""

import math
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows, composed


class RadioSummary(Row):
    """What came of radio, for every reader."""

    schedule: ClassVar = Schedule("radio_summary", subject="radio")

    outcome: Annotated[str, Shows("outcome", ALL, "word")] = Field(
        description="planned, impossible or not settled."
    )
    links: Annotated[int, Shows("links", ALL, "count", follows=True)] = Field(
        description="Microphones linked by radio at once, in the states with most of them."
    )
    access_points: Annotated[int, Shows("access_points", ALL, "count", follows=True)] = Field(
        description="Access points that serve them."
    )
    carriers: Annotated[int, Shows("carriers", ALL, "count")] = Field(
        description="Carriers that all equipment can use."
    )
    worst_margin_db: Annotated[float | None, Shows("worst_margin", ALL, "dB", follows=True)] = Field(
        description="Margin of the weakest microphone above sensitivity and fade margin, dB."
    )
    other_links: Annotated[int, Shows("other_links", ALL, "count")] = Field(
        description="Links of others on the band that were counted in."
    )
    over: Annotated[str, Shows("over", ALL)] = Field(
        description="Where impossible: slot pairs wanted against those there are, as `99 slot pairs of 60`."
    )
    over_rooms: Annotated[tuple[str, ...], Shows("over_rooms", ALL, "tag")] = Field(
        description="Where impossible: tags of the rooms."
    )
    missing: Annotated[int, Shows("without_a_place", ALL, "count")] = Field(
        default=0, description="Microphones for which no place on the air was found beside the others."
    )
    out_of_step: Annotated[str, Shows("beside_others_out_of_step", ALL)] = Field(
        default="",
        description="What a link takes beside a system out of step: `4 slot pairs in place of 3`.",
    )
    for_states: Annotated[tuple[str, ...], Shows("radio_for_states", ALL)] = Field(
        default=(),
        description="Names of the states that all but the outcome by state is for; none where for all.",
    )
    unproven: Annotated[int, Shows("places_not_proven", ALL, "count", follows=True)] = Field(
        default=0, description="Microphones whose place may be found taken where equipment listens first."
    )
    unproven_rooms: Annotated[tuple[str, ...], Shows("rooms_of_places_not_proven", ALL, "tag")] = Field(
        default=(), description="Tags of their rooms."
    )
    breaks_at_db: Annotated[float | None, Shows("breaks_with_stronger_interference", ALL, "dB")] = Field(
        default=None,
        description="Interference so much stronger than computed breaks the plan, dB; none where it holds.",
    )
    walls_off_db: Annotated[float | None, Shows("walls_may_lose_less_by", NOT_CLIENT, "dB")] = Field(
        default=None,
        description="By so much less than computed all walls and floors may lose before the plan breaks, dB.",
    )
    walls_break: Annotated[bool, Shows("breaks_beyond_that", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether the plan breaks beyond that; no where no more was tried."
    )
    measured_rooms: Annotated[tuple[str, ...], Shows("to_be_measured_between", NOT_CLIENT, "tag")] = Field(
        default=(), description="Tags of the two rooms between which a measurement would settle it."
    )
    measured_db: Annotated[float | None, Shows("least_loss_there", NOT_CLIENT, "dB")] = Field(
        default=None, description="Loss between antennas of theirs that the plan wants at least, dB."
    )


class OverfullRow(Row):
    """Rooms that together want more of the air than there is, with the sum that shows it."""

    schedule: ClassVar = Schedule("overfull", subject="radio", key=("access_point", "rooms"))

    kind: Annotated[str, Shows("kind", ALL, "word", words="overfull")] = Field(
        description="carrier, neighbouring, transceivers or search."
    )
    rooms: Annotated[tuple[str, ...], Shows("rooms", ALL, "tag")] = Field(
        description="Tags of rooms and other users."
    )
    access_point: Annotated[str, Shows("access_point", ALL, "tag")] = Field(
        description="Tag of the access point whose transceivers are too few for them."
    )
    links: Annotated[int, Shows("links", ALL, "count")] = Field(description="Links.")
    slot_pairs: Annotated[int, Shows("slot_pairs_a_link", ALL, "count")] = Field(
        description="Slot pairs of a link."
    )
    bearers: Annotated[int, Shows("idle_bearers", ALL, "count")] = Field(
        description="Bearers of access points without traffic."
    )
    sum: Annotated[str, Shows("sum_of_slot_pairs", ALL, follows=True)] = Field(
        description="How the slot pairs wanted come about, such as `33 × 3`."
    )
    wanted: Annotated[int, Shows("slot_pairs_wanted", ALL, "count", follows=True)] = Field(
        description="Slot pairs wanted."
    )
    carriers: Annotated[int, Shows("carriers", ALL, "count")] = Field(
        description="Carriers that they can use, or transceivers."
    )
    held: Annotated[int, Shows("slot_pairs_there_are", ALL, "count", follows=True)] = Field(
        description="Slot pairs there are, as many as whole links can use."
    )
    over_links: Annotated[int, Shows("links_too_many", ALL, "count", follows=True)] = Field(
        description="Links too many."
    )


class LeverRow(Row):
    """One thing that would help where not all find a place on the air, found by planning anew."""

    schedule: ClassVar = Schedule("lever", subject="radio", key=("name",))

    name: Annotated[str, Shows("change", ALL, "word")] = Field(description="What is changed.")
    rooms: Annotated[tuple[str, ...], Shows("rooms", ALL, "tag")] = Field(description="Tags of rooms.")
    text: Annotated[str, Shows("what_to_do", ALL)] = Field(description="What to do, in words.")
    missing: Annotated[int, Shows("then_without_a_place", ALL, "count")] = Field(
        description="Microphones that find no place then; none where there is a plan."
    )
    costs: Annotated[str, Shows("what_it_costs", ALL)] = Field(
        default="", description="What it costs, or why that is not known here, in words."
    )
    people: Annotated[str, Shows("what_changes_for_people", ALL)] = Field(
        default="", description="What changes for the people in the rooms, in words."
    )
    agree: Annotated[str, Shows("who_must_agree", ALL)] = Field(
        default="", description="Who has to agree to it, in words."
    )
    recommended: Annotated[str, Shows("why_it_is_recommended", ALL)] = Field(
        default="", description="Why it is recommended, in words; empty for all changes but that one."
    )


class MarginRow(Row):
    """How one microphone is received."""

    schedule: ClassVar = Schedule("margin", subject="radio", key=("microphone",))

    microphone: Annotated[str, Shows("microphone", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag."
    )
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag")] = Field(default="", description="Tag of its room.")
    access_point: Annotated[str, Shows("access_point", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the access point that serves it."
    )
    distance_m: Annotated[float, Shows("distance", NOT_CLIENT, "length")] = Field(
        default=0.0, description="Straight distance, m."
    )
    loss_db: Annotated[float, Shows("path_loss", NOT_CLIENT, "dB")] = Field(
        default=0.0, description="Loss of the path, dB."
    )
    body_db: Annotated[float, Shows("body_loss", NOT_CLIENT, "dB")] = Field(
        default=0.0, description="Loss of bodies, dB."
    )
    received_dbm: Annotated[float, Shows("received", NOT_CLIENT, "dBm")] = Field(
        default=0.0, description="Level at the weaker end, dBm."
    )
    wanted_dbm: Annotated[float, Shows("wanted", NOT_CLIENT, "dBm")] = Field(
        default=0.0, description="Sensitivity and fade margin, dBm."
    )
    margin_db: Annotated[float, Shows("margin", NOT_CLIENT, "dB")] = Field(
        default=0.0, description="What is left, dB."
    )
    probability: Annotated[float, Shows("probability", NOT_CLIENT, "share")] = Field(
        default=0.0, description="Probability of coverage, 0 to 1."
    )
    second: Annotated[str, Shows("second_path", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the second-best access point."
    )
    second_db: Annotated[float | None, Shows("its_margin", NOT_CLIENT, "dB")] = Field(
        default=None, description="Margin to it, dB."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails."
    )

    @composed(Shows("coverage", NOT_CLIENT, "share", together=True))
    def coverage(self) -> float:
        """Probability of coverage, rounded down to a tenth of a per cent, for nothing is certain."""
        return min(int(self.probability * 1000), 999) / 1000


class RadioPlaceRow(Row):
    """Where the plan puts one link; it shows that room exists and is nothing to be entered."""

    schedule: ClassVar = Schedule("radio_place", subject="radio", key=("identity",))

    identity: Annotated[str, Shows("link", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the microphone, or name of a bearer."
    )
    kind: Annotated[str, Shows("kind", NOT_CLIENT, "word", words="radio")] = Field(
        default="", description="link, bearer or other."
    )
    access_point: Annotated[str, Shows("access_point", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of its access point."
    )
    group: Annotated[str, Shows("in_step_with", NOT_CLIENT, "word")] = Field(
        default="", description="Synchronisation group."
    )
    carrier: Annotated[int | None, Shows("carrier", NOT_CLIENT, "number")] = Field(
        default=None, description="Carrier, from 0."
    )
    carrier_hz: Annotated[float | None, Shows("centre", NOT_CLIENT, "hertz", follows=True)] = Field(
        default=None, description="Centre of the carrier, Hz."
    )
    slots: Annotated[
        tuple[int, ...], Shows("slot_pairs", NOT_CLIENT, "number", sorted=True, empty="none")
    ] = Field(default=(), description="Slot pairs of the frame on it, from 0.")
    further: Annotated[tuple[str, ...], Shows("slot_pairs_on_other_carriers", NOT_CLIENT)] = Field(
        default=(), description="Other carriers with their slot pairs, where a link spreads over carriers."
    )
    clear_db: Annotated[float | None, Shows("above_interference", NOT_CLIENT, "dB", follows=True)] = Field(
        default=None, description="Carrier to the sum of interference, less what is wanted, dB."
    )
    quiet_db: Annotated[float | None, Shows("below_refusal", NOT_CLIENT, "dB", follows=True)] = Field(
        default=None,
        description="How far all that its end that listens hears lies under what would refuse it, dB.",
    )
    access: Annotated[str, Shows("access_to_it", NOT_CLIENT, "word")] = Field(
        default="", description="open, least interfered or not proven, where equipment listens first."
    )

    @composed(Shows("clear_of_the_sum_of_interference_by", NOT_CLIENT, "whole dB", together=True))
    def clear_whole_db(self) -> int | None:
        """The same, rounded to the safe side: levels indoors are not known any closer."""
        return None if self.clear_db is None else math.floor(self.clear_db)


class NeighbourhoodRow(Row):
    """Links of which no two can share a carrier and a slot."""

    schedule: ClassVar = Schedule("neighbourhood", subject="radio", key=("access_point", "rooms"))

    number: Annotated[str, Shows("number", NOT_CLIENT, "tag", serial=True)] = Field(
        default="", description="Number, such as N1, fullest first."
    )
    kind: Annotated[str, Shows("kind", NOT_CLIENT, "word", words="overfull")] = Field(
        default="", description="carrier, neighbouring, transceivers or search."
    )
    access_point: Annotated[str, Shows("access_point", NOT_CLIENT, "tag")] = Field(
        default="",
        description="Tag of the access point that has them all, where its transceivers are too few.",
    )
    rooms: Annotated[tuple[str, ...], Shows("rooms", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of rooms and other users."
    )
    links: Annotated[int, Shows("links", NOT_CLIENT, "count")] = Field(default=0, description="Links.")
    sum: Annotated[str, Shows("sum_of_slot_pairs", NOT_CLIENT, follows=True)] = Field(
        default="", description="How the slot pairs wanted come about, such as `33 × 3`."
    )
    carriers: Annotated[int, Shows("carriers", NOT_CLIENT, "count")] = Field(
        default=0, description="Carriers that they can use, or transceivers."
    )
    bearers: Annotated[int, Shows("idle_bearers", NOT_CLIENT, "count")] = Field(
        default=0, description="Bearers of access points without traffic."
    )
    wanted: Annotated[int, Shows("slot_pairs_wanted", NOT_CLIENT, "count")] = Field(
        default=0, description="Slot pairs wanted."
    )
    held: Annotated[int, Shows("slot_pairs_there_are", NOT_CLIENT, "count")] = Field(
        default=0, description="Slot pairs there are."
    )
    spare_links: Annotated[int, Shows("links_to_spare", NOT_CLIENT, "count")] = Field(
        default=0, description="Links that could still be added."
    )


class FurtherRow(Row):
    """How many microphones a room could still take."""

    schedule: ClassVar = Schedule("further", subject="radio", key=("room",))

    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(default="", description="Tag.")
    links: Annotated[int, Shows("microphones_on_the_air", NOT_CLIENT, "count")] = Field(
        default=0, description="Microphones it has on the air."
    )
    bearers: Annotated[int, Shows("idle_bearers", NOT_CLIENT, "count")] = Field(
        default=0, description="Bearers of its access points without traffic."
    )
    wanted: Annotated[int, Shows("slot_pairs_wanted", NOT_CLIENT, "count")] = Field(
        default=0, description="Slot pairs that it wants by itself."
    )
    held: Annotated[int, Shows("slot_pairs_there_are", NOT_CLIENT, "count")] = Field(
        default=0, description="Slot pairs there are, as many as whole links can use."
    )
    near_far: Annotated[int, Shows("pairs_kept_off_the_next_carrier", NOT_CLIENT, "count")] = Field(
        default=0, description="Pairs of its links that cannot use neighbouring carriers in one slot."
    )
    near_far_named: Annotated[tuple[str, ...], Shows("such_pairs", NOT_CLIENT, ("text",), lines=True)] = (
        Field(default=(), description="The first of these pairs, by name: one is much nearer than the other.")
    )
    further: Annotated[int, Shows("further", NOT_CLIENT, "count")] = Field(
        default=0, description="How many more, moving nothing."
    )
    at_least: Annotated[bool, Shows("at_least", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether more were not looked for."
    )

    @composed(Shows("could_be_added", NOT_CLIENT, together=True, order="further"))
    def could_be_added(self) -> str:
        """How many more it could take, and whether more were not looked for."""
        return f"≥ {self.further}" if self.at_least else str(self.further)


class RadioCaseRow(Row):
    """What becomes of the plan under another assumption."""

    schedule: ClassVar = Schedule("radio_case", subject="radio", key=("name",))

    name: Annotated[str, Shows("assumption", NOT_CLIENT, "word")] = Field(
        default="", description="The assumption."
    )
    outcome: Annotated[str, Shows("plan", NOT_CLIENT, "verdict")] = Field(
        default="", description="planned, impossible or not settled."
    )
    worst_margin_db: Annotated[float | None, Shows("margin_of_the_weakest_microphone", NOT_CLIENT, "dB")] = (
        Field(default=None, description="Margin of the weakest microphone, dB.")
    )


class DisturbanceRow(Row):
    """Two rooms whose links cannot all share carriers and slots."""

    schedule: ClassVar = Schedule("disturbance", subject="radio", key=("rooms",))

    rooms: Annotated[tuple[str, ...], Shows("rooms", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of the two."
    )
    over_db: Annotated[float, Shows("unwanted_level", NOT_CLIENT, "dB")] = Field(
        default=0.0, description="How far the worst unwanted level lies above what is tolerated, dB."
    )

    @composed(Shows("unwanted_level_above_the_tolerance", NOT_CLIENT, "whole dB", together=True))
    def over_whole_db(self) -> int:
        """The same, rounded to the safe side: levels indoors are not known any closer."""
        return math.ceil(self.over_db)


class RadioStateRow(Row):
    """What of radio holds in states of the building that are alike for it."""

    schedule: ClassVar = Schedule("radio_state", subject="radio", key=("states",))

    states: Annotated[tuple[str, ...], Shows("states", ALL)] = Field(description="Names of the states.")
    outcome: Annotated[str, Shows("plan", ALL, "verdict")] = Field(
        description="planned, impossible or not settled."
    )
    sum: Annotated[str, Shows("sum_of_slot_pairs", ALL)] = Field(
        description="How the slot pairs wanted where it is fullest come about, such as `33 × 3`."
    )
    wanted: Annotated[int, Shows("slot_pairs_wanted", ALL, "count")] = Field(
        description="Slot pairs wanted where it is fullest."
    )
    held: Annotated[int, Shows("slot_pairs_there_are", ALL, "count")] = Field(
        description="Slot pairs there are for those."
    )
    missing: Annotated[int, Shows("without_a_place", ALL, "count")] = Field(
        description="Microphones for which no place on the air was found beside the others."
    )
    elsewhere: Annotated[int, Shows("links_elsewhere", ALL, "count")] = Field(
        description="Links that lie on other carriers or slots than in the plan that is printed whole."
    )
    worst_margin_db: Annotated[float | None, Shows("margin_of_the_weakest_microphone", NOT_CLIENT, "dB")] = (
        Field(default=None, description="Margin of the weakest microphone, dB.")
    )
    least_clear_db: Annotated[float | None, Shows("least_above_interference", NOT_CLIENT, "dB")] = Field(
        default=None, description="Carrier to the sum of interference, less what is wanted, at its least, dB."
    )
    disturbing: Annotated[tuple[str, ...], Shows("rooms_that_disturb_each_other", NOT_CLIENT)] = Field(
        default=(), description="Pairs of rooms that disturb each other in these states and not in all."
    )


class RadioMoveRow(Row):
    """Where a link lies in some states, other than in the plan that is printed whole."""

    schedule: ClassVar = Schedule("radio_move", subject="radio", key=("states", "identity"))

    states: Annotated[tuple[str, ...], Shows("states", NOT_CLIENT)] = Field(
        default=(), description="Names of the states."
    )
    identity: Annotated[str, Shows("link", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the microphone, or name of a bearer."
    )
    carrier: Annotated[int | None, Shows("carrier", NOT_CLIENT, "number")] = Field(
        default=None, description="Carrier, from 0."
    )
    slots: Annotated[
        tuple[int, ...], Shows("slot_pairs", NOT_CLIENT, "number", sorted=True, empty="none")
    ] = Field(default=(), description="Slot pairs of the frame on it, from 0.")
    further: Annotated[tuple[str, ...], Shows("slot_pairs_on_other_carriers", NOT_CLIENT)] = Field(
        default=(), description="Other carriers with their slot pairs, where a link spreads over carriers."
    )
