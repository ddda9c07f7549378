"""Builds are made to be compared in git: a small change of the inputs changes few lines of the pages.

Measured after an issue, as a review is: the earlier plans of radio, ports and reels are then kept.
"""

import difflib
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

import pytest
import yaml

from proposal.document.making.document import document_of
from proposal.document.readers import READERS, Reader
from proposal.drawings.kinds import drawing_of
from proposal.editions import edition_of
from proposal.estimate.revision_register import register
from proposal.model.project import Numbered
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.site_pages import Drawing, pages_of
from proposal.pipeline import Computed, compute
from proposal.publish.edition_site import templates
from tests.editing import Folder

MOST_LINES = 10

SHOWN: tuple[Reader, ...] = ("client", "estimator", "installer")
"""Whose pages are compared: the reviewer's hold nothing that the estimator's do not."""

Pages = Mapping[str, Mapping[str, str]]


def example() -> Folder:
    """Return the example with two of its six meeting rooms, which are alike."""
    folder = Folder.example()
    folder.rooms = [room for room in folder.rooms if room["tag"] not in ("A203", "A204", "A205", "A206")]
    return folder


@lru_cache(maxsize=1)
def first() -> Computed:
    return compute(example().project({}))


@lru_cache(maxsize=1)
def issued() -> Mapping[str, Numbered]:
    """Return the register that the example's issue leaves behind."""
    made = first()
    return register(made)


def pages(folder: Folder) -> Pages:
    """Return the Markdown of every edition, by reader and path."""
    document = document_of(compute(folder.project(issued())))
    found: dict[str, Mapping[str, str]] = {}
    for reader in SHOWN:
        edition = edition_of(document, reader)
        drawings = {
            sheet.number: Drawing(
                number=sheet.number,
                file=f"{sheet.number}.svg",
                title=sheet.title,
                alternative="",
                description=drawing_of(edition, sheet).alternative,
                size=None,
            )
            for sheet in sheets_of(edition.document)
        }
        found[reader] = pages_of(edition, drawings, templates()).pages
    return found


@lru_cache(maxsize=1)
def before() -> Pages:
    return pages(example())


def changed_lines(old: Mapping[str, str], new: Mapping[str, str]) -> Mapping[str, int]:
    """Return how many lines of each page changed: a line that became another counts once."""
    found: dict[str, int] = {}
    for path in sorted({*old, *new}):
        if old.get(path) == new.get(path):
            continue
        matcher = difflib.SequenceMatcher(
            None, old.get(path, "").splitlines(), new.get(path, "").splitlines(), autojunk=False
        )
        count = sum(
            max(here - start, there - begin)
            for tag, start, here, begin, there in matcher.get_opcodes()
            if tag != "equal"
        )
        if count:
            found[path] = count
    return found


@pytest.mark.parametrize(
    ("kind", "microphone", "at"),
    [
        ("meeting_room", "M1", ["2.5 m", "3.4 m"]),
        ("chamber", "M5", ["9.6 m", "11.5 m"]),
        ("training_room", "M2", ["2.1 m", "4.8 m"]),
        # Where a move changes who hears whom, others get other carriers too: M4, 0.1 m east.
        ("committee_room", "M3", ["5.0 m", "2.2 m"]),
    ],
)
def test_moving_a_microphone_changes_ten_lines_a_room_at_most(
    kind: str, microphone: str, at: list[str]
) -> None:
    folder = example()
    folder.files[f"room_types/{kind}.yaml"]["microphones"][microphone]["at"] = at
    after = pages(folder)
    rooms = [room["tag"] for room in folder.rooms if room["room type"] == kind]
    others = {room["tag"] for room in folder.rooms} - set(rooms)
    for reader in SHOWN:
        lines = changed_lines(before()[reader], after[reader])
        assert 0 < sum(lines.values()) <= MOST_LINES * len(rooms), (reader, lines)
        # The page of the kind of room changes; those of no other kind and no other room do.
        own = {path for path in lines if path.startswith(("rooms/", "calculations/", "channels/"))}
        assert f"rooms/{kind}.md" in own
        allowed = {f"rooms/{kind}.md", f"calculations/kind-{kind}.md", "calculations/building.md"}
        allowed |= {
            f"{place}{tag}.md" for tag in rooms for place in ("calculations/room-", "channels/", "rooms/")
        }
        assert own <= allowed, (reader, own - allowed)
        assert not {path for path in lines for tag in others if tag in path}


