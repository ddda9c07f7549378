"""Whole projects in currencies with two, no and three decimals: one building in euros, yen and dinars.

The shared library is priced in euros and the project's own in dollars, so that most amounts are converted.
Rates and prices are invented.
"""

import shutil
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BUILDING = ROOT / "tests" / "projects" / "us_customary"
CURRENCIES = ("EUR", "JPY", "KWD")
PLACES = {"EUR": 2, "JPY": 0, "KWD": 3}
LOCALES = {"EUR": "de_DE", "JPY": "ja_JP", "KWD": "en_US"}
RATES = {
    "EUR": {"USD": "0.9137", "SEK": "0.08853"},
    "JPY": {"EUR": "163.27", "USD": "149.183", "SEK": "14.4531"},
    "KWD": {"EUR": "0.33417", "USD": "0.307713", "SEK": "0.0295841"},
}
# The same sums in each currency, to its last place.
AMOUNTS = {
    "EUR": {"permit": "640.55", "signs": "850.25", "credit": "-1234.55", "hour": "61.35"},
    "JPY": {"permit": "104583", "signs": "138821", "credit": "-201565", "hour": "10017"},
    "KWD": {"permit": "214.053", "signs": "284.129", "credit": "-412.555", "hour": "20.501"},
}

COMMERCIAL = """
labour:
  project_conditions: [access]
  overtime: 7 %
price:
  client_detail: system
  yearly: {{K34146: {signs} {currency}}}
  changes:
    devices: {{K40874: {permit} {currency}}}
    hours: {{installer: {hour} {currency}}}
  rules:
    models: {{EX-20417: {{discount: 12 %}}}}
    kinds: {{microphone: {{margin: 28 %}}}}
    groups: {{materials: {{markup: 40 %}}, travel: {{markup: 10 %}}}}
    rest: {{margin: 26 %}}
  surcharges:
    freight: {{name: Freight, share: 2.7 %, of: [equipment, materials], rule: {{markup: 8 %}}}}
    permits: {{name: Permits, amount: {permit} {currency}, tax_kind: exempt}}
    contingency: {{name: Contingency, share: 3.3 %, spread: yes}}
  allowances:
    desks: {{name: Cut-outs in desks, price: 52001.00 SEK, room: C101}}
    signs: {{name: Signs, price: {signs} {currency}}}
    credit: {{name: Credit for equipment handed back, price: {credit} {currency}, room: C201}}
  taxes:
    county: {{name: Sales tax, goods: 7.25 %, services: 3.5 %}}
    annex: {{name: Annex tax, goods: 0 %, services: 11.75 %}}
  place: county
  places: {{C102: annex}}
  shared_items: {shared}
  payments:
    1: {{name: On order, share: 33.3 %, event: order}}
    2: {{name: On delivery, share: 33.3 %, event: delivery, days: 14}}
    3: {{name: On acceptance, share: 33.4 %, event: accepted}}
  retention: 5 %
"""
LIBRARY = """
source: editable default (invented)
chargers:
  K34146: {yearly_cost: 33.33 USD}
  K40874: {yearly_cost: 44.44 USD}
"""
ALTERNATES = {
    # Deductive.
    "one_room_less": """
name: Two rooms and the boardroom
description: Less is built.
changes: {rooms: {C103: null}}
""",
    "more_spares": """
name: More spares
description: More is charged.
changes: {room_types: {boardroom: {spare_microphones: {boundary: 3}}}}
""",
}


def money_project(folder: Path, currency: str, shared_items: str = "shared out") -> Path:
    """Return a new project folder in a currency.

    shared_items: `shared out` or `building group`.
    """
    shutil.copytree(BUILDING, folder)
    written = (folder / "project.yaml").read_text("utf-8")
    head, _, _ = written.partition("terms:")
    rates = "".join(
        f'    {code}: {{rate: "{rate}", date: 2031-05-30, source: Invented table}}\n'
        for code, rate in RATES[currency].items()
    )
    head = head.replace("currency: USD", f"currency: {currency}")
    head = head.replace("locale: en_US", f"locale: {LOCALES[currency]}")
    commercial = COMMERCIAL.format(currency=currency, shared=shared_items, **AMOUNTS[currency])
    (folder / "project.yaml").write_text(f"{head}terms:\n  exchange:\n{rates}{commercial}", "utf-8")
    (folder / "library" / "yearly.yaml").write_text(LIBRARY, "utf-8")
    (folder / "alternates").mkdir()
    for name, text in ALTERNATES.items():
        (folder / "alternates" / f"{name}.yaml").write_text(text, "utf-8")
    return folder
