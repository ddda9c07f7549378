"""Every rule: it fires where it should, says where the cause stands, and is silent on good projects.

The failing project breaks most rules at once; the others have a project of their own, made by a small edit.
"""

import ast
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from proposal.review.finding import SEVERITIES, Finding, finding_line
from tests.catalogue import model_of
from tests.design.making import designed, minimal
from tests.review.editing import PROJECTS, Edit, edited, line_of

ROOT = PROJECTS.parent.parent
GOOD = (ROOT / "example_project", PROJECTS / "us_customary", PROJECTS / "minimal")
LIBRARY = "library/own.yaml"
(KIND,) = designed(minimal()).kinds
MINIMAL, SYSTEM = minimal().library, KIND.sizing.system
MIXER = model_of(MINIMAL, "mixer")
# An access point of the room's system that the room does not have.
POINT = next(
    code
    for code, one in MINIMAL.access_points.items()
    if one.works_with == SYSTEM and all(code not in size.models for size in KIND.sizing.sizes)
)
CHARGER_BY_CABLE = model_of(MINIMAL, "charger", powered_by="PoE")
FED_BY_CABLE = MINIMAL.chargers[CHARGER_BY_CABLE].works_with
MANY = 1 + max(one.return_inputs for one in MINIMAL.breakouts.values())
SMALL_AMPLIFIER = min(MINIMAL.amplifiers, key=lambda code: MINIMAL.amplifiers[code].channels)


@dataclass(frozen=True)
class Case:
    """An edit that makes a rule fire.

    rule, severity, where: of the finding.
    edits: to the base project.
    cause: file, and a text on the line that the finding points at.
    """

    rule: str
    severity: str
    where: str
    edits: Mapping[str, Edit]
    cause: tuple[str, str]
    base: str = "minimal"


RACK = ("output: breakout\n", "output: breakout\nnetwork: rack\n")
TYPE = "room_types/meeting.yaml"


def cable(code: str, **changes: str) -> str:
    """Return a project library in which one cable of the shared library differs."""
    return f"cables:\n  {code}: {{{', '.join(f'{key}: {value}' for key, value in changes.items())}}}\n"


def switch(code: str = "BN-SW8-65", **changes: str) -> str:
    return f"switches:\n  {code}: {{{', '.join(f'{key}: {value}' for key, value in changes.items())}}}\n"


NO_SOURCES = "network_parts:\n  BN-PI-30: {poe_class: 0}\n  BN-PI-60: {poe_class: 0}\n"
"""No PoE source of the library feeds what a switch does not."""


def rules(text: str) -> Edit:
    return [("*end*", f"rules:\n{text}")]


MICROPHONES = """microphones:
  K59657: {mute_switch: push to talk, mute_switches: []}
"""

TWO_STOREYS: Mapping[str, Edit] = {
    "building.yaml": [
        (
            "  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}\n",
            "  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}\n"
            "  L1: {name: First floor, height: 3.6 m, slab_to_slab: 3.6 m}\n",
        )
    ],
    "rooms.csv": [("meeting,L0", "meeting,L1")],
}

LOUDSPEAKERS = (
    "loudspeakers:\n"
    "  LS1: {at: [1 m, 1 m], zone: a}\n"
    "  LS2: {at: [3 m, 1 m], zone: b}\n"
    "  LS3: {at: [5 m, 1 m], zone: c}\n"
)

