"""Power of switches and warming of bundles, computed again from the exported document and the input files.

Nothing below knows the program's own modules: the document comes from the command line in SI units, gauges
from the YAML of the library.
"""

import math
from typing import Any

import pytest
import yaml

from tests.independent.conftest import Case
from tests.independent.inputs import ROOT

pytestmark = pytest.mark.independent
# Power and least voltage of the source, and pairs, by class (IEEE 802.3).
SOURCES = {
    0: (15.4, 44.0, 2),
    1: (4.0, 44.0, 2),
    2: (7.0, 44.0, 2),
    3: (15.4, 44.0, 2),
    4: (30.0, 50.0, 2),
    5: (45.0, 50.0, 4),
    6: (60.0, 50.0, 4),
    7: (75.0, 52.0, 4),
    8: (90.0, 52.0, 4),
}
# As the starting rules have them, which neither project changes: kelvin for each watt a metre, and headroom.
OPEN, ENCLOSED, HEADROOM = 1.5, 2.5, 0.20


@pytest.fixture(name="document")
def exported_document(case: Case) -> dict[str, Any]:
    return case.document


def gauges() -> dict[str, int]:
    """Return the gauge of each data cable of the shared library, AWG."""
    text = (ROOT / "shared" / "materials" / "data_cables.yaml").read_text(encoding="utf-8")
    return {code: int(entry["gauge"]) for code, entry in yaml.safe_load(text)["cables"].items()}


def nominal_ohm_per_m(gauge_awg: int, at_c: float) -> float:
    """Return the resistance of one conductor: ASTM B258, 17.241 nΩ·m at 20 °C, 0.393 % for each kelvin."""
    diameter_m = 0.000127 * 92 ** ((36 - gauge_awg) / 39)
    return 17.241e-9 * (1 + 0.00393 * (at_c - 20)) / (math.pi * diameter_m**2 / 4)


def ohm_per_m(gauge_awg: int, at_c: float) -> float:
    """Return the stricter of that and what TIA-568 allows a data cable: 9.38 Ω for 100 m at 20 °C."""
    return max(nominal_ohm_per_m(gauge_awg, at_c), 0.0938 * (1 + 0.00393 * (at_c - 20)))


def heat_w_per_m(poe_class: int, gauge_awg: int, at_c: float) -> float:
    watts, volts, pairs = SOURCES[poe_class]
    return (watts / volts) ** 2 * ohm_per_m(gauge_awg, at_c) * 2 / pairs


def test_bundles_are_as_warm_as_the_heat_of_their_powered_cables_makes_them(document: Any) -> None:
    gauge = gauges()
    class_of = {
        port["cable"]: port["poe_class"] for port in document["ports"] if port["poe_class"] is not None
    }
    type_of = {cable["identity"]: cable["type"] for cable in document["cables"]}
    warmed = 0
    for pathway in document["pathways"]:
        powered = [one for one in pathway["cables"] if one in class_of]
        assert pathway["powered"] == len(powered)
        coefficient = ENCLOSED if pathway["kind"] in ("conduit", "sleeve") else OPEN
        rise_k = 0.0
        for _ in range(100):
            at_c = pathway["temperature_c"] + rise_k
            heats = [heat_w_per_m(class_of[one], gauge[type_of[one]], at_c) for one in powered]
            rise_k = coefficient * sum(heats)
        assert (pathway["rise_k"] or 0.0) == pytest.approx(rise_k, rel=1e-6, abs=1e-9)
        warmed += rise_k > 0
    assert warmed


def test_every_link_is_at_least_as_warm_as_its_warmest_pathway_powered_or_not(document: Any) -> None:
    warmth = {one["tag"]: one["temperature_c"] + (one["rise_k"] or 0.0) for one in document["pathways"]}
    through = 0
    for cable in document["cables"]:
        for tag in cable["pathways"] if cable["signal"] == "network" else ():
            assert cable["temperature_c"] >= warmth[tag] - 1e-6
            through += 1
    assert through


def test_what_switches_set_aside_keeps_within_their_budgets_less_headroom(document: Any) -> None:
    """Nothing is left free of the switch inside a breakout; it stands in no equipment room."""
    rooms = {room["tag"] for room in document["rooms"]}
    for switch in document["switches"]:
        classes = [one["poe_class"] for one in document["ports"] if one["switch"] == switch["tag"]]
        aside_w = sum(SOURCES[one][0] for one in classes if one is not None)
        built_in = switch["tag"].rpartition("-")[0] in rooms
        usable_w = switch["budget_w"] * (1 - (0.0 if built_in else HEADROOM))
        assert switch["allocated_w"] == pytest.approx(aside_w)
        assert switch["usable_w"] == pytest.approx(usable_w)
        assert (switch["verdict"] == "fails") is (aside_w > usable_w + 1e-9)
    assert any(switch["allocated_w"] for switch in document["switches"])
