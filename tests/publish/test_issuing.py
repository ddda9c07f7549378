"""An issued revision is frozen, published beside the others, and makes the same bytes again."""

import hashlib
import json
import shutil
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from proposal.document.kept_document import restored, stored
from proposal.document.making.disclosure import all_disclosure_parts
from proposal.document.making.document import document_of
from proposal.document.readers import READERS
from proposal.errors import BuildError, DesignError, InputError
from proposal.model.issued import REGISTER, REGISTER_BEFORE
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish import published_editions
from proposal.publish.issuing import IssueRequest, issue
from proposal.publish.manifest import digest_of, manifest_text, read_manifest
from proposal.publish.prices_in_records import received_until
from proposal.publish.proposal_site import EDITION_TITLES
from proposal.publish.published_folder import PublishedRevision, surroundings
from proposal.publish.record import document_in, files_in, record_before, records_of
from proposal.publish.repairing import repair
from proposal.publish.verifying import verified
from tests.catalogue import shipped
from tests.publish.interrupted import MINIMAL, altered, contents
from tests.publish.links import asked_outside, broken_links

FAILING = MINIMAL.parent / "failing"

pytestmark = pytest.mark.usefixtures("quick_builds")


def issued(project: Path, revision: str, purpose: str = "", with_errors: str = "") -> None:
    named = {"identity": revision} | ({"purpose": purpose} if purpose else {})
    issue(project, IssueRequest(named=named, with_errors=with_errors), lambda _: None, lambda *_: None)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project issued twice with everything that belongs to it, a room moved in between."""
    project = Path(shutil.copytree(MINIMAL, tmp_path_factory.mktemp("whole") / "project"))
    issued(project, "A")
    rooms = project / "rooms.csv"
    rooms.write_text(rooms.read_text("utf-8").replace("Meeting Room", "Board Room"), "utf-8")
    issued(project, "B", "for approval")
    return project


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return Path(shutil.copytree(MINIMAL, tmp_path / "project"))


def test_a_record_holds_what_the_revision_was_made_from_and_says(whole: Path) -> None:
    first, second = records_of(whole)
    assert [one.manifest.revision for one in (first, second)] == ["A", "B"]
    assert first.manifest.parents == {}
    assert second.manifest.parents == {"A": digest_of((first.folder / "manifest.json").read_bytes())}
    assert sorted(path.name for path in first.folder.iterdir()) == [
        "manifest.json",
        "record.zip",
        "register.json",
    ]
    held = second.contents()
    assert second.manifest.purpose == "for approval"
    assert second.manifest.named == {"identity": "B", "purpose": "for approval"}
    for name in ("project.yaml", "building.yaml", "rooms.csv", "room_types/meeting.yaml"):
        assert held[f"inputs/{name}"] == (whole / name).read_bytes()
    assert b"Meeting Room" in first.contents()["inputs/rooms.csv"]
    library = files_in(held, "library/shared")
    assert {path.partition("/")[0] for path in library} == {
        "equipment",
        "labour",
        "materials",
        "price",
        "radio",
        "wording",
    }
    assert first.contents()[REGISTER_BEFORE] == b"{}\n"
    assert held[REGISTER_BEFORE] == (first.folder / REGISTER).read_bytes()
    assert "device/B001-AP1" in json.loads((first.folder / REGISTER).read_text("utf-8"))


def test_the_document_of_a_record_is_the_one_computed(whole: Path) -> None:
    record = records_of(whole)[1]
    kept = document_in(record.contents(), record.name)
    assert kept.cover.revision.identity == "B"
    assert kept.rooms[0].name == "Board Room"
    before = load_project(whole, named={"identity": "B", "purpose": "for approval"})
    computed = compute(before)
    # Revision B was issued to a client who had received the prices of revision A.
    told = all_disclosure_parts(computed, received_until([records_of(whole)[0].folder]))
    document = document_of(computed).model_copy(update={**told, "cover": kept.cover})
    assert stored(kept) == record.contents()["document.json"]
    assert stored(document) == stored(kept)


def test_a_record_keeps_the_hours_of_the_library_and_one_that_did_not_is_read(
    whole: Path, tmp_path: Path
) -> None:
    """The minimal project takes its hours from the shared library, so that they are those of its work."""
    kept = received_until([records_of(whole)[1].folder])
    assert [one.label for one in kept] == ["revision A", "revision B"]
    for one in kept:
        hours = {part.name: part.hours for part in one.parts if part.sort == "work" and part.hours}
        assert one.library_hours == hours != {}
    old = Path(shutil.copytree(records_of(whole)[1].folder, tmp_path / "B"))
    members = records_of(whole)[1].contents()
    prices = json.loads(members["received.json"])
    for each in prices:
        del each["library_hours"]
    with zipfile.ZipFile(old / "record.zip", "w") as archive:
        for name, data in (members | {"received.json": json.dumps(prices).encode()}).items():
            archive.writestr(name, data)
    assert received_until([old]) == tuple(one.model_copy(update={"library_hours": None}) for one in kept)


def test_a_document_that_is_kept_is_a_document_again() -> None:
    document = document_of(compute(load_project(MINIMAL)))
    assert stored(restored(stored(document))) == stored(document)
    with pytest.raises(ValueError, match="schema_version"):
        restored(b'{"schema_version": 99}')
    with pytest.raises(ValueError, match="found a fault at "):
        restored(b'{"schema_version": 4, "cover": 3}')


def test_a_record_is_small(whole: Path) -> None:
    assert sum(path.stat().st_size for path in records_of(whole)[0].folder.iterdir()) < 200_000


def test_the_same_input_gives_the_same_record(project: Path, tmp_path: Path, quick: None) -> None:
    other = Path(shutil.copytree(project, tmp_path / "another place"))
    for one in (project, other):
        issued(one, "A")
    assert contents(project, "issued") == contents(other, "issued")


def test_the_digest_of_a_record_is_that_of_a_list_of_its_files(whole: Path) -> None:
    """As anybody can make it: unpack, `sha256sum` in order of the names, and that list's own digest."""
    record = records_of(whole)[1]
    with zipfile.ZipFile(record.folder / "record.zip") as packed:
        files = {name: packed.read(name) for name in packed.namelist()}
    files["register.json"] = (record.folder / "register.json").read_bytes()
    listed = "".join(f"{hashlib.sha256(files[name]).hexdigest()}  {name}\n" for name in sorted(files))
    assert record.manifest.digest == hashlib.sha256(listed.encode()).hexdigest()


