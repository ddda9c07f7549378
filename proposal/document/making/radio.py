"""Rows about radio from the design."""

from collections import Counter
from typing import TypedDict

from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import MOST_FURTHER, Neighbourhood, RoomOnAir, neighbourhoods
from proposal.design.radio.radio_cases import Case, Tolerance
from proposal.design.radio.radio_levers import Lever
from proposal.design.radio.radio_plan import PlannedLink, RadioDesign, conflicts_of, planned_links
from proposal.design.radio.radio_settings import radiated_by_dbm, region
from proposal.design.radio.radio_states import moved_from
from proposal.design.radio.received_margins import Margin
from proposal.document.making.by_name import ByName
from proposal.document.making.composed_texts import words_of
from proposal.document.rows.band_users import BandUserRow
from proposal.document.rows.radio import (
    DisturbanceRow,
    FurtherRow,
    LeverRow,
    MarginRow,
    NeighbourhoodRow,
    OverfullRow,
    RadioCaseRow,
    RadioMoveRow,
    RadioPlaceRow,
    RadioStateRow,
    RadioSummary,
)
from proposal.model.equipment.devices import Microphone
from proposal.model.project import Project
from proposal.model.radio.radio import BandUser
from proposal.quantities import formatting
from proposal.review.lever_choice import (
    agree_words,
    costs_words,
    left_words,
    more_words,
    people_words,
    recommended,
)
from proposal.review.radio_words import lever_words, sum_words
from proposal.standards.itu_p1238 import coverage_probability

_NEIGHBOURHOOD = ByName(NeighbourhoodRow, Neighbourhood)
_OVERFULL = ByName(OverfullRow, Neighbourhood, "over_links")
_BAND_USER = ByName(BandUserRow, BandUser)
_FURTHER = ByName(FurtherRow, RoomOnAir)
_LEVER = ByName(LeverRow, Lever)
_MARGIN = ByName(MarginRow, Margin, "distance_m", "loss_db", "received_dbm", "margin_db", "second_db")
_CASE = ByName(RadioCaseRow, Case, "name", "worst_margin_db")


class RadioParts(TypedDict, total=False):
    """The rows about radio; none of them where nothing is linked by radio."""

    radio: RadioSummary | None
    overfull: tuple[OverfullRow, ...]
    levers: tuple[LeverRow, ...]
    margins: tuple[MarginRow, ...]
    radio_places: tuple[RadioPlaceRow, ...]
    neighbourhoods: tuple[NeighbourhoodRow, ...]
    further: tuple[FurtherRow, ...]
    radio_cases: tuple[RadioCaseRow, ...]
    disturbances: tuple[DisturbanceRow, ...]
    band_users: tuple[BandUserRow, ...]
    radio_states: tuple[RadioStateRow, ...]
    radio_moves: tuple[RadioMoveRow, ...]


def radio_parts(project: Project, radio: RadioDesign, *, tolerance: bool) -> RadioParts:
    """Return the fields of the document that hold radio's rows, by name.

    tolerance: whether somebody reads how far walls may be off, which takes several plans to find out.
    """
    if not radio.margins:
        return {}
    carriers_hz = region(project).carriers_hz
    spread = project.brief.rules.radio.spread
    words = words_of(project)
    shift = formatting.short_quantity(
        radio.cases.shift_db, "level", project.brief.units, project.brief.locale
    )
    return {
        "radio": _summary(radio, radio.tolerance if tolerance else None),
        "overfull": tuple(
            _OVERFULL.of(one, sum=sum_words(one), over_links=one.over_links or len(radio.air.missing))
            for one in radio.too_full
        ),
        "levers": _levers(project, radio),
        "margins": tuple(
            _MARGIN.of(
                one,
                distance_m=_rounded(one.distance_m),
                loss_db=_rounded(one.loss_db),
                received_dbm=_rounded(one.received_dbm),
                wanted_dbm=one.sensitivity_dbm + one.fade_db,
                margin_db=_rounded(one.margin_db),
                probability=_rounded(coverage_probability(one.received_dbm - one.sensitivity_dbm, spread)),
                second_db=_rounded_or_none(one.second_db),
                verdict="holds" if one.margin_db >= 0 else "fails",
            )
            for one in radio.margins
        ),
        "radio_places": tuple(
            RadioPlaceRow(
                identity=one.link.identity,
                kind=one.link.kind,
                access_point=one.link.access_point,
                group=one.link.group,
                carrier=one.carrier,
                carrier_hz=None if one.carrier is None else carriers_hz[one.carrier],
                slots=one.slots,
                further=further_words(one),
                clear_db=_rounded_or_none(one.clear_db),
                quiet_db=_rounded_or_none(one.quiet_db),
                access=radio.accesses.get(one.link.identity, ""),
            )
            for one in radio.planned
        ),
        "neighbourhoods": tuple(
            _NEIGHBOURHOOD.of(one, number=f"N{number}", sum=sum_words(one))
            for number, one in enumerate(radio.neighbourhoods, 1)
        ),
        "further": tuple(_FURTHER.of(one, at_least=one.further == MOST_FURTHER) for one in radio.rooms),
        "radio_cases": tuple(
            _CASE.of(
                one,
                name=words.text(f"radio_case.{one.name.replace(' ', '_')}", level=shift),
                worst_margin_db=_rounded_or_none(one.worst_margin_db),
            )
            for one in radio.cases.all
        ),
        "disturbances": tuple(
            DisturbanceRow(rooms=(a, b), over_db=_rounded(over)) for a, b, over in radio.conflicts
        ),
        "band_users": tuple(
            _BAND_USER.of(user, tag=tag, radiated_dbm=radiated_by_dbm(project, user))
            for tag, user in sorted(project.building.radio.other_users.items())
        ),
        "radio_states": _states(radio),
        "radio_moves": _moves(radio),
    }


