"""How a record of an older layout is read in the next one: one pure function for each new layout.

Layout 1 had a file for every page, drawing, input and piece of data; of the proposal it held the base alone,
in `document.json`; the digests of what is published stood in its manifest. Layout 2 is `manifest.json`,
`register.json`, and all else in `record.zip`: inputs, library, and the whole proposal. Layout 3 lies on
the disk as layout 2 does; a storey has a floor plan and a ceiling plan in it where it had one plan. Layout 4
calls a port of a switch inside a breakout by its name there (`N3`) wherever it stands; some had its number.

A record on a disk is never changed: it is read in its own layout, and these functions make it one of today's.
"""

import hashlib
import json
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from proposal.model.issued import LAYOUT, MANIFEST, layout_of

KEPT = "kept/"
"""Where a record keeps what the client was sent. It shows the record's digest, and so is not part of it."""
DOCUMENT, PROPOSAL = "document.json", "proposal.json"
PACKED_SINCE = 2
"""From this layout on a record is an archive with its manifest and its register beside it."""


class Held(NamedTuple):
    """What a record holds.

    manifest: what its manifest says, without the digest of the manifest itself.
    files: every other file by its path; those of the archive by their paths in it.
    """

    manifest: Mapping[str, Any]
    files: Mapping[str, bytes]


def record_digest(files: Mapping[str, bytes]) -> str:
    """Return the digest of a record: SHA-256 of a list of its files in order, each with its own.

    files: every file but the manifest, by path; what is kept of what the client received is left out.
    """
    told = hashlib.sha256()
    for path in sorted(files):
        if path != MANIFEST and not path.startswith(KEPT):
            told.update(f"{hashlib.sha256(files[path]).hexdigest()}  {path}\n".encode())
    return told.hexdigest()


def from_1(held: Held) -> Held:
    """Return a record of layout 1 in layout 2.

    Pages and drawings are left out: they follow from the document. Layout 1 kept no figures of alternates, of
    their combinations and of what moves the price, so that there are none.
    """
    before = dict(held.manifest)
    names = ("revision", "date", "purpose", "named", "with_errors", "project", "language", "versions")
    manifest: dict[str, Any] = {"layout": 2, "digest": "", "parents": {}}
    manifest |= {name: before[name] for name in (*names, "record", "published") if name in before}
    if before.get("previous"):
        manifest["parents"] = {before["previous"]: before["previous_digest"]}
    files = {
        path: content
        for path, content in held.files.items()
        if not path.startswith(("markdown/", "drawings/"))
    }
    return Held(manifest, {**files, PROPOSAL: b"{}\n"})


def from_2(held: Held) -> Held:
    """Return a record of layout 2 in layout 3.

    The plan of a storey is its floor plan: it keeps its number, and shows what stands in the document.
    """
    files = dict(held.files)
    for name in (DOCUMENT, PROPOSAL):
        if name in files:
            files[name] = json.dumps(_with_floor_plans(json.loads(files[name]))).encode("utf-8")
    return Held({**held.manifest, "layout": 3}, files)


def _with_floor_plans(found: Any) -> Any:
    """Return what documents of layout 2 hold, those of alternates too, as layout 3 has it."""
    if isinstance(found, list):
        return [_with_floor_plans(one) for one in found]
    if not isinstance(found, dict):
        return found
    made = {name: _with_floor_plans(value) for name, value in found.items()}
    if made.get("schema_version") == 2:
        made["schema_version"] = 3
        sheets = made.get("sheets", [])
        made["sheets"] = [
            {**sheet, "kind": "floor plan"} if sheet.get("kind") == "plan" else sheet for sheet in sheets
        ]
    return made


def from_3(held: Held) -> Held:
    """Return a record of layout 3 in layout 4.

    Ports of switches inside breakouts have the names by which the cable schedule calls them.
    """
    files = dict(held.files)
    for name in (DOCUMENT, PROPOSAL):
        if name in files:
            files[name] = json.dumps(_with_named_ports(json.loads(files[name]))).encode("utf-8")
    return Held({**held.manifest, "layout": 4}, files)


def _with_named_ports(found: Any) -> Any:
    """Return what documents of layout 3 hold, those of alternates too, as layout 4 has it."""
    if isinstance(found, list):
        return [_with_named_ports(one) for one in found]
    if not isinstance(found, dict):
        return found
    made = {name: _with_named_ports(value) for name, value in found.items()}
    if made.get("schema_version") == 3:
        made["schema_version"] = 4
        names = _port_names(made)
        ports = made.get("ports", [])
        made["ports"] = [{**row, "port": names[row["switch"], row["port"]]} for row in ports]
        whole = {f"{switch}/{number}": f"{switch}/{name}" for (switch, number), name in names.items()}
        for schedule, field in _PORTS_NAMED:
            if schedule in made:
                made[schedule] = [
                    {**row, field: whole.get(row[field], row[field])} if field in row else row
                    for row in made[schedule]
                ]
    return made


_PORTS_NAMED = (
    *(("devices", "switch_port"), ("switches", "worst_port"), ("switch_traffic", "fullest_port")),
    *(("workings", "subject"), ("findings", "where"), ("house_findings", "where")),
)
"""Schedules of layout 3 that named a port by its number, and the field in which."""


def _port_names(document: Mapping[str, Any]) -> Mapping[tuple[str, int], str]:
    """Return what each port of a document is called, by its switch and its number.

    document: of layout 3. A joined port is called what the cable schedule calls it. A spare one has no cable:
    it has the letters of the joined ones, where these are called by letters and their numbers.
    """
    ports = [(row["switch"], row["port"], row.get("cable", "")) for row in document.get("ports", [])]
    called = {
        (row.get(tag, ""), row["identity"]): row.get(port, "")
        for row in document.get("cables", [])
        for tag, port in (("from_tag", "from_port"), ("to_tag", "to_port"))
    }
    joined = {
        (switch, number): called[switch, cable]
        for switch, number, cable in ports
        if called.get((switch, cable))
    }
    letters: dict[str, set[str]] = {}
    for (switch, number), name in joined.items():
        letters.setdefault(switch, set()).add(name.removesuffix(str(number)))
    return {
        (switch, number): joined.get((switch, number))
        or f"{min(letters[switch]) if len(letters.get(switch, ())) == 1 else ''}{number}"
        for switch, number, _ in ports
    }


STEPS: Mapping[int, Callable[[Held], Held]] = {1: from_1, 2: from_2, 3: from_3}
"""What leads from each older layout to the next."""


def in_layout(held: Held, wanted: int = LAYOUT) -> Held:
    """Return a record in a newer layout, or its own.

    wanted: number of that layout; left out, that of this program.
    Raises ValueError where its layout is one that this program does not know.
    """
    layout = layout_of(held.manifest)
    if layout is None:
        raise ValueError(f"wanted layout 1 to {LAYOUT}, which this program reads; found another")
    for number in range(layout, wanted):
        held = STEPS[number](held)
    return held
