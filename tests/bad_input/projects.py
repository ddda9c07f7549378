"""A small good project as texts, and how a test breaks it."""

from collections.abc import Mapping
from pathlib import Path

from proposal.errors import InputError
from proposal.model.loading import load_project

GOOD: Mapping[str, str] = {
    "project.yaml": """\
name: Two rooms
client: {name: Example Society}
integrator: {name: Example Conference Systems}
site: Example Hall
revision:
  identity: B
  date: 2031-03-03
  purpose: for comment
history:
  A: {identity: A, date: 2031-02-01, purpose: for comment}
region: europe
branding: {colour: "#1f4e79", logo: logo.svg}
subnets:
  conference: {network: 192.168.30.0/24, vlan: 30, gateway: 192.168.30.1}
rules:
  cabling:
    rack_slack: 3 m
    device_cord: unknown
""",
    "building.yaml": """\
storeys:
  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}
  L1: {name: First floor, height: 3.6 m, slab_to_slab: 3.6 m}
equipment_rooms:
  ER1:
    name: Equipment cupboard
    storey: L0
    at: [12 m, 2 m]
    racks: {RK1: {}}
""",
    "rooms.csv": """\
tag,name,room type,storey,x (m),y (m),rotation (°)
B001,Meeting Room 1,meeting,L0,1,1,0
B002,Meeting Room 2,meeting,L1,1,1,0
""",
    "room_types/meeting.yaml": """\
name: Meeting room
use: Eight people talk round a table.
outline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]]
ceiling: {height: 2.7 m, kind: mineral tile}
seats:
  S1: {at: [2 m, 1.4 m]}
  S2: {at: [4 m, 1.4 m]}
microphones:
  M1: {form: boundary, pattern: cardioid, at: [2.2 m, 2.5 m], seat: S1}
  M2: {form: boundary, pattern: cardioid, at: [3.8 m, 2.5 m]}
spare_microphones: {boundary: 1}
output: breakout
sessions:
  morning: {start: 09:00, end: 12:30}
""",
    "rooms/B002.yaml": """\
ceiling: {height: 2.5 m}
spare_microphones: null
""",
    "fixed.yaml": """\
devices:
  B001-AP1: {height: 2.6 m, address: 192.168.30.20}
""",
    "wording/introduction.md": "Thank you for asking.\n",
    "images/logo.svg": '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8"/>\n',
}

# file → what happens to it: (old text, new text), new content, or None to take it away.
Edits = Mapping[str, tuple[str, str] | str | bytes | None]


def write_project(folder: Path, files: Mapping[str, str | bytes] = GOOD, edits: Edits | None = None) -> Path:
    """Write a project folder, broken as told; a text to replace must stand in its file exactly once."""
    contents: dict[str, str | bytes] = dict(files)
    for file, edit in (edits or {}).items():
        if edit is None:
            del contents[file]
        elif isinstance(edit, tuple):
            text = contents[file]
            assert isinstance(text, str)
            assert text.count(edit[0]) == 1, (file, edit[0])
            contents[file] = text.replace(*edit)
        else:
            contents[file] = edit
    for file, content in contents.items():
        path = folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


def messages_of(folder: Path, library: Path | None = None) -> list[str]:
    """Return every line that a person would read about a folder; none where it is good."""
    try:
        load_project(folder, library=library)
    except InputError as error:
        return [str(problem) for problem in error.problems]
    return []
