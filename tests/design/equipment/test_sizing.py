"""Sizes of rooms: the trade's rules, the designer's own choice, the switch inside a breakout."""

import itertools
from collections.abc import Iterable
from decimal import Decimal

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.equipment.built_in_switch import fits_on
from proposal.design.equipment.charger_choice import slots_by_form, slots_given, slots_usable
from proposal.design.equipment.sizing import Sizing, size_room
from proposal.model.equipment.devices import Breakout, Charger, SlotGroup, SystemDevice
from proposal.model.microphone_positions import Form
from proposal.model.project import FixedDevice, FixedRoom, Project
from proposal.model.rooms import Destination
from proposal.quantities.money import Money
from tests.catalogue import (
    BREAKOUT,
    BREAKOUT_WITH_SWITCH,
    CHARGER,
    FORMS,
    LARGE_AP,
    ROUND,
    SMALL_AP,
    SMALL_CHARGER,
    model_of,
    with_round_catalogue,
)
from tests.design.making import changed, designed, minimal, with_layout, with_microphones


def sizing_of(project: Project, fixed: FixedRoom | None = None) -> Sizing:
    return size_room(project, project.room_types["meeting"], fixed or FixedRoom())


def boxes_of(sizing: Sizing, kind: str) -> dict[str, int]:
    size = sizing.size(kind)
    assert size is not None
    return dict(size.boxes)


@pytest.mark.parametrize("form", FORMS)
def test_every_microphone_takes_one_slot_spares_included(form: Form) -> None:
    project = with_microphones(minimal(), "meeting", {form: 4}, spare_microphones={form: 3})
    assert slots_by_form(project.room_types["meeting"]) == {form: 7}


def test_spare_microphones_take_slots_and_no_channels_unless_they_are_paired() -> None:
    project = with_microphones(minimal(), "meeting", {"gooseneck": 3}, spare_microphones={"gooseneck": 1})
    sizing = sizing_of(project)
    assert (sizing.channels, sizing.slots) == (3, 4)
    paired = sizing_of(with_layout(project, "meeting", spares_paired=True))
    assert (paired.channels, paired.slots) == (4, 4)


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("forms", "access_points", "chargers"),
    [
        # 5 channels cost 500, 20 cost 1,500: two of 5 serve ten; three cost as much as one of 20, which is
        # one box. Small chargers hold two of any form for 100, large ones five and five for 400.
        ({"gooseneck": 5}, {SMALL_AP: 1}, {SMALL_CHARGER: 3}),
        ({"gooseneck": 10}, {SMALL_AP: 2}, {SMALL_CHARGER: 5}),
        ({"gooseneck": 11}, {LARGE_AP: 1}, {SMALL_CHARGER: 6}),
        ({"gooseneck": 5, "handheld": 5}, {SMALL_AP: 2}, {CHARGER: 1}),
        # Nine of 5 and 4: five small chargers cost 500, one large 400.
        ({"boundary": 5, "bodypack": 4}, {SMALL_AP: 2}, {CHARGER: 1}),
    ],
)
def test_the_least_cost_covers_round_numbers(
    forms: dict[str, int], access_points: dict[str, int], chargers: dict[str, int]
) -> None:
    project = with_microphones(with_round_catalogue(minimal()), "meeting", forms, spare_microphones={})
    sizing = sizing_of(project)
    assert sizing.system == ROUND
    assert boxes_of(sizing, "access_point") == access_points
    assert boxes_of(sizing, "charger") == chargers


def test_spares_are_of_the_pattern_most_used() -> None:
    project = with_microphones(minimal(), "meeting", {"boundary": 3}, spare_microphones={"boundary": 2})
    microphones = dict(project.room_types["meeting"].microphones)
    for code in ("M1", "M2"):
        microphones[code] = microphones[code].model_copy(update={"pattern": "omnidirectional"})
    sizing = sizing_of(with_layout(project, "meeting", microphones=microphones))
    (code, count) = sizing.spares["boundary"]
    entry = project.library.microphones[code]
    assert (entry.pattern, entry.works_with, count) == ("omnidirectional", sizing.system, 2)


