"""Charge slots: every microphone's own, no slot twice, each in a slot that takes its form and system."""

from collections.abc import Mapping, Sequence

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.charging.charge_slots import charge_slots
from proposal.design.equipment.placed_devices import Placed
from proposal.model.equipment.devices import SlotGroup
from proposal.model.microphone_positions import Form
from proposal.model.project import Numbered, Project
from tests.catalogue import CHARGER, FORMS, SMALL_CHARGER, microphone, with_round_catalogue
from tests.design.making import minimal


@pytest.fixture(scope="module")
def project() -> Project:
    return with_round_catalogue(minimal())


def room(chargers: Sequence[str], microphones: Sequence[str], spares: Sequence[str] = ()) -> list[Placed]:
    """Return the devices of a room: chargers CH1 …, microphones M1 …, spare ones MS1 …, by model."""
    listed = [("charger", "CH", model, "table") for model in chargers]
    listed += [("microphone", "M", model, "table") for model in microphones]
    listed += [("microphone", "MS", model, "charger") for model in spares]
    counts: dict[str, int] = {}
    devices = []
    for kind, letters, model, location in listed:
        counts[letters] = counts.get(letters, 0) + 1
        code = f"{letters}{counts[letters]}"
        devices.append(
            Placed(
                tag=f"B1-{code}",
                code=code,
                kind=kind,
                model=model,
                room="B1",
                storey="L0",
                at=(0.0, 0.0),
                height_m=0.0,
                location=location,
            )
        )
    return devices


GOOSENECK, HANDHELD = microphone("gooseneck"), microphone("handheld")


def test_slots_are_numbered_group_by_group_and_take_their_forms(project: Project) -> None:
    # Five slots for goosenecks come first, then five for handheld microphones.
    found = charge_slots(project, room([CHARGER], [HANDHELD, HANDHELD, GOOSENECK, GOOSENECK]))
    assert {tag: one.number for tag, one in found.items()} == {
        "B1-M1": "B1-CH1/6",
        "B1-M2": "B1-CH1/7",
        "B1-M3": "B1-CH1/1",
        "B1-M4": "B1-CH1/2",
    }


@pytest.mark.independent
@settings(max_examples=150, deadline=None)
@given(
    boxes=st.lists(
        st.lists(
            st.tuples(st.integers(1, 3), st.sets(st.sampled_from(FORMS), min_size=1)), min_size=1, max_size=3
        ),
        max_size=3,
    ),
    in_use=st.lists(st.sampled_from(FORMS), max_size=8),
    spares=st.lists(st.sampled_from(FORMS), max_size=4),
    kept=st.dictionaries(st.integers(1, 8), st.integers(1, 9), max_size=4),
)
def test_as_many_find_a_slot_as_a_matching_gives_and_spares_before_others(
    project: Project,
    boxes: list[list[tuple[int, set[Form]]]],
    in_use: list[Form],
    spares: list[Form],
    kept: dict[int, int],
) -> None:
    like = project.library.chargers[CHARGER]
    chargers = {
        f"T-{n}": like.model_copy(
            update={
                "model": f"T-{n}",
                "slot_groups": tuple(SlotGroup(count=count, forms=tuple(forms)) for count, forms in groups),
            }
        )
        for n, groups in enumerate(boxes)
    }
    library = project.library.model_copy(update={"chargers": chargers})
    issued = {f"slot/B1-M{mic}": Numbered(number=f"B1-CH1/{slot}") for mic, slot in kept.items()}
    changed = project.model_copy(update={"library": library, "issued": issued})
    devices = room(list(chargers), [microphone(one) for one in in_use], [microphone(one) for one in spares])
    found = charge_slots(changed, devices)
    assert len({one.number for one in found.values()}) == len(found)
    takes = {
        f"B1-CH{n}/{slot}": forms
        for n, charger in enumerate(chargers.values(), 1)
        for slot, forms in enumerate(
            (group.forms for group in charger.slot_groups for _ in range(group.count)), 1
        )
    }
    forms = {f"B1-M{n}": form for n, form in enumerate(in_use, 1)}
    forms |= {f"B1-MS{n}": form for n, form in enumerate(spares, 1)}
    assert all(forms[tag] in takes[one.number] for tag, one in found.items())
    assert len(found) == most_matched(forms, takes)
    held = {tag: form for tag, form in forms.items() if "MS" in tag}
    assert sum("MS" in tag for tag in found) == most_matched(held, takes) or len(found) == len(forms)


