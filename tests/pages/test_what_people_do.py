"""What people do and hear in a room, in words without codes or models."""

import re

import pytest

from proposal.design.equipment.microphone_switches import LIVE_AT_FIRST
from proposal.document.readers import Reader
from proposal.pages.what_people_do import LIFTED, what_people_do
from tests.pages.site import browsed, sample_pages
from tests.sample_document import sample_document

pytestmark = pytest.mark.pinned


def test_a_client_reads_no_code_and_no_model_among_what_people_do() -> None:
    document = sample_document()
    models = {row.model for sheet in document.room_sheets for row in sheet.sizes}
    for sheet in document.room_sheets:
        words = " ".join(sentence for part in what_people_do(sheet) for sentence in part.sentences)
        assert "can be in use at once" in words
        assert not re.search(r"\b[A-Z]{1,2}\d", words)
        assert not any(model in words for model in models)


def test_what_is_on_when_it_is_taken_from_its_charger_is_so_in_the_table_of_muting_too() -> None:
    assert {switch for switch, on in LIFTED.items() if on} == set(LIVE_AT_FIRST)
    sheet = sample_document().room_sheets[0]
    for switch, said in (("toggle", "is on as soon as"), ("press to speak", "is silent when")):
        found = tuple(one.model_copy(update={"switch": switch}) for one in sheet.microphones)
        (speaking, *_) = what_people_do(sheet.model_copy(update={"microphones": found}))
        assert said in " ".join(speaking.sentences)


def test_the_technique_stands_below_for_a_client_and_first_for_others() -> None:
    readers: tuple[tuple[Reader, str], ...] = (("client", "Speaking."), ("installer", "Sources."))
    for reader, first in readers:
        pages = sample_pages(reader)
        path = next(path for path in pages.pages if path.startswith("rooms/"))
        text = browsed(pages.pages[path]).text
        assert first in text.split("What people do and hear", 1)[1].split("What is in it", 1)[0]
        assert "Sources." in text


def test_a_loudspeaker_that_others_furnish_in_the_room_is_heard_there_and_not_elsewhere() -> None:
    sheet = sample_document().room_sheets[0]
    (one, *others) = sheet.destinations
    here = one.model_copy(update={"name": "loudspeaker of the cart", "heard_in_room": True})
    parts = what_people_do(sheet.model_copy(update={"destinations": (here, *others)}))
    told = {part.heading: " ".join(part.sentences) for part in parts}
    assert "heard in the room over the loudspeaker of the cart" in told["Hearing"]
    assert "loudspeaker of the cart" not in told.get("Elsewhere", "")