CASES = (
    Case(
        "button-held-unasked",
        "warning",
        "meeting",
        {"library/own.yaml": MICROPHONES},
        (TYPE, "  M1:"),
    ),
    Case(
        "switch-not-possible",
        "error",
        "meeting",
        {
            "library/own.yaml": MICROPHONES,
            TYPE: [("output: breakout\n", "output: breakout\nsystem: Corvenhythe\nswitch: none\n")],
        },
        (TYPE, "switch: none"),
    ),
    Case(
        "no-cable",
        "error",
        "B001-CH1/N1/ER1-RK1",
        {
            TYPE: [RACK],
            LIBRARY: "cables: {"
            + ", ".join(f"{code}: null" for code in load_project(PROJECTS / "minimal").library.cables)
            + "}\n",
        },
        ("rooms.csv", "B001"),
    ),
    Case(
        "jacket-not-for-risers",
        "error",
        "B001-CH1/N1/ER1-RK1",
        {
            **TWO_STOREYS,
            TYPE: [RACK],
            LIBRARY: "cables:\n  CC-5U-R: {jacket: {riser: no}}\n",
            "project.yaml": rules("  cabling: {data_cable: CC-5U-R}\n"),
        },
        ("project.yaml", "data_cable"),
    ),
    Case(
        "not-solid",
        "error",
        "B001-CH1/N1/ER1-RK1",
        {
            TYPE: [RACK],
            LIBRARY: cable("CC-5U-R", stranding="stranded"),
            "fixed.yaml": "cables:\n  B001-CH1/N1/ER1-RK1:\n    type: CC-5U-R\n",
        },
        ("fixed.yaml", "type: CC-5U-R"),
    ),
    Case(
        "poe-not-carried",
        "error",
        "ER1-SW1/1",
        {
            TYPE: [RACK],
            "fixed.yaml": "cables:\n  B001-AP1/N1/ER1-RK1:\n    length: 3000 m\n",
        },
        ("fixed.yaml", "length: 3000 m"),
    ),
    Case(
        "delay-long",
        "warning",
        "B001",
        {"project.yaml": rules("  latency: {elsewhere: 5 ms}\n")},
        ("project.yaml", "elsewhere: 5 ms"),
    ),
    Case(
        "poe-pairs-short",
        "error",
        "ER1-SW1/1",
        {
            # Class 3 goes over two pairs.
            TYPE: [RACK],
            LIBRARY: cable("CC-5U-R", pairs="1"),
            "fixed.yaml": "cables:\n  B001-AP1/N1/ER1-RK1:\n    type: CC-5U-R\n",
        },
        ("fixed.yaml", "type: CC-5U-R"),
    ),
    Case(
        "poe-headroom-short",
        "warning",
        "ER1-SW1",
        {
            # Class 3 for an access point and a charger: 30.8 W out of 35 W, of which 28 W are usable.
            TYPE: [RACK, ("*end*", f"system: {FED_BY_CABLE}\n")],
            LIBRARY: switch(budget="35 W") + NO_SOURCES,
            "fixed.yaml": "devices:\n  ER1-SW1:\n    model: BN-SW8-65\n"
            "  B001-AP1: {switch_port: ER1-SW1/1}\n  B001-CH1: {switch_port: ER1-SW1/2}\n",
        },
        ("fixed.yaml", "model: BN-SW8-65"),
    ),
    *(
        Case(
            rule,
            severity,
            "ER1-SW1",
            {
                # Class 3 for an access point and a charger: 30.8 W; ports of one supply feed less.
                TYPE: [RACK, ("*end*", f"system: {FED_BY_CABLE}\n")],
                LIBRARY: switch(mains="{supplies: 2}", **stated),
                "fixed.yaml": "devices:\n  ER1-SW1:\n    model: BN-SW8-65\n",
            },
            ("fixed.yaml", "model: BN-SW8-65"),
        )
        for rule, severity, stated in (
            ("supply-loss-short", "warning", {"budget_with_one_supply_lost": "30.7 W"}),
            ("supply-loss-unknown", "note", {}),
        )
    ),
    Case(
        "poe-over-class",
        "error",
        "B001-CH1",
        {
            # A device of class 3 may take 12.95 W.
            TYPE: [RACK, ("*end*", f"system: {FED_BY_CABLE}\n")],
            LIBRARY: f"chargers:\n  {CHARGER_BY_CABLE}: {{poe: {{maximum: 12.96 W}}}}\n",
            "fixed.yaml": f"devices:\n  B001-CH1:\n    model: {CHARGER_BY_CABLE}\n",
        },
        ("fixed.yaml", f"model: {CHARGER_BY_CABLE}"),
    ),
    Case(
        "few-spare-ports",
        "warning",
        "ER1",
        {
            # Three devices want four ports with a fifth of them spare; there is one switch, of three ports.
            TYPE: [RACK],
            LIBRARY: "switches:\n"
            + "".join(
                f"  {code}: null\n"
                for code in load_project(PROJECTS / "minimal").library.switches
                if code != "BN-SW8-65"
            )
            + "  BN-SW8-65: {access_ports: 3, poe_ports: 3, managed: no}\n",
            "fixed.yaml": "devices:\n  ER1-SW1:\n    model: BN-SW8-65\n",
        },
        ("building.yaml", "ER1:"),
    ),
    Case(
        "switch-unsuited",
        "error",
        "ER1-SW1",
        {
            TYPE: [RACK],
            LIBRARY: switch(speed="100 Mbit/s", energy_efficient_ethernet="always on"),
            "fixed.yaml": "devices:\n  ER1-SW1:\n    model: BN-SW8-65\n",
        },
        ("fixed.yaml", "model: BN-SW8-65"),
    ),
    Case(
        "no-network",
        "warning",
        "network",
        {"project.yaml": [("subnets:\n  conference: {network: 192.168.30.0/24, vlan: 30}\n", "")]},
        ("project.yaml", "name: One meeting room"),
    ),
    *(
        Case(
            "address-reserved",
            "error",
            "B001-CH1",
            {"fixed.yaml": f"devices:\n  B001-CH1:\n    address: {address}\n"},
            ("fixed.yaml", "address:"),
        )
        for address in ("192.168.30.0", "192.168.30.255", "192.168.30.1")
    ),
    *(
        Case(
            "decision-without-effect",
            "warning",
            tag,
            {"fixed.yaml": f"devices:\n  {tag}:\n    {field}: {value}\n"},
            ("fixed.yaml", f"{field}: {value}"),
        )
        for tag, field, value in (
            ("B001-M1", "address", "192.168.30.9"),
            ("B001-AP1", "switch_port", "ER1-SW1/1"),
            ("ER1-SW1", "height", "2 m"),
        )
        if field != "height"
    ),
    Case(
        "decision-without-effect",
        "warning",
        "ER1-SW1",
        {"fixed.yaml": "devices:\n  ER1-SW1:\n    model: BN-SW8-65\n    height: 2 m\n"},
        ("fixed.yaml", "height: 2 m"),
    ),
    Case(
        "decision-without-effect",
        "warning",
        "B001",
        {"fixed.yaml": f"rooms:\n  B001:\n    mixers: {{{MIXER}: 1}}\n"},
        ("fixed.yaml", "mixers:"),
    ),
    Case(
        "wrong-region",
        "error",
        "B001-AP1",
        {
            LIBRARY: f"access_points:\n  {POINT}: {{radio: {{regions: {{europe: null}}}}}}\n",
            "fixed.yaml": f"devices:\n  B001-AP1:\n    model: {POINT}\n",
        },
        ("fixed.yaml", f"model: {POINT}"),
    ),
    *(
        Case(
            "microphone-differs",
            "error",
            "B001-M1",
            {"fixed.yaml": f"devices:\n  B001-M1:\n    model: {model}\n"},
            ("fixed.yaml", f"model: {model}"),
        )
        for model in (
            model_of(MINIMAL, "microphone", works_with=SYSTEM, form="boundary", pattern="omnidirectional"),
            model_of(MINIMAL, "microphone", works_with=SYSTEM, form="gooseneck", pattern="cardioid"),
        )
    ),
    Case(
        "return-inputs-short",
        "error",
        "meeting",
        # No breakout has so many inputs for return audio.
        {TYPE: [("*end*", f"returns:\n  far-end: {{name: codec, signal: analogue, channels: {MANY}}}\n")]},
        (TYPE, "returns:"),
    ),
    Case(
        "mix-without-mixer",
        "error",
        "meeting",
        # No breakout has USB.
        {TYPE: [("signal: analogue}", "signal: USB}")]},
        (TYPE, "output: breakout"),
    ),
    Case(
        "return-unheard",
        "warning",
        "meeting",
        {TYPE: [("*end*", "returns:\n  far-end: {name: codec, signal: analogue}\n")]},
        (TYPE, "returns:"),
    ),
    Case(
        "no-return-source",
        "warning",
        "meeting",
        {TYPE: [("at: [2.2 m, 2.5 m]}", "at: [2.2 m, 2.5 m], return_audio: yes}")]},
        (TYPE, "return_audio: yes"),
    ),
    Case(
        "position-unused",
        "warning",
        "meeting",
        {TYPE: [("*end*", "access_points_at:\n  AP1: [3 m, 2 m]\n  AP2: [3 m, 3 m]\n")]},
        (TYPE, "AP2:"),
    ),
    Case(
        "nothing-to-accept",
        "warning",
        "B001",
        {
            "project.yaml": [
                (
                    "*end*",
                    "accepted_findings:\n"
                    "  old: {rule: no-spares, where: B001, "
                    "reason: was so, accepted_by: D, date: 2030-01-02}\n",
                )
            ]
        },
        ("project.yaml", "old:"),
    ),
    Case(
        "amplifier-channels-short",
        "error",
        "B001",
        {
            # Three zones, for which one amplifier is cheapest, and by hand one with fewer channels.
            TYPE: [("*end*", LOUDSPEAKERS)],
            LIBRARY: "amplifiers:\n"
            + "".join(
                f"  {code}: {{cost: 9000.00 EUR}}\n"
                for code, one in MINIMAL.amplifiers.items()
                if one.channels < 3
            ),
            "fixed.yaml": f"devices:\n  B001-AM1:\n    model: {SMALL_AMPLIFIER}\n",
        },
        ("fixed.yaml", f"model: {SMALL_AMPLIFIER}"),
    ),
    Case(
        "open-question",
        "note",
        "room_types.meeting.charging_height",
        {TYPE: [("*end*", "charging_height: unknown\n")]},
        (TYPE, "charging_height"),
    ),
)


