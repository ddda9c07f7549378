"""Patch cords: what suits, what is counted, and that all of it is bought."""

from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.design.connections.cable_checks import LinkChecks, LinkUses, link_checks
from proposal.design.connections.cable_temperature import TemperatureSegment
from proposal.design.connections.patch_cords import cord
from proposal.model.project import Project
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, PROJECTS, changed, minimal, project_of, with_layout

pytestmark = pytest.mark.independent


def wanting(length_m: float, gauge: int = 24, at_device_m: float = 2.0) -> Project:
    """Return the one-room project, all of it cabled to the rack, that asks for cords of a length there."""
    project = with_layout(minimal(), "meeting", network="rack")
    project = changed(project, "brief.rules.cabling.equipment_cord", length_m)
    project = changed(project, "brief.rules.cabling.device_cord", at_device_m)
    return changed(project, "brief.rules.cabling.cord_gauge", gauge)


def test_a_cord_that_is_longer_than_wanted_counts_with_its_own_length() -> None:
    """The library's unscreened cords of 24 AWG are 1, 2, 3, 5 and 10 m long: 7 ft, 2.134 m, takes 3 m."""
    found = cord(wanting(2.134), "rack", None)
    assert found is not None
    assert (found.length_m, found.wanted_m) == (3.0, 2.134)
    project = wanting(2.134)
    entry = project.library.patch_cords[found.model]
    assert (entry.length, entry.screened, entry.gauge) == (3.0, False, 24)
    computed = compute(project)
    charger = next(one for one in computed.design.cables if one.start == "B001-CH1")
    assert charger.cords_m == 3.0 + 2.0
    assert charger.channel_m == pytest.approx(charger.length_m + 5.0)


def test_a_cord_is_no_thinner_no_less_screened_and_of_no_lower_category_than_its_cable() -> None:
    project = wanting(2.0)
    for cable in project.library.cables.values():
        found = cord(project, "rack", cable)
        assert found is not None
        entry = project.library.patch_cords.get(found.model)
        if entry is not None:
            assert entry.gauge in (22, 23, 24)
            assert entry.screened or not cable.screened
            assert str(entry.category) >= cable.category
        # One that joins a device in the rack alone is of the category that the rule asks for.
        alone = cord(changed(project, "brief.rules.cabling.data_cable", cable.model), "rack", None)
        assert alone is not None
        assert alone.category == cable.category


@pytest.mark.parametrize("folder", [EXAMPLE, PROJECTS / "us_customary", PROJECTS / "minimal"])
def test_every_cord_that_a_channel_counts_is_bought(folder: Path) -> None:
    """Metres of cords in the take-off: those of the channels, and one for each device in a rack."""
    computed = compute(project_of(folder))
    project, design = computed.project, computed.design
    counted = Counter(one.model for cable in design.cables for one in cable.cords)
    in_rack = cord(project, "rack", None)
    assert in_rack is not None
    counted[in_rack.model] += sum(not port.attached.cable for port in design.ports)
    counted.update(one.model for link in design.switch_links if not link.cable for one in link.cords)
    bought: Counter[str] = Counter()
    for line in computed.estimate.lines:
        if line.section == "patching":
            bought[line.model] += int(line.quantity)
    assert bought == +counted
    metres = sum(
        count * Decimal(repr(project.library.patch_cords[model].length)) for model, count in bought.items()
    )
    in_channels = sum(Decimal(repr(cable.channel_m - cable.length_m)) for cable in design.cables)
    racked = Decimal(repr(in_rack.length_m)) * sum(not port.attached.cable for port in design.ports)
    between = sum(
        Decimal(repr(one.length_m)) for link in design.switch_links if not link.cable for one in link.cords
    )
    assert float(metres) == pytest.approx(float(in_channels + racked + between))


def test_a_device_with_a_plug_on_the_breakouts_own_switch_takes_no_cord() -> None:
    design = compute(minimal()).design
    plugged = next(one for one in design.cables if one.start == "B001-AP1")
    assert (plugged.start_connector, plugged.end, plugged.cords_m) == ("8P8C plug", "B001-BO1", 0.0)
    assert plugged.channel_m == plugged.length_m
    outlet = next(one for one in design.cables if one.start == "B001-CH1")
    assert (outlet.start_connector, outlet.end, outlet.cords_m) == ("outlet", "B001-BO1", 2.0)


def test_cords_that_the_library_lacks_are_an_error_and_counted_as_wanted() -> None:
    """No cord is 12 m long: the channel counts 12 m at the rack, nothing is bought, and it is said."""
    computed = compute(wanting(12.0))
    charger = next(one for one in computed.design.cables if one.start == "B001-CH1")
    assert charger.cords_m == 14.0
    told = [one for one in computed.findings if one.rule == "no-cord"]
    assert told
    assert {(one.severity, one.where) for one in told} == {("error", "B001")}
    assert any("12" in one.message and "at the rack" in one.message for one in told)
    assert not [one for one in compute(wanting(10.0)).findings if one.rule == "no-cord"]


def checked(link_m: float, cords_m: float, device_cord_m: float, gauge: int) -> LinkChecks:
    return link_checks(
        [TemperatureSegment(link_m, 20.0)],
        cords_m,
        screened=False,
        cord_gauge_awg=gauge,
        uses=LinkUses(length=(), warmth=(), cords=()),
        device_cord_m=device_cord_m,
    )


@pytest.mark.parametrize(
    ("link_m", "cords_m", "device_m", "gauge", "verdict"),
    [
        # C = (102 − 70)/1.2 = 26.67; the device's is min(C − T, 22).
        (70.0, 26.0, 21.9, 24, "holds"),
        (70.0, 26.0, 22.1, 24, "fails"),
        # C = (102 − 70)/1.5 = 21.33; the device's is min(C − T, 17).
        (70.0, 21.0, 16.9, 26, "holds"),
        (70.0, 21.0, 17.1, 26, "fails"),
        # C = (102 − 90)/1.2 = 10, T = 5.
        (90.0, 10.0, 5.0, 24, "holds"),
    ],
)
def test_the_cord_at_a_device_has_a_limit_of_its_own(
    link_m: float, cords_m: float, device_m: float, gauge: int, verdict: str
) -> None:
    checks = checked(link_m, cords_m, device_m, gauge)
    assert checks.cords is not None
    assert checks.cords.verdict == "holds"
    assert checks.device_cord is not None
    assert checks.device_cord.verdict == verdict
    assert checks.holds is (verdict == "holds")
