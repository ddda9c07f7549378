"""What is to be measured, and how often."""

from dataclasses import dataclass
from pathlib import Path

from benchmarks.measuring import ROOT

EDITIONS = ("client", "reviewer", "estimator", "installer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is measured.

    work: an empty folder for copies and buildings.
    project: the folder of the project.
    editions: those that are built together.
    rounds: of builds; quicker work is done more often, long work once.
    checks, saves: how often `check` is run, and a file saved under the preview.
    rooms: sizes of the buildings that are checked, in rising order.
    pages: sizes of the buildings that are built, in rising order, a room type a room.
    steps: sizes of the buildings for single steps of the design.
    """

    work: Path
    project: Path = ROOT / "example_project"
    editions: tuple[str, ...] = EDITIONS
    rounds: int = 3
    checks: int = 7
    saves: int = 5
    rooms: tuple[int, ...] = (25, 100, 400, 1000)
    pages: tuple[int, ...] = (10, 25, 60)
    steps: tuple[int, ...] = (25, 50, 100, 200)
