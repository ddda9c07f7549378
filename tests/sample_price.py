"""Labour and price of one room of the sample document, computed by hand.

Two access points at 1,480.00 with a margin of 20 % are 1,850.00 each. Work is charged by three lines and two
days of travel. VAT in Sampleton is 20 % on goods and 10 % on services, rounded line by line.
"""

import datetime
from decimal import Decimal
from typing import Any, TypeVar

from proposal.document.rows.disclosure import DisclosureRow
from proposal.document.rows.findings import FindingRow
from proposal.document.rows.labour import (
    ConditionRow,
    HoursSum,
    LabourRow,
    PhaseHours,
    RoomHours,
    SystemHours,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.document.rows.price import (
    ExchangeRow,
    GroupPrice,
    OfferRow,
    PaymentRow,
    PhasePrice,
    PriceSum,
    PriceTotal,
    RoomPrice,
    SystemPrice,
    TaxRow,
    UnitPriceRow,
    YearlyRow,
)
from proposal.document.rows.price_build_up import CashRow, PriceLineRow, SurchargeRow, UnitCostRow
from proposal.document.rows.price_inputs import PriceInputRow

D = Decimal
ROOM, CABLE = "B101", "NC-6A-24"
RADIO, NETWORK, SERVICES = "microphones and radio", "network and cabling", "services"
MANAGEMENT, FIRST, SECOND = "project management", "first fix", "second fix"


def labour_parts(unkind: str) -> dict[str, Any]:
    """Return the labour of the sample document, by field.

    unkind: a text as an unkind author types it, in the name of a task.
    """
    return {
        "labour": (
            LabourRow(
                number="H1",
                task="Management, coordination and meetings",
                trade="Project manager",
                phase=MANAGEMENT,
                system=SERVICES,
                units=D("2.46"),  # lines of first and second fix
                unit="h",
                hours_a_unit=D("0.1"),
                group_factor=D(1),
                hours=D("0.25"),
                charged_hours=D("0.25"),
                causes=("pull data cable", "install an access point"),
            ),
            LabourRow(
                number="H2",
                task="Data cable pulled",
                trade="Cable installer",
                phase=FIRST,
                room=ROOM,
                storey="L1",
                system=NETWORK,
                units=D("42.5"),
                unit="m",
                hours_a_unit=D("0.03609"),
                group_factor=D("0.85"),
                hours=D("1.30"),  # 42.5 · 0.03609 · 0.85 = 1.3037
                charged_hours=D("4.00"),
                causes=(f"{ROOM}-AP1/N1/ER2-RK1", f"{ROOM}-BO1/N1/ER2-RK1"),
            ),
            LabourRow(
                number="H3",
                task=f"Access point mounted {unkind}",
                trade="Installer",
                phase=SECOND,
                room=ROOM,
                storey="L1",
                system=RADIO,
                model="QA-4",
                units=D(1),
                unit="each",
                hours_a_unit=D("1.25"),
                group_factor=D(1),
                additions=(("height of the work", D("0.08")), ("repeated room", D("-0.15"))),
                hours=D("1.16"),  # 1.25 · 0.93 = 1.1625
                charged_hours=D("1.22"),
                causes=(f"{ROOM}-AP1",),
            ),
        ),
        "labour_summary": (
            TradeHoursRow(
                phase=MANAGEMENT,
                trade="Project manager",
                line_hours=D("0.25"),
                hours=D("0.25"),
                cost=D("14.50"),
                price=D("22.00"),
            ),
            TradeHoursRow(
                phase=FIRST,
                trade="Cable installer",
                line_hours=D("1.30"),
                factors=(("Long ways for people and material", D("1.05")),),
                call_hours=D("2.63"),  # 4 less 1.37
                hours=D("4.00"),
                overtime_hours=D("0.40"),
                person_days=1,
                cost=D("151.20"),  # 4 · 36.00 and 0.40 · 18.00
                price=D("226.80"),
            ),
            TradeHoursRow(
                phase=SECOND,
                trade="Installer",
                line_hours=D("1.16"),
                factors=(("Long ways for people and material", D("1.05")),),
                hours=D("1.22"),
                person_days=1,
                cost=D("47.58"),
                price=D("70.76"),
            ),
        ),
        "travel": (
            TravelRow(trade="Cable installer", days=1, hours=D("1.00"), cost=D("64.00"), price=D("84.80")),
            TravelRow(trade="Installer", days=1, hours=D("1.00"), cost=D("67.00"), price=D("88.80")),
        ),
        "trades": (
            _trade("Project manager", 1, "0.25", "58.00", "88.00"),
            _trade("Cable installer", 4, "5.00", "36.00", "54.00", call="4"),
            _trade("Installer", 2, "2.22", "39.00", "58.00"),
        ),
        "hours_by_room": (_hours(RoomHours, ROOM, "5.22"), _hours(RoomHours, "", "2.25")),
        "hours_by_system": (
            _hours(SystemHours, RADIO, "1.22"),
            _hours(SystemHours, NETWORK, "4.00"),
            _hours(SystemHours, SERVICES, "2.25"),
        ),
        "hours_by_phase": (
            _hours(PhaseHours, MANAGEMENT, "0.25"),
            _hours(PhaseHours, FIRST, "4.00"),
            _hours(PhaseHours, SECOND, "1.22"),
            _hours(PhaseHours, "travel", "2.00"),
        ),
        "labour_conditions": (
            ConditionRow(
                name="Long ways for people and material",
                scope="the whole project",
                effect="multiplies the summary",
                addition=D("0.05"),
                phases=(FIRST, SECOND),
                source="common practice",
            ),
            ConditionRow(
                name="repeated room",
                scope="further rooms of a kind",
                effect="added to lines",
                addition=D("-0.15"),
                phases=(FIRST, SECOND),
                source="common practice",
            ),
        ),
        "labour_hours": D("7.47"),
    }


def _trade(name: str, crew: int, hours: str, cost: str, selling: str, call: str = "0") -> TradeRow:
    return TradeRow(
        trade=name,
        crew=crew,
        minimum_call_hours=D(call),
        hours=D(hours),
        source="editable default (invented)",
        cost=D(cost),
        selling=D(selling),
        rule="rate",
        rule_value=D(selling),
    )


H = TypeVar("H", bound=HoursSum)
P = TypeVar("P", bound=PriceSum)


def _hours(row: type[H], key: str, hours: str) -> H:
    return row(key=key, hours=D(hours))


def price_parts(unkind: str) -> dict[str, Any]:
    """Return the price of the sample document, by field.

    unkind: a text as an unkind author types it, in the name of an allowance and in the prose.
    """
    allowance = f"Table boxes {unkind}"
    return {
        "price_wording": f"What we offer is **firm**.\n\n{unkind}\n",
        "price": PriceTotal(
            currency="EUR",
            price=D("4757.34"),
            tax=D("896.23"),
            total=D("5653.57"),
            room_view="building group",
            client_detail="line",
            retention=D("0.05"),
            cost=D("3866.82"),
            reserve=D("0.00"),
            margin=D("890.52"),
        ),
        "offer": _offer(allowance),
        "room_prices": (
            _sum(RoomPrice, ROOM, "4491.67", "869.66", "3654.85"),
            _sum(RoomPrice, "", "265.67", "26.57", "211.97"),
        ),
        "system_prices": (
            _sum(SystemPrice, RADIO, "3770.76", "747.08", "3007.58"),
            _sum(SystemPrice, NETWORK, "220.91", "22.58", "147.27"),
            _sum(SystemPrice, SERVICES, "765.67", "126.57", "711.97"),
        ),
        "phase_prices": (
            _sum(PhasePrice, MANAGEMENT, "81.27", "8.13", "73.77"),
            _sum(PhasePrice, FIRST, "231.71", "23.66", "154.47"),
            _sum(PhasePrice, SECOND, "4270.76", "847.08", "3507.58"),
            _sum(PhasePrice, "travel", "173.60", "17.36", "131.00"),
        ),
        "group_prices": (
            _sum(GroupPrice, "equipment", "3700.00", "740.00", "2960.00"),
            _sum(GroupPrice, "materials", "4.91", "0.98", "3.27"),
            _sum(GroupPrice, "labour", "319.56", "31.96", "213.28"),
            _sum(GroupPrice, "travel", "173.60", "17.36", "131.00"),
            _sum(GroupPrice, "surcharge", "59.27", "5.93", "59.27"),
            _sum(GroupPrice, "allowance", "500.00", "100.00", "500.00"),
        ),
        "taxes": (
            TaxRow(
                place="Sampleton",
                name="VAT",
                kind="goods",
                rate=D("0.2"),
                price=D("4204.91"),
                tax=D("840.98"),
            ),
            TaxRow(
                place="Sampleton",
                name="VAT",
                kind="services",
                rate=D("0.1"),
                price=D("552.43"),
                tax=D("55.25"),
            ),
        ),
        "payments": _payments(),
        "unit_prices": (
            UnitPriceRow(
                to="device",
                item="QA-4",
                description="Access point, 4 channels",
                price=D("1940.00"),
            ),
            UnitPriceRow(to="hour", description="Installer", price=D("65.00")),
        ),
        "price_inputs": (
            PriceInputRow(
                key="library.QA-4.cost", what="cost", subject="QA-4", value=D("1350.00"), unit="EUR", per=D(2)
            ),
        ),
        "unit_costs": (
            UnitCostRow(
                to="device",
                item="QA-4",
                description="Access point, 4 channels",
                hours=D("1.25"),
                supply=D("1850.00"),
                work=D("72.50"),
                computed=D("1922.50"),
                stated=D("1940.00"),
            ),
            UnitCostRow(
                to="ends of a cable",
                item=CABLE,
                description="Category 6A, screened, 23 AWG",
                hours=D("0.41"),
                work=D("22.14"),
                computed=D("22.14"),
            ),
            UnitCostRow(
                to="hour",
                description="Installer",
                hours=D(1),
                work=D("58.00"),
                computed=D("58.00"),
                stated=D("65.00"),
            ),
        ),
        "yearly": (
            YearlyRow(
                item="TM-16",
                description="Automatic mixer, 16 inputs",
                quantity=1,
                unit_price=D("125.00"),
                price=D("125.00"),
                unit_cost=D("90.00"),
                computed=D("120.00"),
            ),
        ),
        "exchange_rates": (
            ExchangeRow(
                currency="CHF", rate=D("1.0635"), date=datetime.date(2026, 2, 27), source="Sample Bank"
            ),
        ),
        "price_lines": _lines(allowance),
        "surcharges": (
            SurchargeRow(
                name="Freight",
                share=D("0.02"),
                of=("equipment", "materials"),
                way="a line of its own",
                cost=D("59.27"),
                price=D("59.27"),
            ),
        ),
        "cash_flow": _cash(allowance),
        "disclosure": (
            DisclosureRow(
                about="margin of the whole price", value=18.72, low=3.1, high=27.44, unit="%", enough=True
            ),
            DisclosureRow(
                about="margin of More spare microphones",
                key="more_spares",
                value=20.0,
                low=18.5,
                high=21.25,
                unit="%",
            ),
            DisclosureRow(about="all hours", value=7.47, low=4.67, high=11.95, unit="h", enough=True),
        ),
        "house_findings": (
            FindingRow(
                number="FP1",
                rule="client-can-compute",
                severity="warning",
                where="more_spares",
                place="project.yaml:40:1",
                message="A client who knows the shared library can work out the margin of More spare "
                "microphones (20.0 %) as 18.5 to 21.3 %.",
                value=3.0,
                limit=2.0,
                unit="figures",
                source="editable default",
                remedy="State selling prices of your own.",
                accepted="They are sold by the piece (E. Estimator, 2026-03-10)",
            ),
        ),
    }


def _sum(row: type[P], key: str, price: str, tax: str, cost: str) -> P:
    return row(
        key=key,
        price=D(price),
        tax=D(tax),
        total=D(price) + D(tax),
        cost=D(cost),
        reserve=D("0.00"),
        margin=D(price) - D(cost),
    )


def _offer(allowance: str) -> tuple[OfferRow, ...]:
    def lot(number: str, room: str, description: str, price: str, tax: str) -> OfferRow:
        return OfferRow(
            number=number,
            room=room,
            group="lump",
            description=description,
            quantity=D(1),
            unit="lot",
            unit_price=D(price),
            price=D(price),
            tax=D(tax),
        )

    rest = "Materials, work and all that is not listed"

    return (
        OfferRow(
            number="C1",
            room=ROOM,
            group="equipment",
            system=RADIO,
            description="Access point, 4 channels",
            item="QA-4",
            quantity=D(2),
            unit="each",
            unit_price=D("1850.00"),
            price=D("3700.00"),
            tax=D("740.00"),
        ),
        OfferRow(
            number="C2",
            room=ROOM,
            group="allowance",
            system=SERVICES,
            description=allowance,
            quantity=D(1),
            unit="each",
            unit_price=D("500.00"),
            price=D("500.00"),
            tax=D("100.00"),
        ),
        lot("C3", ROOM, rest, "291.67", "29.66"),
        lot("C4", "", rest, "265.67", "26.57"),
    )


def _payments() -> tuple[PaymentRow, ...]:
    """Return 40 % on order and 60 % on acceptance, 5 % of each kept for 90 days.

    40 % of 4,757.34 are 1,902.936 and 60 % are 2,854.404: the cent left over goes to the larger remainder.
    """
    accepted = datetime.date(2026, 4, 10)
    return (
        PaymentRow(
            number="1",
            name="On order",
            share=D("0.4"),
            event="order",
            days=14,
            price=D("1902.94"),
            tax=D("358.49"),
            retained=D("113.07"),
            due=D("2148.36"),
            event_date=datetime.date(2026, 3, 16),
            due_date=datetime.date(2026, 3, 30),
        ),
        PaymentRow(
            number="2",
            name="On acceptance",
            share=D("0.6"),
            event="accepted",
            days=30,
            price=D("2854.40"),
            tax=D("537.74"),
            retained=D("169.61"),
            due=D("3222.53"),
            event_date=accepted,
            due_date=datetime.date(2026, 5, 10),
        ),
        PaymentRow(
            number="retention",
            name="Retention",
            event="accepted",
            days=90,
            due=D("282.68"),
            event_date=accepted,
            due_date=datetime.date(2026, 7, 9),
        ),
    )


def _lines(allowance: str) -> tuple[PriceLineRow, ...]:
    def work(
        number: str, group: str, trade: str, room: str, phase: str, hours: str, rates: tuple[str, str],
        amounts: tuple[str, str, str], *, kind: str = "hours", system: str = SERVICES, unit: str = "h",
        rule: tuple[str, str] | None = None,
    ) -> PriceLineRow:  # fmt: skip
        return PriceLineRow(
            number=number,
            group=group,
            kind=kind,
            description=trade,
            room=room,
            system=system,
            phase=phase,
            quantity=D(hours),
            unit=unit,
            unit_cost=D(rates[0]),
            cost=D(amounts[0]),
            rule=rule[0] if rule else "rate",
            rule_value=D(rule[1] if rule else rates[1]),
            reserve=D("0.00"),
            unit_price=D(rates[1]),
            price=D(amounts[1]),
            tax_kind="services",
            tax_place="Sampleton",
            tax_rate=D("0.1"),
            tax=D(amounts[2]),
        )

    cable, fitter, on_way = "Cable installer", "Installer", ("markup", "0.1")
    return (
        PriceLineRow(
            number="P1",
            group="equipment",
            kind="access point",
            item="QA-4",
            description="Access point, 4 channels",
            room=ROOM,
            system=RADIO,
            phase=SECOND,
            quantity=D(2),
            unit="each",
            unit_cost=D("1480.00"),
            cost=D("2960.00"),
            list_price=D("2960.00"),
            rule="stated",
            rule_value=D("1850.00"),
            reserve=D("0.00"),
            unit_price=D("1850.00"),
            price=D("3700.00"),
            tax_kind="goods",
            tax_place="Sampleton",
            tax_rate=D("0.2"),
            tax=D("740.00"),
            causes=(f"{ROOM}-AP1",),
        ),
        PriceLineRow(
            number="P2",
            group="materials",
            kind="cable",
            item=CABLE,
            description="Category 6A, screened, 23 AWG",
            room=ROOM,
            system=NETWORK,
            phase=FIRST,
            quantity=D("2.975"),
            unit="m",
            unit_cost=D("1.10"),
            cost=D("3.27"),
            list_price=D("2.20"),
            rule="markup",
            rule_value=D("0.5"),
            reserve=D("0.00"),
            unit_price=D("1.65"),
            price=D("4.91"),
            tax_kind="goods",
            tax_place="Sampleton",
            tax_rate=D("0.2"),
            tax=D("0.98"),
            causes=(f"{ROOM}-AP1/N1/ER2-RK1",),
        ),
        work("P3", "labour", cable, ROOM, FIRST, "4.00", ("36.00", "54.00"), ("144.00", "216.00", "21.60"),
             system=NETWORK),
        work("P4", "labour", cable, "", FIRST, "0.40", ("18.00", "27.00"), ("7.20", "10.80", "1.08"),
             kind="overtime", rule=("rate", "54.00")),
        work("P5", "labour", fitter, ROOM, SECOND, "1.22", ("39.00", "58.00"), ("47.58", "70.76", "7.08"),
             system=RADIO),
        work("P6", "labour", "Project manager", "", MANAGEMENT, "0.25", ("58.00", "88.00"),
             ("14.50", "22.00", "2.20")),
        work("P7", "travel", cable, "", "travel", "1.00", ("36.00", "54.00"), ("36.00", "54.00", "5.40")),
        work("P8", "travel", cable, "", "travel", "1", ("28.00", "30.80"), ("28.00", "30.80", "3.08"),
             kind="expenses", unit="day", rule=on_way),
        work("P9", "travel", fitter, "", "travel", "1.00", ("39.00", "58.00"), ("39.00", "58.00", "5.80")),
        work("P10", "travel", fitter, "", "travel", "1", ("28.00", "30.80"), ("28.00", "30.80", "3.08"),
             kind="expenses", unit="day", rule=on_way),
        work("P11", "surcharge", "Freight", "", MANAGEMENT, "1", ("59.27", "59.27"),
             ("59.27", "59.27", "5.93"), kind="surcharge", unit="each", rule=("markup", "0")),
        work("P12", "allowance", allowance, ROOM, SECOND, "1", ("500.00", "500.00"),
             ("500.00", "500.00", "100.00"), kind="allowance", unit="each", rule=("stated", "500.00"),
             ).model_copy(update={"tax_kind": "goods", "tax_rate": D("0.2")}),
    )  # fmt: skip


def _cash(allowance: str) -> tuple[CashRow, ...]:
    def row(month: int, day: int, what: str, incoming: str, outgoing: str, balance: str) -> CashRow:
        return CashRow(
            date=datetime.date(2026, month, day),
            what=what,
            incoming=D(incoming) if incoming else None,
            outgoing=D(outgoing) if outgoing else None,
            balance=D(balance),
        )

    return (
        row(3, 27, "Materials", "", "3.27", "-3.27"),
        row(3, 30, "Tax on “On order”, passed on", "", "358.49", "-361.76"),
        row(3, 30, "On order", "2148.36", "", "1786.60"),
        row(4, 2, "Equipment", "", "2960.00", "-1173.40"),
        row(4, 2, "Freight", "", "59.27", "-1232.67"),
        row(4, 3, "Work: first fix", "", "151.20", "-1383.87"),
        row(4, 8, "Work: second fix", "", "47.58", "-1431.45"),
        row(4, 8, f"Allowance: {allowance}", "", "500.00", "-1931.45"),
        row(4, 8, "Travel", "", "131.00", "-2062.45"),
        row(4, 10, "Work: project management", "", "14.50", "-2076.95"),
        row(5, 10, "Tax on “On acceptance”, passed on", "", "537.74", "-2614.69"),
        row(5, 10, "On acceptance", "3222.53", "", "607.84"),
        row(7, 9, "Retention", "282.68", "", "890.52"),
    )
