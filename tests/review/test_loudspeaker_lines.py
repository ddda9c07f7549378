"""Findings about loudspeaker lines: what is found, how much of it, where it is written, what would fix it."""

import random
from collections.abc import Sequence
from itertools import combinations, pairwise
from typing import Any

import pytest

from proposal.design.equipment.line_loads import hung_as_laid_out
from proposal.design.equipment.zone_lines import line_loads
from proposal.model.project import FixedCable, FixedDevice, Project
from proposal.model.rooms import Loudspeaker
from proposal.review.finding import Finding
from proposal.review.loudspeaker_lines import LOUDSPEAKER_LINE_RULES
from tests.design.making import changed, designed, minimal, with_layout
from tests.long_form import cases


def found(project: Project) -> dict[str, list[Finding]]:
    design = designed(project)
    by_rule: dict[str, list[Finding]] = {}
    for rule in LOUDSPEAKER_LINE_RULES:
        for one in rule(project, design):
            by_rule.setdefault(one.rule, []).append(one)
    return by_rule


def with_loudspeakers(count: int = 4, **written: Any) -> Project:
    """Return a building of one room with so many loudspeakers of a zone, 1 m apart."""
    hung = {f"LS{n}": Loudspeaker(at=(1.0 * n, 1.5), **written) for n in range(1, count + 1)}
    return with_layout(minimal(), "meeting", loudspeakers=hung, network="rack", output="mixer")


def every(project: Project, section: str, **values: Any) -> Project:
    """Return a project in whose library all entries of a section have other values."""
    entries = getattr(project.library, section)
    return changed(
        project,
        f"library.{section}",
        {code: entry.model_copy(update=values) for code, entry in entries.items()},
    )


def test_a_room_with_usual_loudspeakers_has_no_finding() -> None:
    assert found(with_loudspeakers()) == {}


@pytest.mark.independent
def test_an_overloaded_line_tells_watts_and_which_zones_would_do() -> None:
    """Four taps of 20 W draw 80 W without loss; channels of 60 W give 48 W: two fit, or taps of 10 W."""
    project = every(with_loudspeakers(tap=20.0), "loudspeakers", transformer_loss=0.0)
    project = every(project, "amplifiers", channels=2, channel_power=100.0, total_power=200.0)
    # Somebody chose one that is too small; the others would do.
    small = min(project.library.amplifiers)
    weak = {"channel_power": 60.0, "total_power": 120.0}
    weak_entry = project.library.amplifiers[small].model_copy(update=weak)
    project = changed(project, f"library.amplifiers.{small}", weak_entry)
    project = changed(project, "fixed.devices", {"B001-AM1": FixedDevice(model=small)})
    (one,) = found(project)["loudspeaker-line-overloaded"]
    assert one.value == pytest.approx(80.0)
    assert one.limit == pytest.approx(48.0)
    assert one.unit == "W"
    assert (
        "make 2 zones of it, each with a channel of its own: LS3, LS4 (40 W); LS1, LS2 (40 W)" in one.remedy
    )
    assert "a tap of 10 W" in one.remedy
    # Just as much as the channel may give is no finding.
    assert "loudspeaker-line-overloaded" not in found(
        every(project, "amplifiers", channels=2, channel_power=100.0, total_power=200.0)
    )


@pytest.mark.independent
def test_all_channels_are_driven_at_once() -> None:
    """Two channels of 200 W on a supply of 160 W have 80 W each, 64 W with headroom."""
    project = every(with_loudspeakers(count=1, tap=80.0), "loudspeakers", transformer_loss=0.0)
    project = every(project, "amplifiers", channels=2, channel_power=200.0, total_power=160.0)
    (one,) = found(project)["loudspeaker-line-overloaded"]
    assert one.limit == pytest.approx(64.0)


def parted(taps_w: Sequence[float], usable_w: float) -> Project:
    """Return a room with loudspeakers in a row, at such taps without loss, and what channels may give."""
    hung = {f"LS{n}": Loudspeaker(at=(0.5 * n, 1.5), tap=tap_w) for n, tap_w in enumerate(taps_w, 1)}
    project = with_layout(minimal(), "meeting", loudspeakers=hung, network="rack", output="mixer")
    project = every(project, "loudspeakers", transformer_loss=0.0, taps_100_v=tuple({*taps_w}))
    rated_w = usable_w / 0.8
    return every(project, "amplifiers", channels=2, channel_power=rated_w, total_power=2 * rated_w)


