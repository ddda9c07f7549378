"""Which layer a figure comes from is known figure by figure, in the project's folder and outside it."""

import shutil
from pathlib import Path

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.exports.table import schedules
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.whole_projects import whole_document

PROJECTS = Path(__file__).resolve().parents[1] / "projects"


def test_each_layer_overrides_those_below_it_figure_by_figure(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(PROJECTS / "minimal", tmp_path / "project"))
    company = tmp_path / "company"
    (company / "labour").mkdir(parents=True)
    (folder / "library" / "labour").mkdir(parents=True)
    (company / "labour" / "ours.yaml").write_text(
        "trades: {installer: {cost: 40.00 EUR, selling: 61.00 EUR}}\ntasks: {tune a room: {hours: 5}}\n"
        "overtime_premium: 40 %\n"
    )
    (folder / "library" / "labour" / "house.yaml").write_text(
        "# What this house takes.\ntrades: {installer: {cost: 43.00 EUR}}\n"
    )
    (company / "ours.yaml").write_text("mounts: {Q43976: {cost: 20.00 EUR, list_price: 30.00 EUR}}\n")
    (folder / "library" / "prices.yaml").write_text("mounts: {Q43976: {cost: 19.00 EUR}}\n")
    project = load_project(folder, library=company)
    installer = project.labour.trades["installer"]
    assert (str(installer.cost), str(installer.selling)) == ("43.00 EUR", "61.00 EUR")
    wanted = {
        ("labour", "trades", "installer", "cost"): "project",
        ("labour", "rates", "installer", "cost"): "project",
        ("labour", "trades", "installer", "selling"): "company",
        ("labour", "trades", "drafter", "cost"): "shared",
        ("labour", "tasks", "tune a room", "hours"): "company",
        ("labour", "overtime_premium"): "company",
        ("library", "Q43976", "cost"): "project",
        ("library", "Q43976", "list_price"): "company",
        ("price", "retention"): "default",
    }
    assert {keys: project.layer(*keys) for keys in wanted} == wanted
    # The same stands beside the figures in the estimator's schedules.
    tables = {one.name: one for one in schedules(edition_of(document_of(compute(project)), "estimator"))}

    def layers(table: str, which: str, by: str) -> dict[str, str]:
        names = [column.name for column in tables[table].columns]
        rows = tables[table].rows
        return {str(row[names.index(by)]): str(row[names.index(which)]) for row in rows}

    company_s, shared = "company's library", "shared library"
    assert layers("trades", "cost_from", "trade")["Installer"] == "project"
    assert layers("trades", "cost_from", "trade")["Drafter"] == shared
    assert layers("labour", "hours_from", "task")["Room tuned"] == company_s
    assert layers("purchases", "cost_from", "item")["Q43976"] == "project"
    assert layers("takeoff", "cost_from", "item")["Q43976"] == "project"
    assert shared in layers("equipment", "cost_from", "model").values()
    inputs = layers("price-inputs", "layer", "key")
    assert inputs["labour.rates.installer.cost"] == "project"
    assert inputs["labour.rates.installer.selling"] == company_s
    assert inputs["programme.hours_a_day"] == "default of the program"


def test_what_is_wrong_in_the_projects_labour_names_its_file(tmp_path: Path) -> None:
    import pytest

    from proposal.errors import InputError

    folder = Path(shutil.copytree(PROJECTS / "minimal", tmp_path / "project"))
    (folder / "library" / "labour").mkdir(parents=True)
    (folder / "library" / "labour" / "house.yaml").write_text("tasks: {tune a room: {hours: soon}}\n")
    (folder / "library" / "labour" / "notes.txt").write_text("no labour")
    with pytest.raises(InputError) as refused:
        load_project(folder)
    told = [str(problem) for problem in refused.value.problems]
    assert told[0].startswith("library/labour/house.yaml:1:30: tasks.tune a room.hours: wanted")
    assert told[1] == "library/labour/notes.txt: wanted a name ending in .yaml; found notes.txt"


def test_quantities_stand_with_room_storey_system_phase_drawing_and_supplier() -> None:
    document = whole_document(PROJECTS / "two_rooms")
    table = next(one for one in schedules(edition_of(document, "estimator")) if one.name == "takeoff")
    names = [column.name for column in table.columns]
    rows = [dict(zip(names, row, strict=True)) for row in table.rows]
    by_tag = {room.tag: room for room in document.rooms}
    sheets = {sheet.number: sheet for sheet in document.sheets}
    seen = set()
    for row in rows:
        room = str(row["room"] or "")
        assert all(row[name] for name in ("system", "phase", "supplier")), row
        drawings = str(row["drawings"] or "").split(", ")
        if room in by_tag:
            assert row["storey"] == by_tag[room].storey
            assert {sheets[one].kind for one in drawings} == {"room plan"}
            assert {sheets[one].subject for one in drawings} == {by_tag[room].sheet}
            seen.add(row["system"])
    assert len(seen) >= 3


def test_what_stands_in_an_equipment_room_is_on_the_plans_of_its_storey() -> None:
    document = whole_document(PROJECTS / "us_customary")
    storeys = {room.tag: room.storey for room in document.equipment_rooms}
    rows = [row for row in document.takeoff if row.room in storeys]
    sheets = {sheet.number: (sheet.kind, sheet.subject) for sheet in document.sheets}
    assert rows
    for row in rows:
        storey = storeys[row.room]
        found = {sheets[one] for one in row.drawings(document)}
        assert found == {("floor plan", storey), ("ceiling plan", storey)}
