"""A record of every earlier layout compares, verifies and repairs as one of today's does."""

import io
import json
import shutil
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.kept_document import restored
from proposal.document.readers import READERS
from proposal.document.rooms_and_equipment import SCHEMA_VERSION
from proposal.model.issued import LAYOUT
from proposal.publish.record import read_record, records_of
from proposal.publish.record_contents import content, contents
from proposal.publish.record_layouts import STEPS, Held, in_layout
from tests.calls import Call, caller
from tests.long_form import LONG
from tests.publish import interrupted, old_records
from tests.publish.interrupted import altered

GOOD, ALTERED = 0, 1
SVG = "{http://www.w3.org/2000/svg}"
LAYOUTS = range(1, LAYOUT)
NAMES = {("B001-BO1", number): f"N{number}" for number in range(1, 5)}

pytestmark = pytest.mark.usefixtures("quick_builds")


def issued_in(layout: int, folder: Path) -> Path:
    """Return a project whose revision A was issued in an earlier layout."""
    old_records.record_of_layout(layout, folder)
    return folder


@pytest.fixture(params=LAYOUTS)
def project(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    return issued_in(request.param, tmp_path / "project")


@pytest.fixture
def call(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Call:
    return caller(monkeypatch, capsys)


def test_there_is_a_step_from_every_layout_and_a_record_of_it() -> None:
    assert list(STEPS) == list(LAYOUTS)
    kept = sorted(path.name for path in old_records.FOLDER.glob("*.zip"))
    assert kept == [f"layout_{layout}.zip" for layout in LAYOUTS]
    # Whoever raises one has to raise the other: a document of before is read by a step.
    assert (LAYOUT, SCHEMA_VERSION) == (4, 4)


def test_it_compares(call: Call, project: Path) -> None:
    rooms = project / "rooms.csv"
    rooms.write_text(rooms.read_text("utf-8").replace("Meeting Room", "Board Room"), "utf-8")
    ended = call("compare", project, "A", ".")
    assert (ended.status, ended.err) == (GOOD, "")
    assert "room B001: name Meeting Room → Board Room (from 1)" in ended.out


def test_it_is_built_upon_checked_and_issued_after(
    call: Call, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    interrupted.make_quick(monkeypatch)
    assert call("check", project).status == GOOD
    assert call("issue", project, "--revision", "B").status == GOOD
    first, second = records_of(project)
    assert first.layout < second.layout == LAYOUT
    assert list(second.manifest.parents) == ["A"]
    kept = second.contents()["received.json"].decode()
    assert '"label": "revision A"' in kept
    assert '"label": "revision B"' in kept
    assert [one for one in altered(project) if "issued" in one] == []


def test_it_verifies(call: Call, project: Path) -> None:
    assert call("verify", project).out.splitlines()[:2] == [
        "published/ is not here; --repair makes it from the records",
        "1 issued revision, 0 files not as issued",
    ]
    record = project / "issued" / "A"
    files = sorted(path for path in record.rglob("*.*") if path.suffix in (".zip", ".csv", ".json"))
    changed = next(path for path in files if path.name in ("document.json", "record.zip"))
    lost = next(path for path in files if path.name in ("rooms.csv", "register.json"))
    changed.write_bytes(b"{}")
    lost.unlink()
    ended = call("verify", project)
    assert ended.status == ALTERED
    assert ended.out.splitlines()[:2] == [
        f"changed: {changed.relative_to(project).as_posix()}",
        f"lost: {lost.relative_to(project).as_posix()}",
    ]


@pytest.mark.parametrize("layout", LAYOUTS if LONG else LAYOUTS[:1])
def test_it_repairs_from_its_figures_and_says_that_other_versions_did(
    call: Call, layout: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The oldest goes all the steps that the others go."""
    project = issued_in(layout, tmp_path / "project")
    monkeypatch.setattr("proposal.pipeline.compute", lambda *_: pytest.fail("computed anew"))
    before = {path: path.read_bytes() for path in (project / "issued").rglob("*") if path.is_file()}
    ended = call("verify", project, "--repair")
    assert (ended.status, ended.err) == (GOOD, "")
    assert ended.out.splitlines()[0] == "revision A: published again from its record"
    assert {path: path.read_bytes() for path in (project / "issued").rglob("*") if path.is_file()} == before
    price = restored(read_record(project / "issued" / "A").contents()["document.json"]).price
    assert price is not None
    for reader in READERS:
        site = project / "published" / reader / "A"
        for page in site.rglob("*.html"):
            if page.name != "404.html":
                assert "<strong>Made again</strong>" in page.read_text("utf-8"), page
        told = json.loads((site / "downloads" / f"document-{reader}-A.json").read_text("utf-8"))
        if reader in ("client", "estimator"):
            assert told["price"]["total"] == f"{price.total:f}"
        sheets = sorted((site / "drawings").glob("*.svg"))
        assert sheets, reader
        for sheet in sheets:
            root = ElementTree.fromstring(sheet.read_text("utf-8"))
            if sheet.stem.endswith(("-page", "-narrow")):  # a chart as pages show it, which has no strip
                assert (root.findtext(f"{SVG}desc") or "").startswith("Rebuilt with other versions. "), sheet
                continue
            strip = " ".join("".join(one.itertext()) for one in root.iter(f"{SVG}text"))
            assert "Rebuilt with other versions · for comment" in " ".join(strip.split()), sheet
            assert (root.findtext(f"{SVG}desc") or "").startswith("Rebuilt with other versions. "), sheet
    assert altered(project) == []


def test_a_step_is_a_function_of_the_record_alone(project: Path) -> None:
    record = project / "issued" / "A"
    manifest = json.loads((record / "manifest.json").read_bytes())
    layout = manifest.get("layout", 1)
    files = {
        path.relative_to(record).as_posix(): path.read_bytes()
        for path in record.rglob("*")
        if path.is_file() and path.name != "manifest.json"
    }
    if "record.zip" in files:
        with zipfile.ZipFile(io.BytesIO(files.pop("record.zip"))) as packed:
            files |= {name: packed.read(name) for name in packed.namelist()}
    made = in_layout(Held(manifest, files))
    assert made == in_layout(Held(manifest, files))
    assert made.files == contents(record, layout)
    assert content(record, layout, "document.json") == made.files["document.json"]
    shutil.rmtree(record)
    assert made.manifest["layout"] == LAYOUT
    before, after = json.loads(files["document.json"]), json.loads(made.files["document.json"])
    kinds = [sheet["kind"] for sheet in before["sheets"]]
    assert ("plan" in kinds) == (layout < 3)
    assert [sheet["kind"] for sheet in after["sheets"]] == [
        "floor plan" if kind == "plan" else kind for kind in kinds
    ]
    assert [(row["switch"], row["port"]) for row in after["ports"]] == [
        (row["switch"], NAMES.get((row["switch"], row["port"]), str(row["port"]))) for row in before["ports"]
    ]
    ways = [row.get("switch_port", "") for row in after["devices"]]
    assert ways[:3] == ["B001-BO1/N2", "ER1-SW1/1", "B001-BO1/N3"]
    # Nothing else is another one.
    others = dict.fromkeys(("sheets", "ports", "devices", "switches", "workings", "schema_version"))
    assert {**after, **others} == {**before, **others}
    assert "received.json" in made.files
    assert not [path for path in made.files if path.startswith(("markdown/", "drawings/"))]
