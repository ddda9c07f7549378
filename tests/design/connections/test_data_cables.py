"""Cables: the limits of link, channel and cords, allowances, measured lengths, identities."""

import random

import pytest

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import LinkChecks, LinkUses, link_checks
from proposal.design.connections.cable_temperature import TemperatureSegment
from proposal.model.project import FixedCable, Project
from proposal.model.rooms import Loudspeaker
from tests.design.making import EXAMPLE, changed, designed, minimal, project_of, with_layout

NO_USES = LinkUses(length=(), warmth=(), cords=())


def checks_of(
    length_m: float,
    cords_m: float = 5.0,
    temperature_c: float = 20.0,
    *,
    screened: bool = False,
    gauge: int = 24,
) -> LinkChecks:
    return link_checks(
        [TemperatureSegment(length_m, temperature_c)],
        cords_m,
        screened=screened,
        cord_gauge_awg=gauge,
        uses=NO_USES,
    )


def verdicts(checks: LinkChecks) -> tuple[str, str, str]:
    return checks.link.verdict, checks.channel.verdict, checks.cords.verdict if checks.cords else ""


@pytest.mark.published
@pytest.mark.parametrize(
    ("length_m", "cords_m", "expected"),
    [
        # ANSI/TIA-568: 90 m of link, 100 m of channel; C = (102 − H)/1.2 for 24 AWG cords.
        (90.0, 10.0, ("holds", "holds", "holds")),
        (90.01, 9.0, ("fails", "holds", "")),
        (89.99, 10.005, ("holds", "holds", "holds")),
        (89.99, 10.02, ("holds", "fails", "fails")),
        (90.0, 10.01, ("holds", "fails", "fails")),
        (80.0, 18.3, ("holds", "holds", "holds")),
        (80.0, 18.4, ("holds", "holds", "fails")),
        (60.0, 10.0, ("holds", "holds", "")),
        (60.0, 26.6, ("holds", "holds", "holds")),
        (60.0, 26.7, ("holds", "holds", "fails")),
    ],
)
def test_the_limits_hold_to_the_centimetre(
    length_m: float, cords_m: float, expected: tuple[str, str, str]
) -> None:
    assert verdicts(checks_of(length_m, cords_m)) == expected


@pytest.mark.published
def test_thinner_cords_have_to_be_shorter() -> None:
    # TIA/EIA-568-B.1, the table for 26 AWG: 8 m at 90 m of horizontal cable.
    assert verdicts(checks_of(90.0, 8.0, gauge=26)) == ("holds", "holds", "holds")
    assert verdicts(checks_of(90.0, 8.1, gauge=26)) == ("holds", "holds", "fails")


@pytest.mark.independent
@pytest.mark.parametrize(
    ("temperature_c", "screened", "limit_m"),
    [
        # 90/(1 + k): 0.4 % a kelvin to 40 °C and 0.6 % beyond without a screen, 0.2 % with one.
        (20.0, False, 90.0),
        (10.0, False, 90.0),
        (-30.0, False, 90.0),
        (40.0, False, 90 / 1.08),
        (45.0, False, 90 / 1.11),
        (60.0, False, 75.0),
        (45.0, True, 90 / 1.05),
        (60.0, True, 90 / 1.08),
        # Beyond what the standard covers its end is taken.
        (75.0, False, 75.0),
    ],
)
def test_warmth_shortens_the_link(temperature_c: float, screened: bool, limit_m: float) -> None:
    just_under = checks_of(limit_m - 0.001, 5.0, temperature_c, screened=screened)
    assert just_under.limit_m == pytest.approx(limit_m)
    assert just_under.link.verdict == "holds"
    assert checks_of(limit_m + 0.001, 5.0, temperature_c, screened=screened).link.verdict == "fails"


def test_a_link_partly_in_the_warm_is_weighted_stretch_by_stretch() -> None:
    # 50 m at 20 °C and 35 m at 60 °C: 50 + 35·1.2 = 92.
    checks = link_checks(
        [TemperatureSegment(50.0, 20.0), TemperatureSegment(35.0, 60.0)],
        5.0,
        screened=False,
        cord_gauge_awg=24,
        uses=NO_USES,
    )
    assert checks.link.result == pytest.approx(92.0)
    assert checks.link.verdict == "fails"


