"""The register holds every number of a design; what follows it keeps them, and its plan of radio."""

from proposal.design.design import Design
from proposal.design.number_register import design_numbers, joined, radio_numbers
from proposal.design.numbers.numbering import IssuedNumbers, assign_ports, issued_of
from proposal.design.whole_design import design
from proposal.estimate.drawing_list import kept_sheets
from proposal.estimate.revision_register import register
from proposal.model.project import FixedDevice, FixedRoom, Numbered, Project
from proposal.pipeline import Computed
from tests.design.making import EXAMPLE, changed, designed, minimal, project_of, with_layout, with_microphones


def numbers(made: Design) -> dict[str, str]:
    return {identity: one.number for identity, one in design_numbers(made).items()}


def sheets_of_design(made: Design) -> list[tuple[str, str]]:
    sheets = kept_sheets(Computed(project=made.project, design=made))
    return [(sheet.identity, sheet.number) for sheet in sheets]


def after(project: Project, made: Design) -> Project:
    """Return a project that follows the issue of a design."""
    whole = design_numbers(made) | radio_numbers(made)
    return project.model_copy(update={"issued": joined(made.project.issued, whole)})


def test_every_number_of_a_small_design_is_in_its_register() -> None:
    # One access point, charger and breakout; the breakout's own switch serves the room, its first port out.
    made = designed(minimal())
    found = numbers(made)
    assert {one for one in found if one.startswith("device/")} == {
        *("device/B001-M1", "device/B001-M2", "device/B001-MS1"),
        *("device/B001-AP1", "device/B001-CH1", "device/B001-BO1", "device/ER1-RK1", "device/ER1-SW1"),
    }
    assert found["cable/B001-AP1/N1/B001-BO1"] == "B001-AP1/N1/B001-BO1"
    assert found["panel/B001-BO1/N1/ER1-RK1"] == "ER1-RK1/PP1/1"
    assert "panel/B001-AP1/N1/B001-BO1" not in found
    assert found["port/B001-AP1"] == "B001-BO1/2"
    assert found["port/B001-BO1"] == "ER1-SW1/1"
    # .1 is the gateway; devices in order of tags: the access point first.
    assert found["address/B001-AP1"] == "192.168.30.2"
    assert found["channel/B001-M1"] == "B001-AP1/1"
    assert found["slot/B001-M1"] == "B001-CH1/1"
    assert found["stream/B001-AP1/1"] == "1"
    assert found["group/B001-AP1/1"] == "239.192.0.1"
    assert set(radio_numbers(made)) >= {"radio/B001-M1", "radio/B001-M2"}


def test_sheets_reels_and_cuts_are_in_the_register_of_a_revision() -> None:
    made = designed(minimal())
    whole = register(Computed(project=minimal(), design=made))
    sheets = {identity: one.number for identity, one in whole.items() if identity.startswith("sheet/")}
    assert sheets["sheet/R//1"] == "R-01"
    assert sheets["sheet/P/L0/1"] == "P-01"
    assert sheets["sheet/S/meeting/1"] == "S-01"
    # Each type of cable is cut from one reel there, which is not drawn.
    assert "sheet/K//1" not in sheets
    cut = whole["cut/B001-AP1/N1/B001-BO1"].number
    assert whole[f"reel/{cut}"].number == "1"
    assert whole[f"reel/{cut}"].model
    assert list(whole) == sorted(whole)


def test_what_is_gone_is_retired_and_a_number_given_up_is_kept_apart() -> None:
    issued = {
        "device/A-AP1": Numbered(number="A-AP1", at=(1.0, 2.0), model="X"),
        "address/A-CH1": Numbered(number="10.0.0.7"),
        "address/A-BO1": Numbered(number="10.0.0.8"),
        "address/A-CH1 was 10.0.0.3": Numbered(number="10.0.0.3", retired=True),
        "radio/A-M1": Numbered(number="3/4"),
    }
    given = {
        "address/A-CH1": Numbered(number="10.0.9.7"),
        "address/A-BO1": Numbered(number="10.0.0.8"),
        "radio/A-M1": Numbered(number="5/6"),
    }
    assert joined(issued, given) == {
        "device/A-AP1": Numbered(number="A-AP1", at=(1.0, 2.0), model="X", retired=True),
        "address/A-BO1": Numbered(number="10.0.0.8"),
        "address/A-CH1": Numbered(number="10.0.9.7"),
        "address/A-CH1 was 10.0.0.3": Numbered(number="10.0.0.3", retired=True),
        "address/A-CH1 was 10.0.0.7": Numbered(number="10.0.0.7", retired=True),
        "radio/A-M1": Numbered(number="5/6"),
    }
    # By hand it got back what it had.
    back = joined(joined(issued, given), {"address/A-CH1": Numbered(number="10.0.0.7")})
    assert back["address/A-CH1"] == Numbered(number="10.0.0.7")
    assert "address/A-CH1 was 10.0.0.7" not in back
    assert "address/A-CH1 was 10.0.9.7" in back