@cache
def of_folder(folder: Path) -> Computed:
    return compute(load_project(folder))


def computed_of(case: Case, folder: Path) -> Computed:
    return compute(load_project(edited(folder, case.base, case.edits)))


ids = [f"{case.rule}-{case.where.replace('/', '-')}" for case in CASES]
every_case = pytest.mark.parametrize("case", CASES, ids=ids)


@every_case
def test_rule_fires_where_it_should(case: Case, tmp_path: Path) -> None:
    found = computed_of(case, tmp_path / "project").findings
    matching = [one for one in found if (one.rule, one.where) == (case.rule, case.where)]
    assert matching, [(one.rule, one.where) for one in found]
    assert {one.severity for one in matching} == {case.severity}
    file, text = case.cause
    assert (matching[0].place.file, matching[0].place.line) == (
        file,
        line_of(tmp_path / "project", file, text),
    )


@every_case
def test_rule_is_silent_where_nothing_was_edited(case: Case) -> None:
    assert case.rule not in {one.rule for one in of_folder(PROJECTS / case.base).findings}


@every_case
def test_findings_of_a_case_read_well_and_point_at_files(case: Case, tmp_path: Path) -> None:
    folder = tmp_path / "project"
    computed = computed_of(case, folder)
    for finding in computed.findings:
        assert faults(finding, folder, computed.project.brief.units) == [], finding


