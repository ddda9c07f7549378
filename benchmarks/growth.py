"""How `check` grows with the rooms of a building, and a build with its pages."""

import shutil
from collections.abc import Iterator, Sequence
from functools import partial

from benchmarks import building
from benchmarks.builds import bare_build, build, warm_up
from benchmarks.checking import CHECKED
from benchmarks.figures import Row, alone, compared, power
from benchmarks.measuring import Command, exponent, in_turn, program, run
from benchmarks.plan import Plan

# Buildings up to this size are checked in several rounds, larger ones once.
_SEVERAL_UP_TO = 100
_EDITION = "client"


def rooms_rows(plan: Plan) -> Iterator[Row]:
    """Check buildings of rising size and yield the rows."""
    times: list[tuple[float, float]] = []
    memory: list[tuple[float, float]] = []
    for count in plan.rooms:
        folder = building.write(plan.work / f"rooms-{count}", count)
        command: Command = [program("proposal"), "check", folder]
        if not times:
            run(command, CHECKED)  # reads the disk and writes bytecode
        rounds = plan.rounds if count <= _SEVERAL_UP_TO else 1
        taken = in_turn({"check": partial(run, command, CHECKED)}, rounds)["check"]
        times.append((count, taken.processor_s))
        memory.append((count, taken.peak_mib))
        yield from alone(f"check, {count} rooms", taken)
        yield Row(f"check, {count} rooms: peak memory, MiB", f"{taken.peak_mib:.0f}")
    yield from _exponents("check against rooms, processor", times)
    yield from _exponents("check against rooms, peak memory", memory)


def pages_rows(plan: Plan) -> Iterator[Row]:
    """Build the client edition of buildings of rising size and yield the rows."""
    warm_up(plan.work)
    ours: list[tuple[float, float]] = []
    bare: list[tuple[float, float]] = []
    for count in plan.pages:
        folder = building.write(plan.work / f"pages-{count}", count, types=count)
        made = build(folder, (_EDITION,))
        alone_by_mkdocs = bare_build(folder, plan.work / "bare", (_EDITION,))
        pages = len(list((folder / "build" / _EDITION / "markdown").rglob("*.md")))
        ours.append((pages, made.processor_s))
        bare.append((pages, alone_by_mkdocs.processor_s))
        name = f"client edition, {count} room types"
        yield Row(f"{name}: pages", str(pages))
        yield from compared(f"{name}, build cold / mkdocs", made, alone_by_mkdocs)
        shutil.rmtree(folder)
    yield from _exponents("build against pages, processor", ours)
    yield from _exponents("mkdocs against pages, processor", bare)


def _exponents(name: str, points: Sequence[tuple[float, float]]) -> Iterator[Row]:
    """Yield the exponents over all sizes, which starting the program lowers, and between the last two."""
    yield Row(f"{name}: exponent", power(exponent(points)))
    yield Row(f"{name}: exponent of the last step", power(exponent(points[-2:])))
