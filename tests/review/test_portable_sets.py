"""Rules about portable sets, and one microphone followed from the brief to the price."""

from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from proposal.review.finding import Finding
from proposal.review.radio import access_points_close
from tests.design.making import designed, project_of, with_layout
from tests.review.editing import PROJECTS, Edit, edited

GARDEN = "  garden: {portable: {P1: courtyard}}\n"
OVERFLOW = "  overflow: {portable: {P1: B002}}\n"


def of(folder: Path, *edits: tuple[str, str], more: dict[str, Edit] | None = None) -> Computed:
    return compute(
        load_project(edited(folder / "project", "portable", {"building.yaml": edits, **(more or {})}))
    )


def found(computed: Computed) -> dict[str, Finding]:
    return {one.rule: one for one in computed.findings if one.rule.startswith("portable-")}


def test_a_set_with_all_that_it_needs_has_no_finding(tmp_path: Path) -> None:
    assert found(of(tmp_path)) == {}


def test_a_place_without_an_outlet_is_an_error_where_a_set_takes_the_mains(tmp_path: Path) -> None:
    computed = of(tmp_path, ("at: [5 m, -30 m], outlet: true", "at: [5 m, -30 m], outlet: false"))
    said = found(computed)
    assert set(said) == {"portable-set-without-outlet"}
    error = said["portable-set-without-outlet"]
    assert (error.severity, error.where, error.value, error.limit) == ("error", "P1", 0, 1)
    assert "P1 stands in Courtyard" in error.message
    assert "or use it in B002 East room" in error.remedy
    assert (
        "outlet: false"
        in (tmp_path / "project" / "building.yaml").read_text().splitlines()[error.place.line - 1]
    )


def test_a_set_that_no_state_uses_and_a_place_that_none_does(tmp_path: Path) -> None:
    said = found(of(tmp_path, (OVERFLOW, ""), (GARDEN, "")))
    assert {rule: one.severity for rule, one in said.items()} == {
        "portable-set-never-used": "warning",
        "portable-place-never-used": "note",
    }
    assert said["portable-set-never-used"].where == "P1"


def test_two_sets_on_one_spot_are_an_error(tmp_path: Path) -> None:
    rooms = (PROJECTS / "portable" / "rooms.csv").read_text() + "P2,Second cart,cart,L0,19 m,1 m\n"
    computed = of(
        tmp_path,
        ("  P1: {charger: where it is kept}\n", "  P1: {charger: where it is kept}\n  P2: {}\n"),
        ("garden: {portable: {P1: courtyard}}", "garden: {portable: {P1: courtyard, P2: courtyard}}"),
        more={"rooms.csv": rooms},
    )
    error = found(computed)["portable-sets-on-one-spot"]
    assert (error.severity, error.where, error.value) == ("error", "P2", 2)
    assert "The state garden puts P1 and P2 on one spot of Courtyard." in error.message


def test_a_set_whose_devices_no_switch_joins_is_an_error(tmp_path: Path) -> None:
    computed = of(tmp_path, more={"room_types/cart.yaml": (("output: breakout", "output: mixer"),)})
    assert found(computed)["portable-set-without-switch"].severity == "error"
    # What is left is the lead from the mixer to the cart's loudspeaker, its one destination, analogue.
    own = [cable.identity for cable in computed.design.cables if cable.room == "P1"]
    assert own == ["P1-MX1/O1/speaker"]
    (mixer,) = [one for one in computed.design.devices if one.room == "P1" and one.kind == "mixer"]
    assert mixer.location == "cart"


