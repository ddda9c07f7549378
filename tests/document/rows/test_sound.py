"""Where a microphone lies on the air in states other than the usual one, as its pairing sheet says it."""

from types import SimpleNamespace
from typing import Any

from proposal.document.rows.portable_sets import PortableLinkRow
from proposal.document.rows.radio import RadioMoveRow
from proposal.document.rows.sound import ChannelRow


def test_a_pairing_sheet_says_where_a_microphone_is_in_other_states() -> None:
    move = RadioMoveRow(states=("joined", "budget"), identity="A101-M1", carrier=2, slots=(0, 1))
    elsewhere = PortableLinkRow(microphone="P1-M1", states=("garden",), carrier=7, slots=(4,))
    carried = move.model_copy(update={"states": ("festival",), "identity": "P1-M1"})
    nowhere = PortableLinkRow(microphone="P1-M2", states=("garden",), carrier=None)
    document: Any = SimpleNamespace(radio_moves=(move, carried), portable_links=(elsewhere, nowhere))
    told = {
        tag: ChannelRow(microphone=tag).in_other_states(document) for tag in ("A101-M1", "P1-M1", "P1-M2")
    }
    assert told == {
        "A101-M1": "joined, budget: carrier 2, slot pairs 0, 1",
        "P1-M1": "festival: carrier 2, slot pairs 0, 1; garden: carrier 7, slot pairs 4",
        "P1-M2": "",
    }
    assert ChannelRow(microphone="A101-M2").in_other_states(document) == ""