@pytest.mark.parametrize("length_m", [0.0, 1e-9, 33.333333, 77.7, 1e6])
def test_no_length_and_no_temperature_breaks_the_checks(length_m: float) -> None:
    for temperature_c in (-273.15, -20.0, 20.0, 59.999999, 60.0, 60.1, 1000.0):
        for screened in (False, True):
            checks = checks_of(length_m, 4.0, temperature_c, screened=screened)
            assert 75.0 - 1e-9 <= checks.limit_m <= 90.0


def cable(project: Project, start: str) -> Cable:
    (found,) = [one for one in designed(project).cables if one.identity.startswith(start) and one.checked]
    return found


def to_rack(project: Project) -> Project:
    return with_layout(project, "meeting", network="rack")


@pytest.mark.independent
def test_a_length_is_the_way_the_slack_and_the_termination() -> None:
    # Chargers stand at (4, 1.5), 0.75 m high, racks at (12, 2); cables run at 3.1 m, racks end at 1 m:
    # 0.5 to the wall at y = 1, 2.35 up, 8 + 1 along, 2.1 down; 3 m slack at the rack, 1.5 m at the
    # table, 0.3 m termination.
    charger = cable(to_rack(minimal()), "B001-CH1/")
    assert charger.length_m == pytest.approx(0.5 + 2.35 + 9 + 2.1 + 3 + 1.5 + 0.3)
    assert charger.slack_m == pytest.approx(4.8)
    # From the ceiling at 2.7 m: 0.4 up, from (4, 3.5) 8 + 1.5 along; 1 m slack there.
    access_point = cable(to_rack(minimal()), "B001-AP1/")
    assert access_point.length_m == pytest.approx(0.4 + 9.5 + 2.1 + 3 + 1 + 0.3)


def test_cords_are_counted_by_how_the_cable_ends() -> None:
    # A plug at the access point needs the cord at the rack alone.
    project = to_rack(minimal())
    assert (cable(project, "B001-AP1/").start_connector, cable(project, "B001-AP1/").cords_m) == (
        "8P8C plug",
        2.0,
    )
    assert (cable(project, "B001-CH1/").start_connector, cable(project, "B001-CH1/").cords_m) == (
        "outlet",
        4.0,
    )


def test_a_measured_length_replaces_the_estimate_and_rests_on_no_allowance() -> None:
    fixed = {"B001-CH1/N1/ER1-RK1": FixedCable(length=41.0)}
    measured = cable(changed(to_rack(minimal()), "fixed.cables", fixed), "B001-CH1/")
    assert (measured.length_m, measured.measured, measured.uses) == (41.0, True, ())
    assert measured.checked is not None
    allowances = {"rack_slack", "table_slack", "termination", "routing_factor", "rack_height"}
    # How warm it gets rests on its route all the same.
    for working in (measured.checked.channel,):
        assert not {use.rpartition(".")[2] for use in working.uses} & allowances, working.title


def test_an_estimated_length_rests_on_what_went_into_it_and_no_more() -> None:
    project = to_rack(minimal())
    table, ceiling = cable(project, "B001-CH1/"), cable(project, "B001-AP1/")
    assert "project.rules.cabling.table_slack" in table.uses
    assert "project.rules.cabling.ceiling_slack" not in table.uses
    assert "project.rules.cabling.ceiling_slack" in ceiling.uses
    assert "room_types.meeting.charging_at" in table.uses
    assert "room_types.meeting.access_points_at" in ceiling.uses
    # One storey only: no shaft has any part in it.
    assert "building.shafts" not in table.uses


def test_a_cable_for_a_device_that_asks_for_a_screen_has_one_and_others_cost_least() -> None:
    project = to_rack(minimal())
    access_point, charger = cable(project, "B001-AP1/"), cable(project, "B001-CH1/")
    assert project.library.cables[access_point.model].screened
    cheaper = [
        code
        for code, one in project.library.cables.items()
        if one.cost.amount < project.library.cables[charger.model].cost.amount
        and one.conductor == "copper"
        and one.stranding == "solid"
        and one.jacket.riser
        # The ceiling is not described: the best class of reaction to fire in the library.
        and "Cca" in one.jacket.ratings
    ]
    assert cheaper == []


def test_a_fixed_type_stands() -> None:
    fixed = {"B001-AP1/N1/ER1-RK1": FixedCable(type="CC-5U-R")}
    access_point = cable(changed(to_rack(minimal()), "fixed.cables", fixed), "B001-AP1/")
    assert access_point.model == "CC-5U-R"
    assert access_point.screened_wanted


