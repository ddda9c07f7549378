"""What goes to a supplier for a quote: what is bought there, without a price of ours; and what comes back."""

import csv
import datetime
import io
import shutil
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.document.rows.equipment import EquipmentLine
from proposal.editions import edition_of
from proposal.exports.quote_files import (
    HEADS,
    MODEL,
    NEEDED_BY,
    PRICE,
    QUANTITY,
    QUOTED_ON,
    SOLD_AS,
    quote_files,
)
from proposal.imports.xlsx_sheets import sheets_of
from proposal.model.equipment.materials import Cable
from proposal.model.equipment.price_origins import origin_of
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from tests.calls import Call, caller_in

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
PATHWAYS_BY_OTHERS = MINIMAL.parent / "us_customary"


@pytest.fixture(scope="module")
def computed() -> Computed:
    return compute(load_project(MINIMAL))


@pytest.fixture(scope="module")
def files(computed: Computed) -> dict[str, bytes]:
    return dict(quote_files(edition_of(document_of(computed), "estimator")))


def rows_of(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


@pytest.mark.independent
def test_everything_that_is_bought_is_asked_of_one_supplier(
    computed: Computed, files: dict[str, bytes]
) -> None:
    asked: dict[tuple[str, str], int] = {}
    for name, data in files.items():
        for row in rows_of(data) if name.endswith(".csv") else ():
            key = row[MODEL], row[SOLD_AS]
            assert key not in asked
            asked[key] = int(row[QUANTITY])
            assert row["Supplier"] == computed.project.library.entry(row[MODEL]).bought_from
    wanted: dict[tuple[str, str], int] = {}
    for line in computed.estimate.equipment:
        wanted[line.model, "each"] = line.quantity
    for one in computed.estimate.purchases:
        sold_as = one.sold_as.removesuffix(", spare")
        wanted[one.model, sold_as] = wanted.get((one.model, sold_as), 0) + int(one.bought)
    assert asked == {key: count for key, count in wanted.items() if count}


@pytest.mark.independent
def test_nobody_is_asked_to_quote_for_pathways_that_others_furnish() -> None:
    computed = compute(load_project(PATHWAYS_BY_OTHERS))
    by_others = {one.model for one in computed.estimate.purchases if one.section == "pathways"}
    assert by_others
    assert not computed.project.brief.rules.takeoff.price_pathways
    files = quote_files(edition_of(document_of(computed), "estimator"))
    asked = {row[MODEL] for name, data in files.items() if name.endswith(".csv") for row in rows_of(data)}
    assert asked
    assert not asked & by_others


IN_RACKS = {"rack", "rack part", "mixer", "amplifier", "switch", "standby supply", "network part"}
FIRST = {"cable", "reels", "labels", "supports", "pathways", "consumables"}
ROOM_CORD = "DR-MW14"
"""Kind of a rack part, but plugged in the room alone here: for its breakout and its charger."""


def weekday_up_to(day: datetime.date) -> datetime.date:
    """Return the last day from Monday to Friday up to a day; the project has no holidays."""
    return day - datetime.timedelta(days=max(day.weekday() - 4, 0))


@pytest.mark.independent
def test_things_are_there_before_their_work_begins_and_are_ordered_in_time(
    computed: Computed, files: dict[str, bytes]
) -> None:
    """Cable before pulling, racks before rack work, devices before second fix; orders a lead time before.

    The day of the order is none of them: seven days from a Monday end on the next Monday.
    """
    document = document_of(computed)
    begins = {
        phase: min(one.start for one in document.activities if one.kind == phase)
        for phase in ("first fix", "workshop", "second fix")
    }
    work = {row.model: "workshop" if row.kind in IN_RACKS else "second fix" for row in document.equipment}
    for bought in document.purchases:
        panel = computed.project.library.entry(bought.item).kind == "patch_panel"
        later = "workshop" if panel else "second fix"
        work[bought.item] = "first fix" if bought.section in FIRST else later
    work[ROOM_CORD] = "second fix"
    told = {
        row[MODEL]: row[NEEDED_BY]
        for name, data in files.items()
        if name.endswith(".csv")
        for row in rows_of(data)
    }
    wanted = {item: weekday_up_to(begins[work[item]] - datetime.timedelta(days=1)) for item in told}
    assert told == {item: day.isoformat() for item, day in wanted.items()}
    assert len(set(wanted.values())) == 3
    for row in (*document.equipment, *document.purchases):
        item = row.model if isinstance(row, EquipmentLine) else row.item
        ordered = weekday_up_to(wanted[item] - datetime.timedelta(days=row.lead_time_days))
        assert (row.needed_by, row.order_by) == (wanted[item], ordered)
        assert ordered >= document.programme.start if document.programme else False


def test_no_figure_of_ours_leaves_the_house(computed: Computed, files: dict[str, bytes]) -> None:
    for name, data in files.items():
        if name.endswith(".csv"):
            for row in rows_of(data):
                assert all(row[head] == "" for head in (PRICE, QUOTED_ON, "Valid until", "Remark"))
    text = "".join(data.decode() for name, data in files.items() if name.endswith(".csv"))
    costs = {f"{line.unit_cost}" for line in computed.estimate.equipment}
    assert not [cost for cost in costs if cost in text]


def test_the_workbook_holds_what_the_csv_file_holds(files: dict[str, bytes]) -> None:
    for name, data in files.items():
        if name.endswith(".xlsx"):
            sheet = sheets_of(data, name, None)["Quote"]
            rows = rows_of(files[name.replace(".xlsx", ".csv")])
            assert [cell.text for cell in sheet[0]][: len(HEADS)] == [head for head, _ in HEADS]
            for cells, row in zip(sheet[1:], rows, strict=True):
                found = [cell.text for cell in cells][: len(HEADS)]
                assert [one.removesuffix(".0") for one in found] == list(row.values())


def test_an_answer_comes_back_by_the_same_way(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    run: Call = caller_in(tmp_path / "here", monkeypatch, capsys)
    folder = tmp_path / "project"
    shutil.copytree(MINIMAL, folder)
    assert run("export", folder, "--format", "quotes", "--output", "q")[0] == 2
    asked = run("export", folder, "--format", "quotes", "--edition", "estimator", "--output", "q")
    assert asked.status == 0
    answer = sorted(Path("q").glob("*.csv"))[0]
    lines = answer.read_text("utf-8-sig").splitlines()
    heads = next(csv.reader([lines[0]]))
    rows = list(csv.reader(lines[1:]))
    before = load_project(folder).library
    for row in rows:
        entry, reel = before.entry(row[heads.index(MODEL)]), row[heads.index(SOLD_AS)]
        sold = entry.reels[reel] if isinstance(entry, Cable) and reel in entry.reels else entry
        row[heads.index(PRICE)] = f"{sold.cost.amount * 2:.2f}"
        row[heads.index(QUOTED_ON)] = "2031-04-12"
    with answer.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([heads, *rows])
    status, out, err = run("import", answer, folder, "--write")
    assert (status, err) == (0, "")
    assert (len(rows), "1 line read: 1 price changes, 0 stay as they are" in out) == (1, True)
    library = load_project(folder).library
    first = library.entry(rows[0][heads.index(MODEL)])
    sold_as = rows[0][heads.index(SOLD_AS)]
    assert origin_of(first, sold_as).told == "quote, 2031-04-12"
    cost = first.reels[sold_as].cost if isinstance(first, Cable) and sold_as in first.reels else first.cost
    assert f"{cost.amount:.2f}" == rows[0][heads.index(PRICE)]
    text = (folder / "project.yaml").read_text("utf-8")
    (folder / "project.yaml").write_text(text.replace("identity: A", "identity: Q"), "utf-8")
    status, _, err = run("import", answer, folder)
    assert status == 2
    assert "wanted an answer to" in err
    assert "revision Q; found one to" in err
