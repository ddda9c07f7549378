"""What the work needs from the client: every need of the programme, and those that no programme dates."""

import datetime

from proposal.document.making.document import document_of
from proposal.document.rows.client_steps import client_steps
from proposal.document.rows.programme import SetDayRow
from tests.test_projects import EXAMPLE, computed

DAY = datetime.date


def test_needs_stand_with_their_days_earliest_first() -> None:
    # Order on 19 May (project.yaml). Design and drafting take 3 working days each and the client 10: the
    # 16th working day, counted on a calendar, is 9 June. The days of others stand in project.yaml; second fix
    # may not begin before the furniture stands. The owner furnishes twelve devices.
    document = document_of(computed(EXAMPLE))
    assert [(one.what, one.by) for one in document.client_steps] == [
        ("The order", DAY(2031, 5, 19)),
        ("Answers to 3 open questions", DAY(2031, 5, 19)),
        ("Approval of the drawings", DAY(2031, 6, 9)),
        ("Ceilings are open", DAY(2031, 6, 30)),
        ("Furniture stands in the chamber", DAY(2031, 7, 28)),
        ("Equipment of your own in place: 12 devices", DAY(2031, 7, 28)),
    ]


def test_without_a_programme_the_order_and_what_is_asked_are_needed_with_it() -> None:
    document = document_of(computed(EXAMPLE))
    steps = client_steps(None, (), document.questions[:1], document.owner_equipment[:1])
    assert [(one.what, one.by) for one in steps] == [
        ("The order", None),
        ("Answers to 1 open question", None),
        ("Equipment of your own in place: 1 device", None),
    ]
    assert [one.key for one in client_steps(None, (), (), ())] == ["order"]


def test_a_day_that_we_have_to_keep_is_no_need() -> None:
    programme = document_of(computed(EXAMPLE)).programme
    assert programme is not None
    kept = SetDayRow(
        key="sitting", name="First sitting", date=DAY(2031, 9, 1), rule="done by",
        phases=(), storeys=(), late=(),
    )  # fmt: skip
    with_it = programme.model_copy(update={"days_set": (*programme.days_set, kept)})
    assert "First sitting" not in {one.what for one in client_steps(with_it, (), (), ())}