def test_a_room_more_renumbers_no_other_rooms_pages() -> None:
    folder = example()
    like = next(room for room in folder.rooms if room["tag"] == "A202")
    folder.rooms.insert(
        0,
        {
            **like,
            "tag": "A209",
            "name": "Meeting Room 9",
            "x (m)": "44.6",
            "y (m)": "20.6",
            "rotation (°)": "180",
        },
    )
    after = pages(folder)
    number = re.compile(r"\bid=\"([A-Za-z0-9._-]+-[WTHPCFAQ]\d+)\"")
    for reader in SHOWN:
        for path, words in before()[reader].items():
            kept = [one for one in number.findall(words) if one.startswith(("A1", "A20"))]
            # One room more may make a schedule so long that its storeys have pages of their own.
            stem = path.removesuffix(".md")
            starts = (path, f"{stem}/", f"{stem}-elsewhere")
            parts = [page for part, page in after[reader].items() if part.startswith(starts)]
            assert set(kept) <= set(number.findall("".join(parts))), (reader, path)


def test_every_row_of_a_table_is_a_line() -> None:
    rows = 0
    for words in before()["estimator"].values():
        for line in words.splitlines():
            assert line.count("<tr") <= 1
            if line.startswith("<tr") and not line.startswith('<tr><th scope="col"'):
                rows += 1
                assert line.endswith("</tr>"), line[:80]
    assert rows > 500


ROOT = Path(__file__).parent.parent
PROGRAMS = Path(sys.executable).parent
WHO = ("-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """A repository with a project folder `job`, and a change to it that is not committed."""
    shutil.copytree(ROOT / "tests" / "projects" / "minimal", tmp_path / "job")
    for command in (("init", "-q", "-b", "trunk"), ("add", "-A"), ("commit", "-qm", "one")):
        subprocess.run(["git", *WHO, *command], cwd=tmp_path, check=True, capture_output=True)
    with (tmp_path / "job" / "rooms.csv").open("a", encoding="utf-8") as schedule:
        schedule.write("B002,Second Room,meeting,L0,12 m,1 m\n")
    return tmp_path


def shell(folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PATH": f"{PROGRAMS}{os.pathsep}{os.environ['PATH']}"}
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)


def test_the_recipe_leaves_sites_findings_and_changes(repository: Path) -> None:
    recipe = ROOT / "docs" / "examples" / "check-proposed-change.sh"
    done = shell(repository, "sh", str(recipe), "job", "trunk", "review")
    assert done.returncode == 0, done.stderr
    review = repository / "review"
    assert "0 errors" in (review / "findings.txt").read_text("utf-8")
    assert "**new** room B002" in (review / "changes.md").read_text("utf-8")
    assert json.loads((review / "changes.json").read_text("utf-8"))["reader"] == "reviewer"
    for reader in READERS:
        assert (review / reader / "index.html").is_file()


def test_the_recipe_ends_where_the_project_is_wrong(repository: Path) -> None:
    (repository / "job" / "rooms.csv").write_text("nonsense\n", "utf-8")
    recipe = ROOT / "docs" / "examples" / "check-proposed-change.sh"
    done = shell(repository, "sh", str(recipe), "job", "trunk", "review")
    assert done.returncode == 2
    assert not (repository / "review" / "changes.md").exists()


def test_the_hook_lets_a_good_project_pass_and_stops_a_wrong_one(repository: Path) -> None:
    (hook,) = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
    assert hook["id"] == "proposal-check"
    assert not hook["pass_filenames"]
    for file in ("job/rooms.csv", "job/room_types/meeting.yaml", "job/wording/scope.md"):
        assert re.search(hook["files"], file)
    assert shell(repository, *hook["entry"].split(), "job").returncode == 0
    (repository / "job" / "rooms.csv").write_text("nonsense\n", "utf-8")
    assert shell(repository, *hook["entry"].split(), "job").returncode == 2
