"""`check` beside the bare imports of the packages that it loads."""

import subprocess
import sys
from collections.abc import Iterator

from benchmarks.figures import Row, compared
from benchmarks.measuring import ROOT, BenchmarkError, Command, environment, in_turn, program, run
from benchmarks.plan import Plan

# 0 good, 1 error findings that nobody accepted.
CHECKED = (0, 1)

_LOADED = """
import contextlib, io, re, sys
from importlib.metadata import packages_distributions, requires
from proposal.cli import main

sys.argv = ["proposal", "check", sys.argv[1]]
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    main()

def plain(name):
    return re.sub(r"[-_.]+", "-", name).lower()

ours = {plain(re.match(r"[\\w.-]+", line)[0]) for line in requires("conference-proposal") if ";" not in line}
loaded = {name.partition(".")[0] for name in sys.modules}
names = packages_distributions()
print(*sorted(name for name in loaded if ours & {plain(one) for one in names.get(name, ())}))
"""


def rows(plan: Plan) -> Iterator[Row]:
    """Measure and yield the rows."""
    packages = loaded(plan)
    yield Row("check: packages loaded", " ".join(packages))
    check: Command = [program("proposal"), "check", plan.project]
    imports: Command = [sys.executable, "-c", f"import {', '.join(packages)}"]
    works = {"check": lambda: run(check, CHECKED), "imports": lambda: run(imports)}
    in_turn(works, 1)  # reads the disk and writes bytecode
    found = in_turn(works, plan.checks)
    yield from compared("check / bare imports", found["check"], found["imports"])


def loaded(plan: Plan) -> list[str]:
    """Return the packages that the program depends on and that `check` of the project loads."""
    done = subprocess.run(  # noqa: S603 - our own script
        [sys.executable, "-c", _LOADED, plan.project],
        cwd=ROOT,
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode or not done.stdout.strip():
        raise BenchmarkError(f"what `check` loads could not be found out:\n{done.stderr[-2000:]}")
    return done.stdout.split()