@pytest.mark.independent
def test_a_zone_that_no_channel_carries_has_as_many_lines_as_it_takes() -> None:
    """Five taps of 20 W and channels that may give 48 W: two, two and one; each fed on its own."""
    design = designed(parted([20.0] * 5, 48.0))
    lines = [one for one in design.loudspeaker_lines if one.room == "B001"]
    assert sorted(len(one.tags) for one in lines) == [1, 2, 2]
    assert {one.zone for one in lines} == {"room 1", "room 2", "room 3"}
    assert len({one.identity for one in lines}) == 3
    assert not any(one.overloaded or one.channel is None for one in lines)
    feeds = {one.name: one for one in design.ends if one.device == "B001-MX1" and "zone" in one.name}
    assert len({one.port for one in feeds.values() if one.port}) == len(feeds) == 3
    assert sum(one.kind == "amplifier" for one in design.devices) == 2
    told = found(design.project)
    assert set(told) == {"zone-in-parts"}
    (one,) = told["zone-in-parts"]
    assert "(100 W). It has 3 lines" in one.message
    # 100 ÷ 0.8, as the remedy says, is enough for one line; a watt less is not.
    assert "an amplifier to the library with 125 W a channel or more" in one.remedy
    assert found(parted([20.0] * 5, 100.0)) == {}
    assert set(found(parted([20.0] * 5, 99.0))) == {"zone-in-parts"}


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(cases(5)))
def test_lines_of_a_zone_are_the_fewest_neighbours_and_as_even_as_can_be(seed: int) -> None:
    """In a row every division into neighbours is tried: so few, and the heaviest as light as it can be."""
    chance = random.Random(seed)
    taps_w = [chance.choice((5.0, 10.0, 20.0)) for _ in range(chance.randint(4, 7))]
    usable_w = chance.choice((24.0, 32.0, 48.0))
    divided = [
        [sum(taps_w[start:end]) for start, end in pairwise((0, *cuts, len(taps_w)))]
        for count in range(len(taps_w))
        for cuts in combinations(range(1, len(taps_w)), count)
    ]
    best = min((len(one), max(one)) for one in divided if max(one) <= usable_w)
    project = parted(taps_w, usable_w)
    loads = line_loads(
        project, project.rooms["B001"].layout, hung_as_laid_out(project, project.rooms["B001"].layout)
    )
    watts = [sum(unit.draws_w for unit in one.units) for one in loads.values()]
    assert (len(watts), max(watts)) == pytest.approx(best)


def test_a_loudspeaker_too_large_for_every_channel_stays_an_error() -> None:
    assert "loudspeaker-line-overloaded" in found(parted([20.0, 60.0], 48.0))


def test_a_tap_that_is_not_there_names_those_that_are() -> None:
    (one, *others) = found(with_loudspeakers(tap=3.0))["tap-missing"]
    # From the amplifier on: its rack is nearest to the last of the row.
    assert [each.where for each in (one, *others)] == ["B001-LS4", "B001-LS3", "B001-LS2", "B001-LS1"]
    assert "a tap of 3 W" in one.message
    assert "2.5 W, 5 W, 10 W and 20 W" in one.message


def test_a_loudspeaker_without_taps_for_its_line_is_an_error() -> None:
    project = every(with_loudspeakers(count=1), "loudspeakers", taps_100_v=())
    (one,) = found(project)["tap-missing"]
    assert "has no tap at all" in one.message
    # On the other line it has some.
    assert "tap-missing" not in found(with_layout(project, "meeting", loudspeaker_line="70.7 V"))


def test_a_tap_over_the_rating_of_a_loudspeaker_is_an_error_and_never_chosen() -> None:
    project = every(with_loudspeakers(tap=20.0), "loudspeakers", rated_power=12.0)
    assert {one.value for one in found(project)["tap-over-rating"]} == {20.0}
    free = every(with_loudspeakers(), "loudspeakers", rated_power=4.0, sensitivity=60.0)
    assert {unit.tap_w for line in designed(free).loudspeaker_lines for unit in line.load.units} == {2.5}


@pytest.mark.independent
def test_a_zone_that_is_too_quiet_tells_by_how_much() -> None:
    """10 dB less sensitive than what needs just the tap it has: 70 dB in place of 80 dB."""
    project = with_loudspeakers(count=1)
    (line,) = designed(project).loudspeaker_lines
    (unit,) = line.load.units
    enough_db = unit.entry.sensitivity
    project = every(project, "loudspeakers", taps_100_v=(unit.needed_w,), sensitivity=enough_db)
    assert "loudspeaker-too-quiet" not in found(project)
    (one,) = found(every(project, "loudspeakers", sensitivity=enough_db - 10.0))["loudspeaker-too-quiet"]
    assert one.value == pytest.approx(70.0)
    assert one.limit == pytest.approx(80.0)


