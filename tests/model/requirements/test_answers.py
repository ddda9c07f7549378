"""What requirements.yaml may say: what is written wrongly is told with its place, all of it at once."""

from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project
from tests.review.editing import edited

HEAD = "R-1:\n  document: Brief\n  text: We ask.\n  answers:\n"
SORTS = (
    "count, figure, check, connection, price, measured, date, term, cable, state, condition, site_closed, "
    "overtime, agreed, statement"
)
NO_SORT = [
    f":5:7: R-1.answers.1: wanted one key of {SORTS}, such as {{count: seats, at_least: 8}}; "
    "found none or several of them"
]
WRONG = {
    "no sort of answer": (
        "{room: B001}",
        NO_SORT,
    ),
    "two sorts of answer": (
        "{count: seats, check: radio, at_least: 1}",
        NO_SORT,
    ),
    "something else than an answer": (
        "as you wish",
        NO_SORT,
    ),
    "a count of nothing we know": (
        "{count: seat, at_least: 2}",
        [
            ":5:15: R-1.answers.1.count: wanted one of rooms, seats, seats with a microphone, seats without "
            "a microphone, microphones, spare microphones, access points, chargers, places to charge "
            "microphones, swaps of microphones a day, years a battery lasts, mixers and 12 more; "
            "found seat (did you mean seats?)"
        ],
    ),
    "no limit": (
        "{count: seats}",
        [":5:7: R-1.answers.1: wanted either at_least or at_most, such as `at_least: 4`; found neither"],
    ),
    "two limits": (
        "{figure: link length, at_least: 1 m, at_most: 2 m}",
        [":5:7: R-1.answers.1: wanted either at_least or at_most, such as `at_least: 4`; found both"],
    ),
    "a limit in the wrong unit": (
        "{figure: radio margin, at_least: 6 m}",
        [":5:7: R-1.answers.1: wanted a level with its unit, such as 10 dB or -3 dB; found 6 m"],
    ),
    "an allowance without a name": (
        "{price: allowance, at_least: 5.00 EUR}",
        [":5:7: R-1.answers.1: wanted the name of an allowance for `price: allowance` alone; found none"],
    ),
    "an amount in another currency": (
        "{price: before tax, at_most: 5.00 USD}",
        [":5:36: R-1.answers.1.at_most: wanted an amount in EUR, as the price is; found 5.00 USD"],
    ),
    "an unknown key": (
        "{check: radio, romo: B001}",
        [":5:22: R-1.answers.1: wanted check; found romo"],
    ),
    "a day that is none": (
        "{date: accepted, by: soon}",
        [":5:28: R-1.answers.1.by: wanted a date, such as 2031-04-15; found soon"],
    ),
    "a statement that nobody makes": (
        "{statement: complies, words: We do, on: 2031-01-01}",
        [":5:7: R-1.answers.1.by: wanted a text; found nothing"],
    ),
}


@pytest.mark.parametrize(("answer", "messages"), WRONG.values(), ids=list(WRONG))
def test_a_wrong_answer_is_told_with_its_place(answer: str, messages: list[str], tmp_path: Path) -> None:
    text = f"{HEAD}    - {answer}\n"
    folder = edited(tmp_path / "project", "minimal", {"requirements.yaml": text})
    with pytest.raises(InputError) as error:
        load_project(folder)
    assert [str(one) for one in error.value.problems] == [f"requirements.yaml{one}" for one in messages]


def test_every_wrong_requirement_is_told_at_once(tmp_path: Path) -> None:
    text = (
        "index: {document: Brief, text: A}\nR-2: {document: Brief}\nR-3: {document: Brief, text: C, by: D}\n"
    )
    folder = edited(tmp_path / "project", "minimal", {"requirements.yaml": text})
    with pytest.raises(InputError) as error:
        load_project(folder)
    assert sorted(str(one) for one in error.value.problems) == [
        "requirements.yaml:1:1: index: wanted a tag of at most 24 letters, digits, dots, hyphens and "
        "underscores; found index",
        "requirements.yaml:2:6: R-2.text: wanted a text; found nothing",
        "requirements.yaml:3:33: R-3: wanted one of document, clause, text, answers; found by",
    ]


def test_an_alternate_does_not_change_what_the_client_asks_for(tmp_path: Path) -> None:
    edits = {
        "requirements.yaml": "R-1: {document: Brief, text: A}\n",
        "alternates/less.yaml": "name: Less\ndescription: Less.\nchanges:\n  requirements: {R-1: null}\n",
    }
    folder = edited(tmp_path / "project", "minimal", edits)
    with pytest.raises(InputError) as error:
        load_project(folder)
    assert [str(one) for one in error.value.problems] == [
        "alternates/less.yaml:4:3: changes: wanted one of project, building, room_types, rooms, fixed; found "
        "requirements"
    ]