def test_microphones_that_hear_return_audio_are_models_that_can() -> None:
    project = with_microphones(minimal(), "meeting", {"handheld": 1})
    microphones = dict(project.room_types["meeting"].microphones)
    microphones["M1"] = microphones["M1"].model_copy(update={"return_audio": True})
    sizing = sizing_of(with_layout(project, "meeting", microphones=microphones))
    assert sizing.microphones["M1"] == ""
    assert [(one.what, one.path) for one in sizing.unmet] == [
        (
            "cardioid handheld microphone with return audio "
            f"of the system {sizing.system} for the region europe",
            ("microphones", "M1", "form"),
        )
    ]


def test_sizes_chosen_by_hand_are_checked_and_not_replaced() -> None:
    fixed = FixedRoom(access_points={LARGE_AP: 1}, chargers={SMALL_CHARGER: 1}, breakouts={})
    sizing = sizing_of(with_round_catalogue(minimal()), fixed)
    access_points, chargers, breakouts = (
        sizing.size(kind) for kind in ("access_point", "charger", "breakout")
    )
    assert access_points is not None
    assert chargers is not None
    assert breakouts is not None
    # Two microphones in use and a spare one: 20 channels leave 18, 2 slots are one too few; no output for the
    # two and for the codec.
    assert (access_points.boxes, access_points.spare, access_points.by_hand) == (((LARGE_AP, 1),), 18, True)
    assert (chargers.boxes, chargers.spare) == (((SMALL_CHARGER, 1),), -1)
    assert (breakouts.boxes, breakouts.spare) == ((), -3)


def test_a_model_fixed_for_one_device_makes_its_room_a_kind_of_its_own() -> None:
    project = with_round_catalogue(minimal())
    design = designed(changed(project, "fixed.devices", {"B001-AP1": FixedDevice(model=LARGE_AP)}))
    (kind,) = design.kinds
    assert kind.key == "B001"
    size = kind.sizing.size("access_point")
    assert size is not None
    assert (size.models, size.given, size.by_hand) == ((LARGE_AP,), 20, True)
    assert next(one.model for one in design.devices if one.tag == "B001-AP1") == LARGE_AP


def entry(code: str) -> Breakout:
    found = with_round_catalogue(minimal()).library.entry(code)
    assert isinstance(found, Breakout)
    return found


@pytest.mark.pinned
def test_devices_fit_on_a_breakouts_switch_to_its_last_port_watt_and_class() -> None:
    library = with_round_catalogue(minimal()).library
    # Five ports, two of which feed class 4, with 40 W together.
    host, charger = entry(BREAKOUT_WITH_SWITCH), library.entry(CHARGER)
    assert host.switch is not None
    # Class 2 takes 7 W of the source, class 4 takes 30 W (IEEE 802.3).
    small, large = library.entry(SMALL_AP), library.entry(LARGE_AP)
    # One port leads to the building's network: four are left.
    assert fits_on(host, [charger, charger, charger, large])
    assert not fits_on(host, [charger, charger, charger, charger, large])
    # A charger that is not on the network takes no port.
    off_network = library.chargers[CHARGER].model_copy(update={"ports": {}, "pairs": False})
    assert fits_on(host, [off_network, charger, charger, charger, large])
    assert fits_on(host, [small, large])
    assert not fits_on(host, [large, large])
    assert not fits_on(host, [small, small, small])
    short = host.model_copy(update={"switch": host.switch.model_copy(update={"budget": 36.9})})
    assert not fits_on(short, [small, large])
    lower = host.model_copy(update={"switch": host.switch.model_copy(update={"poe_class": 3})})
    assert not fits_on(lower, [large])
    assert fits_on(lower, [small])
    assert not fits_on(entry(BREAKOUT), [])


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
    (switch,) = closet.switches
    assert project.library.switches[switch.device.model].managed
    assert set(closet.wanting) == {"B001-AP1", "B001-BO1", "B001-CH1"}


def test_the_switch_inside_is_not_used_where_every_device_is_to_go_to_the_rack() -> None:
    design = designed(with_layout(minimal(), "meeting", network="rack"))
    assert design.rooms[0].host == ""


def test_the_switch_inside_is_used_only_where_it_costs_no_more() -> None:
    project = with_layout(with_round_catalogue(minimal()), "meeting", destinations={})
    assert sizing_of(project).own_switch == BREAKOUT_WITH_SWITCH
    dearer = entry(BREAKOUT_WITH_SWITCH).model_copy(
        update={"cost": Money(amount=Decimal(5000), currency="EUR")}
    )
    breakouts = {**project.library.breakouts, BREAKOUT_WITH_SWITCH: dearer}
    assert sizing_of(changed(project, "library.breakouts", breakouts)).own_switch == ""


