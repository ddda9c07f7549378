"""The page of states: there where a building has some, and what a client may read of it."""

from functools import cache
from pathlib import Path

import pytest

from proposal.document.readers import Reader
from tests.pages.site import pages_for
from tests.whole_projects import whole_document

PROJECTS = Path(__file__).resolve().parents[1] / "projects"


@cache
def pages(project: str, reader: Reader) -> dict[str, str]:
    document = whole_document(PROJECTS / project)
    return dict(pages_for(document, reader).pages)


@pytest.mark.parametrize("reader", ["client", "reviewer", "estimator", "installer"])
def test_every_reader_is_told_what_holds_in_which_state(reader: Reader) -> None:
    page = pages("states", reader)["states.md"]
    assert "In the state divided every room is by itself and there is room on the air" in page
    assert (
        "In the state joined West room &#40;B001&#41; and East room &#40;B002&#41; are joined "
        "&#40;8 seats together&#41;&#44; "
        "the day is one of “budget” and there is room"
    ) in page
    # Two links of two slot pairs in each room by itself, four in both together.
    assert ">2 × 2</td>" in page
    assert ">4 × 2</td>" in page


def test_levels_by_state_are_not_for_the_client() -> None:
    assert "Margin of the weakest microphone" in pages("states", "reviewer")["states.md"]
    assert "Margin of the weakest microphone" not in pages("states", "client")["states.md"]


def test_the_page_of_radio_prints_one_plan_and_the_states_beside_it() -> None:
    page = pages("states", "reviewer")["radio.md"]
    assert "## Outcome by state" in page
    assert page.count("One plan of carriers and slots</caption>") == 1
    assert "Links that lie elsewhere" not in page


def test_a_building_without_states_has_no_such_page() -> None:
    without = pages("minimal", "reviewer")
    assert "states.md" not in without
    assert "## Outcome by state" not in without["radio.md"]


def test_each_kind_of_day_has_its_table_and_its_drawing() -> None:
    page = pages("states", "client")["rooms/meeting.md"]
    assert "On the day budget&#44; with sessions 08&#58;30 to 13&#58;00 and 14&#58;00 to 23&#58;30" in page
    assert "no swaps on the usual day" in page
    assert "Charge of the batteries over the meeting day</caption>" in page
    assert "Charge of the batteries over the day budget</caption>" in page
    assert page.count("(1 of 2)") >= 1
    assert page.count("(2 of 2)") >= 1
