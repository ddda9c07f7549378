"""The steps from a project to what is shown: pure, and the same whenever they run.

The whole example: `PROPOSAL_LONG_TESTS=2 python -m pytest tests/test_pipeline.py`, as `.ci/run` does. In the
suite one room stands for it.
"""

import contextlib
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from proposal.errors import InputError
from proposal.estimate.drawing_list import KINDS
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.quantities.messages import wanted_one_of
from tests.catalogue import shipped
from tests.long_form import LONG
from tests.review.editing import PROJECTS, edited
from tests.shared_builds import made_once

ROOT = Path(__file__).resolve().parent.parent
Watched = Callable[..., Any]


FAULTS = {
    "open('README.md').close()": "open",
    "import os; os.listdir('.')": "os.listdir",
    "import time; time.time()": "clock time",
    "import datetime; datetime.datetime.now()": "clock now",
    "import subprocess; subprocess.run(['true'])": "subprocess.Popen",
    "import socket; socket.socket().close()": "socket.",
}


SMALL = (PROJECTS / "minimal", *FAULTS)
WHOLE: tuple[str | Path, ...] = (ROOT / "example_project",) if LONG else SMALL
"""The project with everything that a proposal can show, in the long form."""


@pytest.fixture
def watched(tmp_path_factory: pytest.TempPathFactory) -> Watched:
    """Return what the pure steps touched and made, in a process of its own with its own order of sets."""

    def watch(seed: str, *call: str | Path) -> Any:
        def run(folder: Path) -> None:
            done = subprocess.run(
                [sys.executable, "-m", "tests.purity", *call],
                cwd=ROOT,
                env={**os.environ, "PYTHONHASHSEED": seed},
                capture_output=True,
                text=True,
                timeout=300,
                check=False,
            )
            assert done.returncode == 0, done.stderr
            (folder / "seen.json").write_text(done.stdout, "utf-8")

        named = "-".join(one if one == "--once" else "project" for one in map(str, call[:2]))
        made = made_once(tmp_path_factory, f"watched-{seed}-{named}-{len(call)}", run)
        return json.loads((made / "seen.json").read_text("utf-8"))

    return watch


def test_from_project_to_pages_nothing_touches_files_processes_or_the_network(watched: Watched) -> None:
    assert watched("1", *WHOLE)["touched"] == []


def test_from_project_to_pages_nothing_looks_at_a_clock(watched: Watched) -> None:
    assert watched("1", *SMALL)["touched"] == []


def test_the_watch_sees_a_step_that_touches_something(watched: Watched) -> None:
    touched = watched("1", *SMALL)["faults"]
    for event in FAULTS.values():
        assert any(one.startswith(event) for one in touched), event


def test_the_same_project_gives_the_same_bytes_again(watched: Watched) -> None:
    outcome = watched("1", *WHOLE)
    assert outcome["first"] == outcome["second"]


def test_the_order_of_sets_changes_no_byte(watched: Watched) -> None:
    one, other = watched("1", *WHOLE)["first"], watched("2", "--once", WHOLE[0])["first"]
    assert {name for name in one if one[name] != other.get(name)} == set()
    assert set(one) == set(other)
    assert {f"{reader}.json" for reader in ("client", "reviewer", "estimator", "installer")} <= set(one)
    numbers = {name.removeprefix("estimator ") for name in one if name.startswith("estimator ")} - {"pages"}
    # A cut plan is drawn only where cables of a type come from two reels or more.
    series = {number.partition("-")[0] for number in numbers}
    assert series | {"K", "U"} == {kind.series for kind in KINDS} if LONG else len(series) > 10


def message_of(folder: Path) -> str:
    with pytest.raises(InputError) as raised:
        compute(load_project(folder))
    return str(raised.value)


NO_SLACK = "rules: {cabling: {rack_slack: 0 m, table_slack: 0 m, ceiling_slack: 0 m, termination: 0 m}}\n"
DATA_CABLES = (
    "one of CC-5F-L, CC-5F-P, CC-5F-R, CC-5U-L, CC-5U-P, CC-5U-R, CC-6AF-L, CC-6AF-P, CC-6AF-R, CC-6AU-L, "
    "CC-6AU-P, CC-6AU-R and 7 more"
)
ACCESS_POINTS = sorted(shipped().access_points)
CHARGER = sorted(shipped().chargers)[0]
CABLES = "B001-AP1/N1/B001-BO1, B001-BO1/A3/far-end, B001-BO1/N1/ER1-RK1, B001-CH1/N1/B001-BO1"