def test_the_middle_access_point_taken_away_leaves_the_others_their_tags() -> None:
    # Three groups of ten at the west end, in the middle and at the east end of a long room.
    def groups(*wests: float) -> Project:
        like = minimal().room_types["meeting"].microphones["M1"]
        microphones = {
            f"M{n}{k}": like.model_copy(update={"at": (west + 0.4 * (k % 5), 1.5 + 2 * (k // 5)), "seat": ""})
            for n, west in ((int(west), west) for west in wests)
            for k in range(10)
        }
        return with_layout(
            minimal(),
            "meeting",
            outline=((0.0, 0.0), (32.0, 0.0), (32.0, 5.0), (0.0, 5.0)),
            seats={},
            furniture={},
            spare_microphones={},
            network="rack",
            microphones=microphones,
        )

    def access_points(made: Design) -> dict[str, float]:
        return {one.tag: one.at[0] for one in made.devices if one.kind == "access_point"}

    first = designed(with_fixed_tens(groups(2, 15, 28), 3))
    assert list(access_points(first)) == ["B001-AP1", "B001-AP2", "B001-AP3"]
    by_west = sorted(access_points(first), key=lambda tag: access_points(first)[tag])
    second = design(after(with_fixed_tens(groups(2, 28), 2), first))
    assert set(access_points(second)) == {by_west[0], by_west[2]}
    assert numbers(second)[f"address/{by_west[2]}"] == numbers(first)[f"address/{by_west[2]}"]
    assert numbers(second)[f"port/{by_west[0]}"] == numbers(first)[f"port/{by_west[0]}"]
    third = design(after(with_fixed_tens(groups(2, 15, 28), 3), second))
    assert set(access_points(third)) == {by_west[0], by_west[2], "B001-AP4"}
    assert numbers(third)["address/B001-AP4"] not in numbers(first).values()
    # Whatever is needed, the second one's tag is nobody's.
    fourth = design(after(with_fixed_tens(groups(2, 15, 28), 6), third))
    assert by_west[1] not in access_points(fourth)
    assert len(access_points(fourth)) == 6


def with_fixed_tens(project: Project, count: int) -> Project:
    """Return a project whose room has so many access points of ten channels."""
    tens = sorted(code for code, one in project.library.access_points.items() if one.channels == 10)
    return changed(project, "fixed.rooms", {"B001": FixedRoom(access_points={tens[0]: count})})


def test_rooms_of_a_type_that_have_another_history_are_a_kind_of_their_own() -> None:
    project = minimal()
    other = project.rooms["B001"].model_copy(update={"x": 20.0})
    two = project.model_copy(update={"rooms": {**project.rooms, "B002": other, "B003": other, "B004": other}})
    issued = {
        "device/B002-AP1": Numbered(number="B002-AP1", retired=True),
        "device/B003-AP1": Numbered(number="B003-AP1", retired=True),
        "device/B001-AP1": Numbered(number="B001-AP1"),
    }
    made = design(two.model_copy(update={"issued": issued}))
    access_points = {one.room: one.code for one in made.devices if one.kind == "access_point"}
    # B004 never had one: it is called as most rooms with a history are.
    assert access_points == {"B001": "AP1", "B002": "AP2", "B003": "AP2", "B004": "AP2"}
    assert {kind.key: kind.rooms for kind in made.kinds} == {
        "meeting": ("B002", "B003", "B004"),
        "B001": ("B001",),
    }
    assert set(made.flows) == {"meeting", "B001"}


def test_a_device_stays_on_its_switch_and_port_though_others_come_before_it() -> None:
    rack = with_layout(minimal(), "meeting", network="rack")
    first = designed(rack)
    kept = numbers(first)
    rooms = {f"A00{n}": rack.rooms["B001"].model_copy(update={"x": 30.0 + n}) for n in range(4)}
    many = rack.model_copy(update={"rooms": {**rooms, **rack.rooms}})
    found = numbers(design(after(many, first)))
    for identity in ("port/B001-AP1", "port/B001-CH1", "address/B001-AP1", "stream/B001-AP1/1"):
        assert found[identity] == kept[identity]
    assert found["panel/B001-AP1/N1/ER1-RK1"] == kept["panel/B001-AP1/N1/ER1-RK1"]
    assert len({one for identity, one in found.items() if identity.startswith("port/")}) == 15


def test_a_port_fixed_by_hand_wins_over_an_issued_one() -> None:
    rack = with_layout(minimal(), "meeting", network="rack")
    first = designed(rack)
    assert numbers(first)["port/B001-CH1"] != "ER1-SW1/1"
    fixed = changed(rack, "fixed.devices", {"B001-CH1": FixedDevice(switch_port="ER1-SW1/1")})
    found = numbers(design(after(fixed, first)))
    assert found["port/B001-CH1"] == "ER1-SW1/1"
    assert found["port/B001-AP1"] != "ER1-SW1/1"


def test_ports_are_given_again_when_a_switch_has_no_other() -> None:
    issued = {
        "port/A": Numbered(number="S/1"),
        "port/B": Numbered(number="S/2", retired=True),
        "port/C": Numbered(number="T/3"),
    }
    assert assign_ports("S", ["A", "C"], {}, issued, [1, 2, 3]) == {"A": 1, "C": 3}
    assert assign_ports("S", ["A", "C", "D"], {}, issued, [1, 2, 3]) == {"A": 1, "C": 3, "D": 2}
    assert assign_ports("S", ["A", "C", "D", "E"], {}, issued, [1, 2, 3]) == {"A": 1, "C": 3, "D": 2}


def test_a_panel_port_stays_as_long_as_panels_have_it() -> None:
    rack = with_layout(minimal(), "meeting", network="rack")

    def then(number: str) -> str:
        issued = {"panel/B001-AP1/N1/ER1-RK1": Numbered(number=number)}
        found = numbers(design(rack.model_copy(update={"issued": issued})))
        return found["panel/B001-AP1/N1/ER1-RK1"]

    assert then("ER1-RK1/PP9/5") == "ER1-RK1/PP9/5"
    # No panel of the library has so many ports; and in another rack it says nothing here.
    assert then("ER1-RK1/PP1/99") == "ER1-RK1/PP1/1"
    assert then("ER2-RK1/PP1/5") == "ER1-RK1/PP1/1"


def test_without_a_panel_in_the_library_the_rules_say_how_many_ports_one_has() -> None:
    rack = with_layout(minimal(), "meeting", network="rack")
    issued = {"panel/B001-AP1/N1/ER1-RK1": Numbered(number="ER1-RK1/PP1/12")}
    bare = rack.model_copy(
        update={"issued": issued, "library": rack.library.model_copy(update={"patch_panels": {}})}
    )

    def then(project: Project) -> str:
        return numbers(design(project))["panel/B001-AP1/N1/ER1-RK1"]

    assert then(bare) == "ER1-RK1/PP1/12"  # of the 24 that are assumed
    assert then(changed(bare, "brief.rules.cabling.panel_ports", 8)) == "ER1-RK1/PP1/1"


def test_spares_keep_their_tags_when_others_of_another_form_join_them() -> None:
    gooseneck = with_microphones(minimal(), "meeting", {"gooseneck": 2}, spare_microphones={"gooseneck": 1})
    first = designed(gooseneck)
    both = with_microphones(
        minimal(), "meeting", {"gooseneck": 2}, spare_microphones={"boundary": 1, "gooseneck": 1}
    )
    second = design(after(both, first))
    forms = {
        one.code: first.project.library.microphones[one.model].form
        for one in second.devices
        if one.code.startswith("MS")
    }
    assert forms == {"MS1": "gooseneck", "MS2": "boundary"}


def test_linked_spares_stay_with_their_access_point_in_channels_and_in_radio() -> None:
    project = with_layout(minimal(), "meeting", spares_paired=True)
    made = designed(project)
    (spare,) = (one for one in made.channels.channels if one.spare)
    margin = next(one for one in made.radio.margins if one.microphone == spare.microphone)
    assert margin.access_point == spare.access_point == "B001-AP1"


def test_links_keep_carrier_and_slot_when_a_room_is_added() -> None:
    project = project_of(EXAMPLE)
    first = designed(project)
    more = project.model_copy(
        update={"rooms": {**project.rooms, "A207": project.rooms["A206"].model_copy(update={"x": 44.6})}}
    )
    second = design(after(more, first))
    before, now = radio_numbers(first), radio_numbers(second)
    assert before
    assert {identity: now[identity] for identity in before} == before
    assert set(now) > set(before)
    assert second.radio.outcome == "planned"


def test_a_design_that_follows_its_own_issue_is_the_same() -> None:
    project = project_of(EXAMPLE).model_copy(update={"issued": {}})
    first = designed(project)
    second = design(after(project, first))
    assert design_numbers(second) == design_numbers(first)
    assert radio_numbers(second) == radio_numbers(first)
    assert second.devices == first.devices
    assert second.cables == first.cables
    assert sheets_of_design(second) == sheets_of_design(first)


def test_numbers_sorted_out_by_kind_are_those_that_begin_with_it() -> None:
    issued = {"end/a": Numbered(number="1"), "ends/a": Numbered(number="2"), "end": Numbered(number="3")}
    assert dict(issued_of(issued, "end")) == {"end/a": Numbered(number="1")}
    assert dict(issued_of(IssuedNumbers(issued), "end"))["end/a"] == Numbered(number="1")
    assert "ends/a" not in issued_of(IssuedNumbers(issued), "end")
    assert dict(IssuedNumbers(issued)) == issued
