"""Which names a revision can have: its records and sites are folders of that name."""

import re

LATEST = "latest"
RESERVED = frozenset({LATEST, "index.html", "revisions.html", "versions.js", "versions.json"})
"""Names in an edition's folder that no revision can have."""
_LETTERS = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,15}")  # as project.yaml takes them
_DEVICES = frozenset(
    {"aux", "con", "nul", "prn", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}
)


def is_revision_name(name: str) -> bool:
    """Say whether a revision can have a name: on every system a folder of its own, and nothing else."""
    folded = name.casefold()
    return (
        _LETTERS.fullmatch(name) is not None
        and folded not in RESERVED
        and folded.partition(".")[0] not in _DEVICES
        and not name.endswith(".")
    )