def most_matched(forms: Mapping[str, str], takes: Mapping[str, Sequence[str]]) -> int:
    """Return how many microphones can have a slot at once, by networkx's matching."""
    graph = networkx.Graph()
    graph.add_nodes_from(forms)
    graph.add_edges_from(
        (tag, slot) for tag, form in forms.items() for slot, some in takes.items() if form in some
    )
    return len(networkx.bipartite.maximum_matching(graph, top_nodes=list(forms))) // 2


def test_a_microphone_has_no_slot_in_a_charger_of_another_system(project: Project) -> None:
    library = project.library
    other = library.chargers[CHARGER].model_copy(update={"system": "Another", "model": "T-OTHER"})
    changed = project.model_copy(
        update={"library": library.model_copy(update={"chargers": {**library.chargers, "T-OTHER": other}})}
    )
    assert charge_slots(changed, room(["T-OTHER"], [HANDHELD])) == {}


def test_spare_microphones_have_slots_first_where_slots_are_short(project: Project) -> None:
    found = charge_slots(project, room([CHARGER], [HANDHELD] * 4, [HANDHELD] * 2))
    assert {"B1-MS1", "B1-MS2"} <= set(found)
    assert len(found) == 5


def test_a_slot_is_kept_as_issued(project: Project) -> None:
    issued = {"slot/B1-M2": Numbered(number="B1-CH1/6"), "slot/B1-M1": Numbered(number="B1-CH1/9")}
    found = charge_slots(project.model_copy(update={"issued": issued}), room([CHARGER], [HANDHELD] * 3))
    assert {tag: one.number for tag, one in found.items()} == {
        "B1-M1": "B1-CH1/9",
        "B1-M2": "B1-CH1/6",
        "B1-M3": "B1-CH1/7",
    }


def test_a_slot_of_a_microphone_that_is_gone_is_used_again_where_no_other_is_left(project: Project) -> None:
    issued = {"slot/B1-M9": Numbered(number="B1-CH1/1", retired=True)}
    one = charge_slots(project.model_copy(update={"issued": issued}), room([SMALL_CHARGER], [HANDHELD]))
    assert one["B1-M1"].number == "B1-CH1/2"
    two = charge_slots(project.model_copy(update={"issued": issued}), room([SMALL_CHARGER], [HANDHELD] * 2))
    assert {berth.number for berth in two.values()} == {"B1-CH1/1", "B1-CH1/2"}


def test_a_room_without_chargers_has_no_slots(project: Project) -> None:
    assert charge_slots(project, room([], [HANDHELD])) == {}


def test_who_had_a_slot_gives_it_to_no_newcomer_that_could_rest_elsewhere(project: Project) -> None:
    """The charger's first slots take goosenecks alone, the others handheld ones too; two spares are new."""
    like = project.library.chargers[CHARGER]
    groups = (SlotGroup(count=2, forms=("gooseneck",)), SlotGroup(count=4, forms=("gooseneck", "handheld")))
    charger = like.model_copy(update={"model": "T-1", "slot_groups": groups})
    issued = {
        "slot/B1-M1": Numbered(number="B1-CH1/3"),
        "slot/B1-M2": Numbered(number="B1-CH1/5"),
        "slot/B1-M3": Numbered(number="B1-CH1/6"),
    }
    library = project.library.model_copy(update={"chargers": {"T-1": charger}})
    changed = project.model_copy(update={"library": library, "issued": issued})
    devices = room(["T-1"], [HANDHELD, GOOSENECK, GOOSENECK], [HANDHELD, HANDHELD, HANDHELD])
    found = {tag: one.number for tag, one in charge_slots(changed, devices).items()}
    # Three newcomers need three of slots 3 to 6: both goosenecks have to go, the handheld one need not.
    assert found["B1-M1"] == "B1-CH1/3"
    assert {found["B1-M2"], found["B1-M3"]} == {"B1-CH1/1", "B1-CH1/2"}
    assert {found[f"B1-MS{n}"] for n in (1, 2, 3)} == {f"B1-CH1/{n}" for n in (4, 5, 6)}
