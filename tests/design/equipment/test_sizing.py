"""Sizes of rooms: the trade's rules, the designer's own choice, the switch inside a breakout."""

import itertools
from decimal import Decimal

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.equipment.built_in_switch import fits_on
from proposal.design.equipment.sizing import Sizing, size_room, slots_needed, slots_usable
from proposal.model.equipment.devices import Breakout, Charger
from proposal.model.project import FixedDevice, FixedRoom, Project
from proposal.model.rooms import Destination
from proposal.quantities.money import Money
from tests.design.making import changed, designed, minimal, with_layout, with_microphones

FORMS = ("handheld", "bodypack", "boundary", "gooseneck")


def sizing_of(project: Project, fixed: FixedRoom | None = None) -> Sizing:
    return size_room(project, project.room_types["meeting"], fixed or FixedRoom())


def boxes_of(sizing: Sizing, kind: str) -> dict[str, int]:
    size = sizing.size(kind)
    assert size is not None
    return dict(size.boxes)


@pytest.mark.published
@pytest.mark.parametrize(
    ("form", "count", "slots"),
    [("gooseneck", 1, 2), ("gooseneck", 4, 8), ("boundary", 4, 4), ("handheld", 3, 3)],
)
def test_a_gooseneck_takes_two_slots_and_any_other_form_one(form: str, count: int, slots: int) -> None:
    project = with_microphones(minimal(), "meeting", {form: count}, spare_microphones={})
    assert slots_needed(project, project.room_types["meeting"]) == slots


def test_spare_microphones_take_slots_and_no_channels_unless_they_are_linked() -> None:
    project = with_microphones(minimal(), "meeting", {"gooseneck": 3}, spare_microphones={"gooseneck": 1})
    sizing = sizing_of(project)
    assert (sizing.channels, sizing.slots) == (3, 8)
    linked = sizing_of(with_layout(project, "meeting", spares_linked=True))
    assert (linked.channels, linked.slots) == (4, 8)


def test_spares_are_of_the_pattern_most_used() -> None:
    project = with_microphones(minimal(), "meeting", {"boundary": 3}, spare_microphones={"boundary": 2})
    microphones = dict(project.room_types["meeting"].microphones)
    for code in ("M1", "M2"):
        microphones[code] = microphones[code].model_copy(update={"pattern": "omnidirectional"})
    sizing = sizing_of(with_layout(project, "meeting", microphones=microphones))
    assert sizing.spares == {"boundary": ("AQ-MB-O", 2)}


def test_microphones_that_hear_return_audio_are_models_that_can() -> None:
    project = with_microphones(minimal(), "meeting", {"handheld": 1})
    microphones = dict(project.room_types["meeting"].microphones)
    microphones["M1"] = microphones["M1"].model_copy(update={"return_audio": True})
    sizing = sizing_of(with_layout(project, "meeting", microphones=microphones))
    assert sizing.microphones["M1"] == ""
    assert [(one.what, one.path) for one in sizing.unmet] == [
        (
            "cardioid handheld microphone with return audio for the region europe",
            ("microphones", "M1", "form"),
        )
    ]


def test_sizes_chosen_by_hand_are_checked_and_not_replaced() -> None:
    fixed = FixedRoom(access_points={"AQ-AP8": 1}, chargers={"AQ-CH2": 1}, breakouts={})
    sizing = sizing_of(minimal(), fixed)
    access_points, chargers, breakouts = (
        sizing.size(kind) for kind in ("access_point", "charger", "breakout")
    )
    assert access_points is not None
    assert chargers is not None
    assert breakouts is not None
    assert (access_points.boxes, access_points.spare, access_points.by_hand) == ((("AQ-AP8", 1),), 6, True)
    assert (chargers.boxes, chargers.spare) == ((("AQ-CH2", 1),), -1)
    assert (breakouts.boxes, breakouts.spare) == ((), -2)


def test_a_model_fixed_for_one_device_makes_its_room_a_kind_of_its_own() -> None:
    project = changed(minimal(), "fixed.devices", {"B001-AP1": FixedDevice(model="AQ-AP8")})
    design = designed(project)
    (kind,) = design.kinds
    assert kind.key == "B001"
    size = kind.sizing.size("access_point")
    assert size is not None
    assert (size.models, size.given, size.by_hand) == (("AQ-AP8",), 8, True)
    assert next(one.model for one in design.devices if one.tag == "B001-AP1") == "AQ-AP8"


def entry(code: str) -> Breakout:
    found = minimal().library.entry(code)
    assert isinstance(found, Breakout)
    return found


def test_devices_fit_on_a_breakouts_switch_to_its_last_port_watt_and_class() -> None:
    library = minimal().library
    host, charger = entry("AQ-BO4-SW"), library.entry("AQ-CH4")
    assert host.switch is not None
    assert (host.switch.ports, host.switch.poe_ports, host.switch.poe_class, host.switch.budget) == (
        4,
        1,
        4,
        30,
    )
    small, large = library.entry("AQ-AP2"), library.entry("AQ-AP8")
    # Four ports, one of which leads to the building's network.
    assert fits_on(host, [charger, charger, large])
    assert not fits_on(host, [charger, charger, charger, large])
    assert not fits_on(host, [small, small])
    short = host.model_copy(update={"switch": host.switch.model_copy(update={"budget": 29.9})})
    assert not fits_on(short, [large])
    lower = host.model_copy(update={"switch": host.switch.model_copy(update={"poe_class": 3})})
    assert not fits_on(lower, [large])
    assert fits_on(lower, [small])
    assert not fits_on(entry("AQ-BO4"), [])