COUNTED = "channels|slots|inputs|ports|microphones|devices|links|addresses|cables|rooms|conduits"


def faults(finding: Finding, folder: Path, units: str) -> list[str]:
    """Return what is wrong with the texts and the place of a finding.

    folder, units: of the project.
    """
    wrong = []
    for name, text in (("message", finding.message), ("remedy", finding.remedy)):
        if not re.fullmatch(r"[A-Z0-9].*[a-z0-9”)]\.", text):
            wrong.append(f"{name} is no sentence")
        if "  " in text or " ." in text or ".." in text or " ," in text or "{" in text or "None" in text:
            wrong.append(f"{name} has a slip")
        if re.search(r"\d ?(ft|°F|lbf)\b" if units == "metric" else r"\d ?(m|mm|°C|N)\b", text):
            wrong.append(f"{name} has a quantity in units that are not the project's")
        if re.search(rf"(?<![\w./-])1 (?:more |other )?(?:{COUNTED})\b", text):
            wrong.append(f"{name} counts one as several")
    if finding.severity not in SEVERITIES:
        wrong.append("severity is unknown")
    if not (folder / finding.place.file).is_file():
        wrong.append(f"{finding.place.file} is not there")
    if finding.place.line < 1:
        wrong.append(f"{finding.place} names no line")
    if (finding.value is None) != (finding.limit is None):
        wrong.append("value and limit do not go together")
    return wrong


