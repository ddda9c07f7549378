"""An edition holds what its reader may see, and no byte of anything else.

Every field of the document that not everyone sees gets a canary; the four editions are built for real from
that document, and looked through.
"""

import dataclasses
import gzip
import io
import shutil
import zipfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Any

import pytest
from pydantic import Field

from proposal.document.document import Document
from proposal.document.making.disclosure import all_disclosure_parts
from proposal.document.making.document import document_of
from proposal.document.readers import READERS, Reader, Shown
from proposal.document.schedule import ALL, HOUSE, Row, Shows
from proposal.document.whole_proposal import Proposal
from proposal.editions import Edition, edition_of, readers_of
from proposal.model.loading import load_source
from proposal.model.source import ProjectSource
from proposal.paper.paper_edition import PaperSource, paper_data
from proposal.paper.signs import Fonts
from proposal.pipeline import Computed, compute
from proposal.publish import paper_file, proposal_site
from proposal.publish.cache import Cache
from proposal.publish.edition_site import edition_source
from proposal.publish.export_files import exported
from proposal.publish.prices_in_records import received_before
from proposal.publish.program_folders import own_folders
from tests.canaries import NEVER_PLANTED, Canary, Planter, Scan
from tests.shared_builds import made_once

ROOT = Path(__file__).resolve().parent.parent

# Restricted fields whose canary no page shows, and why; each stands in the exported document.
ON_NO_PAGE: Mapping[str, str] = {
    "cables.turns[0]": "where a way turns is drawn on the plans",
    "cables.turns[1]": "where a way turns is drawn on the plans",
    "reel_orders.reels.cuts[2]": "the groups for which a reel is set up stand there, and cuts in their order",
    "disturbances.over_db": "a whole number of decibels stands there, rounded up",
    "radio_places.carrier_hz": "it stands there in MHz, to three places",
    "margins.probability": "nothing above 99.9 % stands there",
    "streams.bandwidth_bit_s": "it stands there in Mbit/s, to three places",
    "switch_links.speed_bit_s": "it stands there in Mbit/s, in whole ones",
    "switch_links.inwards_bit_s": "it stands there in Mbit/s, to three places",
    "switch_links.outwards_bit_s": "it stands there in Mbit/s, to three places",
    "radio.measured_db": "it is rounded up to whole decibels there",
    "reel_orders.reels.length_m": "the cuts and what is left of the reel stand there, which make it up",
}

PAPER = "paper.json"
ANY_SIGN = dict.fromkeys(range(0x20, 0x3000), 0.5)

EditionMaker = Callable[[Document, Reader], Edition]


@dataclass(frozen=True)
class Planted:
    """A computed project whose document holds canaries."""

    source: ProjectSource = dataclasses.field(repr=False)
    computed: Computed = dataclasses.field(repr=False)
    document: Document = dataclasses.field(repr=False)
    canaries: Mapping[str, Canary] = dataclasses.field(repr=False)
    without: Mapping[str, str]
    known: dict[bytes, frozenset[int]] = dataclasses.field(default_factory=dict, repr=False)

    def built(self, folder: Path) -> None:
        """Build sites and exports of all editions as `proposal build` and `export` do."""
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(proposal_site, "whole_proposal", lambda *_, **__: Proposal(document=self.document))
            proposal_site.build_proposal(self.source, self.computed, folder, READERS, lambda _: None)
        for reader in READERS:
            edition = edition_of(self.document, reader)
            exported_files = {
                "document.json": exported(edition, "json")[""],
                "schedules.xlsx": exported(edition, "xlsx")[""],
                **exported(edition, "csv"),
            }
            (folder / "build" / reader / "exported").mkdir()
            for name, content in exported_files.items():
                (folder / "build" / reader / "exported" / name).write_bytes(content)
        for reader in ("client", "estimator"):
            written = self.paper(edition_of(self.document, reader), folder)
            (folder / "build" / reader / "exported" / PAPER).write_text(written, "utf-8")

    def paper(self, edition: Edition, folder: Path) -> str:
        """Return all that the PDF of an edition is made of; nothing else is printed."""
        cache = Cache(own_folders(folder).build / "cache")  # its drawings are the same
        told: list[str] = []

        def never_typeset(source: PaperSource, *_: object) -> bytes:
            told.append(paper_data(source, Fonts(ANY_SIGN, ANY_SIGN)))
            return b""

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(paper_file, "paper_file", never_typeset)
            edition_source(edition, self.computed.project.images, cache, downloads=("paper",))
        return told[0]

    def scan(self, folder: Path, reader: Reader) -> Scan:
        return Scan(self.canaries, known=self.known).folder(folder / "build" / reader)