@pytest.mark.parametrize(
    ("fixed", "message"),
    [
        (
            "devices:\n  B001-APP1: {height: 2 m}\n",
            "fixed.yaml:2:3: devices.B001-APP1: wanted a device of this project: one of B001-AP1, B001-BO1, "
            "B001-CH1, B001-M1, B001-M2, B001-MS1, ER1-RK1, ER1-SW1; found B001-APP1 "
            "(did you mean B001-AP1?)",
        ),
        (
            f"devices:\n  B001-AP1:\n    model: '{CHARGER}'\n",
            "fixed.yaml:3:12: devices.B001-AP1.model: "
            + wanted_one_of(CHARGER, ACCESS_POINTS, "an access point of the library"),
        ),
        (
            "cables:\n  B001-AP1/N1/ER1-RK1: {length: 12 m}\n",
            "fixed.yaml:2:3: cables.B001-AP1/N1/ER1-RK1: wanted a cable of this project: one of "
            f"{CABLES}; found B001-AP1/N1/ER1-RK1 (did you mean B001-BO1/N1/ER1-RK1?)",
        ),
        (
            "cables:\n  B001-BO1/N1/ER1-RK1:\n    type: CC-L16-R\n",
            "fixed.yaml:3:11: cables.B001-BO1/N1/ER1-RK1.type: wanted a data cable of the library: "
            f"{DATA_CABLES}; found CC-L16-R (did you mean CC-6U-R?)",
        ),
        (
            f"rooms:\n  B010: {{chargers: {{'{CHARGER}': 1}}}}\n",
            "fixed.yaml:2:3: rooms.B010: wanted the tag of a room: B001; found B010",
        ),
    ],
)
def test_a_decision_about_what_is_not_there_is_refused(fixed: str, message: str, tmp_path: Path) -> None:
    assert message_of(edited(tmp_path / "project", "minimal", {"fixed.yaml": fixed})) == message


def test_a_loudspeaker_line_takes_the_cable_that_is_fixed_for_it(tmp_path: Path) -> None:
    line = "B001-LS1/L1/ER1-RK1"
    edits = {
        "room_types/meeting.yaml": [("*end*", "loudspeakers:\n  LS1: {at: [1 m, 1 m]}\n")],
        "fixed.yaml": f"cables:\n  {line}: {{type: CC-L12-P}}\n",
    }
    computed = compute(load_project(edited(tmp_path / "project", "minimal", edits)))
    assert {one.model for one in computed.design.cables if one.identity == line} == {"CC-L12-P"}


def test_every_wrong_decision_is_said_at_once(tmp_path: Path) -> None:
    fixed = "devices:\n  X1: {height: 2 m}\n  X2: {height: 2 m}\ncables:\n  X3/N1/X4: {length: 2 m}\n"
    lines = message_of(edited(tmp_path / "project", "minimal", {"fixed.yaml": fixed})).splitlines()
    assert [line.partition(":")[2][:1] for line in lines] == ["2", "3", "5"]


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("building.yaml", "storeys:", "ceiling_temperature: 900 °C\nstoreys:"),
        ("building.yaml", "storeys:", "ceiling_temperature: -200 °C\nstoreys:"),
        ("project.yaml", "subnets:", "rules: {power: {connector_resistance: 1 MΩ}}\nsubnets:"),
        ("project.yaml", "subnets:", "rules: {network: {spare_ports: 99.9999 %}}\nsubnets:"),
        ("project.yaml", "subnets:", "rules: {power: {headroom: 99.9999 %}}\nsubnets:"),
        (
            "project.yaml",
            "subnets:",
            f"{NO_SLACK}subnets:",
        ),
        ("project.yaml", "network: 192.168.30.0/24", "network: 0.0.0.0/0"),
        ("rooms.csv", "1 m,1 m", "900000 m,1 m"),
    ],
)
def test_extreme_values_are_computed_or_refused_and_never_a_traceback(
    file: str, old: str, new: str, tmp_path: Path
) -> None:
    folder = edited(tmp_path / "project", "minimal", {file: [(old, new)]})
    # Anything but InputError would be a traceback to the user.
    with contextlib.suppress(InputError):
        assert compute(load_project(folder)).design.cables


def test_a_cable_of_no_length_is_computed(tmp_path: Path) -> None:
    # The breakout is placed on the charger, whose cable leads to it.
    edits = {
        "project.yaml": [("*end*", NO_SLACK)],
        "fixed.yaml": "devices:\n  B001-BO1: {at: [4 m, 1.5 m]}\n",
    }
    cables_of = compute(load_project(edited(tmp_path / "project", "minimal", edits))).design.cables
    cables = {one.identity: one for one in cables_of}
    assert cables["B001-CH1/N1/B001-BO1"].length_m == 0.0


@pytest.mark.parametrize(
    "kind", ["microphones", "access_points", "chargers", "breakouts", "switches", "racks", "cables", "mixers"]
)
def test_a_library_without_a_kind_is_computed_with_what_is_missing_said(kind: str, tmp_path: Path) -> None:
    codes = getattr(load_project(PROJECTS / "minimal").library, kind)
    empty = f"{kind}: {{{', '.join(f'{code}: null' for code in codes)}}}\n"
    edits = {
        "library/own.yaml": empty,
        "room_types/meeting.yaml": [("output: breakout\n", "output: breakout\nnetwork: rack\n")],
    }
    computed = compute(load_project(edited(tmp_path / "project", "minimal", edits)))
    if kind != "mixers":
        assert {one.rule for one in computed.errors} & {"nothing-suits", "no-switch-port", "no-cable"}
