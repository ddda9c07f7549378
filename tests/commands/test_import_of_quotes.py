"""What a quote brings is told before anything is written, and rooms may keep the equipment that they have."""

import shutil
from collections import Counter
from pathlib import Path

import pytest

from proposal.imports.new_findings import NOT_WRITTEN
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.calls import Call

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
CHOSEN, QUOTED = "K88607", "K42606"
"""The access point of the small room, and a larger one that is not used as it costs more."""
MAPPING = (
    "supplier: Anytown Wholesale (invented)\ncurrency: EUR\npriced_on: 2031-03-28\n"
    "columns: {model: Code, price: Net}\nawaited: [on request]\n"
)


@pytest.fixture
def quote(tmp_path: Path) -> tuple[object, ...]:
    """Give the call that imports a quote which makes the larger access point the cheaper one.

    It does not stand the heat of the place where it hangs.
    """
    project = tmp_path / "project"
    shutil.copytree(MINIMAL, project)
    (project / "library").mkdir()
    (project / "library" / "own.yaml").write_text(
        f"access_points: {{{QUOTED}: {{hottest: 20 °C}}}}\n", encoding="utf-8"
    )
    (tmp_path / "list.csv").write_text(f"Code;Net\n{QUOTED};500\n")
    (tmp_path / "mapping.yaml").write_text(MAPPING)
    return "import", tmp_path / "list.csv", project, "--mapping", tmp_path / "mapping.yaml"


def access_points(folder: Path) -> Counter[str]:
    devices = compute(load_project(folder)).design.devices
    return Counter(one.model for one in devices if one.kind == "access_point")


def test_a_quote_that_brings_errors_is_written_only_when_that_is_asked_for(
    quote: tuple[object, ...], tmp_path: Path, run: Call
) -> None:
    project = tmp_path / "project"
    status, out, _ = run(*quote, "--write")
    assert status == 1
    told = out.splitlines()
    at = told.index("check finds with these figures what it does not find now: 1 error")
    assert ": error: too-warm-for-device: B001-AP1: " in told[at + 1]
    assert told[-1] == NOT_WRITTEN
    assert [one.name for one in (project / "library").iterdir()] == ["own.yaml"]
    assert run(*quote, "--write", "--with-errors").status == 0
    assert access_points(project) == Counter({QUOTED: 1})
    checked = run("check", project)
    assert checked.status == 1
    assert told[at + 1].strip() in checked.out.splitlines()


def test_a_quote_may_be_taken_with_the_equipment_as_it_is(
    quote: tuple[object, ...], tmp_path: Path, run: Call
) -> None:
    project = tmp_path / "project"
    status, out, _ = run(*quote, "--keep-equipment", "--write")
    assert status == 0
    assert f"fixed.yaml (added): fixed.rooms.B001.access_points.{CHOSEN}: nothing becomes 1" in out
    assert "equipment and reels stay the same" in out
    assert "check finds nothing new with these figures" in out
    assert access_points(project) == Counter({CHOSEN: 1})
    assert str(load_project(project).library.entry(QUOTED).cost) == "500.00 EUR"