ALIKE = ("A203", "A204", "A205", "A206")
"""Rooms of the example that hold what A201 and A202 hold, and that nothing else names."""


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Planted:
    project = tmp_path_factory.mktemp("fewer rooms") / "example"
    shutil.copytree(
        ROOT / "example_project", project, ignore=shutil.ignore_patterns("build", "issued", "published")
    )
    rows = (project / "rooms.csv").read_text("utf-8").splitlines()
    kept = [row for row in rows if not row.startswith(ALIKE)]
    assert len(kept) == len(rows) - len(ALIKE)
    (project / "rooms.csv").write_text("\n".join([*kept, ""]), "utf-8")
    source = load_source(project)
    computed = compute(source.base)
    planter = Planter()
    told = all_disclosure_parts(computed, received_before(ROOT / "example_project"))
    document = planter.planted(document_of(computed).model_copy(update=told))
    return Planted(source, computed, document, planter.canaries, planter.without)


@pytest.fixture(scope="module")
def folder(planted: Planted, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the four editions lie, built for real."""
    return made_once(tmp_path_factory, "canaries", planted.built)


@pytest.fixture(scope="module")
def scans(planted: Planted, folder: Path) -> Mapping[Reader, Scan]:
    """What stands in each of the four editions."""
    return {reader: planted.scan(folder, reader) for reader in READERS}


def restricted(part: type[Shown], above: frozenset[Reader], path: str = "") -> Iterator[str]:
    """Return the path of every field below a part that not everyone sees, by the types alone."""
    for name, info in part.model_fields.items():
        here = f"{path}.{name}" if path else name
        readers = above & readers_of(part)[name]
        inner = list(parts_in(info.annotation))
        for kind in inner:
            yield from restricted(kind, readers, here)
        if not inner and readers != frozenset(READERS):
            yield here


def parts_in(annotation: Any) -> Iterator[type[Shown]]:
    if isinstance(annotation, type) and issubclass(annotation, Shown):
        yield annotation
    for inner in getattr(annotation, "__args__", ()):
        yield from parts_in(inner)


def test_every_restricted_field_holds_a_canary(planted: Planted) -> None:
    wanted = set(restricted(Document, frozenset(READERS)))
    held = {path.partition("[")[0] for path in planted.canaries}
    assert wanted - held == set(planted.without)
    assert len(held) > 90
    others = [path for path, why in planted.without.items() if not why.startswith("yes or no")]
    assert sorted(others) == sorted(
        f"{sheets}.{name}"
        for sheets in ("detail_sheets", "check_sheets")
        for part, name in NEVER_PLANTED
        if part == "SheetRow"
    )


@pytest.mark.parametrize("reader", READERS)
def test_no_byte_of_an_edition_is_anothers(reader: Reader, scans: Mapping[Reader, Scan]) -> None:
    assert scans[reader].leaks(reader) == []


def test_every_canary_stands_on_a_page_of_the_estimator_edition(
    scans: Mapping[Reader, Scan], planted: Planted
) -> None:
    missing = set(planted.canaries) - scans["estimator"].paths(".html")
    assert sorted(missing - set(ON_NO_PAGE)) == []
    assert len(ON_NO_PAGE) <= 12


@pytest.mark.parametrize("reader", READERS)
def test_every_canary_stands_in_the_export_of_whoever_may_see_it(
    reader: Reader, scans: Mapping[Reader, Scan], planted: Planted
) -> None:
    wanted = {path for path, canary in planted.canaries.items() if reader in canary.readers}
    assert scans[reader].paths("document.json") == wanted


def test_search_and_drawings_are_among_what_was_looked_through(scans: Mapping[Reader, Scan]) -> None:
    assert scans["estimator"].paths("search/search_index.js")
    assert scans["estimator"].paths(".svg")
    assert "equipment.unit_cost" in scans["estimator"].paths(PAPER)
    assert "cables.identity" in scans["installer"].paths("search/search_index.js")
    for name in ("schedules.xlsx", "cables.csv", "labels.csv"):
        assert "cables.identity" in scans["installer"].paths(name)
    assert "equipment.unit_cost" in scans["estimator"].paths("schedules.xlsx")


def leaving_in(name: str) -> EditionMaker:
    """Return an edition maker that forgets one field of the document, or of one of its parts."""

    def leaky(document: Document, reader: Reader) -> Edition:
        edition = edition_of(document, reader)
        field, _, inner = name.partition(".")
        whole, shown = getattr(document, field), getattr(edition.document, field)
        if inner:
            whole = tuple(
                row.model_copy(update={inner: getattr(full, inner)})
                for row, full in zip(shown, whole, strict=True)
            )
        return Edition(reader, edition.document.model_copy(update={field: whole}))

    return leaky


def scan_of_site(edition: Edition, planted: Planted, folder: Path) -> Scan:
    """Return what is found in all that would be made into the site of an edition."""
    cache = Cache(own_folders(folder).build / "cache")  # its drawings are the same
    source = edition_source(edition, planted.computed.project.images, cache)
    scan = Scan(planted.canaries, known=planted.known)
    for name, page in source.pages.items():
        scan.content(name, page.encode())
    for name, content in source.files.items():
        scan.content(name, content)
    return scan


@pytest.mark.parametrize(
    ("forgotten", "reader"), [("rooms.internal_note", "reviewer"), ("finding_count", "installer")]
)
def test_a_leaky_edition_is_found_out(forgotten: str, reader: Reader, planted: Planted, folder: Path) -> None:
    """What would be made into its site gives it away: pages, drawings and files."""
    leaky = leaving_in(forgotten)(planted.document, reader)
    leaks = scan_of_site(leaky, planted, folder).leaks(reader)
    assert leaks
    assert all(leak.startswith(forgotten) for leak in leaks)


@pytest.mark.parametrize(
    ("forgotten", "reader"),
    [("equipment.unit_cost", "client"), ("yearly.unit_cost", "client"), ("trades.cost", "reviewer")],
)
def test_a_column_is_locked_twice(forgotten: str, reader: Reader, planted: Planted, folder: Path) -> None:
    """Tables leave out a column that their reader may not see, even where an edition holds its values."""
    leaky = leaving_in(forgotten)(planted.document, reader)
    assert scan_of_site(leaky, planted, folder).leaks(reader) == []
    scan = Scan(planted.canaries, known=planted.known)
    for name, content in exported(dataclasses.replace(leaky, reader="estimator"), "csv").items():
        scan.content(name, content)
    leaks = scan.leaks(reader)
    assert leaks
    assert all(leak.startswith(forgotten) for leak in leaks)


@pytest.mark.parametrize(
    "written",
    [
        "qzx001vk",
        "a-QZX001VK-b",
        "7001391",
        "7001391.4375",
        "7,001,391.4",
        "7.001.391,44",
        "7 001 391,44",
        "7\u00a0001\u202f391",
        "70,01,391",
        "7’001’391",
        "7&#8239;001&nbsp;391.4",
        "7%C2%A0001%C2%A0391",
        "7\\u202f001\\u202f391",
        "7,001,000",
        "7.001391e+06",
        "700139144 %",
        "700,139,143.8",
        "7,001,391,437.5",
        "7.001×10⁶",
        "-7001391",
    ],
)
def test_a_canary_is_known_in_every_form(written: str) -> None:
    canaries = {"a.field": Canary(1, "a.field", frozenset({"estimator"}), "qzx" in written.lower())}
    page = f'<td data-sort="1">{written} m</td>'.encode()
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("sheet.xml", gzip.compress(page))
    for content in (page, gzip.compress(page), archive.getvalue()):
        assert Scan(canaries).content("a.bin", content).leaks("client") == ["a.field in a.bin"]
    assert Scan(canaries).content("a.bin", page).leaks("estimator") == []


@pytest.mark.parametrize(
    "written", ["7001-03-09", "70010309T120000", "9 March 7001", "Mon, 9 Mar 7001", "March 9, 7001"]
)
def test_a_canary_day_is_known_in_every_form(written: str) -> None:
    canaries = {"a.day": Canary(1, "a.day", frozenset({"estimator"}), is_text=False, is_day=True)}
    # 9 March 1900 is day 69 of spreadsheets; from then on 5101 years of 365 days and 1237 leap days.
    for content in (written, "<c><v>1863171</v></c>"):
        assert Scan(canaries).content("a.html", content.encode()).leaks("client") == ["a.day in a.html"]
    assert Scan(canaries).content("a.html", b"8 March 7001, 7001-03-10, <v>1863170</v>").leaks("client") == []


@pytest.mark.parametrize(
    "written",
    [
        "7,023,391.438",
        "7,023,391.4",
        "7,023,391",
        "70,23,391.438",  # groups of India
        "7.023.391,438",
        "7’023’391.438",
        "7'023'391.4",
        "7\N{NO-BREAK SPACE}023\N{NO-BREAK SPACE}391,438",
        "7\N{NARROW NO-BREAK SPACE}023\N{NARROW NO-BREAK SPACE}391,4",
        "€7,023,391.44",
        "7\N{NARROW NO-BREAK SPACE}023\N{NARROW NO-BREAK SPACE}391,44\N{NO-BREAK SPACE}€",
        "CHF\N{NO-BREAK SPACE}7’023’391.44",
    ],
)
def test_a_canary_is_known_as_locales_write_it(written: str) -> None:
    canary = Canary(23, "a.field", frozenset({"estimator"}), is_text=False)
    assert (canary.count, canary.number, canary.amount) == (7023391, 7023391.4375, Decimal("7023391.44"))
    assert Scan({"a.field": canary}).content("a.html", written.encode()).leaks("client")


@pytest.mark.parametrize(
    "written",
    [
        "",
        "qzx999vk",
        "7999391",
        "17001391",
        "7001392",
        "7.001391",
        "700139100",
        "0.7001391",
        "70013",
        "a7001391",
    ],
)
def test_what_is_no_canary_is_none(written: str) -> None:
    canaries = {"a.field": Canary(1, "a.field", frozenset({"estimator"}), "qzx" in written)}
    assert Scan(canaries).content("a.html", written.encode()).leaks("client") == []


class Inner(Row):
    """A part with a field for the house alone."""

    open: Annotated[str, Shows("open", ALL)] = Field(description="Open.")
    kept: Annotated[Decimal | None, Shows("kept", HOUSE, "money")] = Field(default=None, description="Kept.")


class Nameless(Row):
    """A part with a field that names no readers."""

    field: str = Field(default="", description="Nobody's.")


class NoDefault(Row):
    """A part with a restricted field and nothing to show the others."""

    field: Annotated[str, Shows("field", HOUSE)] = Field(description="Kept.")


@pytest.mark.parametrize("part", [Nameless, NoDefault])
def test_a_field_that_could_be_shown_by_oversight_is_refused(part: type[Shown]) -> None:
    with pytest.raises(TypeError, match=part.__name__):
        readers_of(part)


def test_readers_are_those_who_were_named() -> None:
    assert readers_of(Inner) == {"open": frozenset(READERS), "kept": frozenset({"estimator"})}


def test_the_estimator_edition_is_the_whole_document(planted: Planted) -> None:
    assert edition_of(planted.document, "estimator").document == planted.document
