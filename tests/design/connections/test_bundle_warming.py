"""Warming of bundles by power over Ethernet, computed beside the program with its own constants."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from proposal.design.connections.bundle_warming import Warming, warming
from proposal.design.connections.cable import Cable
from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.pipeline import compute
from proposal.review.pathways import bundles
from tests.design.making import changed
from tests.review.editing import Edit, edited

pytestmark = pytest.mark.independent

RACK: Edit = [("output: breakout\n", "output: breakout\nnetwork: rack\n")]
TRAY = "  T1: {kind: tray, between: [N1, N2], width: 0.2 m, depth: 50 mm, space: hot}\n"
CONDUIT = "  C1: {kind: conduit, between: [N1, N2], size: '2', space: hot}\n"
# Power of a source by class, its least voltage and its pairs (IEEE 802.3).
SOURCES = {3: (15.4, 44.0, 2), 4: (30.0, 50.0, 2), 6: (60.0, 50.0, 4), 8: (90.0, 52.0, 4)}
AIR_C = 40.0


def ohm_per_m(gauge_awg: int, at_c: float) -> float:
    """Return the resistance of one conductor: ASTM B258 and 17.241 nΩ·m at 20 °C, or 9.38 Ω for 100 m.

    The stricter of both (TIA-568), and 0.393 % more for each kelvin.
    """
    diameter_m = 0.000127 * 92 ** ((36 - gauge_awg) / 39)
    nominal = 17.241e-9 / (math.pi * diameter_m**2 / 4)
    return max(nominal, 0.0938) * (1 + 0.00393 * (at_c - 20))


def heat_w_per_m(poe_class: int, gauge_awg: int, at_c: float) -> float:
    """Return I²·r in each metre: two pairs have r there and back, four pairs half of it."""
    watts, volts, pairs = SOURCES[poe_class]
    return (watts / volts) ** 2 * ohm_per_m(gauge_awg, at_c) * (1.0 if pairs == 2 else 0.5)


def settled_k(poe_class: int, gauge_awg: int, powered: int, k_m_per_w: float) -> float:
    """Return the warming at which the warm copper gives just the heat that keeps it warm, by repeating."""
    rise_k = 0.0
    for _ in range(200):
        rise_k = k_m_per_w * powered * heat_w_per_m(poe_class, gauge_awg, AIR_C + rise_k)
    return rise_k


def project_in(folder: Path, pathway: str) -> Project:
    """Return the one-room project, all of it cabled to the rack along a pathway in the warm."""
    return load_project(
        edited(
            folder / "project",
            "minimal",
            {
                "room_types/meeting.yaml": RACK,
                "building.yaml": [
                    (
                        "*end*",
                        "spaces:\n  hot: {name: Void, temperature: 40 °C}\n"
                        "nodes:\n  N1: {storey: L0, at: [2 m, 2 m]}\n  N2: {storey: L0, at: [12 m, 2 m]}\n"
                        "pathways:\n" + pathway,
                    )
                ],
            },
        )
    )


def many(project: Project, made: Design, poe_class: int, powered: int, unpowered: int = 0) -> list[Cable]:
    """Return so many cables like the access point's, some of them without power."""
    like = next(one for one in made.cables if one.start == "B001-AP1")
    return [
        replace(like, identity=f"X{n}", poe_class=poe_class if n < powered else None)
        for n in range(powered + unpowered)
    ]


def gauge_of(project: Project, cables: list[Cable]) -> int:
    return project.library.cables[cables[0].model].gauge


def warmed(project: Project, cables: list[Cable]) -> Warming:
    return warming(project, cables)


@pytest.mark.parametrize(
    ("pathway", "tag", "k_m_per_w"), [(TRAY, "T1", 1.5), (CONDUIT, "C1", 2.5)], ids=["open", "enclosed"]
)
@pytest.mark.parametrize(("poe_class", "powered"), [(3, 24), (4, 24), (6, 12), (8, 48)])
def test_the_rise_follows_the_heat_of_all_powered_cables(
    tmp_path: Path, pathway: str, tag: str, k_m_per_w: float, poe_class: int, powered: int
) -> None:
    project = project_in(tmp_path, pathway)
    cables = many(project, design(project), poe_class, powered, unpowered=5)
    bundle = warmed(project, cables).pathways[tag]
    assert (bundle.cables, bundle.tied) == (powered + 5, powered + 5)
    assert bundle.rise_k == pytest.approx(settled_k(poe_class, gauge_of(project, cables), powered, k_m_per_w))


def test_class_4_on_24_awg_gives_34_milliwatts_a_metre() -> None:
    """0.6 A twice through 93.8 Ω/km: 0.36 · 0.0938 = 0.0338 W/m at 20 °C, by hand."""
    assert heat_w_per_m(4, 24, 20.0) == pytest.approx(0.0338, abs=5e-5)


