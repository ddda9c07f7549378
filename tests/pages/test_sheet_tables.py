"""Each kind of drawing leads to the schedules that hold as tables what it shows."""

from proposal.estimate.drawing_list import KINDS
from proposal.pages.sheet_tables import TABLES


def test_every_kind_of_drawing_has_its_tables() -> None:
    assert set(TABLES) == {kind.name for kind in KINDS}
    assert all(TABLES.values())