def test_the_record_alone_makes_the_same_bytes_again_elsewhere(whole: Path, tmp_path: Path) -> None:
    """Revision B is made, which has the more to say; A is there as it was issued."""
    clone = tmp_path / "a clone of another name"
    for name in ("issued", "published"):  # neither inputs nor cache
        shutil.copytree(whole / name, clone / name)
    for reader in READERS:
        shutil.rmtree(clone / "published" / reader / "B")
    assert repair(clone, None, lambda _: None) == ("revision B: published again from its record",)
    assert contents(clone, "published") == contents(whole, "published")
    assert altered(clone) == []


def test_nothing_names_the_clock_or_the_place(whole: Path) -> None:
    place = str(whole).encode()
    for path, content in contents(whole, "issued", "published").items():
        assert place not in content, path


def test_later_issues_leave_earlier_ones_as_they_were(project: Path, quick: None) -> None:
    issued(project, "A")
    frozen = {
        path: digest_of(content)
        for path, content in contents(project, "issued/A", *(f"published/{one}/A" for one in READERS)).items()
    }
    assert len(frozen) > 20
    for revision in ("B", "C"):
        issued(project, revision)
    now = contents(project, "issued/A", *(f"published/{one}/A" for one in READERS))
    assert {path: digest_of(content) for path, content in now.items()} == frozen
    assert altered(project) == []