def test_chargers_that_stay_behind_dock_nothing_in_breaks(tmp_path: Path) -> None:
    # From 9 to 16 with an hour's break: what is used in the break goes too, and nothing is charged.
    def day(folder: Path, *edits: tuple[str, str]) -> float:
        (one,) = of(folder, *edits).design.days["P1"]
        (group,) = one.groups
        return group.aged.lowest

    computed = of(tmp_path / "stays")
    (one,) = computed.design.days["P1"]
    (group,) = one.groups
    aged_wh = group.battery.energy * group.battery.aged_share
    share = computed.project.brief.rules.charging.in_use_share
    in_use_w = share * group.battery.in_use + (1 - share) * group.battery.idle
    used_wh = 6 * in_use_w + 1 * group.battery.idle
    full = computed.project.brief.rules.charging.full_at_start
    assert group.aged.lowest == pytest.approx(full - used_wh / aged_wh, abs=1e-6)
    goes = day(tmp_path / "goes", ("charger: where it is kept", "charger: with the set"))
    assert goes > group.aged.lowest


def test_one_microphone_from_the_brief_to_the_price(tmp_path: Path) -> None:
    computed = of(tmp_path)
    document = document_of(computed)
    assert [one.tag for one in document.devices if one.tag == "P1-M1"] == ["P1-M1"]
    (device,) = [one for one in document.devices if one.tag == "P1-M1"]
    assert len([one for one in document.channels if one.microphone == "P1-M1"]) == 1
    links = [(one.states, one.place) for one in document.portable_links if one.microphone == "P1-M1"]
    assert links == [(("overflow",), "B002 East room"), (("garden",), "Courtyard")]
    (bought,) = [one for one in document.takeoff if "P1-M1" in one.causes and one.section == "equipment"]
    assert (bought.item, bought.quantity) == (device.model, 4)
    (priced,) = [one for one in computed.price.lines if one.room == "P1" and one.kind == "microphone"]
    cost = computed.project.library.microphones[device.model].cost
    assert cost is not None
    assert (priced.item, priced.quantity) == (device.model, 4)
    assert priced.cost == 4 * cost.amount
    work = {one.task: one.hours for one in computed.labour.lines if one.room == "P1"}
    # 0.15 h each, as tasks.yaml of the shared library says.
    assert work["pair a microphone"] == Decimal("0.60")


def test_the_price_is_the_same_however_many_states_use_a_set(tmp_path: Path) -> None:
    def total(folder: Path, *edits: tuple[str, str]) -> Decimal:
        return of(folder, *edits).price.whole.total

    fete = GARDEN + "  fete: {portable: {P1: courtyard}}\n"
    three = total(tmp_path / "three", (GARDEN, fete))
    assert three == total(tmp_path / "two")
    # One place less is one place less in which the set is tried.
    assert three > total(tmp_path / "one", (OVERFLOW, ""))


def test_a_set_has_no_cable_to_a_rack_and_takes_no_port_of_a_switch(tmp_path: Path) -> None:
    computed = of(tmp_path)
    own = [cable for cable in computed.design.cables if cable.room == "P1"]
    # Two access points and a charger to the breakout; a lead from there to the cart's loudspeaker.
    ends = sorted((cable.start, cable.end, cable.signal) for cable in own)
    assert ends == [
        ("P1-AP1", "P1-BO1", "network"),
        ("P1-AP2", "P1-BO1", "network"),
        ("P1-BO1", "speaker", "analogue"),
        ("P1-CH1", "P1-BO1", "network"),
    ]
    taken = {
        port.tag
        for closet in computed.design.closets
        for switch in closet.switches
        for port in switch.ports.values()
    }
    assert not [tag for tag in taken if tag.startswith("P1-")]


def test_access_points_of_a_cart_that_stand_apart_as_far_as_is_said_are_not_told() -> None:
    project = project_of(PROJECTS / "portable")
    (one,) = access_points_close(project, designed(project))
    assert one.where == "P1-AP2"
    assert one.remedy == "Move P1-AP2 away by 3.0 m, to a mast of its own (access_points_at)."

    def told(apart_m: float) -> bool:
        spots = {"AP1": (0.5, 1.0), "AP2": (0.5 + apart_m, 1.0)}
        moved = with_layout(project, "cart", access_points_at=spots)
        return bool(list(access_points_close(moved, designed(moved))))

    assert (told(2.9), told(3.0)) == (True, False)
