"""Ten assumptions come first: what others build and pay, days, the building, then the use."""

from proposal.document.making.foremost_assumptions import foremost
from proposal.model.project import Assumption


def assumption(*path: str, title: str = "") -> Assumption:
    return Assumption(path=path, title=title or ".".join(path), value=None, source="common practice")


def test_what_a_client_can_judge_comes_first_and_technical_values_not_at_all() -> None:
    slack = assumption("brief", "rules", "cabling", "ceiling_slack")
    floors = assumption("brief", "rules", "pathways", "rated_floors")
    paid = assumption("brief", "rules", "takeoff", "price_pathways")
    assert foremost([slack, floors, paid]) == {paid.path: 1, floors.path: 2}


def test_what_is_assumed_of_several_rooms_counts_once() -> None:
    rooms = [assumption("room_types", key, "switch", title="A press is enough") for key in ("a", "b")]
    assert foremost(rooms) == {("room_types", "a", "switch"): 1}


def test_there_are_ten_at_most() -> None:
    many = [assumption("room_types", f"r{n}", "switch") for n in range(30)]
    assert sorted(foremost(many).values()) == list(range(1, 11))
