"""Two whole projects, each exported once a run, and what people wrote of them."""

import json
import subprocess
import sys
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest

from tests.independent.inputs import PROJECTS, Inputs
from tests.shared_builds import made_once

Row = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """A project: its files, and its document in SI units as the command line exports it."""

    inputs: Inputs
    document: dict[str, Any]

    def __getitem__(self, schedule: str) -> list[Row]:
        rows: list[Row] = self.document[schedule]
        return rows

    @cached_property
    def devices(self) -> dict[str, Row]:
        return {row["tag"]: row for row in self["devices"]}

    @cached_property
    def device_ports(self) -> list[Row]:
        """The ports for devices, without the uplinks between switches, U1, U2."""
        return [row for row in self["ports"] if not row["port"].startswith("U")]

    @cached_property
    def cables(self) -> dict[str, Row]:
        return {row["identity"]: row for row in self["cables"]}

    def models(self, folder: str, name: str, section: str) -> dict[str, Row]:
        """Return a section of the library, that of the project laid over the shared one."""
        own: dict[str, Row] = self.inputs.own_library.get(section, {})
        shared = self.inputs.shared(folder, name, section)
        return shared | {code: shared.get(code, {}) | entry for code, entry in own.items()}


def exported(project: str, temporary: pytest.TempPathFactory) -> dict[str, Any]:
    """Return the estimator's document of a project, computed by the first process that asks."""

    def make(folder: Path) -> None:
        command = [sys.executable, "-m", "proposal", "export", str(PROJECTS[project]), "--format", "json"]
        command += ["--edition", "estimator", "--output", str(folder / "document.json")]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert done.returncode in (0, 1), done.stderr

    written = made_once(temporary, f"document of {project}", make) / "document.json"
    document: dict[str, Any] = json.loads(written.read_text(encoding="utf-8"))
    return document


@pytest.fixture(scope="session", params=PROJECTS)
def case(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Case:
    return Case(Inputs(PROJECTS[request.param]), exported(request.param, tmp_path_factory))
