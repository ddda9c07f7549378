"""The workings of radio: capacity of a room, transceivers, path and level of its weakest microphone."""

import math
from collections.abc import Mapping, Sequence

from proposal.design.radio.radio_plan import RadioDesign
from proposal.design.radio.radio_settings import frequency_hz
from proposal.design.radio.received_margins import Margin
from proposal.design.rooms.room_kinds import RoomKind
from proposal.model.equipment.devices import AccessPoint
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.standards import dect
from proposal.standards.itu_p1238 import DISTANCE_COEFFICIENTS, coverage_probability, indoor_loss_db
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.substitution import number_text
from proposal.standards.working import Limit, Value, Working, Written, working

_RULES = "project.rules.radio"
LIBRARY = Source("the equipment library", kind="editable default")
LEAST_LEVEL = Source("sensitivity of the receiver and fade margin", kind="editable default", memory=True)
LEVEL = Source("sum of levels and losses of the path", kind="common practice")
NORMAL = Source("levels spread as a normal distribution of decibels; spread of ITU-R P.1238", memory=True)


def radio_workings(
    project: Project, kinds: Sequence[RoomKind], entries: Mapping[str, Device], radio: RadioDesign
) -> list[tuple[str, Working]]:
    """Return subject and working of every kind of room: capacity, transceivers, weakest microphone.

    kinds: in order; entries: library entry by tag of device.
    """
    noted: list[tuple[str, Working]] = []
    if project.brief.region == "north_america":
        gain = max(
            (entry.radio.antenna_gain for entry in entries.values() if isinstance(entry, AccessPoint)),
            default=0.0,
        )
        noted.append(
            (
                "building",
                working(
                    dect.united_states_power_limit_dbm,
                    uses=(f"{_RULES}.emission_bandwidth",),
                    bandwidth_hz=project.brief.rules.radio.emission_bandwidth,
                    gain_dbi=gain,
                ),
            )
        )
    for kind in kinds:
        noted += [(kind.key, one) for one in _of_kind(project, kind, radio)]
    return noted


def _of_kind(project: Project, kind: RoomKind, radio: RadioDesign) -> list[Working]:
    path = ".".join(kind.path)
    found = _capacity(project, kind, radio, path)
    margins = [margin for margin in radio.margins if margin.room in kind.rooms]
    if margins:
        weakest = min(margins, key=lambda one: (round(one.margin_db, 6), one.microphone))
        found += _weakest(project, weakest, path)
    return found


def _capacity(project: Project, kind: RoomKind, radio: RadioDesign, path: str) -> list[Working]:
    size = kind.sizing.size("access_point")
    entries = [
        entry
        for code, _ in (size.boxes if size else ())
        if isinstance(entry := project.library.entry(code), AccessPoint)
        and project.brief.region in entry.radio.regions
    ]
    if not entries:
        return []
    entry = entries[0]
    uses = (f"{path}.spares_paired", f"{path}.spare_microphones")
    limit = Limit(float(kind.sizing.channels), "≥", COMMON_PRACTICE)
    bearers = max((room.bearers for room in radio.rooms if room.room in kind.rooms), default=0)
    held = dect.links_on_one_carrier_each if entry.radio.one_carrier else dect.links_spread_over_carriers
    found = [
        working(
            held,
            unit="links",
            limit=limit,
            uses=uses,
            note="What the room wants is the limit; neighbours in range share these places with it.",
            carriers=radio.carriers,
            slot_pairs=entry.radio.slot_pairs,
            bearers=bearers,
        )
    ]
    if len(set(radio.groups.values())) > 1 or project.building.radio.other_users:
        blocked = dect.blocked_slot_pairs(entry.radio.slot_pairs, entry.radio.in_a_row)
        found.append(
            working(dect.links_beside_unsynchronised, unit="links", carriers=radio.carriers, blocked=blocked)
        )
    for one in entries:
        links = min(one.channels, kind.sizing.channels)
        found.append(
            working(
                dect.transceivers_needed,
                title=f"Transceivers of access point {one.model}",
                unit="transceivers",
                limit=Limit(float(one.radio.transceivers), "≤", LIBRARY),
                links=links,
                slot_pairs=one.radio.slot_pairs,
            )
        )
    return found


def _weakest(project: Project, margin: Margin, path: str) -> list[Working]:
    rules = project.brief.rules.radio
    plain_db = margin.loss_db - margin.hindered_db
    coefficient = DISTANCE_COEFFICIENTS[rules.environment]
    alone_db = indoor_loss_db(frequency_hz(project), margin.distance_m, coefficient)
    # Floors and walls beyond the average ones of the model stand with an access point outside the room only.
    more_db = plain_db - alone_db
    note = f"Weakest microphone: {margin.microphone} to {margin.access_point}."
    if more_db > 0.005:
        note += f" Walls or floors between them add {number_text(more_db)} dB."
    position = (f"{path}.access_points_at", f"{path}.radio.access_point_height")
    loss = working(
        indoor_loss_db,
        title=f"Loss of the path of {margin.microphone}",
        uses=(f"{_RULES}.environment", *position),
        note=note,
        frequency_hz=frequency_hz(project),
        distance_m=margin.distance_m,
        coefficient_db=coefficient,
        floors_db=0.0,
    )
    sent = margin.received_dbm + margin.loss_db + margin.body_db
    extra = margin.hindered_db + max(more_db, 0.0)
    level = Working(
        title=f"Level at the weaker end of the link of {margin.microphone}",
        equation="P_r = P − L − L_o − L_b",
        numbers=Written(
            f"P_r = {number_text(sent)} − {number_text(alone_db)} − {number_text(extra)} "
            f"− {number_text(margin.body_db)}",
            (
                Value("P", "power sent with both antenna gains", sent, "dBm"),
                Value("L", "loss of the path in the building", alone_db, "dB"),
                Value("L_o", "loss of obstructions, walls and floors besides", extra, "dB"),
                Value("L_b", "loss of bodies", margin.body_db, "dB"),
            ),
        ),
        result=margin.received_dbm,
        unit="dBm",
        limit=margin.sensitivity_dbm + margin.fade_db,
        comparison="≥",
        limit_source=LEAST_LEVEL,
        source=LEVEL,
        uses=(
            f"{_RULES}.sensitivity", f"{_RULES}.fade_margin", f"{_RULES}.body_loss", f"{path}.radio.power",
            *position,
        ),
    )  # fmt: skip
    above = margin.received_dbm - margin.sensitivity_dbm
    probability = coverage_probability(above, rules.spread)
    covered = Working(
        title=f"Probability that {margin.microphone} is received well",
        equation="p = Φ((P_r − P_s)/σ)",
        numbers=Written(
            f"p = Φ(({number_text(margin.received_dbm)} − {number_text(margin.sensitivity_dbm)})"
            f"/{number_text(rules.spread)})",
            (
                Value("P_r", "median level received", margin.received_dbm, "dBm"),
                Value("P_s", "sensitivity of the receiver", margin.sensitivity_dbm, "dBm"),
                Value("σ", "spread of levels", rules.spread, "dB"),
            ),
        ),
        result=min(math.floor(probability * 10_000) / 100, 99.99),
        unit="%",
        source=NORMAL,
        uses=(f"{_RULES}.spread", f"{_RULES}.sensitivity"),
        note="Φ is the normal distribution; rounded down, and never printed as certain.",
    )
    return [loss, level, covered]
