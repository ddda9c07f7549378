"""Every value that may be unknown is asked for in words that a client understands."""

from typing import get_args

import pytest

from proposal.document.making.asked_questions import asked
from proposal.errors import Place
from proposal.model.loading import standing_wording
from proposal.model.project import Question
from proposal.model.wording.wording import Answerer
from proposal.quantities.messages import printable

TABLE = standing_wording().questions


def question(path: str, title: str = "Where the chargers stand") -> Question:
    return Question(path=tuple(path.split(".")), title=title, value=None, place=Place("a.yaml", 1))


@pytest.mark.parametrize(
    ("path", "begins", "who"),
    [
        ("room_types.hall.charging_at", "Where in the room may the chargers stand?", "you"),
        ("rooms.A101.layout.charging_at", "Where in the room may the chargers stand?", "you"),
        ("building.storeys.L2.pathway_height", "How high above this floor", "the architect"),
        ("project.rules.cabling.device_cord", "How far may chargers and other devices", "you"),
        ("brief.rules.cabling.data_cable", "Which category of data cable", "your network team"),
        ("project.rules.radio.fade_margin", "We have to find out ourselves: where the chargers stand.", "us"),
        ("building.owner_equipment.A101.OE1.at", "Where does this equipment of yours stand?", "you"),
        ("project.mains.breaker", "What protects and feeds the outlets", "the electrical contractor"),
        ("elsewhere", "What is known of it: where the chargers stand?", "you"),
    ],
)
def test_the_first_path_of_the_table_that_fits_words_a_question(path: str, begins: str, who: str) -> None:
    words, answerer = asked(question(path), TABLE)
    assert words.startswith(begins)
    assert answerer == who


def test_no_question_is_a_field_name() -> None:
    for key, one in TABLE.questions.items():
        assert one.ask.endswith(("?", ".")), key
        assert "_" not in one.ask
        assert printable(one.ask) == one.ask
    assert {one.who for one in TABLE.questions.values()} == set(get_args(Answerer))


def test_no_path_of_the_table_is_hidden_by_one_above_it() -> None:
    for pattern in TABLE.questions:
        path = pattern.replace("**", "rest").replace("*", "one")
        words, _ = asked(question(path, "X"), TABLE)
        assert words == TABLE.questions[pattern].ask.replace("{what}", "X"), pattern