def _levers(project: Project, radio: RadioDesign) -> tuple[LeverRow, ...]:
    levers = radio.levers or radio.levers_for_all_states
    best, why = recommended(levers) or (None, "")
    airs = [radio.air, *(one.air for one in radio.states)]
    without = max(sum(link.kind == "link" for link in air.missing) for air in airs)
    states = 1 if radio.planned_alone else len(radio.states)
    entries = radio.asked.entries
    forms = {tag: entry.form for tag, entry in entries.items() if isinstance(entry, Microphone)}
    return tuple(
        _LEVER.of(
            one,
            text=lever_words(one, project.brief.units),
            costs=costs_words(one),
            people=f"{people_words(one)} {more_words(one, without, states)}".strip(),
            agree=f"{agree_words(one, project)} {left_words(one, project, forms)}".strip(),
            recommended=why if one is best else "",
        )
        for one in levers
    )


def _states(radio: RadioDesign) -> tuple[RadioStateRow, ...]:
    """Return what holds in which states; nothing where radio is the same in all."""
    pairs = [{(a, b) for a, b, _ in conflicts_of(one.air.disturbance)} for one in radio.states]
    everywhere = frozenset[tuple[str, str]](pairs[0] if pairs else ()).intersection(*pairs)
    rows = []
    for one, here in zip(radio.states, pairs, strict=True):
        fullest = neighbourhoods(one.air)[0]
        clear = [link.clear_db for link in planned_links(one.air) if link.clear_db is not None]
        only = sorted(here - everywhere, key=lambda pair: [natural(tag) for tag in pair])
        rows.append(
            RadioStateRow(
                states=one.alike.names,
                outcome=one.air.plan.outcome,
                sum=sum_words(fullest),
                wanted=fullest.wanted,
                held=fullest.held,
                missing=sum(link.kind == "link" for link in one.air.missing),
                elsewhere=len(moved_from(radio.air, one.air)),
                worst_margin_db=_rounded_or_none(
                    min((margin.margin_db for margin in one.margins), default=None)
                ),
                least_clear_db=_rounded_or_none(min(clear, default=None)),
                disturbing=tuple(formatting.listed(pair) for pair in only),
            )
        )
    return tuple(rows)


def _moves(radio: RadioDesign) -> tuple[RadioMoveRow, ...]:
    rows = []
    for one in radio.states:
        names = moved_from(radio.air, one.air)
        rows += [
            RadioMoveRow(
                states=one.alike.names,
                identity=link.link.identity,
                carrier=link.carrier,
                slots=link.slots,
                further=further_words(link),
            )
            for link in planned_links(one.air)
            if link.link.identity in names
        ]
    return tuple(rows)


def further_words(link: PlannedLink) -> tuple[str, ...]:
    """Return the other carriers of a link that spreads over carriers, each with its slot pairs."""
    return tuple(f"carrier {carrier}: {', '.join(map(str, slots))}" for carrier, slots in link.further)


def _rounded(value: float) -> float:
    """Return a level without the digits in which machines differ."""
    return round(value, 4)


def _rounded_or_none(value: float | None) -> float | None:
    return None if value is None else _rounded(value)


def _summary(radio: RadioDesign, tolerance: Tolerance | None) -> RadioSummary:
    over = next((one for one in radio.neighbourhoods if one.over), None)
    breaks = radio.outcome == "planned" and radio.cases.stronger.outcome != "planned"
    of_states = next((one.alike.names for one in radio.states if one.air is radio.air), ())
    rooms = {margin.microphone: margin.room for margin in radio.margins}
    unproven = radio.unproven if radio.outcome == "planned" else ()
    return RadioSummary(
        outcome=radio.outcome,
        links=_links_at_once(radio),
        access_points=len({margin.access_point for margin in radio.margins}),
        carriers=radio.carriers,
        worst_margin_db=_rounded_or_none(min((margin.margin_db for margin in radio.margins), default=None)),
        other_links=sum(one.link.kind == "other" for one in radio.planned),
        over=f"{over.wanted} slot pairs of {over.held}" if over else "",
        over_rooms=over.rooms if over else (),
        missing=sum(link.kind == "link" for link in radio.air.missing),
        out_of_step=_out_of_step(radio),
        for_states=of_states,
        unproven=len(unproven),
        unproven_rooms=tuple(sorted({rooms[tag] for tag in unproven}, key=natural)),
        breaks_at_db=radio.cases.shift_db if breaks else None,
        walls_off_db=None if tolerance is None else float(tolerance.off_db),
        walls_break=tolerance is not None and tolerance.breaks,
        measured_rooms=tolerance.rooms if tolerance else (),
        measured_db=_rounded_or_none(tolerance.loss_db) if tolerance else None,
    )


def _out_of_step(radio: RadioDesign) -> str:
    """Return the slot pairs that most links take beside a system out of step, and those they take else."""
    graph, links = radio.air.graph, radio.air.links
    taken = Counter(
        (graph.lengths[demand], graph.uses[demand])
        for demand, number in enumerate(radio.air.owner)
        if links[number].kind == "link" and graph.lengths[demand] > graph.uses[demand]
    )
    return "{} slot pairs in place of {}".format(*taken.most_common(1)[0][0]) if taken else ""


def _links_at_once(radio: RadioDesign) -> int:
    """Return how many microphones are on the air at once: in the states with most, or with no plan."""
    planned = radio.states and radio.outcome == "planned"
    each = [one.air for one in radio.states] if planned else [radio.air]
    return max(sum(link.kind == "link" for link in air.links) for air in each)
