"""General conditions that are priced by what the design counts: each a line of its own, counted by hand."""

from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.estimate.price.general_counts import general_counts
from proposal.estimate.programme.work_calendar import work_calendars
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.links import WANTED
from proposal.model.labour.labour import SITE_PHASES, Phase
from proposal.model.loading import load_project
from proposal.model.price.commercial import CountedBy, Surcharge
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from tests.design.making import changed
from tests.exports.workbook.test_book import cells

FOLDER = Path(__file__).resolve().parents[2] / "projects" / "us_customary"
BY: tuple[CountedBy, ...] = ("room", "storey", "delivery", "room at height", "trade on site")
FIXES: tuple[Phase, ...] = ("first fix", "second fix")
EACH = Money(Decimal("37.35"), "USD")


@pytest.fixture(scope="module")
def computed() -> Computed:
    project = load_project(FOLDER)
    asked = {
        by.replace(" ", "_"): Surcharge(name=f"By {by}", each=EACH, by=by, covers=("lifts",)) for by in BY
    }
    return compute(changed(project, "brief.price.surcharges", asked))


def wanted(computed: Computed) -> dict[CountedBy, int]:
    library, rooms = computed.project.library, computed.project.rooms.values()
    makers = {library.entry(line.model).maker for line in computed.estimate.lines}
    high = {one.room for one in computed.labour.lines if "height of the work" in dict(one.additions)}
    trades = {one.trade for one in computed.labour.lines if one.phase in SITE_PHASES}
    return {
        "room": 4,
        "storey": len({room.storey for room in rooms}),
        "delivery": len(makers),
        "room at height": len(high),
        "trade on site": len(trades),
    }


@pytest.mark.independent
def test_each_is_counted_and_becomes_a_line_of_its_own(computed: Computed) -> None:
    counts = wanted(computed)
    assert counts["delivery"] > 1
    assert counts["room at height"] > 0
    assert counts["trade on site"] > 3
    lines = {line.item: line for line in computed.price.lines if line.group == "surcharge"}
    for by in BY:
        assert lines[by.replace(" ", "_")].cost == counts[by] * EACH.amount, by
    found = general_counts(
        computed.project, computed.price.lines, computed.labour, computed.estimate.purchases
    )
    assert found == counts


@pytest.mark.independent
def test_the_workbook_multiplies_the_input_by_the_count(computed: Computed) -> None:
    document = document_of(computed)
    edition = edition_of(document, "estimator")
    tables = [one for one in schedules(edition) if one.name in (*WANTED, "surcharges")]
    book = cells(workbook(edition, tables))
    formulas = {formula for sheet in book.values() for _, formula in sheet.values() if "_each" in formula}
    for by, count in wanted(computed).items():
        cells_of = f"ROUND(ROUND(in_price_surcharges_{by.replace(' ', '_')}_each,8),2)*'Surcharges'!$E$"
        (row,) = {one.removeprefix(cells_of) for one in formulas if one.startswith(cells_of)}
        assert book["Surcharges"][f"E{row}"] == (str(count), ""), by
    (left,) = [value for value, _ in book["Recap"].values() if value.startswith("In no line of their own")]
    assert "lifts" not in left
    assert "supervision, mobilization, delivery" in left


def test_time_on_site_is_priced_as_the_programme_has_it(computed: Computed) -> None:
    """A day of supervision, a week of storage, a phase to come to site."""
    brief = computed.project.brief
    asked = {
        "supervision": Surcharge(name="Supervision", each=EACH, by="day on site", covers=("supervision",)),
        "storage": Surcharge(name="Storage", each=EACH, by="week on site", phases=FIXES),
        "coming": Surcharge(name="Coming to site", each=EACH, by="phase on site"),
    }
    with_time = computed.again(
        changed(computed.project, "brief.price.surcharges", asked), computed.design, ()
    )
    tasks = [one for one in with_time.programme.tasks if one.kind in SITE_PHASES]
    site = work_calendars(brief.programme)["site"]
    days = {
        day
        for one in tasks
        for day in range(one.start.toordinal(), one.finish.toordinal() + 1)
        if site.works(day)
    }
    fixes = [one for one in tasks if one.kind in FIXES]
    whole = (max(one.finish for one in fixes) - min(one.start for one in fixes)).days + 1
    counts = {
        "supervision": len(days),
        "storage": -(-whole // 7),
        "coming": len({one.kind for one in tasks}),
    }
    assert min(counts.values()) > 1
    lines = {line.item: line.cost for line in with_time.price.lines if line.group == "surcharge"}
    assert lines == {key: count * EACH.amount for key, count in counts.items()}
    rows = {row.name: row for row in document_of(with_time).surcharges}
    assert rows["Storage"].count == counts["storage"]
    assert rows["Storage"].phases == FIXES


def test_other_hours_leave_the_time_that_is_charged_until_all_is_computed_anew(computed: Computed) -> None:
    asked = {"supervision": Surcharge(name="Supervision", each=EACH, by="day on site")}
    base = computed.again(changed(computed.project, "brief.price.surcharges", asked), computed.design, ())
    longer = changed(base.project, "brief.programme.hours_a_day", Decimal(4))
    held, anew = base.with_same_equipment(longer), compute(longer)

    def cost(one: Computed) -> Decimal:
        return next(line.cost for line in one.price.lines if line.group == "surcharge")

    assert cost(held) == cost(base)
    assert cost(anew) > cost(base)


def test_phases_belong_to_time_on_site() -> None:
    from pydantic import ValidationError

    with pytest.raises(ValidationError, match="day on site, week on site, phase on site beside phases"):
        Surcharge(name="Lifts", each=EACH, by="storey", phases=("first fix",))
    with pytest.raises(ValidationError, match=r"wanted phases of work on site: first fix, .*found documents"):
        Surcharge(name="Supervision", each=EACH, by="day on site", phases=("documents",))


def test_a_count_without_an_amount_is_refused() -> None:
    from pydantic import ValidationError

    with pytest.raises(ValidationError, match=r"wanted each beside by, such as .*; found none"):
        Surcharge(name="Lifts", amount=EACH, by="storey")
    with pytest.raises(ValidationError, match="one of a share, an amount, each and share_of_sum"):
        Surcharge(name="Lifts", amount=EACH, each=EACH)