@pytest.mark.parametrize("folder", [*GOOD, PROJECTS / "failing"], ids=lambda folder: folder.name)
def test_findings_read_well_and_point_at_files(folder: Path) -> None:
    for finding in of_folder(folder).findings:
        assert faults(finding, folder, of_folder(folder).project.brief.units) == [], finding


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_a_good_project_has_no_error(folder: Path) -> None:
    assert [finding_line(one, "metric") for one in of_folder(folder).errors] == []


def names_in_source() -> set[str]:
    """Return the names of rules in the source: every text of words joined by hyphens."""
    names = set()
    for path in (ROOT / "proposal" / "review").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                names |= set(re.findall(r"^[a-z]+(?:-[a-z]+)+$", node.value))
    return names


def test_every_rule_there_is_fires_in_some_test() -> None:
    broken = {one.rule for one in of_folder(PROJECTS / "failing").findings}
    tested = broken | {case.rule for case in CASES}
    elsewhere = "".join(
        path.read_text(encoding="utf-8")
        for path in (ROOT / "tests").rglob("test_*.py")
        if path != Path(__file__)
    )
    missing = {name for name in names_in_source() - tested if f'"{name}"' not in elsewhere}
    assert missing == set()


def test_the_names_of_rules_are_found_in_the_source() -> None:
    assert {"link-too-long", "poe-headroom-short", "address-reserved", "channels-short"} <= names_in_source()


def test_an_accepted_finding_is_marked_and_still_shown(tmp_path: Path) -> None:
    accepted = (
        "accepted_findings:\n  wait: {rule: link-too-long, where: F001-CH1/N1/ER1-RK1, "
        "reason: a switch follows, accepted_by: D. Drafter, date: 2031-01-30}\n"
    )
    folder = edited(tmp_path / "project", "failing", {"project.yaml": [("*end*", accepted)]})
    computed = compute(load_project(folder))
    before = of_folder(PROJECTS / "failing")
    assert len(computed.findings) == len(before.findings)
    (marked,) = [one for one in computed.findings if one.accepted]
    assert (marked.rule, marked.where) == ("link-too-long", "F001-CH1/N1/ER1-RK1")
    assert len(computed.errors) == len(before.errors) - 1
    assert "Accepted: a switch follows" in finding_line(marked, "metric")


def test_errors_come_first_then_warnings_then_notes() -> None:
    severities = [SEVERITIES.index(one.severity) for one in of_folder(PROJECTS / "failing").findings]
    assert severities == sorted(severities)


def test_a_line_has_the_projects_units() -> None:
    (near, *_) = [
        one for one in of_folder(ROOT / "example_project").findings if one.rule == "link-near-limit"
    ]
    metric, customary = finding_line(near, "metric"), finding_line(near, "us_customary")
    assert near.value is not None
    assert f"Found {near.value:.4g} m," in metric
    # A foot is 0.3048 m.
    assert f"Found {near.value / 0.3048:.4g} ft," in customary


def test_one_thing_is_not_counted_as_several() -> None:
    lines = [finding_line(one, "metric") for one in of_folder(PROJECTS / "failing").findings]
    assert any("limit 1 microphone." in line for line in lines)
    assert not any(re.search(r"\b1 [a-z]+s\b", line) for line in lines)
