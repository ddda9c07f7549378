"""What stands above the Markdown of a page."""

import pytest
import yaml

from proposal.pages.paths import room_sheet_path
from proposal.pages.tables import table
from proposal.publish import search_words
from proposal.publish.page_settings import with_settings
from proposal.publish.search_words import words_of_rooms
from tests.sample_document import sample_document


def settings(page: str, path: str = "devices.md") -> dict[str, object]:
    _, head, body = with_settings(path, page).split("---\n", 2)
    assert body == f"\n{page}"
    found = yaml.safe_load(head)
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(("columns", "wide"), [(8, False), (9, True)])
def test_a_wide_schedule_takes_the_place_of_the_table_of_contents(columns: int, wide: bool) -> None:
    rows = table("Devices", [f"Head {n}" for n in range(columns)], [["x"] * columns])
    assert settings(f"# Devices\n\n{rows}\n").get("hide") == (["toc"] if wide else None)


def test_a_page_is_found_by_words_that_people_type() -> None:
    found = settings("# Price\n", "price.md")
    assert found["search"] == {"boost": 6}
    assert "cost" in str(found["tags"])


def test_tags_and_names_of_many_rooms_are_one_text(monkeypatch: pytest.MonkeyPatch) -> None:
    document = sample_document()
    page = room_sheet_path(next(sheet.key for sheet in document.room_sheets if len(sheet.rooms) == 3))
    few = words_of_rooms(document)[page]
    assert few[::2] == ("B101", "B102", "B103")
    monkeypatch.setattr(search_words, "MOST_WORDS", 5)
    assert words_of_rooms(document)[page] == (" ".join(few),)