def test_a_revision_that_is_issued_is_refused(project: Path, quick: None) -> None:
    issued(project, "A")
    before = contents(project, "issued", "published")
    for name, said in (("A", "found A, issued already"), ("a", "found a, issued already as A")):
        with pytest.raises(InputError) as refused:
            issued(project, name)
        assert str(refused.value) == (
            f"--revision: revision.identity: wanted a revision that is not issued yet; {said}"
        )
    with pytest.raises(InputError, match=r"project.yaml:\d+:\d+: revision.identity: .* found A, issued"):
        issue(project, IssueRequest(named={}), lambda _: None, lambda *_: None)
    assert contents(project, "issued", "published") == before


@pytest.mark.parametrize("name", ["latest", "Latest", "index.html", "versions.js", "con", "COM1.x", "A."])
def test_a_name_that_no_folder_can_have_is_refused(project: Path, name: str) -> None:
    with pytest.raises(InputError, match="wanted a name that a folder of its own can have"):
        issued(project, name)
    assert not (project / "issued").exists()


@pytest.mark.parametrize("name", ["", "../A", "a/b", ".A", "a b", "x" * 17])
def test_a_name_that_is_none_is_refused(project: Path, name: str) -> None:
    with pytest.raises(InputError, match=r"--revision: revision.identity: wanted"):
        issued(project, name)
    assert not (project / "issued").exists()


def test_errors_that_nobody_accepted_are_refused(tmp_path: Path, quick: None) -> None:
    project = Path(shutil.copytree(FAILING, tmp_path / "failing"))
    with pytest.raises(DesignError):
        issued(project, "A")
    assert not (project / "issued").exists()
    assert not (project / "published").exists()


def test_a_revision_issued_with_errors_says_so_in_every_edition(tmp_path: Path) -> None:
    project = Path(shutil.copytree(MINIMAL, tmp_path / "project"))
    building = project / "building.yaml"
    building.write_text(building.read_text("utf-8").replace("12.0 m", "200.0 m"), "utf-8")
    issued(project, "A", with_errors="The client wants to see the layout first")
    assert records_of(project)[0].manifest.with_errors == "The client wants to see the layout first"
    for reader in READERS:
        site = project / "published" / reader / "A"
        cover = (site / "index.html").read_text("utf-8")
        assert "The client wants to see the layout first" in cover
        for page in site.rglob("*.html"):
            if page.name != "404.html":
                assert "Issued with errors</strong> of the design review" in page.read_text("utf-8"), page
        revisions = (project / "published" / reader / "revisions.html").read_text("utf-8")
        assert "issued with errors that are not resolved" in revisions


def test_a_reason_without_errors_is_not_printed(project: Path, quick: None) -> None:
    issued(project, "A", with_errors="just in case")
    assert records_of(project)[0].manifest.with_errors == ""


