"""The riser in detail: identities for those who may read them, rows as the number of sheets rests on."""

from proposal.design.sheets.splitting import DEVICES_A_ROW
from proposal.drawings import riser_detail
from proposal.drawings.kinds import drawing_of
from proposal.editions import edition_of
from tests.sample_document import sample_document

DOCUMENT = sample_document()


def test_a_client_sees_no_identity_even_of_a_sheet_that_is_not_theirs() -> None:
    spec = drawing_of(edition_of(DOCUMENT, "client"), DOCUMENT.detail_sheets[0]).spec
    assert isinstance(spec, riser_detail.DetailSpec)
    assert [cable for room in spec.rooms for cable in room.cables] == []


def test_as_many_devices_share_a_row_as_the_number_of_sheets_rests_on() -> None:
    assert riser_detail.DEVICES_A_ROW == DEVICES_A_ROW
