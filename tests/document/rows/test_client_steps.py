"""What the work needs from the client: every need of the programme, and those that no programme dates."""

import datetime

import pytest

from proposal.document.making.document import document_of
from proposal.document.rows.client_steps import USUAL_PARTIES, called_by_client, client_steps
from proposal.document.rows.programme import SetDayRow
from proposal.document.rows.radio import LeverRow
from proposal.model.loading import standing_wording
from tests.test_projects import EXAMPLE, computed

DAY = datetime.date


def test_needs_stand_with_their_days_earliest_first() -> None:
    # Order on 19 May (project.yaml). Design takes 3 working days; 22 sheets at 1.5 h are 33 h, which two
    # drafters do not finish in 2 days of 8 h, so that drafting takes 3; the client takes 10: the 16th working
    # day, counted on a calendar, is 9 June, and programming begins on the next one. Materials ordered then
    # come after 21 days, on 30 June, and first fix begins on the day after. The days of others stand in
    # project.yaml; second fix may not begin before the furniture stands. The owner furnishes twelve devices.
    # Who has what ready before which work stands in responsibilities.yaml.
    document = document_of(computed(EXAMPLE))
    assert [(one.key, one.who, one.by) for one in document.client_steps] == [
        ("order", "you", DAY(2031, 5, 19)),
        ("answers", "you", DAY(2031, 5, 19)),
        ("answers of the architect", "the architect", DAY(2031, 5, 19)),
        ("drawings approved", "you", DAY(2031, 6, 9)),
        ("panels", "you", DAY(2031, 6, 9)),
        ("day desks", "you", DAY(2031, 6, 9)),
        ("day signs", "you", DAY(2031, 6, 9)),
        ("network answers", "your network team", DAY(2031, 6, 10)),
        ("day ceilings_open", "general contractor", DAY(2031, 6, 30)),
        ("ready for first fix: EC", "electrical contractor", DAY(2031, 7, 1)),
        ("ready for first fix: GC", "general contractor", DAY(2031, 7, 1)),
        ("ready for first fix: IT", "your network team", DAY(2031, 7, 1)),
        ("ready for first fix: AR", "the architect", DAY(2031, 7, 1)),
        ("ready for first fix: FM", "your facilities team", DAY(2031, 7, 1)),
        ("day furniture", "furniture supplier", DAY(2031, 7, 28)),
        ("ready for second fix: EC", "electrical contractor", DAY(2031, 7, 28)),
        ("ready for second fix: GC", "general contractor", DAY(2031, 7, 28)),
        ("ready for second fix: FU", "furniture supplier", DAY(2031, 7, 28)),
        ("ready for second fix: IN", "the interpreters' agency", DAY(2031, 7, 28)),
        ("own equipment L0 IN", "the interpreters' agency", DAY(2031, 7, 28)),
        ("own equipment L0 IT", "your network team", DAY(2031, 7, 28)),
        ("own equipment L1 IT", "your network team", DAY(2031, 7, 31)),
        ("own equipment L2 IT", "your network team", DAY(2031, 8, 6)),
        ("day evening", "your facilities team", DAY(2031, 8, 14)),
        ("ready for commissioning: IT", "your network team", DAY(2031, 8, 14)),
        ("ready for commissioning: GC", "general contractor", DAY(2031, 8, 14)),
        ("ready for commissioning: EC", "electrical contractor", DAY(2031, 8, 14)),
        ("ready for commissioning: IN", "the interpreters' agency", DAY(2031, 8, 14)),
        ("day all_rooms", "your facilities team", DAY(2031, 8, 19)),
        ("accepted", "you", DAY(2031, 8, 20)),
    ]
    # The chart gives first fix 10 days of float; of all else each day counts.
    # The desks are made between the decision and second fix, and the network team pull the cables of panels
    # between their answer and first fix, so that no number says how late these may be.
    spare = {one.key: one.to_spare for one in document.client_steps}
    assert (spare["day ceilings_open"], spare["network answers"], spare["day desks"]) == (10, None, None)
    assert {spare[key] for key in ("order", "day furniture", "own equipment L2 IT", "accepted")} == {0}
    told = {one.key: one.what for one in document.client_steps}
    # building.yaml: the agency brings the console (party), and the network team, whose duty equipment of the
    # owner is, the rest: two in the ground floor's room, a codec a committee room, one for the training room
    # on the second floor and one for each of its six meeting rooms, in the order of their tags.
    own = "Equipment in place"
    assert [told[f"own equipment {where}"] for where in ("L0 IN", "L0 IT", "L1 IT", "L2 IT")] == [
        f"{own}, ground floor: Interpreters' console in the booth of the chamber",
        f"{own}, ground floor: Recorder of the sound archive and Conferencing codec of the chamber",
        f"{own}, first floor: Conferencing codec of Committee Room 1 and "
        "Conferencing codec of Committee Room 2",
        f"{own}, second floor: 6 × Conferencing codec and Conferencing codec of the training room",
    ]
    # R01 passes the floor of the first storey, R12 that of the second.
    assert (
        "fire-stopping of 2 openings, which are listed under who does what"
        in told["ready for second fix: GC"]
    )
    # No link leads to the owner's network, so that nothing of it has to be set up.
    assert not any("VLAN" in what for key, what in told.items() if key != "network answers")
    theirs = {one.who for one in document.client_steps if one.is_the_clients}
    assert theirs == {"you", "your network team", "your facilities team"}