def test_a_room_whose_devices_fit_on_the_breakout_uses_no_other_switch() -> None:
    design = designed(minimal())
    (room,) = design.rooms
    assert room.host == "B001-BO1"
    (closet,) = design.closets
    # Only the breakout itself is led to the building's network.
    assert closet.wanting == ("B001-BO1",)


def test_a_room_with_further_networked_audio_needs_a_managed_switch() -> None:
    recorder = Destination(name="recorder", signal="networked audio")
    project = with_layout(minimal(), "meeting", destinations={"recorder": recorder})
    design = designed(project)
    assert design.rooms[0].host == ""
    (closet,) = design.closets
    assert [switch.device.model for switch in closet.switches] == ["BN-SW8-65"]
    assert project.library.switches["BN-SW8-65"].managed
    assert set(closet.wanting) == {"B001-AP1", "B001-BO1", "B001-CH1"}


def test_the_switch_inside_is_not_used_where_every_device_is_to_go_to_the_rack() -> None:
    design = designed(with_layout(minimal(), "meeting", network="rack"))
    assert design.rooms[0].host == ""


def test_the_switch_inside_is_used_only_where_it_costs_no_more() -> None:
    host = entry("AQ-BO4-SW")
    dearer = host.model_copy(update={"cost": Money(amount=Decimal(5000), currency="EUR")})
    others = {code: one for code, one in minimal().library.breakouts.items() if one.switch is None}
    project = changed(minimal(), "library.breakouts", {**others, "AQ-BO4-SW": dearer})
    assert sizing_of(project).own_switch == ""


def test_what_the_library_lacks_is_said_once_with_its_place() -> None:
    project = changed(minimal(), "library.microphones", {})
    assert [(one.what, one.path[:1]) for one in sizing_of(project).unmet] == [
        ("cardioid boundary microphone for the region europe", ("microphones",)),
        ("cardioid boundary microphone for the region europe", ("microphones",)),
        ("cardioid boundary microphone for the region europe", ("spare_microphones",)),
    ]


# Chargers that take some forms only: what they can give is the greatest flow from forms to slots.
chargers = st.lists(
    st.tuples(st.sampled_from([1, 2, 3, 4]), st.sets(st.sampled_from(FORMS), min_size=1)),
    min_size=0,
    max_size=4,
)
needs = st.dictionaries(st.sampled_from(FORMS), st.integers(min_value=1, max_value=6), max_size=4)


def charger(slots: int, forms: frozenset[str] | set[str], cents: int = 100, code: str = "X") -> Charger:
    like = next(iter(minimal().library.chargers.values()))
    cost = Money(amount=Decimal(cents) / 100, currency="EUR")
    return like.model_copy(
        update={"slots": slots, "forms": tuple(sorted(forms)), "cost": cost, "model": code}
    )


def greatest_flow(boxes: list[Charger], by_form: dict[str, int]) -> int:
    graph = networkx.DiGraph()
    graph.add_nodes_from(["need", "slots"])
    for form, need in by_form.items():
        graph.add_edge("need", form, capacity=need)
    for n, box in enumerate(boxes):
        graph.add_edge(n, "slots", capacity=box.slots)
        for form in set(box.forms) & set(by_form):
            graph.add_edge(form, n, capacity=1000)
    return int(networkx.maximum_flow_value(graph, "need", "slots"))


@pytest.mark.independent
@settings(max_examples=60, deadline=None)
@given(sizes=chargers, by_form=needs)
def test_usable_slots_are_the_greatest_flow(
    sizes: list[tuple[int, set[str]]], by_form: dict[str, int]
) -> None:
    boxes = [charger(slots, forms) for slots, forms in sizes]
    assert slots_usable(boxes, by_form) == greatest_flow(boxes, by_form)  # type: ignore[arg-type]


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(
    sizes=st.lists(
        st.tuples(
            st.sampled_from([2, 3, 4]),
            st.sets(st.sampled_from(FORMS[:3]), min_size=1),
            st.integers(min_value=100, max_value=900),
        ),
        min_size=2,
        max_size=3,
    ),
    counts=st.dictionaries(
        st.sampled_from(FORMS[:3]), st.integers(min_value=1, max_value=3), min_size=1, max_size=3
    ),
)
def test_chargers_for_some_forms_are_chosen_at_least_cost(
    sizes: list[tuple[int, set[str], int]], counts: dict[str, int]
) -> None:
    library = {
        f"C{n}": charger(slots, forms, cents, f"C{n}") for n, (slots, forms, cents) in enumerate(sizes)
    }
    project = with_microphones(minimal(), "meeting", counts, spare_microphones={})
    project = changed(project, "library.chargers", library)
    chosen = sizing_of(project).size("charger")
    assert chosen is not None
    best = min(
        (
            sum(n * box.cost.amount for n, box in zip(numbers, library.values(), strict=True))
            for numbers in itertools.product(range(6), repeat=len(library))
            if greatest_flow(
                [box for n, box in zip(numbers, library.values(), strict=True) for _ in range(n)], counts
            )
            == sum(counts.values())
        ),
        default=None,
    )
    if best is None:
        assert chosen.models == ()
    else:
        assert sum(library[code].cost.amount for code in chosen.models) == best
        boxes = [library[code] for code in chosen.models]
        assert greatest_flow(boxes, counts) == sum(counts.values())
