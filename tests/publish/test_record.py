"""Records of earlier programs, read as today's are."""

import pytest

from proposal.publish.record import document_in, read_record
from tests.test_projects import EXAMPLE

pytestmark = pytest.mark.independent


def test_questions_of_an_earlier_program_are_known_by_where_their_unknown_stands() -> None:
    # The record of revision A has titles, and file, line and column; its inputs say what stands there.
    record = read_record(EXAMPLE / "issued" / "A")
    document = document_in(record.contents(), record.name)
    assert {row.key: row.place for row in document.questions} == {
        "project.rules.cabling.device_cord": "project.yaml:52:18",
        "building.storeys.L2.pathway_height": "building.yaml:8:80",
        "room_types.meeting_room.charging_at": "room_types/meeting_room.yaml:40:14",
    }


def test_assumptions_of_an_earlier_program_are_known_by_their_paths() -> None:
    record = read_record(EXAMPLE / "issued" / "A")
    rows = document_in(record.contents(), record.name).assumptions
    assert rows
    assert all(row.key == row.path for row in rows)
