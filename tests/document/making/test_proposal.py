"""Alternates are computed in full, and their combinations priced as if each were a project of its own."""

import datetime
import re
import shutil
from collections.abc import Callable
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
import yaml

from proposal.document.mains_failure import without_mains
from proposal.document.making.document import document_of
from proposal.document.making.proposal import (
    alternate_document,
    combination,
    combinations_of,
    proposal_of,
    with_reasons,
)
from proposal.document.offer_totals import offered_rooms
from proposal.document.whole_proposal import Proposal
from proposal.editions import edition_of_proposal
from proposal.model.equipment.library import merge_patch
from proposal.model.loading import load_project, load_source
from proposal.model.source import ProjectSource
from proposal.pages.paths import (
    ALTERNATES,
    ASSUMPTIONS,
    COVER,
    OWNER_EQUIPMENT,
    PRICE,
    PROGRAMME,
    RESPONSIBILITIES,
    SCOPE,
    SUMMARY,
    SYSTEM,
    alternate_path,
    room_sheet_path,
)
from proposal.pages.site_pages import planned_pages
from proposal.pipeline import compute
from tests.pages.site import browsed, drawings_for, templates

ROOT = Path(__file__).resolve().parents[3]
EXAMPLE = ROOT / "example_project"
MINIMAL = ROOT / "tests" / "projects" / "minimal"
GOOSENECKS, SEVENTH, SPARES = "gooseneck_meeting_rooms", "seventh_meeting_room", "spares_for_hearings"


@pytest.fixture(scope="module")
def source() -> ProjectSource:
    return load_source(EXAMPLE)


@pytest.fixture(scope="module")
def proposal(source: ProjectSource) -> Proposal:
    return proposal_of(
        source,
        document_of(compute(source.base)),
        {key: alternate_document(source, key) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.open)],
        None,
    )


def edited(folder: Path, *keys: str) -> Path:
    """Return a copy of the example whose own files say what some alternates of one room type say."""
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns("build", "published"))
    project = (folder / "project.yaml").read_text("utf-8")
    (folder / "project.yaml").write_text(
        "".join(line for line in project.splitlines(keepends=True) if "accepted_alternates" not in line)
    )
    for key in ("gallery_spare", *keys):
        changes = yaml.load((folder / "alternates" / f"{key}.yaml").read_text("utf-8"), yaml.BaseLoader)[
            "changes"
        ]
        for name, patch in changes.get("room_types", {}).items():
            change(folder / "room_types" / f"{name}.yaml", patch)
        for tag, row in changes.get("rooms", {}).items():
            if "layout" in row:
                change(folder / "rooms" / f"{tag}.yaml", row["layout"])
            else:
                cells = [
                    tag,
                    row["name"],
                    row["type"],
                    row["storey"],
                    row["x"],
                    row["y"],
                    row["rotation"],
                    "no",
                ]
                with (folder / "rooms.csv").open("a", encoding="utf-8") as file:
                    file.write(",".join(cells) + "\n")
    shutil.rmtree(folder / "alternates")
    return folder


def change(path: Path, patch: object) -> None:
    """Rewrite a file of the project as a patch changes it; `null` stays a removal in a room's own file."""
    content = yaml.load(path.read_text("utf-8"), yaml.BaseLoader)
    if path.parent.name == "room_types":
        merged = merge_patch(content, _with_none(patch))
    else:
        merged = merge_patch(content, patch)
    text = yaml.safe_dump(merged, sort_keys=False, allow_unicode=True, width=1000)
    path.write_text(text.replace("'null'", "null"), "utf-8")


def _with_none(patch: object) -> object:
    if isinstance(patch, dict):
        return {key: _with_none(value) for key, value in patch.items()}
    return None if patch == "null" else patch


@pytest.mark.independent
@pytest.mark.parametrize("chosen", [(), (GOOSENECKS,), (GOOSENECKS, SEVENTH), (GOOSENECKS, SEVENTH, SPARES)])
def test_a_combination_costs_what_its_own_project_costs(
    chosen: tuple[str, ...], proposal: Proposal, tmp_path: Path
) -> None:
    price = compute(load_project(edited(tmp_path / "project", *chosen))).price.whole
    row = next(one for one in proposal.combinations if one.chosen == chosen)
    assert (row.price, row.tax, row.total) == (price.price, price.tax, price.total)


def test_effects_of_alternates_interact(proposal: Proposal) -> None:
    prices = {row.chosen: row.price or Decimal(0) for row in proposal.combinations}
    base = prices[()]
    together = prices[GOOSENECKS, SEVENTH] - base
    apart = (prices[(GOOSENECKS,)] - base) + (prices[(SEVENTH,)] - base)
    assert len(prices) == 8
    assert together != apart