def test_the_companys_library_is_kept_and_used_again(
    project: Path, tmp_path: Path, quick: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    library = tmp_path / "our library"
    library.mkdir()
    code = min(shipped().access_points, key=lambda one: shipped().access_points[one].channels)
    ours = f"access_points:\n  '{code}': {{description: Our own words for it}}\n".encode()
    (library / "ours.yaml").write_bytes(ours)
    issue(project, IssueRequest(named={}, library=library), lambda _: None, lambda *_: None)
    record = records_of(project)[0]
    held = record.contents()
    assert b"Our own words for it" in held["document.json"]
    assert held["library/company/ours.yaml"] == ours
    published = contents(project, "published")
    shutil.rmtree(library)
    shutil.rmtree(project / "published")
    monkeypatch.setenv("PROPOSAL_LIBRARY", str(tmp_path / "another"))
    assert repair(project, None, lambda _: None) == ("revision A: published again from its record",)
    assert contents(project, "published") == published


def test_the_record_before_a_revision_is_the_one_issued_before_it(whole: Path) -> None:
    records = records_of(whole)
    assert record_before(records, "A") is None
    assert record_before(records, "B") == records[0]
    assert record_before(records, "C") == records[1]


# The published folder


def test_an_edition_can_be_handed_over_as_a_folder(whole: Path, tmp_path: Path) -> None:
    for reader in READERS:
        handed = Path(shutil.copytree(whole / "published" / reader, tmp_path / reader))
        assert broken_links(handed) == []
        assert asked_outside(handed) == []
    assert broken_links(whole / "published") == []


def test_an_edition_holds_its_downloads(whole: Path) -> None:
    for reader in READERS:
        names = sorted(path.name for path in (whole / "published" / reader / "B" / "downloads").iterdir())
        assert names == [
            f"document-{reader}-B.json",
            *([f"labels-{reader}-B.csv"] if reader != "client" else []),
            f"programme-{reader}-B.ics",
            f"proposal-{reader}-B.pdf",
            f"schedules-{reader}-B.xlsx",
            f"schedules-{reader}-B.zip",
        ]
        site = whole / "published" / reader / "B"
        for page, belongs in (
            ("index.html", (f"proposal-{reader}-B.pdf", f"schedules-{reader}-B.xlsx")),
            ("equipment.html", (f"schedules-{reader}-B.xlsx", f"schedules-{reader}-B.zip")),
            ("labels.html", (f"labels-{reader}-B.csv",)),
            ("price.html", (f"schedules-{reader}-B.xlsx",)),
        ):
            if (site / page).exists():
                for name in belongs:
                    assert f'href="downloads/{name}"' in (site / page).read_text("utf-8")
        listed = (whole / "published" / reader / "revisions.html").read_text("utf-8")
        for name in names:
            assert f'href="B/downloads/{name}"' in listed


def versions_of(project: Path, reader: str = "client") -> dict[str, object]:
    script = (project / "published" / reader / "versions.js").read_text("utf-8")
    found: dict[str, object] = json.loads(script.removeprefix("proposalRevisions(").removesuffix(");\n"))
    return found


def test_the_revisions_are_listed_for_pages_and_tools(whole: Path) -> None:
    assert versions_of(whole)["revisions"] == [
        {"name": "B", "date": "3 March 2031", "purpose": "for approval", "without": []},
        {"name": "A", "date": "3 March 2031", "purpose": "for comment", "without": [
            number
            for number, page in enumerate(versions_of(whole)["pages"])  # type: ignore[arg-type, var-annotated]
            if not (whole / "published/client/A" / page).exists()
        ]},
    ]  # fmt: skip
    assert json.loads((whole / "published/client/versions.json").read_text("utf-8")) == [
        {"version": "B", "title": "B, for approval", "aliases": ["latest"]},
        {"version": "A", "title": "A, for comment", "aliases": []},
    ]
    for page, target in (("index.html", "B/index.html"), ("latest/index.html", "../B/index.html")):
        assert f'content="0; url={target}"' in (whole / "published/client" / page).read_text("utf-8")


def test_thirty_revisions_stay_small(project: Path, quick: None) -> None:
    issued(project, "A")
    first = records_of(project)[0].manifest
    many = [
        PublishedRevision(
            replace(first, revision=f"R{number}"),
            [
                f"{reader}/R{number}/rooms/{page:03}.html"
                for reader in READERS
                for page in range(number, 200 + number)
            ],
        )
        for number in range(1, 31)
    ]
    assert len(surroundings(many, EDITION_TITLES)["client/versions.js"]) < 20_000


# Verification


def test_what_was_changed_added_or_lost_is_named(project: Path, quick: None) -> None:
    issued(project, "A")
    issued(project, "B")
    assert altered(project) == []
    record, site = project / "issued" / "A", project / "published" / "client" / "A"
    (record / "record.zip").write_bytes(b"PK")
    (record / "register.json").unlink()
    (record / "note.txt").write_text("added", "utf-8")
    (site / "index.html").write_text("changed", "utf-8")
    (site / "rooms" / "a.html").unlink()
    (site / "new.html").write_text("added", "utf-8")
    (project / "published" / "client" / "versions.js").write_text("", "utf-8")
    (project / "published" / "client" / "notes.txt").write_text("", "utf-8")
    (project / "published" / "installer" / "latest" / "index.html").unlink()
    assert altered(project) == [
        "added: issued/A/note.txt",
        "changed: issued/A/record.zip",
        "lost: issued/A/register.json",
        "changed: published/client/A/index.html",
        "added: published/client/A/new.html",
        "lost: published/client/A/rooms/a.html",
        "added: published/client/notes.txt",
        "changed: published/client/versions.js",
        "lost: published/installer/latest/index.html",
    ]
    assert [str(one) for one in verified(project, "B").alterations] == []


def test_a_manifest_that_was_altered_is_named(project: Path, quick: None) -> None:
    for revision in ("A", "B"):
        issued(project, revision)
    first = project / "issued" / "A" / "manifest.json"
    kept = first.read_bytes()
    first.write_bytes(kept.replace(b"for comment", b"for tender"))
    assert "changed: issued/A/manifest.json" in altered(project)
    # Written anew with its own digest, it is still not the one that B followed.

    first.write_bytes(manifest_text(replace(read_manifest(kept, "issued/A")[0], purpose="for tender")))
    assert "changed: issued/A/manifest.json" in altered(project)
    first.write_bytes(kept)
    assert altered(project) == []
    shutil.rmtree(first.parent)
    assert "lost: issued/A/" in altered(project)


def test_a_missing_published_folder_is_no_alteration_and_a_part_of_it_is(project: Path, quick: None) -> None:
    issued(project, "A")
    shutil.rmtree(project / "published" / "client" / "A")
    assert "lost: published/client/A/" in altered(project)
    shutil.rmtree(project / "published")
    assert altered(project) == []
    assert not verified(project, None).published


def test_what_is_published_is_repaired_and_records_are_not_touched(project: Path, quick: None) -> None:
    issued(project, "A")
    issued(project, "B")
    before = contents(project, "issued", "published")
    (project / "published" / "client" / "A" / "index.html").write_text("changed", "utf-8")
    (project / "published" / "reviewer" / "versions.js").unlink()
    assert repair(project, None, lambda _: None) == ("revision A: published again from its record",)
    assert contents(project, "issued", "published") == before
    (project / "issued" / "A" / "record.zip").write_bytes(b"PK")
    shutil.rmtree(project / "published" / "client" / "A")
    assert repair(project, None, lambda _: None) == ()
    assert "lost: published/client/A/" in altered(project)


def test_what_the_same_versions_make_otherwise_is_not_published(
    project: Path, quick: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    issued(project, "A")
    page = project / "published" / "client" / "A" / "index.html"
    page.unlink()
    monkeypatch.setattr(published_editions, "downloads", lambda edition: {"schedules.zip": b"otherwise"})
    with pytest.raises(BuildError) as refused:
        repair(project, None, lambda _: None)
    said = str(refused.value)
    assert said.startswith("issued/A: 8 files, such as client/A/downloads/schedules")
    assert not page.exists()


def test_what_other_versions_make_says_so_on_every_page_and_is_never_computed_anew(
    whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Revision B is, A is there as it was issued."""
    clone = tmp_path / "clone"
    for name in ("issued", "published"):
        shutil.copytree(whole / name, clone / name)
    for reader in READERS:
        shutil.rmtree(clone / "published" / reader / "B")
    monkeypatch.setattr(
        "proposal.publish.editions_from_record.versions",
        lambda: published_editions.versions() | {"mkdocs": "1.99", "proposal": "0.9"},
    )
    monkeypatch.setattr("proposal.pipeline.compute", lambda *_: pytest.fail("computed anew"))
    assert repair(clone, None, lambda _: None) == ("revision B: published again from its record",)
    for reader in READERS:
        for page in (clone / "published" / reader / "B").rglob("*.html"):
            if page.name != "404.html":
                said = " ".join(page.read_text("utf-8").split())
                wanted = "<strong>Made again</strong> from the figures of the issued record, with mkdocs 1.99"
                assert wanted in said, page
        kept = json.loads((clone / f"published/{reader}/B/downloads/document-{reader}-B.json").read_bytes())
        then = json.loads((whole / f"published/{reader}/B/downloads/document-{reader}-B.json").read_bytes())
        assert kept["cover"].pop("rebuilt") == (
            f"mkdocs 1.99 (issued with {published_editions.versions()['mkdocs']}), "
            f"proposal 0.9 (issued with {published_editions.versions()['proposal']})"
        )
        assert then["cover"].pop("rebuilt", "") == ""
        assert kept == then
    assert altered(clone) == []
