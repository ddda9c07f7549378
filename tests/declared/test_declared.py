"""What is declared is used: every field of the model is read outside it, or is on a list with who will.

The list, `not_yet_read.csv`, names the subject that will read the field and what for. An entry goes when its
field is read, or when the field goes. What a read is, and what is not seen, stands in `reads.py`.
"""

import csv
import json
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from proposal.model.equipment.parts import MainsInput
from tests.declared.reads import Field, called, declared, watched

ROOT = Path(__file__).resolve().parent.parent.parent
PROJECTS = (ROOT / "example_project", *sorted((ROOT / "tests" / "projects").iterdir()))
SUBJECTS = {
    "Sizing the microphone system",
    "The meeting day",
    "Radio",
    "Cabling",
    "Power over Ethernet",
    "Mains power, heat and standby",
    "Network",
    "Sound in the room",
    "Racks",
    "Take-off",
    "Price",
    "Acceptance",
    "Cautions",
    "Source words",
}


@cache
def listed() -> tuple[dict[str, str], ...]:
    with (Path(__file__).parent / "not_yet_read.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def exceptions() -> set[Field]:
    return {(one["class"], one["field"]) for one in listed()}


@cache
def watched_runs() -> tuple[set[Field], dict[Field, str]]:
    """Return every field there is, and who reads each that is read while proposals are made."""
    command = [sys.executable, "-m", "tests.declared.reads", *map(str, PROJECTS)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    found = json.loads(done.stdout)
    return {tuple(one) for one in found["declared"]}, {(kind, name): by for kind, name, by in found["read"]}


def test_every_field_is_read_or_listed_with_who_will_read_it() -> None:
    fields, read = watched_runs()
    assert sorted(fields - set(read) - exceptions()) == [], (
        "Nothing outside the model reads these: use them, take them away, or list them in not_yet_read.csv."
    )


def test_nothing_is_listed_that_is_read_by_now() -> None:
    _, read = watched_runs()
    assert {field: read[field] for field in sorted(exceptions() & set(read))} == {}


def test_the_list_names_fields_that_there_are_and_who_will_read_them() -> None:
    assert sorted(exceptions() - set(declared())) == []
    assert [(one["class"], one["field"]) for one in listed()] == sorted(exceptions())
    assert {one["will be used by"] for one in listed()} <= SUBJECTS
    assert [one for one in listed() if len(one["for"]) < 10] == []


def test_no_two_models_are_called_the_same() -> None:
    classes = Counter(called(owner) for owner in {*declared().values()})
    assert [name for name, count in classes.items() if count > 1] == []


def test_most_of_the_model_is_walked() -> None:
    fields, read = watched_runs()
    for one in (
        ("microphone_positions.MicrophonePosition", "at"),
        ("devices.Rack", "units"),
        ("building.Rack", "model"),
        ("parts.OctaveBands", "hz_125"),
        ("labour_choices.Rate", "cost"),
        ("wording.DutyLine", "install"),
    ):
        assert one in fields
    assert read["devices.Charger", "slot_groups"].startswith("proposal.design.equipment.")


# What reads and what does not, told by a small program that stands where the program's own modules do.


def mains() -> MainsInput:
    return MainsInput(
        inlet="C14",
        lowest_voltage=100,
        highest_voltage=240,
        frequencies=(50,),
        typical=20,
        maximum=40,
        power_factor=0.5,
        inrush=10,
        inrush_time=0.001,
        leakage=0.0005,
        efficiency=0.9,
    )


def reads_of(code: str, module: str) -> bool:
    """Return whether code of a module counts as a reader of the typical power of `thing`."""
    fields = {("parts.MainsInput", "typical"): MainsInput}
    with watched(fields) as read:
        exec(
            code, {"__name__": module, "thing": mains(), "MainsInput": MainsInput, "copy": __import__("copy")}
        )
    return bool(read)


@pytest.mark.parametrize(
    ("code", "counts"),
    [
        ("thing.typical", True),
        ("getattr(thing, 'typical')", True),
        ("max([thing], key=lambda one: one.typical)", True),
        ("thing.typical_apparent", True),  # a property of the model, asked by the design
        ("thing.maximum", False),
        ("thing.model_dump()", False),
        ("thing.model_dump_json()", False),
        ("thing == thing.model_copy()", False),
        ("hash(thing)", False),
        ("repr(thing)", False),
        ("copy.deepcopy(thing)", False),
        ("MainsInput.model_validate(thing.model_dump())", False),
    ],
)
def test_what_counts_as_a_read_in_the_design(code: str, counts: bool) -> None:
    assert reads_of(code, "proposal.design.invented") is counts


@pytest.mark.parametrize(
    "module", ["proposal.model.checks.invented", "proposal.model.assumptions", "tests.invented"]
)
def test_checks_defaults_and_tests_are_no_readers(module: str) -> None:
    assert not reads_of("thing.typical", module)


def test_a_watch_leaves_values_and_classes_as_they_were() -> None:
    fields = {("parts.MainsInput", "typical"): MainsInput}
    with watched(fields):
        assert mains().typical_apparent == 40
    assert "typical" not in vars(MainsInput)
    assert mains().typical == 20