def test_what_the_library_lacks_is_said_once_with_its_place() -> None:
    project = changed(with_round_catalogue(minimal()), "library.microphones", {})
    what = f"cardioid boundary microphone of the system {ROUND} for the region europe"
    assert [(one.what, one.path[:1]) for one in sizing_of(project).unmet] == [
        (what, ("microphones",)),
        (what, ("microphones",)),
        (what, ("spare_microphones",)),
    ]


# Chargers whose slots take some forms only: what they can give is the greatest flow from forms to slots.
chargers = st.lists(
    st.lists(
        st.tuples(st.sampled_from([1, 2, 3, 4]), st.sets(st.sampled_from(FORMS), min_size=1)),
        min_size=1,
        max_size=3,
    ),
    min_size=0,
    max_size=4,
)
needs = st.dictionaries(st.sampled_from(FORMS), st.integers(min_value=1, max_value=6), max_size=4)


Groups = list[tuple[int, set[Form]]]


def charger(groups: Groups, cents: int = 100, code: str = "X") -> Charger:
    like = next(iter(with_round_catalogue(minimal()).library.chargers.values()))
    cost = Money(amount=Decimal(cents) / 100, currency="EUR")
    slots = tuple(SlotGroup(count=count, forms=tuple(sorted(forms))) for count, forms in groups)
    return like.model_copy(update={"slot_groups": slots, "cost": cost, "model": code})


def greatest_flow(boxes: list[Charger], by_form: dict[Form, int]) -> int:
    graph = networkx.DiGraph()
    graph.add_nodes_from(["need", "slots"])
    for form, need in by_form.items():
        graph.add_edge("need", form, capacity=need)
    groups = [group for box in boxes for group in box.slot_groups]
    for n, group in enumerate(groups):
        graph.add_edge(n, "slots", capacity=group.count)
        for form in set(group.forms) & set(by_form):
            graph.add_edge(form, n, capacity=1000)
    return int(networkx.maximum_flow_value(graph, "need", "slots"))


@pytest.mark.independent
@settings(max_examples=60, deadline=None)
@given(sizes=chargers, by_form=needs)
def test_usable_slots_are_the_greatest_flow(sizes: list[Groups], by_form: dict[Form, int]) -> None:
    boxes = [charger(groups) for groups in sizes]
    flow = greatest_flow(boxes, by_form)
    assert slots_usable(boxes, by_form) == flow
    # Of slots for other forms none is given; where a form lacks some, only what a matching fills is.
    taking = [n for box in boxes for n in box.slot_groups if set(n.forms) & set(by_form)]
    enough = sum(group.count for group in taking)
    assert slots_given(boxes, by_form) == (enough if flow == sum(by_form.values()) else flow)


def least_by_trying(boxes: dict[str, Charger], counts: dict[Form, int], most: int) -> Decimal | None:
    """Return the least cost of chargers with a slot for all, by trying every choice of so many at most.

    Cheaper choices are tried first, so that the first with a slot for all is the answer.
    """
    choices = [
        [box for n, box in zip(numbers, boxes.values(), strict=True) for _ in range(n)]
        for numbers in itertools.product(range(most + 1), repeat=len(boxes))
    ]
    wanted = sum(counts.values())
    for choice in sorted(choices, key=cost_of):
        if greatest_flow(choice, counts) == wanted:
            return cost_of(choice)
    return None


def cost_of(choice: Iterable[Charger]) -> Decimal:
    return sum((box.cost.amount for box in choice), Decimal(0))


