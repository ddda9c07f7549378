"""The author's prose tells what the design comes to, and follows it."""

from proposal.document.making.document import document_of
from proposal.document.making.prose_values import price_values, prose_values, with_values
from proposal.document.rows.standby import RoomWithoutMainsRow
from proposal.model.wording.placeholders import OF_THE_PRICE, PLACEHOLDERS
from tests.test_projects import EXAMPLE, computed


def test_every_name_has_a_value() -> None:
    document = document_of(computed(EXAMPLE))
    assert document.price is not None
    assert set(prose_values(document)) == set(PLACEHOLDERS)
    assert set(price_values(document, document.price)) == set(OF_THE_PRICE)


def test_the_example_tells_its_own_figures() -> None:
    # 31 + 2 × 8 + 6 × 3 + 4 microphones; 24 months of warranty, and the rate of tax, stand in project.yaml.
    document = document_of(computed(EXAMPLE))
    assert document.price is not None
    values = prose_values(document)
    assert (values["microphones"], values["rooms"], values["warranty"]) == (
        "69 microphones",
        "10 rooms",
        "24 months",
    )
    assert values["order_by"] == "19 May 2031"
    assert price_values(document, document.price)["tax_rates"] == "23 %"
    assert price_values(document, document.price)["untaxed"] == "€640.00"
    assert "for 24 months from acceptance" in document.wording["warranty"]
    assert "€640.00" in document.price_wording
    assert not any("{{" in words for words in (*document.wording.values(), document.price_wording))


def test_what_goes_down_with_the_mains_follows_the_design() -> None:
    document = document_of(computed(EXAMPLE))
    told = document.wording["system"]
    assert (
        "In Assembly Chamber and Meeting Room 1 to Meeting Room 6 everything stops until the mains is back."
        in told
    )
    assert "while loudspeakers, chargers and your own equipment stop." in told
    # The codec of the training room stands in the equipment room, and goes down there.
    assert "while loudspeakers and your own equipment stop." in told
    (supply,) = document.standby_supplies
    assert supply.full_min is not None
    assert (
        f"for about {supply.lasts_min:.0f} minutes at the usual load and {supply.full_min:.0f} minutes"
        in told
    )
    asked = {"summary": "{{mains_failure}}|{{standby_battery}}"}
    kept = RoomWithoutMainsRow(
        place="A001", keeps="all stays up", lasts_min=12.0, stays=("A001-AP1", "A001-MX1"), goes=()
    )
    gone = kept.model_copy(update={"place": "A101", "keeps": "all goes down", "stays": (), "lasts_min": None})
    without = {"standby_supplies": (), "wording": asked}
    changed = with_values(document.model_copy(update={**without, "rooms_without_mains": (kept, gone)}))
    assert changed.wording["summary"] == (
        "In Assembly Chamber the standby supply keeps access points and mixers going for about 12 "
        "minutes. In Committee Room 1 everything stops until the mains is back.|"
    )