def test_goosenecks_take_as_many_charge_slots_in_other_chargers(proposal: Proposal) -> None:
    # Every microphone takes one slot. Each of the six meeting rooms has three in use and one spare: 4 slots.
    documents = (proposal.document, proposal.alternates[0].document)
    sheets = [next(sheet for sheet in one.room_sheets if sheet.key == "meeting_room") for one in documents]
    assert [sheet.slots_needed for sheet in sheets] == [4, 4]
    assert [len(sheet.rooms) for sheet in sheets] == [6, 6]
    assert proposal.alternates[0].row.key == GOOSENECKS
    for reader in ("client", "reviewer", "estimator", "installer"):
        edition = edition_of_proposal(proposal, reader)
        totals = {(one.group_title, one.title): one for one in edition.alternates[0].consequences}
        needed = totals["Rooms", "charge slots needed"]
        assert needed.before == needed.after == _microphones(EXAMPLE)


def _microphones(folder: Path) -> int:
    layouts = [room.layout for room in load_project(folder).rooms.values()]
    return sum(len(one.microphones) + sum(one.spare_microphones.values()) for one in layouts)


def test_only_who_may_read_prices_reads_combinations(proposal: Proposal) -> None:
    for reader in ("reviewer", "installer"):
        assert edition_of_proposal(proposal, reader).combinations == ()
    client = edition_of_proposal(proposal, "client")
    assert [row.total for row in client.combinations] == [row.total for row in proposal.combinations]
    assert {row.cost for row in client.combinations} == {None}
    names = {one.title for one in client.alternates[0].consequences}
    assert "price with tax" in names
    assert names.isdisjoint({"cost", "margin", "cost of equipment", "hours"})


def test_notes_on_alternates_stay_in_the_house(proposal: Proposal) -> None:
    assert edition_of_proposal(proposal, "estimator").alternates[0].row.internal_note
    for reader in ("client", "reviewer", "installer"):
        edition = edition_of_proposal(proposal, reader)
        assert {one.row.internal_note for one in edition.alternates} == {""}
        assert {row.internal_note for row in edition.document.included_alternates} == {""}


def test_the_accepted_alternate_is_listed_and_no_longer_open(proposal: Proposal) -> None:
    assert [row.key for row in proposal.document.included_alternates] == ["gallery_spare"]
    assert [one.row.key for one in proposal.alternates] == [GOOSENECKS, SEVENTH, SPARES]


def test_of_more_than_five_each_two_are_priced_and_of_more_than_seven_each_alone() -> None:
    keys = tuple("abcdef")
    two = combinations_of(keys)
    assert two[:7] == ((), ("a",), ("b",), ("c",), ("d",), ("e",), ("f",))
    # Six choose two are fifteen.
    assert len(two) == 7 + 15
    assert {len(chosen) for chosen in two[7:]} == {2}
    assert len(combinations_of((*keys, "g"))) == 1 + 7 + 21
    assert combinations_of(tuple("abcdefgh")) == ((), *((key,) for key in "abcdefgh"))
    assert len(combinations_of(keys[:5])) == 32
    assert combinations_of(()) == ((),)


@pytest.fixture
def excluding(tmp_path: Path) -> ProjectSource:
    """Three alternates of the smallest project, two of which decide one thing differently."""
    folder = tmp_path / "project"
    shutil.copytree(MINIMAL, folder)
    (folder / "alternates").mkdir()
    for key, site in (("one", "First"), ("other", "Second"), ("third", "")):
        change = f"site: {site}" if site else "number: X-1"
        (folder / "alternates" / f"{key}.yaml").write_text(
            f"name: {key}\ndescription: Why.\nchanges: {{project: {{{change}}}}}\n"
        )
    return load_source(folder)


def test_an_impossible_combination_names_the_fewest_that_make_it_so(excluding: ProjectSource) -> None:
    rows = with_reasons(tuple(combination(excluding, chosen) for chosen in combinations_of(excluding.open)))
    impossible = {row.chosen: row for row in rows if row.price is None}
    assert set(impossible) == {("one", "other"), ("one", "other", "third")}
    assert {row.impossible for row in impossible.values()} == {("one", "other")}
    assert impossible["one", "other"].problems == (
        "alternates/other.yaml:3:27: changes.project.site: wanted what no other chosen alternate decides; "
        "found it decided in alternates/one.yaml too",
    )


@pytest.fixture(scope="module")
def told(proposal: Proposal) -> Callable[[str], str]:
    """Return what reads the text of a page of the client's edition, by its path."""
    edition = edition_of_proposal(proposal, "client")
    pages = planned_pages(edition, drawings_for(edition.document), templates())
    return cache(lambda path: browsed(pages.page(path)).text)