def test_answers_about_the_network_have_the_float_of_programming_where_its_team_pulls_no_cables() -> None:
    document = document_of(computed(EXAMPLE))
    others = tuple(row for row in document.responsibilities if "outlets for panels" not in row.about)
    steps = client_steps(document.model_copy(update={"responsibilities": others}))
    # Programming has 40 days of float in the chart.
    assert next(one.to_spare for one in steps if one.key == "network answers") == 40


def test_without_a_programme_the_order_and_what_is_asked_are_needed_with_it() -> None:
    document = document_of(computed(EXAMPLE)).model_copy(update={"programme": None, "activities": ()})
    # What is asked stands in questions.yaml, by the value that project, room types and building leave open.
    asked = {row.key: row.asked for row in document.questions}
    cord = asked["project.rules.cabling.device_cord"]
    chargers = asked["room_types.meeting_room.charging_at"]
    runs = asked["building.storeys.L2.pathway_height"]
    assert all(one.endswith(("?", ".")) for one in (cord, chargers, runs))
    told = {row.key: row.what for row in document.client_steps}
    (network,) = (row.question for row in document.network_questions if row.asked == "network team")
    assert [(one.what, one.by) for one in client_steps(document)] == [
        ("The order", None),
        (f"Answers to 2 open questions: {cord} Meeting room: {chargers}", None),
        (f"Answers to 1 open question: Second floor: {runs}", None),
        (f"Answers to 1 question about the network: {network}", None),
        # No day orders them, so that the order is that of tags: A001, A101, A201 to A206, ER1.
        *((told[f"own equipment {where}"], None) for where in ("L0 IN", "L1 IT", "L2 IT", "L0 IT")),
    ]
    nothing = {"questions": (), "network_questions": (), "owner_equipment": ()}
    assert [one.key for one in client_steps(document.model_copy(update=nothing))] == ["order"]


def test_where_radio_has_no_room_for_all_a_choice_is_needed_before_the_order() -> None:
    document = document_of(computed(EXAMPLE))
    assert document.radio is not None
    radio = document.radio.model_copy(update={"outcome": "impossible", "missing": 4})
    rows = [
        LeverRow(name=name, rooms=("A001",), text="do it", missing=0, recommended=why)
        for name, why in (("more loss", ""), ("wired microphones", "It is enough."))
    ]
    first, second, *_ = client_steps(document.model_copy(update={"radio": radio, "levers": tuple(rows)}))
    assert (first.key, first.by, second.key) == ("radio", DAY(2031, 5, 19), "order")
    assert "4 microphones find no room on the air" in first.what
    assert "(we recommend wired microphones)" in first.what


def test_a_day_that_we_have_to_keep_is_no_need() -> None:
    document = document_of(computed(EXAMPLE))
    programme = document.programme
    assert programme is not None
    kept = SetDayRow(
        key="sitting", name="First sitting", date=DAY(2031, 9, 1), rule="done by",
        phases=(), storeys=(), late=(),
    )  # fmt: skip
    with_it = programme.model_copy(update={"days_set": (*programme.days_set, kept)})
    steps = client_steps(document.model_copy(update={"programme": with_it}))
    assert "First sitting" not in {one.what for one in steps}


def test_what_we_furnish_ourselves_is_nobodys_to_have_ready() -> None:
    # Of the standing rows none is ours and waited for; a row of ours says nothing of it, whatever is written.
    document = document_of(computed(EXAMPLE))
    ours = [row for row in document.responsibilities if "AV" in row.furnish.split(", ")]
    assert ours
    assert not any(row.before for row in ours)
    assert all(row.ready_by(document) for row in document.responsibilities if row.before)


@pytest.mark.parametrize(
    ("party", "called"),
    [
        ("Knot & Bend Networks", "Knot & Bend Networks"),
        ("Brightcup", "Brightcup"),
        ("Electrical contractor", "electrical contractor"),
        ("The architect", "the architect"),
        ("Owner's network team", "your network team"),
    ],
)
def test_a_name_that_people_wrote_keeps_its_letters(party: str, called: str) -> None:
    assert called_by_client(party) == called


def test_usual_parties_are_those_of_the_standing_table() -> None:
    names = standing_wording().responsibilities.parties.values()
    assert {name for name in names if not name.startswith("Owner")} == USUAL_PARTIES
