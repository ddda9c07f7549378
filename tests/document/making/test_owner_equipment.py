"""What the owner furnishes is counted once, however its ports are told."""

import shutil
from pathlib import Path

from proposal.design.whole_design import design
from proposal.document.making.owner_equipment import owner_equipment_parts
from proposal.model.loading import load_project

PROJECT = Path(__file__).resolve().parents[2] / "projects" / "further_inputs"
FREE = "switch: {free: [9, 10, 12]"


def spare_ports(folder: Path) -> dict[str, int]:
    rows = owner_equipment_parts(design(load_project(folder)))["owner_equipment"]
    return {row.tag: row.spare_ports for row in rows}


def test_ports_told_of_an_owners_switch_are_not_added_to_those_left_free(tmp_path: Path) -> None:
    before = spare_ports(PROJECT)
    folder = shutil.copytree(PROJECT, tmp_path / "p")
    building = folder / "building.yaml"
    text = building.read_text("utf-8")
    assert text.count(FREE) == 1
    told = "ports: {N: {signal: network, count: 24, connector: 8P8C jack}}"
    building.write_text(text.replace(FREE, f"{told}\n      {FREE}"), "utf-8")
    assert spare_ports(folder) == before
