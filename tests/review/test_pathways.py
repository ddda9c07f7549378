"""Rules about pathways and routes: each fires where it should and says where the cause stands.

What the failing project breaks is tested with it; the rest is one small edit of the smallest project.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from proposal.design.connections.cable import Cable
from proposal.document.making.document import document_of
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from proposal.review.finding import Finding
from tests.catalogue import model_of, shipped
from tests.review.editing import PROJECTS, Edit, edited, line_of
from tests.review.test_rules import faults

TYPE = "room_types/meeting.yaml"
# A system whose cheapest charger takes its power from its cable, as access points do.
FED_BY_CABLE = shipped().chargers[model_of(shipped(), "charger", powered_by="PoE")].works_with
NETWORKED = [code for code, one in shipped().chargers.items() if one.ports_carrying("network")]
# Every device goes to the rack, along what the edit describes.
RACK: Edit = [("output: breakout\n", "output: breakout\nnetwork: rack\n")]


def building(pathways: str, nodes: str = "", spaces: str = "") -> list[tuple[str, str]]:
    """Return an edit that gives the building two nodes on the way to the rack, and pathways."""
    return [
        (
            "*end*",
            "spaces:\n  dry: {name: Void}\n" + spaces + "nodes:\n"
            "  N1: {storey: L0, at: [2 m, 2 m]}\n"
            "  N2: {storey: L0, at: [12 m, 2 m]}\n" + nodes + "pathways:\n" + pathways,
        )
    ]


@dataclass(frozen=True)
class Case:
    """An edit that makes a rule fire: rule, severity and place of the finding; what it points at."""

    rule: str
    severity: str
    where: str
    edits: Mapping[str, Edit]
    cause: tuple[str, str]


TRAY = "  T1: {kind: tray, between: [N1, N2], width: %s, depth: %s}\n"
LOUDSPEAKERS: Edit = [
    ("output: breakout\n", "output: breakout\nnetwork: rack\n"),
    ("*end*", "loudspeakers:\n  LS1: {at: [3 m, 1 m]}\n"),
]

CASES = (
    Case(
        "no-fire-stopping",
        "warning",
        "T1-W1",
        {
            TYPE: RACK,
            "building.yaml": building((TRAY % ("100 mm", "60 mm")).replace("width", "rated_walls: 1, width")),
            "project.yaml": [("*end*", "responsibilities: {rows: {Fire-stopping: {furnish: AV}}}\n")],
            "library/own.yaml": "consumables:\n  DR-FS: {use: screw set}\n",
        },
        ("project.yaml", "responsibilities: {rows"),
    ),
    Case(
        "tray-overfull",
        "error",
        "T1",
        {TYPE: RACK, "building.yaml": building(TRAY % ("10 mm", "10 mm"))},
        ("building.yaml", "  T1:"),
    ),
    Case(
        "hooks-overfull",
        "error",
        "H1",
        {
            TYPE: RACK,
            "building.yaml": building("  H1: {kind: hooks, between: [N1, N2], support: DR-HK32}\n"),
            "library/own.yaml": "supports:\n  DR-HK32: {area: 60 mm²}\n",
        },
        ("building.yaml", "  H1:"),
    ),
    Case(
        "hooks-overloaded",
        "error",
        "H1",
        {
            TYPE: RACK,
            "building.yaml": building("  H1: {kind: hooks, between: [N1, N2], support: DR-HK32}\n"),
            "library/own.yaml": "supports:\n  DR-HK32: {load: 50 g}\n",
        },
        ("building.yaml", "  H1:"),
    ),
    Case(
        "tray-overloaded",
        "error",
        "T1",
        {
            TYPE: RACK,
            "building.yaml": building("  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 54 mm}\n"),
            "library/own.yaml": "trays:\n"
            + "".join(f"  DR-TY{width}: {{load_per_length: 0.5 N/m}}\n" for width in (100, 200, 300, 400)),
        },
        ("building.yaml", "  T1:"),
    ),
    Case(
        "no-spare-capacity",
        "note",
        "C1",
        {
            TYPE: RACK,
            "building.yaml": building("  C1: {kind: conduit, between: [N1, N2], size: 3/4}\n"),
            "library/own.yaml": "cables:\n  CC-5U-L: {outside_diameter: 7.2 mm}\n"
            "  CC-5F-L: {outside_diameter: 7.2 mm}\n",
        },
        ("building.yaml", "  C1:"),
    ),
    Case(
        "conduit-jams",
        "warning",
        "C1",
        {
            TYPE: RACK,
            "building.yaml": building("  C1: {kind: conduit, between: [N1, N2], size: 3/4}\n"),
            "library/own.yaml": "cables:\n  CC-5U-L: {outside_diameter: 7 mm}\n"
            "  CC-5F-L: {outside_diameter: 7 mm}\n",
        },
        ("building.yaml", "  C1:"),
    ),
    Case(
        "bundle-too-warm",
        "error",
        "C1",
        {
            # Its access point and its charger are both fed over their cables, of thin wire.
            TYPE: [*RACK, ("*end*", f"system: {FED_BY_CABLE}\n")],
            "building.yaml": building("  C1: {kind: conduit, between: [N1, N2]}\n"),
            "project.yaml": [("*end*", "rules:\n  pathways: {warming_enclosed: 100, bundle: 9}\n")],
            "library/own.yaml": "cables:\n  CC-5U-L: {pair_resistance: 900 ohm}\n"
            "  CC-5F-L: {pair_resistance: 900 ohm}\n",
        },
        ("project.yaml", "pathways: {"),
    ),
    Case(
        "lines-beside-data",
        "warning",
        "C1",
        {TYPE: LOUDSPEAKERS, "building.yaml": building("  C1: {kind: conduit, between: [N1, N2]}\n")},
        ("building.yaml", "  C1:"),
    ),
    Case(
        "lines-near-data",
        "warning",
        "T1",
        {TYPE: LOUDSPEAKERS, "building.yaml": building(TRAY % ("100 mm", "50 mm"))},
        ("building.yaml", "  T1:"),
    ),
    Case(
        "cables-outdoors",
        "warning",
        "T1",
        {
            TYPE: RACK,
            "building.yaml": building(
                "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, space: yard}\n",
                spaces="  yard: {name: Yard, location: outdoors}\n",
            ),
        },
        ("building.yaml", "location: outdoors"),
    ),
    Case(
        "cables-in-slab",
        "warning",
        "C1",
        {
            TYPE: RACK,
            "building.yaml": building(
                "  C1: {kind: conduit, between: [N1, N2], space: slab}\n",
                spaces="  slab: {name: Ground slab, location: slab on grade}\n",
            ),
        },
        ("building.yaml", "location: slab on grade"),
    ),
    Case(
        "mains-too-near",
        "error",
        "T1",
        {
            TYPE: RACK,
            "building.yaml": building(
                "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, mains_distance: 49 mm}\n"
            ),
        },
        ("building.yaml", "mains_distance"),
    ),
    Case(
        "mains-beside",
        "note",
        "T1",
        {
            TYPE: RACK,
            "building.yaml": building(
                "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, mains_distance: 50 mm}\n"
            ),
        },
        ("building.yaml", "mains_distance"),
    ),
    Case(
        "bends-over-180",
        "warning",
        "C1",
        {
            TYPE: RACK,
            "building.yaml": building("  C1: {kind: conduit, between: [N1, N2], bends: [90°, 90°, 45°]}\n"),
        },
        ("building.yaml", "  C1:"),
    ),
    Case(
        "pull-too-long",
        "warning",
        "C1",
        {
            TYPE: RACK,
            "building.yaml": [
                ("at: [12.0 m, 2.0 m]", "at: [42.0 m, 2.0 m]"),
                *building(
                    "  C1: {kind: conduit, between: [N1, N3]}\n",
                    nodes="  N3: {storey: L0, at: [41 m, 2 m]}\n",
                ),
            ],
        },
        ("building.yaml", "  C1:"),
    ),
    Case(
        "jacket-wrong-for-space",
        "error",
        "B001-CH1/N1/ER1-RK1",
        {
            TYPE: RACK,
            "building.yaml": building(
                "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, space: slab}\n",
                spaces="  slab: {name: Slab on grade, location: slab on grade}\n",
            ),
            "project.yaml": [("*end*", "rules:\n  cabling: {data_cable: CC-5F-P}\n")],
        },
        ("project.yaml", "data_cable"),
    ),
    Case(
        "category-too-low",
        "error",
        "B001-CH1/N1/ER1-RK1",
        {
            TYPE: RACK,
            "library/own.yaml": "chargers:\n"
            + "".join(f"  {code}: {{ports: {{N: {{speed: 10 Gbit/s}}}}}}\n" for code in NETWORKED),
            "fixed.yaml": "cables:\n  B001-CH1/N1/ER1-RK1: {type: CC-5U-R}\n",
        },
        ("fixed.yaml", "CC-5U-R"),
    ),
    Case(
        "far-outside-pathways",
        "note",
        "B001",
        {
            TYPE: RACK,
            "building.yaml": [
                ("at: [12.0 m, 2.0 m]", "at: [42.0 m, 2.0 m]"),
                *building(TRAY % ("100 mm", "50 mm")),
            ],
        },
        ("rooms.csv", "B001"),
    ),
    Case(
        "route-broken",
        "error",
        "B001-CH1/N1/ER1-RK1",
        {
            TYPE: RACK,
            "building.yaml": building(
                TRAY % ("100 mm", "50 mm") + "  T2: {kind: hooks, between: [N3, N4]}\n",
                nodes="  N3: {storey: L0, at: [2 m, 4 m]}\n  N4: {storey: L0, at: [5 m, 4 m]}\n",
            ),
            "fixed.yaml": "cables:\n  B001-CH1/N1/ER1-RK1: {route: [T2, T1]}\n",
        },
        ("fixed.yaml", "route"),
    ),
)

every_case = pytest.mark.parametrize("case", CASES, ids=[case.rule for case in CASES])


def found_in(folder: Path, rule: str, where: str) -> tuple[Computed, Finding]:
    computed = compute(load_project(folder))
    matching = [one for one in computed.findings if (one.rule, one.where) == (rule, where)]
    assert matching, [(one.rule, one.where) for one in computed.findings]
    return computed, matching[0]


@every_case
def test_rule_fires_where_it_should_and_reads_well(case: Case, tmp_path: Path) -> None:
    folder = edited(tmp_path / "project", "minimal", case.edits)
    computed, finding = found_in(folder, case.rule, case.where)
    assert finding.severity == case.severity
    file, text = case.cause
    assert (finding.place.file, finding.place.line) == (file, line_of(folder, file, text))
    for one in computed.findings:
        assert faults(one, folder, "metric") == [], one


@every_case
def test_rule_is_silent_without_the_edit(case: Case) -> None:
    found = compute(load_project(PROJECTS / "minimal")).findings
    assert case.rule not in {one.rule for one in found}


def test_mains_nearer_than_two_inches_break_the_code_of_north_america(tmp_path: Path) -> None:
    tray = "  T1: {kind: tray, between: [N1, N2], width: 4 in, depth: 2 in, mains_distance: %s}\n"
    for n, (distance, breaks) in enumerate((("1.9 in", True), ("2 in", False))):
        folder = edited(
            tmp_path / str(n),
            "minimal",
            {
                TYPE: RACK,
                "building.yaml": building(tray % distance),
                "project.yaml": [("region: europe", "region: north_america")],
            },
        )
        rules = {one.rule for one in compute(load_project(folder)).findings}
        assert ("mains-too-near" in rules) is breaks
        assert "mains-beside" not in rules


def test_power_above_60_w_in_a_bundle_is_flagged_unless_the_cables_are_marked_for_it(tmp_path: Path) -> None:
    folder = edited(
        tmp_path / "project",
        "minimal",
        {
            TYPE: RACK,
            "building.yaml": building("  C1: {kind: conduit, between: [N1, N2]}\n"),
            "library/own.yaml": "access_points:\n"
            + "".join(
                f"  '{code}': {{poe: {{device_class: 8, type: 4}}}}\n" for code in shipped().access_points
            ),
        },
    )
    _, finding = found_in(folder, "bundle-ampacity", "C1")
    assert finding.value == 90
    assert "725.144" in str(finding.source)
    # 90 W at 52 V are 1.731 A, a quarter of it in each conductor: 0.433 A.
    assert finding.remedy.endswith("or use cables marked for 0.44 A or more per conductor.")
    own = folder / "library" / "own.yaml"
    points = own.read_text("utf-8")
    for rated, flagged in (("430 mA", True), ("440 mA", False)):
        marked = "".join(f"  '{code}': {{rated_current: {rated}}}\n" for code in shipped().cables)
        own.write_text(f"{points}cables:\n{marked}", "utf-8")
        rules = {one.rule for one in compute(load_project(folder)).findings}
        assert ("bundle-ampacity" in rules) is flagged


def test_a_pull_beyond_all_measure_is_an_error_and_no_crash(tmp_path: Path) -> None:
    bends = ", ".join(["180°"] * 40)
    conduit = f"  C1: {{kind: conduit, between: [N1, N2], pull_points: 0, bends: [{bends}]}}\n"
    folder = edited(tmp_path / "project", "minimal", {TYPE: RACK, "building.yaml": building(conduit)})
    computed, finding = found_in(folder, "pull-too-hard", "C1")
    assert finding.value is None
    assert {one.rule for one in computed.findings} >= {"bends-over-360", "pull-too-hard"}
    assert [pull.verdict for pull in document_of(computed).pulls] == ["fails"]
    for one in computed.findings:
        assert faults(one, folder, "metric") == [], one


def test_a_plenum_gets_a_plenum_cable_by_itself(tmp_path: Path) -> None:
    edits = building(
        "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, space: air}\n",
        spaces="  air: {name: Air, plenum: yes}\n",
    )
    folder = edited(tmp_path / "project", "minimal", {TYPE: RACK, "building.yaml": edits})
    computed = compute(load_project(folder))
    library = computed.project.library
    through = [cable for cable in computed.design.cables if cable.route.pathways and cable.checked]
    assert through
    assert all(library.cables[cable.model].jacket.plenum for cable in through)
    assert "jacket-wrong-for-space" not in {one.rule for one in computed.findings}


def test_a_remedy_names_the_room_and_the_switch_on_the_way_with_lengths(tmp_path: Path) -> None:
    edits: Edit = [
        ("at: [12.0 m, 2.0 m]", "at: [112.0 m, 2.0 m]"),
        (
            "    racks: {RK1: {}}\n",
            "    racks: {RK1: {}}\n"
            "  ER2: {name: Far cupboard, storey: L0, at: [20 m, 20 m], racks: {RK1: {}}}\n",
        ),
        *building(
            "  T1: {kind: tray, between: [N1, N3], width: 100 mm, depth: 50 mm}\n"
            "  T2: {kind: tray, between: [N3, N4], width: 100 mm, depth: 50 mm}\n",
            nodes="  N3: {storey: L0, at: [60 m, 2 m]}\n  N4: {storey: L0, at: [112 m, 2 m]}\n",
        ),
    ]
    folder = edited(
        tmp_path / "project",
        "minimal",
        {
            TYPE: RACK,
            "building.yaml": edits,
            "rooms.csv": "tag,name,room type,storey,x,y,equipment room\n"
            "B001,Meeting Room,meeting,L0,1 m,1 m,ER1\n",
        },
    )
    computed, finding = found_in(folder, "link-too-long", "B001-CH1/N1/ER1-RK1")
    cable = next(one for one in computed.design.cables if one.identity == finding.where)
    to_n3 = 0.0
    for stretch in cable.route.stretches:
        to_n3 += stretch.length_m
        if stretch.to == "N3":
            break
    assert f"at N3: the link becomes {to_n3 + cable.slack_m:.1f} m" in finding.remedy
    left = cable.route.length_m - to_n3
    assert f"feed it over {left:.1f} m of optical fibre" in finding.remedy
    served = re.search(r"Serve room B001 from ER2: the link becomes ([0-9.]+) m", finding.remedy)
    assert served
    moved = edited(
        tmp_path / "moved",
        "minimal",
        {
            TYPE: RACK,
            "building.yaml": edits,
            "rooms.csv": "tag,name,room type,storey,x,y,equipment room\n"
            "B001,Meeting Room,meeting,L0,1 m,1 m,ER2\n",
        },
    )
    cables = {one.identity: one for one in compute(load_project(moved)).design.cables}
    assert cables["B001-CH1/N1/ER2-RK1"].length_m == pytest.approx(float(served[1]), abs=0.06)


def charger_cable_through_heat(tmp_path: Path, ceiling: str, void: str) -> Cable:
    """Return the cable of a charger on a tray through a warm void; power warms nothing."""
    folder = edited(
        tmp_path / "project",
        "minimal",
        {
            TYPE: RACK,
            "project.yaml": [("*end*", "rules:\n  pathways: {warming_open: 0}\n")],
            "building.yaml": [
                ("storeys:\n", f"ceiling_temperature: {ceiling}\nstoreys:\n"),
                *building(
                    "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, space: hot}\n",
                    spaces=f"  hot: {{name: Hot void, temperature: {void}}}\n",
                ),
            ],
        },
    )
    cables = compute(load_project(folder)).design.cables
    return next(cable for cable in cables if "-CH1/N1" in cable.identity)


@pytest.mark.published
def test_a_hot_void_shortens_an_unscreened_link_to_the_printed_84_m(tmp_path: Path) -> None:
    # ANSI/TIA-568.2-D prints 84 m at 40 °C unscreened; our rule may be up to 0.7 m away from it
    charger = charger_cable_through_heat(tmp_path, ceiling="40 °C", void="40 °C")
    assert charger.route.pathways == ("T1",)
    assert charger.temperature_c == 40
    assert charger.limit_m == pytest.approx(84, abs=0.7)


@pytest.mark.pinned
def test_temperature_is_summed_over_the_stretches(tmp_path: Path) -> None:
    charger = charger_cable_through_heat(tmp_path, ceiling="20 °C", void="60 °C")
    hot_m = sum(stretch.length_m for stretch in charger.route.stretches if stretch.space == "hot")
    # by hand: 60 °C unscreened adds 0.4 % for 20 K and 0.6 % for 20 K: 20 %; the rest lies at 20 °C
    assert charger.checked is not None
    assert charger.checked.link.result == pytest.approx(charger.length_m + 0.2 * hot_m)
    assert charger.temperature_c == 60


def rules_of(folder: Path, pathway: str, region: str, kind: Edit) -> dict[str, str]:
    """Return severity by rule of a project whose devices go to the rack along one pathway."""
    edits = {
        TYPE: kind,
        "building.yaml": building(pathway),
        "project.yaml": [("region: europe", f"region: {region}")],
    }
    made = compute(load_project(edited(folder, "minimal", edits)))
    return {one.rule: one.severity for one in made.findings}


@pytest.mark.parametrize(("region", "severity"), [("europe", "warning"), ("north_america", "error")])
def test_lines_share_tubing_as_the_adopted_code_says(tmp_path: Path, region: str, severity: str) -> None:
    found = rules_of(tmp_path / "one", "  C1: {kind: conduit, between: [N1, N2]}\n", region, LOUDSPEAKERS)
    assert found["lines-beside-data"] == severity
    assert "lines-near-data" not in found


def test_a_divider_keeps_lines_apart_on_a_tray_and_a_barrier_mains(tmp_path: Path) -> None:
    tray = "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm, mains_distance: 10 mm%s}\n"
    bare = rules_of(tmp_path / "bare", tray % "", "europe", LOUDSPEAKERS)
    assert {"lines-near-data", "mains-too-near"} <= set(bare)
    kept = rules_of(tmp_path / "kept", tray % ", divided: yes, barrier: yes", "europe", LOUDSPEAKERS)
    assert not {"lines-near-data", "mains-too-near", "mains-beside"} & set(kept)


def test_a_divided_tray_is_two_of_half_the_width(tmp_path: Path) -> None:
    """Every data cable on its side of 50 mm: twice the fill of all but the lines on 100 mm."""
    tray = "  T1: {kind: tray, between: [N1, N2], width: 100 mm, depth: 50 mm%s}\n"
    folder = edited(
        tmp_path / "one",
        "minimal",
        {TYPE: LOUDSPEAKERS, "building.yaml": building(tray % ", divided: yes")},
    )
    (one,) = compute(load_project(folder)).design.pathways
    sides: dict[bool, float] = {True: 0.0, False: 0.0}
    for cable in one.cables:
        sides[cable.signal == "loudspeaker line"] += math.pi * cable.diameter_m**2 / 4
    assert min(sides.values()) > 0
    assert one.fill is not None
    assert one.fill.result == pytest.approx(max(sides.values()) / (0.050 * 0.050))
    assert one.width_m == 0.1
