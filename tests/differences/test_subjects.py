"""What rows are called where changes are told."""

import pytest

from proposal.differences.subjects import name_of

TITLES = {"chamber": "Chamber"}


@pytest.mark.parametrize(
    ("key", "name"),
    [
        (("AP1-gooseneck", "AP1", "radio", "False", ""), "AP1-gooseneck to AP1, radio"),
        (("NET", "BO1", "networked audio", "True", ""), "NET to BO1, networked audio, return audio"),
        (("AP1", "NET", "network", "False", "AP1/N1"), "AP1 to NET, network, AP1/N1"),
    ],
)
def test_a_signal_is_called_by_its_ends_and_what_it_carries(key: tuple[str, ...], name: str) -> None:
    path = ("room_sheets", ("chamber",), "flow_edges", key)
    assert name_of(path, TITLES) == f"kind of room Chamber, signal {name}"