def test_every_cable_of_a_bundle_gets_as_warm_powered_or_not_and_only_there(tmp_path: Path) -> None:
    project = changed(project_in(tmp_path, TRAY), "brief.rules.pathways.warming_open", 100.0)
    made = design(project)
    (one,) = [pathway for pathway in made.pathways if pathway.tag == "T1"]
    assert one.bundle is not None
    rise_k = one.bundle.rise_k
    assert rise_k > 0.1
    by_start = {cable.start: cable for cable in made.cables}
    charger, point = by_start["B001-CH1"], by_start["B001-AP1"]
    assert (charger.poe_class, point.poe_class is not None) == (None, True)
    for cable in (charger, point):
        lying = {stretch.pathway: stretch.length_m for stretch in cable.route.stretches if stretch.pathway}
        there = [part for part in cable.warmth if part.temperature_c == pytest.approx(AIR_C + rise_k)]
        assert sum(part.length_m for part in there) == pytest.approx(lying["T1"])
        assert sum(part.length_m for part in cable.warmth) == pytest.approx(cable.length_m)
        elsewhere = [part.temperature_c for part in cable.warmth if part not in there]
        # Slack and vertical runs at the ceiling's 30 °C; on a run of its own the access point warms itself.
        assert min(elsewhere) == 30.0
        assert max(elsewhere) < AIR_C
        assert cable.temperature_c == pytest.approx(AIR_C + rise_k)
        assert cable.checked is not None
        rise = sum(
            part.length_m * (1 + tia_rise(part.temperature_c, screened=bool(cable.screened_wanted)))
            for part in cable.warmth
        )
        assert cable.checked.link.result == pytest.approx(rise)


def tia_rise(at_c: float, *, screened: bool) -> float:
    """Return the rise of insertion loss: 0.2 %/K screened; 0.4 %/K to 40 °C and 0.6 %/K beyond unscreened."""
    if screened:
        return 0.002 * (at_c - 20)
    return 0.004 * (at_c - 20) if at_c <= 40 else 0.08 + 0.006 * (at_c - 40)


def test_a_tray_without_powered_cables_is_as_warm_as_its_air(tmp_path: Path) -> None:
    project = project_in(tmp_path, TRAY)
    cables = many(project, design(project), 4, powered=0, unpowered=30)
    bundle = warmed(project, cables).pathways["T1"]
    assert (bundle.rise, bundle.rise_k, bundle.holds) == (None, 0.0, True)


def test_bundles_of_a_size_are_judged_by_the_hottest_one(tmp_path: Path) -> None:
    """Twelve tied together out of a hundred are twelve of the hottest."""
    text = TRAY.replace("space: hot", "space: hot, bundle: 12")
    project = project_in(tmp_path, text)
    cables = [
        *many(project, design(project), 8, powered=20),
        *(replace(one, identity=f"Y{one.identity}") for one in many(project, design(project), 3, powered=80)),
    ]
    bundle = warmed(project, cables).pathways["T1"]
    assert (bundle.cables, bundle.tied) == (100, 12)
    assert bundle.rise_k == pytest.approx(settled_k(8, gauge_of(project, cables), 12, 1.5))
    ruled = changed(project_in(tmp_path / "ruled", TRAY), "brief.rules.pathways.bundle", 6)
    assert warmed(ruled, cables).pathways["T1"].tied == 6


def test_beyond_15_kelvin_it_is_said_how_many_may_be_tied_together(tmp_path: Path) -> None:
    project = project_in(tmp_path, TRAY)
    cables = many(project, design(project), 8, powered=120)
    bundle = warmed(project, cables).pathways["T1"]
    gauge = gauge_of(project, cables)
    most = max(n for n in range(1, 121) if settled_k(8, gauge, n, 1.5) <= 15.0)
    assert bundle.rise_k > 15.0
    assert not bundle.holds
    assert bundle.most == most
    assert most < 120


def test_a_bundle_that_is_too_warm_is_an_error_that_names_the_number(tmp_path: Path) -> None:
    project = project_in(tmp_path, TRAY)
    made = design(project)
    bundle = warmed(project, many(project, made, 8, powered=120)).pathways["T1"]
    full = replace(made, pathways=tuple(replace(one, bundle=bundle) for one in made.pathways))
    (told,) = [one for one in bundles(project, full) if one.rule == "bundle-too-warm"]
    assert (told.severity, told.where, told.value, told.limit) == ("error", "T1", bundle.rise_k, 15.0)
    assert told.remedy == f"Tie at most {bundle.most} of them in one bundle."
    assert "120 cables" in told.message
    assert not full.pathways[0].holds


def test_where_one_cable_alone_is_too_warm_no_smaller_bundle_helps(tmp_path: Path) -> None:
    """Class 4 over conductors of 4.5 Ω/m, more than fifty times those of 24 AWG: 0.36 · 4.5 = 1.6 W/m."""
    project = project_in(tmp_path, TRAY)
    points = {
        code: one.model_copy(
            update={"poe": one.poe.model_copy(update={"device_class": 4}) if one.poe else None}
        )
        for code, one in project.library.access_points.items()
    }
    project = changed(project, "library.access_points", points)
    thin = {
        code: cable.model_copy(update={"pair_resistance": 900.0})
        for code, cable in project.library.cables.items()
    }
    hot = changed(changed(project, "library.cables", thin), "brief.rules.pathways.warming_open", 100.0)
    (told,) = [one for one in compute(hot).findings if one.rule == "bundle-too-warm"]
    assert "thicker conductors" in told.remedy
    assert told.value is not None
    assert told.value > 15.0