@pytest.mark.independent
@settings(max_examples=25, deadline=None)
@given(
    sizes=st.lists(
        st.tuples(
            st.lists(
                st.tuples(st.sampled_from([1, 2, 3, 4]), st.sets(st.sampled_from(FORMS[:3]), min_size=1)),
                min_size=1,
                max_size=2,
            ),
            st.integers(min_value=100, max_value=900),
        ),
        min_size=2,
        max_size=3,
    ),
    counts=st.dictionaries(
        st.sampled_from(FORMS[:3]), st.integers(min_value=1, max_value=2), min_size=1, max_size=3
    ),
)
def test_chargers_are_chosen_at_least_cost(sizes: list[tuple[Groups, int]], counts: dict[Form, int]) -> None:
    boxes = {f"C{n}": charger(groups, cents, f"C{n}") for n, (groups, cents) in enumerate(sizes)}
    project = with_microphones(with_round_catalogue(minimal()), "meeting", counts, spare_microphones={})
    project = changed(project, "library.chargers", boxes)
    chosen = sizing_of(project).size("charger")
    assert chosen is not None
    # Each charger of a best choice gives some microphone its slot, so that six of a sort are enough for six.
    best = least_by_trying(boxes, counts, 6)
    taken = [boxes[code] for code in chosen.models]
    if best is None:
        assert taken == []
        return
    assert greatest_flow(taken, counts) == sum(counts.values())
    assert sum(box.cost.amount for box in taken) == best


@pytest.mark.independent
@pytest.mark.parametrize("system", minimal().library.systems)
@pytest.mark.parametrize("count", [1, 2, 5, 8])
def test_the_shipped_catalogue_is_chosen_from_as_by_trying_every_choice(system: str, count: int) -> None:
    library = minimal().library
    forms = sorted({one.form for one in library.microphones.values() if one.works_with == system})
    counts: dict[Form, int] = dict.fromkeys(forms, count)
    patterns = {one.form: one.pattern for one in library.microphones.values() if one.works_with == system}
    project = with_microphones(minimal(), "meeting", counts, spare_microphones={}, system=system)
    project = with_layout(project, "meeting", destinations={})
    places = {
        code: place.model_copy(update={"pattern": patterns[place.form]})
        for code, place in project.room_types["meeting"].microphones.items()
    }
    sizing = sizing_of(with_layout(project, "meeting", microphones=places))
    assert sizing.unmet == ()
    boxes = {code: one for code, one in library.chargers.items() if one.works_with == system}
    chosen = sizing.size("charger")
    assert chosen is not None
    # Twelve chargers of one sort are more than any of these rooms needs of the dearer ones.
    assert sum(boxes[code].cost.amount for code in chosen.models) == least_by_trying(boxes, counts, 12)
    points = {code: one for code, one in library.access_points.items() if one.works_with == system}
    need = 4 * count
    best = min(
        sum(n * one.cost.amount for n, one in zip(numbers, points.values(), strict=True))
        for numbers in itertools.product(range(need + 1), repeat=len(points))
        if sum(n * one.channels for n, one in zip(numbers, points.values(), strict=True)) >= need
    )
    size = sizing.size("access_point")
    assert size is not None
    assert sum(points[code].cost.amount for code in size.models) == best


def test_a_room_takes_the_system_with_the_least_cost_in_it() -> None:
    project = minimal()
    costs = {}
    for system in project.library.systems:
        sizing = sizing_of(with_layout(project, "meeting", system=system))
        assert sizing.system == system
        models = [model for size in sizing.sizes for model in size.models]
        models += [*sizing.microphones.values(), *sizing.spare_models]
        assert {
            one.works_with for one in map(project.library.entry, models) if isinstance(one, SystemDevice)
        } == {system}
        costs[system] = sum(project.library.entry(model).cost.amount for model in models)
    assert sizing_of(project).system == min(costs, key=lambda system: costs[system])


def test_the_system_of_the_rules_holds_for_rooms_that_name_none() -> None:
    first, *_, last = minimal().library.systems
    project = changed(minimal(), "brief.rules.microphones.system", last)
    assert sizing_of(project).system == last
    assert sizing_of(with_layout(project, "meeting", system=first)).system == first


def test_boxes_and_accessories_chosen_by_hand_choose_the_system() -> None:
    project = minimal()
    for system in project.library.systems:
        code = model_of(project.library, "access_point", works_with=system)
        assert sizing_of(project, FixedRoom(access_points={code: 1})).system == system
        code = model_of(project.library, "accessory", works_with=system)
        microphones = dict(project.room_types["meeting"].microphones)
        microphones["M1"] = microphones["M1"].model_copy(update={"accessories": (code,)})
        assert sizing_of(with_layout(project, "meeting", microphones=microphones)).system == system
