"""Names in double braces in the author's prose, for which the document puts in what was computed."""

import re
from collections.abc import Mapping

from proposal.errors import Problem
from proposal.model.reading.text_files import place_at
from proposal.quantities.messages import wanted_one_of

PLACEHOLDERS: Mapping[str, str] = {
    "client": "who receives the proposal",
    "integrator": "who makes it",
    "rooms": "how many rooms there are, such as 10 rooms",
    "microphones": "how many microphones may be in use at once, such as 69 microphones",
    "spare_microphones": "how many spare microphones are kept, such as 13 spare microphones",
    "order_by": "the day of the order",
    "order_days": "sentences on until when an order is taken, and what each later day of it means",
    "acceptance": "the day of acceptance",
    "valid_until": "the last day on which the proposal holds",
    "warranty": "how long the work is warranted, such as 24 months",
    "mains_failure": "sentences on what goes on and what goes down when the mains fails",
    "standby_battery": "a sentence on when batteries of standby supplies are replaced; nothing without one",
}
"""What each name stands for."""
OF_THE_PRICE: Mapping[str, str] = {
    "price_before_tax": "the whole price before tax",
    "price_with_tax": "the whole price with tax",
    "tax_rates": "the rates of tax, such as 23 %",
    "untaxed": "what of the price before tax bears no tax",
}
"""The same in wording/price.md alone, which none reads but those who may read the price."""
PRICE_WORDING = "price"
_BRACES = re.compile(r"(?<!\\)\{\{([^{}\n]*)\}\}")

_MARKUP = re.compile(r"[\\`*_{}\[\]#!<>&|]")


def _as_text(sign: re.Match[str]) -> str:
    """Return a sign that Markdown might take as markup as one that it does not."""
    return f"&#{ord(sign[0])};"


def wrong_placeholders(text: str, name: str, file: str, problems: list[Problem]) -> None:
    """Add a problem for each name in double braces that stands for nothing.

    text: Markdown; name: of the prose; file: where it stands.
    """
    known = (*PLACEHOLDERS, *(OF_THE_PRICE if name == PRICE_WORDING else ()))
    for found in _BRACES.finditer(text):
        inside = found[1].strip()
        if inside in known:
            continue
        message = wanted_one_of(inside, known, "the name of a value")
        if inside in OF_THE_PRICE:
            message = f"wanted values of the price in wording/{PRICE_WORDING}.md alone; found {inside}"
        problems.append(Problem(place_at(text, found.start(1), file), "", message))


def filled(text: str, values: Mapping[str, str]) -> str:
    """Return prose with the values in place of their names, as text: no sign in them is markup.

    values: by name; what is not among them stays as it was typed.
    """

    def value(found: re.Match[str]) -> str:
        words = values.get(found[1].strip())
        return found[0] if words is None else _MARKUP.sub(_as_text, words)

    return _BRACES.sub(value, text)