def test_a_room_on_a_breakouts_switch_is_cabled_to_it_port_by_port() -> None:
    design = designed(minimal())
    ends = {one.identity: one.end_port for one in design.cables}
    assert ends == {
        "B001-AP1/N1/B001-BO1": "N2",
        "B001-BO1/N1/ER1-RK1": "PP1/1",
        "B001-CH1/N1/B001-BO1": "N3",
        "B001-BO1/A3/far-end": "",
    }


def test_loudspeakers_of_a_zone_are_joined_one_to_the_next_and_zones_are_fed_from_the_breakout() -> None:
    loudspeakers = {
        "LS1": Loudspeaker(at=(1.0, 1.0), zone="a"),
        "LS2": Loudspeaker(at=(3.0, 1.0), zone="a"),
        "LS10": Loudspeaker(at=(5.0, 1.0), zone="b"),
    }
    cables = designed(with_layout(minimal(), "meeting", loudspeakers=loudspeakers)).cables
    lines = {one.identity: one for one in cables if one.signal == "loudspeaker line"}
    assert set(lines) == {
        # The rack is nearer to LS2 than to LS1.
        *("B001-LS2/L1/ER1-RK1", "B001-LS1/L1/B001-LS2", "B001-LS10/L1/ER1-RK1"),
    }
    # 2 m along the ceiling, 1 m slack at both ends, 0.3 m termination.
    assert lines["B001-LS1/L1/B001-LS2"].length_m == pytest.approx(2 + 2 + 0.3)
    feeds = [one.identity for one in cables if one.signal == "analogue"]
    assert feeds == ["B001-BO1/A1/ER1-RK1", "B001-BO1/A2/ER1-RK1", "B001-BO1/A5/far-end"]


def shuffled(project: Project, seed: int) -> Project:
    """Return a project with every mapping of rooms, types and fixed decisions in another order."""
    order = random.Random(seed)

    def mixed(items: object) -> dict[str, object]:
        pairs = list(dict(items).items())  # type: ignore[call-overload]
        order.shuffle(pairs)
        return dict(pairs)

    types = {
        name: layout.model_copy(
            update={
                "microphones": mixed(layout.microphones),
                "loudspeakers": mixed(layout.loudspeakers),
                "access_points_at": mixed(layout.access_points_at),
            }
        )
        for name, layout in mixed(project.room_types).items()
    }
    rooms = {
        tag: room if room.changed else room.model_copy(update={"layout": types[room.type]})
        for tag, room in mixed(project.rooms).items()
    }
    library = project.library.model_copy(
        update={
            field: mixed(getattr(project.library, field))
            for field in ("access_points", "chargers", "switches", "cables", "microphones")
        }
    )
    return project.model_copy(update={"room_types": types, "rooms": rooms, "library": library})


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_order_in_which_things_are_written_changes_nothing(seed: int) -> None:
    project = project_of(EXAMPLE)
    design, other = designed(project), designed(shuffled(project, seed))
    assert [one.identity for one in other.cables] == [one.identity for one in design.cables]
    assert other.cables == design.cables
    assert other.devices == design.devices
    assert other.addresses == design.addresses
    assert [(one.switch, one.port, one.attached) for one in other.ports] == [
        (one.switch, one.port, one.attached) for one in design.ports
    ]


def test_another_room_changes_no_identity_of_the_rooms_there_are() -> None:
    project = project_of(EXAMPLE)
    fewer = project.model_copy(update={"rooms": {k: v for k, v in project.rooms.items() if k != "A201"}})
    before = {one.identity for one in designed(fewer).cables}
    after = {one.identity for one in designed(project).cables}
    assert before == {identity for identity in after if not identity.startswith("A201-")}


def test_a_device_that_takes_power_is_joined_by_the_port_that_takes_it() -> None:
    project = minimal()
    model = next(one.model for one in designed(project).devices if one.kind == "access_point")
    entry = project.library.access_points[model]
    network = entry.ports["N"]
    two = {"C": network.model_copy(update={"powered": False}), "N": network}
    both = changed(project, f"library.access_points.{model}.ports", two)
    assert {one.start_port for one in designed(both).cables if one.start == "B001-AP1"} == {"N1"}
    # Where none takes power, it is the first.
    neither = {letters: one.model_copy(update={"powered": False}) for letters, one in two.items()}
    other = changed(project, f"library.access_points.{model}.ports", neither)
    assert {one.start_port for one in designed(other).cables if one.start == "B001-AP1"} == {"C1"}
