"""Write which versions made the issued example: those of the environment that this runs in.

When the record in example_project/issued has been made anew, run .venv/bin/python tests/write_constraints.py
"""

import platform
import re
import tomllib
from collections.abc import Iterable
from contextlib import suppress
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CONSTRAINTS = ROOT / "constraints.txt"

_HEAD = """\
# The versions that made example_project/issued, with Python {python}.
# To install them again: pip install . --constraint constraints.txt
"""


def name_of(requirement: str) -> str:
    """Return the name of what is required, as package lists write it."""
    return re.sub(r"[-_.]+", "-", re.split(r"[^\w.-]", requirement.strip(), maxsplit=1)[0]).lower()


def installed(requirements: Iterable[str]) -> dict[str, str]:
    """Return name and version of what is required and is here; what other systems want may not be."""
    found: dict[str, str] = {}
    for requirement in requirements:
        if "extra ==" not in requirement:
            with suppress(PackageNotFoundError):
                found[name_of(requirement)] = version(name_of(requirement))
    return found


def closure(requirements: Iterable[str]) -> dict[str, str]:
    """Return name and version of everything that requirements install here, in order of names."""
    found: dict[str, str] = {}
    waiting = installed(requirements)
    while waiting:
        name, number = waiting.popitem()
        found[name] = number
        needed = installed(requires(name) or ())
        waiting |= {each: needed[each] for each in needed if each not in found}
    return dict(sorted(found.items()))


def main() -> None:
    """Write the file."""
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    lines = [f"{name}=={number}" for name, number in closure(declared).items()]
    CONSTRAINTS.write_text(_HEAD.format(python=platform.python_version()) + "\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
