"""Values that the author's prose names in double braces."""

from pathlib import Path

import pytest

from proposal.errors import Problem
from proposal.model.wording.placeholders import OF_THE_PRICE, PLACEHOLDERS, filled, wrong_placeholders


def said(text: str, name: str = "summary") -> list[str]:
    problems: list[Problem] = []
    wrong_placeholders(text, name, f"wording/{name}.md", problems)
    return [str(one) for one in problems]


def test_an_unknown_name_is_an_error_with_its_line_and_column() -> None:
    text = "One.\n\nAccepted on {{ acceptence }} by {{client}}.\n"
    (one,) = said(text)
    assert one.startswith("wording/summary.md:3:15: wanted the name of a value: one of client, integrator")
    assert one.endswith("found acceptence (did you mean acceptance?)")


def test_values_of_the_price_stand_in_its_own_text_alone() -> None:
    assert said("It bears {{tax_rates}}.", "price") == []
    (one,) = said("It bears {{tax_rates}}.", "scope")
    assert "wanted values of the price in wording/price.md alone; found tax_rates" in one


@pytest.mark.parametrize("text", ["{{}}", "{{ client.name }}", "{{ 1 + 1 }}", "{{ client | upper }}"])
def test_nothing_is_computed_in_braces(text: str) -> None:
    assert len(said(text)) == 1
    assert filled(text, {"client": "Anyshire"}) == text


def test_what_is_no_name_in_braces_stays_as_it_was_typed() -> None:
    for text in (r"\{{client}}", "{client}", "{{client", "{{cli\nent}}"):
        assert said(text) == []
        assert filled(text, {"client": "Anyshire"}) == text


def test_a_value_is_text_and_no_markup() -> None:
    assert filled("For {{client}}.", {"client": "*A* <b> & [c](d)"}) == (
        "For &#42;A&#42; &#60;b&#62; &#38; &#91;c&#93;(d)."
    )


def test_no_name_stands_for_two_values() -> None:
    assert not set(PLACEHOLDERS) & set(OF_THE_PRICE)


def test_the_manual_lists_every_name() -> None:
    manual = (Path(__file__).resolve().parents[3] / "docs" / "wording.md").read_text(encoding="utf-8")
    rows = {f"| `{{{{{name}}}}}` | {meaning} |" for name, meaning in {**PLACEHOLDERS, **OF_THE_PRICE}.items()}
    assert rows <= set(manual.splitlines())