def test_a_client_reads_one_price_one_day_and_one_list_wherever_they_stand(
    proposal: Proposal, told: Callable[[str], str]
) -> None:
    """Cost, days, what to decide, what is not included and what a room does are told alike on all pages."""
    document = edition_of_proposal(proposal, "client").document
    price, programme = document.price, document.programme
    assert price is not None
    assert programme is not None
    cover, summary, chosen = told(COVER), told(SUMMARY), told(ALTERNATES)
    sums = [f"€{one:,.2f}" for one in (price.price, price.tax, price.total)]
    for words in (cover, summary, told(PRICE), chosen):
        assert all(one in words for one in sums)
    assert f"none: the proposal as it stands {sums[0]} the same {sums[1]} {sums[2]} 20 August 2031" in chosen
    # By when to order and when it is done: two pages say it in the same sentences.
    said = re.search(r"With an order by [\w ]+ the work .*? by 27 June 2031\.", summary)
    assert said is not None
    assert said[0] in told(PROGRAMME)
    # The terms say the same of the order, up to where the alternates come in.
    assert said[0].partition(" To have it accepted")[0] in told(SCOPE)
    assert programme.latest_order is not None
    for row in proposal.combinations:
        late = SEVENTH in row.chosen
        assert (row.acceptance, row.latest_order) == (
            (datetime.date(2031, 8, 21), datetime.date(2031, 6, 27))
            if late
            else (programme.finish, programme.latest_order)
        )
    # What is paid when stands once; the terms of the contract lead there.
    first = document.payments[0]
    assert f"€{first.due:,.2f} with tax, by 2 June 2031" in summary
    assert f"{first.name} Order 19 May 2031 14 2 June 2031 €{first.due:,.2f}" in told(PRICE)
    # Of shares it has what is kept back, and what delay costs us at the most of each week and of all; no sum.
    assert re.findall(r"[\d.]+ %", told(SCOPE)) == ["5 %", "0.5 %", "5 %"]
    assert "€" not in told(SCOPE)
    # What is asked of the client stands on the summary, with the days of the pages it leads to.
    for step in document.client_steps:
        assert step.what.removeprefix("The order") in summary
    for page, days in (
        (OWNER_EQUIPMENT, {one.in_place_by(document) for one in document.owner_equipment}),
        (RESPONSIBILITIES, {day for one in document.responsibilities for day in one.ready_by(document)}),
    ):
        for day in days:
            assert day is not None
            shown = f"{day.day} {day:%B %Y}"
            assert shown in told(page)
            assert shown in summary
    # What is not included is the same list on both pages; what an alternate asks besides, on all three.
    lists = [
        re.search(r"The following are not part.*? engineer ", told(page)) for page in (SUMMARY, ASSUMPTIONS)
    ]
    assert lists[0] is not None
    assert lists[0][0] == (lists[1] or "")[0]
    for page in (SUMMARY, ALTERNATES, alternate_path(SEVENTH)):
        assert "also furnish, at your own cost: Conferencing codec (A207)" in told(page)
        # As the type of the meeting rooms has it: two chargers with an outlet each, an access point and four
        # loudspeakers.
        for words in (
            "a table or shelf for 2 chargers",
            "2 mains outlets on 1 circuit",
            "openings in the ceiling for 5 devices",
        ):
            assert words in told(page)
    # What an alternate adds each year is the difference of what recurs; its assumptions stand on its page.
    for one in edition_of_proposal(proposal, "client").alternates:
        then, now = (
            sum((row.amount for row in rows if row.amount is not None), start=Decimal(0))
            for rows in (document.yearly_costs, one.document.yearly_costs)
        )
        page = told(alternate_path(one.row.key))
        way = "adds" if now > then else "takes"
        said = f"It {way} €{abs(now - then):,.2f} before tax" if now != then else "It adds nothing"
        assert said in page
        assert "Their list marks" not in page
    assert (
        "Assumed besides: Each room is served by the equipment room with the shortest route (A207)"
        in told(alternate_path(SEVENTH))
    )
    # A room: its price, and what happens when the mains fails.
    prices = {row.key: row for row in offered_rooms(document.offer)}
    for sheet in document.room_sheets:
        page = told(room_sheet_path(sheet.key))
        for tag in sheet.rooms:
            amount = f"€{prices[tag].price:,.2f}"
            assert amount in page
            assert amount in told(PRICE)
        assert "taken from its charger" in page
        mains = [words for words, tags in without_mains(document).items() if set(tags) & set(sheet.rooms)]
        assert mains
        for words in mains:
            assert f"{words[0].upper()}{words[1:]}" in page
            assert words in told(SYSTEM)
