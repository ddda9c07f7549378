"""Pictures reach the site where it shows them, without what a drawing program noted, and no other does."""

import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish.cache import Cache
from proposal.publish.edition_site import edition_source, pictures_shown
from proposal.publish.program_folders import own_folders
from tests.model.pictures.drawings import GOOD

ROOT = Path(__file__).resolve().parents[2]
MINIMAL = ROOT / "tests" / "projects" / "minimal"
PHOTO = ROOT / "docs" / "screens" / "room.png"
NOTES = GOOD["notes of a drawing program"]
WORDING = {
    "introduction.md": "![The hall](images/hall%20one.png)\n",
    "price.md": "![What it is made of](images/pieces.svg)\n",
}


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Mapping[str, bytes]]:
    """Return the pictures in the sites of the client and of the reviewer, by path."""
    folder = tmp_path_factory.mktemp("pictures") / "project"
    shutil.copytree(MINIMAL, folder)
    for name in ("images", "wording"):
        (folder / name).mkdir(exist_ok=True)
    with (folder / "project.yaml").open("a") as brief:
        brief.write("branding: {logo: mark.svg}\n")
    for name in ("mark.svg", "pieces.svg", "unused.svg"):
        (folder / "images" / name).write_text(NOTES)
    shutil.copy(PHOTO, folder / "images" / "hall one.png")
    for name, text in WORDING.items():
        (folder / "wording" / name).write_text(text)
    project = load_project(folder)
    document = document_of(compute(project))
    cache = Cache(own_folders(folder).build / "cache")
    return {
        reader: {
            path: content
            for path, content in edition_source(
                edition_of(document, reader), project.images, cache
            ).files.items()
            if path.startswith("images/")
        }
        for reader in ("client", "reviewer")
    }


def test_the_logo_and_what_prose_shows_are_published(published: Mapping[str, Mapping[str, bytes]]) -> None:
    assert sorted(published["client"]) == ["images/hall one.png", "images/mark.svg", "images/pieces.svg"]
    assert published["client"]["images/hall one.png"] == PHOTO.read_bytes()


def test_a_picture_of_prose_that_a_reader_may_not_see_is_kept_back(
    published: Mapping[str, Mapping[str, bytes]],
) -> None:
    assert sorted(published["reviewer"]) == ["images/hall one.png", "images/mark.svg"]


def test_notes_of_a_drawing_program_are_not_published(published: Mapping[str, Mapping[str, bytes]]) -> None:
    assert "secret" in NOTES
    for files in published.values():
        for path, content in files.items():
            assert b"secret" not in content, path


def test_pictures_are_found_from_pages_in_folders() -> None:
    pages = {
        "rooms/a.md": '<img alt="a &gt; b" src="../images/a%26b.png"> <img src="images/in_rooms.png" alt="">',
        "index.md": 'images/text.png <a href="images/link.png"></a><img alt="" src="images/c&amp;d.png">',
    }
    assert pictures_shown(pages) == ["a&b.png", "c&d.png"]