def test_an_amplifier_without_the_voltage_of_a_line_is_an_error() -> None:
    project = every(with_loudspeakers(), "amplifiers", line_voltages=(70.7,))
    (one,) = found(project)["loudspeaker-line-not-driven"]
    assert one.where == "B001-AM1/L1"
    assert "70.7 V only" in one.message
    assert found(with_layout(project, "meeting", loudspeaker_line="70.7 V")) == {}


@pytest.mark.independent
def test_loudspeakers_in_series_are_a_higher_load_and_one_of_two_ohms_is_too_low() -> None:
    """Four of 8 Ω are 2 Ω in parallel and 32 Ω in series; one that bears 4 Ω takes them in series."""
    project = with_layout(with_loudspeakers(), "meeting", loudspeaker_line="low impedance")
    project = every(project, "loudspeakers", impedance=8.0)
    project = every(project, "amplifiers", lowest_impedance=4.0)
    (line,) = designed(project).loudspeaker_lines
    assert (line.joined.wiring, line.joined.impedance_ohm) == ("series", pytest.approx(32.0))
    two = with_layout(
        project, "meeting", loudspeakers=dict(list(project.rooms["B001"].layout.loudspeakers.items())[:2])
    )
    (line,) = designed(two).loudspeaker_lines
    assert (line.joined.wiring, line.joined.impedance_ohm) == ("parallel", pytest.approx(4.0))
    low = every(with_layout(project, "meeting", loudspeakers={"LS1": Loudspeaker(at=(1.0, 1.5))}),
                "loudspeakers", impedance=2.0)  # fmt: skip
    (one,) = found(low)["loudspeaker-impedance-low"]
    assert (one.value, one.limit, one.unit) == (2.0, 4.0, "Ω")


def test_a_thin_cable_by_hand_loses_too_much_and_the_finding_names_a_gauge_that_does() -> None:
    project = changed(with_loudspeakers(tap=20.0), "brief.rules.loudspeakers.loss", 0.05)
    (line,) = designed(project).loudspeaker_lines
    thinnest = max(project.library.loudspeaker_cables.items(), key=lambda item: item[1].gauge)[0]
    by_hand = {one.identity: FixedCable(type=thinnest, length=60.0) for one in line.cables}
    project = changed(project, "fixed.cables", by_hand)
    (one,) = found(project)["loudspeaker-line-loss"]
    assert one.limit == 0.05
    assert one.value is not None
    assert one.value > 0.05
    gauge = int(one.remedy.removeprefix("A cable of ").partition(" ")[0])
    entry = project.library.loudspeaker_cables[thinnest]

    def with_gauge(gauge_awg: int) -> Project:
        thick = {thinnest: entry.model_copy(update={"gauge": gauge_awg})}
        return changed(project, "library.loudspeaker_cables", {**project.library.loudspeaker_cables, **thick})

    assert "loudspeaker-line-loss" not in found(with_gauge(gauge))
    assert "loudspeaker-line-loss" in found(with_gauge(gauge + 2))


def test_a_cable_of_a_lower_class_than_its_amplifier_asks_is_an_error() -> None:
    project = every(with_loudspeakers(), "amplifiers", wiring_class="class 1")
    wrong = found(project)["wiring-class-short"]
    assert len(wrong) == 4
    assert "class 3 wiring; the output B001-AM1/L1 asks for class 1" in wrong[0].message
    assert wrong[0].source.title == "NFPA 70"


def test_findings_point_at_the_line_that_is_written() -> None:
    project = with_loudspeakers(tap=3.0)
    placed = {
        ("room_types", "meeting", "loudspeakers", f"LS{n}", "tap"): minimal().place("brief") for n in (1, 2)
    }
    project = project.model_copy(update={"places": {**project.places, **placed}})
    one = next(each for each in found(project)["tap-missing"] if each.where == "B001-LS1")
    assert one.place == placed["room_types", "meeting", "loudspeakers", "LS1", "tap"]


def test_a_larger_amplifier_by_hand_takes_the_load() -> None:
    project = with_loudspeakers(tap=20.0)
    tag = "B001-AM1"
    weakest = min(project.library.amplifiers.items(), key=lambda item: item[1].channel_power)[0]
    strongest = max(project.library.amplifiers.items(), key=lambda item: item[1].channel_power)[0]
    for model, overloaded in ((weakest, True), (strongest, False)):
        by_hand = changed(project, "fixed.devices", {tag: FixedDevice(model=model)})
        assert ("loudspeaker-line-overloaded" in found(by_hand)) == overloaded
