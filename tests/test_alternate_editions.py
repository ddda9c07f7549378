"""Alternates tell a reader nothing that the base would not: canaries in all they keep from some readers."""

import shutil
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import pytest

from proposal.document.making.disclosure import all_disclosure_parts
from proposal.document.making.document import document_of
from proposal.document.making.proposal import alternate_document, combination, combinations_of, proposal_of
from proposal.document.making.sensitivity import cases_of, price_of, sensitivity_of
from proposal.document.readers import READERS, Reader
from proposal.document.whole_proposal import Proposal
from proposal.editions import edition_of_proposal
from proposal.model.loading import load_source
from proposal.pages.markdown import text
from proposal.pages.site_pages import pages_of
from proposal.pipeline import compute
from proposal.publish.prices_in_records import received_before
from tests.canaries import Planter, Scan
from tests.pages.site import drawings_for, page_of, templates

ROOT = Path(__file__).resolve().parent.parent
KEY = "gooseneck_meeting_rooms"
OTHERS = ("seventh_meeting_room", "spares_for_hearings")


@pytest.fixture(scope="module")
def planter() -> Planter:
    return Planter()


@pytest.fixture(scope="module")
def planted(planter: Planter, tmp_path_factory: pytest.TempPathFactory) -> Proposal:
    """A proposal with one alternate, its combinations and one varied assumption, full of canaries."""
    folder = tmp_path_factory.mktemp("one alternate") / "example"
    shutil.copytree(ROOT / "example_project", folder, ignore=shutil.ignore_patterns("build", "published"))
    for other in OTHERS:
        (folder / "alternates" / f"{other}.yaml").unlink()
    source = load_source(folder)
    computed = compute(source.base)
    case = cases_of(source.base)[0]
    tried = [(case, price_of(source, computed, case, "lower"), price_of(source, computed, case, "upper"))]
    whole = proposal_of(
        source,
        document_of(computed),
        {key: alternate_document(source, key) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.open)],
        sensitivity_of(computed.price.whole.price, tried),
    )
    (one,) = whole.alternates
    told = all_disclosure_parts(computed, received_before(ROOT / "example_project"))
    document = one.document.model_copy(update={"house_findings": told["house_findings"]})
    alternate = planter.planted(one.model_copy(update={"document": document}))
    return whole.model_copy(
        update={
            "alternates": (alternate,),
            "combinations": tuple(
                row.model_copy(update={"problems": ("qzx998vk",)}) for row in whole.combinations
            ),
        }
    )


Shown = Callable[[Reader], Mapping[str, str]]
"""Gives the pages of the proposal as a reader sees it, made once."""


@pytest.fixture(scope="module")
def shown(planted: Proposal) -> Shown:
    def pages(reader: Reader) -> Mapping[str, str]:
        edition = edition_of_proposal(planted, reader)
        return pages_of(edition, drawings_for(edition.document), templates()).pages

    return cache(pages)


@pytest.mark.parametrize("reader", READERS)
def test_no_page_tells_what_an_alternate_keeps_from_its_reader(
    reader: Reader, shown: Shown, planter: Planter
) -> None:
    made = shown(reader)
    scan = Scan(planter.canaries)
    for path, page in made.items():
        scan.content(path, page.encode())
    assert scan.leaks(reader) == []
    told = [path for path, page in made.items() if "qzx998vk" in page]
    assert told == (["alternates.md"] if reader == "estimator" else [])
    assert f"alternates/{KEY}.md" in made


def test_the_estimator_reads_what_is_planted(shown: Shown, planter: Planter) -> None:
    made = shown("estimator")
    scan = Scan(planter.canaries)
    scan.content("page", made[f"alternates/{KEY}.md"].encode())
    assert "row.internal_note" in scan.paths("page")
    assert "document.equipment_cost" in scan.paths("page")
    assert "sensitivity.md" in made


def test_a_client_chooses_by_price_rooms_and_days(shown: Shown) -> None:
    for heading, client in (("Price before tax", True), ("Acceptance", True), ("Warnings", False)):
        assert (heading in shown("client")["alternates.md"]) == client
        assert heading in shown("estimator")["alternates.md"]


@pytest.mark.parametrize("reader", READERS)
def test_a_price_on_request_is_read_by_the_house_alone(
    reader: Reader, planted: Proposal, planter: Planter
) -> None:
    """No page of the others holds an amount of the alternate, nor its difference from the base."""
    one = next(alternate for alternate in planted.alternates if alternate.row.key == KEY)
    asked_for = one.model_copy(update={"row": one.row.model_copy(update={"price": "on request"})})
    proposal = planted.model_copy(
        update={
            "alternates": (asked_for,),
            "combinations": tuple(row for row in planted.combinations if not row.chosen),
        }
    )
    edition = edition_of_proposal(proposal, reader)
    scan = Scan(planter.canaries)
    for path in ("alternates.md", f"alternates/{KEY}.md"):
        page = page_of(edition, path)
        scan.content(path, page.encode())
        assert text("Price: on request.") in page
    prices = {path for path, canary in planter.canaries.items() if canary.readers == {"client", "estimator"}}
    told = prices & {path for path in scan.paths() if path.startswith("document.")}
    assert bool(told) == (reader == "estimator")
    (alternate,) = edition.alternates
    groups = {one.group_title for one in alternate.consequences}
    assert ("Price" in groups) == (reader == "estimator")
    assert (alternate.document.price is None) == (reader != "estimator")


def test_only_the_house_reads_what_moves_the_price(planted: Proposal, shown: Shown) -> None:
    for reader in READERS:
        kept = reader != "estimator"
        assert (edition_of_proposal(planted, reader).sensitivity is None) == kept
        assert ("sensitivity.md" not in shown(reader)) == kept
