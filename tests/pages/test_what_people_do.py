"""What people do and hear in a room, in words without codes or models."""

import re

import pytest

from proposal.document.readers import Reader
from proposal.pages.what_people_do import what_people_do
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


def test_the_technique_stands_below_for_a_client_and_first_for_others() -> None:
    readers: tuple[tuple[Reader, str], ...] = (("client", "Speaking."), ("installer", "Sources."))
    for reader, first in readers:
        pages = sample_pages(reader)
        path = next(path for path in pages.pages if path.startswith("rooms/"))
        text = browsed(pages.pages[path]).text
        assert first in text.split("What people do and hear", 1)[1].split("What is in it", 1)[0]
        assert "Sources." in text
