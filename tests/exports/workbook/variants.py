"""A small building priced in ways that the example is not: two taxes, overtime by phase, time on site."""

from decimal import Decimal
from pathlib import Path

from proposal.model.labour.labour_choices import OvertimeWork
from proposal.model.loading import load_project
from proposal.model.price.commercial import Surcharge, Tax
from proposal.model.price.selling import ClientDetail
from proposal.model.project import Project
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from tests.design.making import changed

FOLDER = Path(__file__).resolve().parents[2] / "projects" / "us_customary"


def variant(detail: ClientDetail, shared_items: str) -> Computed:
    """Return the building, told to the client in one of the ways there are.

    detail, shared_items: of the price, as the project writes them.
    """
    project = load_project(FOLDER)
    rooms = sorted(project.rooms)
    stated = next(entry.model for entry in project.library.entries() if entry.kind == "access_point")
    for key, value in {
        "price.client_detail": detail,
        "price.shared_items": shared_items,
        "price.tax_exemption": None,
        "price.taxes": {
            "A": Tax(name="A tax", goods=0.2, services=0.05),
            "B": Tax(name="B tax", goods=0.1, services=0.1),
        },
        "price.place": "A",
        "price.places": {rooms[1]: "B", rooms[-1]: "B"},
        "price.selling": {stated: Money(Decimal("777.00"), "USD")},
        "price.surcharges": {
            "supervision": Surcharge(name="Supervision", each=_money("123.45"), by="day on site"),
            "storage": Surcharge(
                name="Storage", each=_money("87.65"), by="week on site", phases=("first fix", "second fix")
            ),
            "permits": Surcharge(name="Permits", amount=_money("333.35")),
            "contingency": Surcharge(name="Contingency", share=0.03, spread=True),
        },
        "labour.overtime": 0.0,
        "labour.overtime_work": {
            "evenings": OvertimeWork(name="Evenings", phases=("second fix",), rooms=tuple(rooms[:2])),
            "nights": OvertimeWork(name="Nights", phases=("first fix", "second fix"), share=0.25),
        },
    }.items():
        project = _changed(project, f"brief.{key}", value)
    return compute(project)


def _changed(project: Project, key: str, value: object) -> Project:
    return changed(project, key, value)


def _money(amount: str) -> Money:
    return Money(Decimal(amount), "USD")
