"""What is kept free of a capacity."""

import pytest

from proposal.standards import reserve


@pytest.mark.pinned
def test_a_fifth_of_a_budget_is_left_free() -> None:
    # Used is at most (1 − h) times the capacity: 296 W of 370 W, and 370 W for 296 W.
    assert reserve.usable_power_w(370, 0.2) == pytest.approx(296)
    assert reserve.budget_needed_w(296, 0.2) == pytest.approx(370)


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("devices", "spare", "ports"),
    [(8, 0.2, 10), (9, 0.1, 10), (9, 0.2, 12), (7, 0.3, 10), (5, 0, 5), (0, 0.2, 0)],
)
def test_ports_are_whole_and_a_share_of_them_stays_free(devices: int, spare: float, ports: int) -> None:
    # 9/0.8 is 11.25; 7/0.7 is ten although the binary fraction is a little more.
    assert reserve.ports_wanted(devices, spare) == ports
