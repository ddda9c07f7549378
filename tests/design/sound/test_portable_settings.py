"""What is set at a cart in each state: its access point is on where it is used, and its chargers go along."""

from proposal.design.sound.portable_settings import portable_settings
from tests.review.requirements.test_municipal import computed


def test_an_access_point_is_on_where_its_set_is_used_and_off_where_it_is_put_away() -> None:
    design = computed().design
    told = portable_settings(design.project, design.devices)
    assert told["P1-AP1"] == (
        ("In the state everyday", "on, at Courtyard"),
        ("In the state joined", "off: the set is put away"),
        ("In the state budget-hearing", "off: the set is put away"),
        ("In the state cart-indoors", "on, at C102 Committee Room"),
    )
    assert set(told) == {"P1-AP1", "P1-CH1", "P1-CH2"}
    assert told["P1-CH1"][0] == ("In the state everyday", "on an outlet at Courtyard")
    assert told["P1-CH1"][1] == ("In the state joined", "on an outlet where the set is kept")


def test_they_stand_on_the_configuration_sheets() -> None:
    steps = {(one.device, one.name): one.value for one in computed().design.settings}
    assert steps["P1-AP1", "In the state joined"] == "off: the set is put away"


def test_everything_of_a_cart_stands_on_the_cart() -> None:
    devices = {one.tag: one.location for one in computed().design.devices if one.room == "P1"}
    assert {devices[tag] for tag in ("P1-AP1", "P1-BO1", "P1-CH1", "P1-CH2")} == {"cart"}
