"""Folders and names: tests mirror the program, and a name means one thing on every floor."""

import os
import subprocess
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PROGRAM, TESTS = ROOT / "proposal", ROOT / "tests"
FOLDERS = sorted(
    path.relative_to(PROGRAM) for path in PROGRAM.rglob("*") if path.is_dir() and any(path.glob("*.py"))
)
MODULES = sorted(
    path.relative_to(PROGRAM) for path in PROGRAM.rglob("*.py") if path != PROGRAM / "__init__.py"
)

SAME_SUBJECT = {
    "contract_terms",
    "assistive_listening",
    "room_places",
    "alternates",
    "building",
    "mute_panels",
    "bundle_warming",
    "cable_routes",
    "cable_types",
    "calculations",
    "cabling",
    "changes",
    "channels",
    "charging",
    "cut_plan",
    "data_sources",
    "decisions_by_hand",
    "design",
    "disclosure",
    "document",
    "equipment",
    "findings",
    "inputs",
    "contained_sound",
    "labels",
    "labour",
    "latency",
    "level_map",
    "loudspeaker_lines",
    "meeting_day",
    "mains",
    "standby",
    "mountings",
    "mounts",
    "network",
    "pack_life",
    "numbers",
    "patch_table",
    "pathways",
    "plain_warnings",
    "portable_sets",
    "power",
    "preview",
    "price",
    "price_inputs",
    "printed_texts",
    "programme",
    "quantities",
    "racks",
    "radio",
    "reels",
    "radio_neighbours",
    "radio_plan",
    "requirements",
    "rooms",
    "schema",
    "sensitivity",
    "sheets",
    "signal_flow",
    "sound",
    "operable_walls",
    "owner_equipment",
    "states",
    "switch_links",
    "switch_traffic",
    "takeoff",
    "terms",
    "wording",
}
"""Subjects that have a room of the same name on several floors."""
SAME_PART = {"layout"}
"""Parts that each of several things has, such as the layout of each kind of drawing."""
OF_THE_CODE = {"facts", "here", "joining", "laid", "misc", "helpers", "plain", "points", "utils"}
"""Names that tell of the code, not of what it is about."""


def name_of(module: Path) -> str:
    return module.parent.name if module.name == "__init__.py" else module.stem


@pytest.mark.parametrize("folder", FOLDERS, ids=str)
def test_every_folder_of_the_program_has_its_folder_of_tests(folder: Path) -> None:
    assert list((TESTS / folder).rglob("test_*.py")), f"wanted tests in tests/{folder}; found none"


def test_a_name_is_used_again_only_for_the_same_subject() -> None:
    places: dict[str, list[str]] = defaultdict(list)
    for module in MODULES:
        places[name_of(module)].append(module.as_posix())
    again = {name: found for name, found in places.items() if len(found) > 1}
    unexplained = {name: found for name, found in again.items() if name not in SAME_SUBJECT | SAME_PART}
    assert unexplained == {}
    assert set(again) == SAME_SUBJECT | SAME_PART, "a name that no longer recurs is taken off the list"


def test_no_module_is_called_after_its_code() -> None:
    assert [module.as_posix() for module in MODULES if name_of(module) in OF_THE_CODE] == []


def test_nothing_that_a_command_made_is_kept_at_the_root() -> None:
    in_git = subprocess.run(
        ["git", "ls-files", "--", ":(glob)*"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    names = in_git.stdout.split() if in_git.returncode == 0 else os.listdir(ROOT)
    made = {".csv", ".html", ".ics", ".json", ".jsonl", ".pdf", ".png", ".svg", ".xlsx", ".zip"}
    assert "README.md" in names
    assert [name for name in names if Path(name).suffix in made] == []
