"""Broken projects: what is done to the small good project, and every line its author reads.

Each message was checked by hand against the text of the file: line and column as an editor counts them.
"""

from tests.bad_input.projects import Edits
from tests.catalogue import model_of, shipped

# name → what is done, what is said
CASES: dict[str, tuple[Edits, list[str]]] = {}

# Files: missing, unknown, misplaced, empty, binary, in another encoding.
CASES |= {
    "project file missing": ({"project.yaml": None}, ["project.yaml: wanted this file; found none"]),
    "building file missing": ({"building.yaml": None}, ["building.yaml: wanted this file; found none"]),
    "room schedule missing": ({"rooms.csv": None}, ["rooms.csv: wanted this file; found none"]),
    "no room type": (
        {"room_types/meeting.yaml": None},
        ["room_types: wanted at least one room type, such as room_types/meeting_room.yaml; found none"],
    ),
    "file of the wrong case": (
        {"fixed.yaml": None, "Fixed.yaml": "devices: {}\n"},
        [
            "Fixed.yaml: wanted one of project.yaml, building.yaml, rooms.csv, fixed.yaml, "
            "requirements.yaml; "
            "found Fixed.yaml (did you mean fixed.yaml?)"
        ],
    ),
    "prose for a page that takes none": (
        {"wording/cover.md": "Dear reader.\n"},
        [
            "wording/cover.md: wanted the name of a page that takes prose, such as summary.md, or of a part "
            "of scope and terms; found cover.md, a page that takes none"
        ],
    ),
    "file misspelt": (
        {"projct.yaml": "x: 1\n"},
        [
            "projct.yaml: wanted one of project.yaml, building.yaml, rooms.csv, fixed.yaml, "
            "requirements.yaml; "
            "found projct.yaml (did you mean project.yaml?)"
        ],
    ),
    "folder misspelt": (
        {"room_type/board.yaml": "x: 1\n"},
        [
            "room_type: wanted one of room_types, rooms, alternates, wording, images, readings, library, "
            "issued, published, build, schema; found room_type (did you mean room_types?)"
        ],
    ),
    "other ending": (
        {"room_types/board.yml": "x: 1\n"},
        ["room_types/board.yml: wanted a name ending in .yaml; found board.yml"],
    ),
    "folder in a folder": (
        {"rooms/north/B003.yaml": "x: 1\n"},
        ["rooms/north: wanted files only in rooms; found a folder"],
    ),
    "change of no room": (
        {"rooms/B003.yaml": "output: mixer\n"},
        [
            "rooms/B003.yaml: wanted a file named by the tag of a room in rooms.csv; "
            "found B003 (did you mean B002?)"
        ],
    ),
    "empty file": (
        {"building.yaml": ""},
        ["building.yaml: wanted names with values, `{}` for none; found an empty file"],
    ),
    "file of comments": (
        {"fixed.yaml": "# later\n"},
        ["fixed.yaml: wanted names with values, `{}` for none; found an empty file"],
    ),
    "empty table": ({"rooms.csv": ""}, ["rooms.csv: wanted a heading and rows; found an empty file"]),
    "spreadsheet for a table": (
        {"rooms.csv": b"PK\x03\x04\x14\x00\x06\x00"},
        ["rooms.csv: wanted a text in UTF-8; found a spreadsheet or an archive"],
    ),
    "bytes for a text": (
        {"fixed.yaml": b"devices: {}\n\x00\x01\x02"},
        ["fixed.yaml:2:1: wanted a text of printable characters; found \\x00"],
    ),
    "UTF-16": (
        {"building.yaml": "storeys: {}\n".encode("utf-16")},
        ["building.yaml: wanted a text in UTF-8; found UTF-16"],
    ),
    "Latin-1": (
        {"rooms/B002.yaml": "name: Großer Saal\n".encode("latin-1")},
        ["rooms/B002.yaml:1:10: wanted a text in UTF-8; found byte 0xDF, which is not UTF-8"],
    ),
    "prose in Latin-1": (
        {"wording/introduction.md": b"Thank you.\nA caf\xe9.\n"},
        ["wording/introduction.md:2:6: wanted a text in UTF-8; found byte 0xE9, which is not UTF-8"],
    ),
    "a line of ten megabytes": (
        {"fixed.yaml": b"devices: " + b"x" * 10_000_000},
        ["fixed.yaml: wanted at most 5 MB; found 10.0 MB"],
    ),
}

# YAML: syntax, duplicate names, aliases, tags, depth.
CASES |= {
    "second colon": (
        {"project.yaml": ("name: Two rooms", "name: Two: rooms")},
        [
            "project.yaml:1:10: wanted correct YAML; found a second colon, or a wrong indentation; "
            "a text with a colon stands in quotes"
        ],
    ),
    "tab": (
        {"building.yaml": ("  ER1:", "\tER1:")},
        ["building.yaml:5:1: wanted correct YAML; found a tab where YAML takes spaces only"],
    ),
    "quote left open": (
        {"fixed.yaml": "devices:\n  B001-AP1: {address: 'x}\n"},
        ["fixed.yaml:2:23: wanted correct YAML; found a quote that is opened in this line and not closed"],
    ),
    "list for a mapping": (
        {"fixed.yaml": "- devices\n"},
        ["fixed.yaml:1:1: wanted names with values, such as `name: value`; found a list"],
    ),
    "second document": (
        {"fixed.yaml": "devices: {}\n---\ncables: {}\n"},
        ["fixed.yaml:2:1: wanted one document; found the beginning of a second one"],
    ),
    "name twice": (
        {"project.yaml": ("region: europe", "region: europe\nsite: Elsewhere")},
        ["project.yaml:12:1: wanted each name once; found site again, first in line 4"],
    ),
    "tag twice": (
        {"room_types/meeting.yaml": ("  S2:", "  S1:")},
        ["room_types/meeting.yaml:7:3: seats: wanted each name once; found S1 again, first in line 6"],
    ),
    "aliases that explode": (
        {
            "fixed.yaml": "a0: &a0 ["
            + ",".join("x" * 10)
            + "]\n"
            + "".join(f"a{n}: &a{n} [{','.join([f'*a{n - 1}'] * 10)}]\n" for n in range(1, 20))
        },
        ["fixed.yaml:5:38: a4: wanted at most 100000 values, aliases counted out; found more"],
    ),
    "alias of itself": (
        {"fixed.yaml": "devices: &all {again: *all}\n"},
        ["fixed.yaml:1:23: devices.again: wanted an alias of something above; found *all, itself"],
    ),
    "tag of a language": (
        {"fixed.yaml": "devices: !!python/object:builtins.dict {}\n"},
        ["fixed.yaml:1:10: devices: wanted a value without a tag; found !!python/object:builtins.dict"],
    ),
    "brackets too deep": (
        {"fixed.yaml": "devices: " + "[" * 150 + "]" * 150},
        ["fixed.yaml:1:109: devices: wanted at most 100 levels; found one more"],
    ),
    "list as a name": (
        {"fixed.yaml": "? [devices]\n: {}\n"},
        ["fixed.yaml:1:3: wanted a name before the colon; found a list"],
    ),
}

# Fields: unknown, missing, of another type, out of their limits.
CASES |= {
    "field misspelt": (
        {"project.yaml": ("site:", "siet:")},
        [
            "project.yaml:1:1: site: wanted a text; found nothing",
            "project.yaml:4:1: wanted one of name, number, client, integrator, site, goals, revision, "
            "history, region, units, locale, currency and 13 more; found siet (did you mean site?)",
        ],
    ),
    "field left out": (
        {"room_types/meeting.yaml": ("use: Eight people talk round a table.\n", "")},
        ["room_types/meeting.yaml:1:1: use: wanted a text; found nothing"],
    ),
    "unknown without a default": (
        {"project.yaml": ("name: Two rooms", "name: unknown")},
        ["project.yaml:1:7: name: wanted a text; found unknown (this field has no default)"],
    ),
    "unknown length without a default": (
        {"building.yaml": ("height: 3.6 m,", "height: unknown,")},
        [
            "building.yaml:3:35: storeys.L1.height: wanted a length with its unit, such as 7.2 m or 24 ft; "
            "found unknown (this field has no default)"
        ],
    ),
    "unknown entry": (
        {"building.yaml": ("{name: First floor, height: 3.6 m, slab_to_slab: 3.6 m}", "unknown")},
        [
            "building.yaml:3:7: storeys.L1: wanted names with values, such as {name: a text, height: 7.2 m, "
            "slab_to_slab: 7.2 m}; found unknown"
        ],
    ),
    "empty name": (
        {"project.yaml": ("name: Two rooms", "name: ''")},
        ["project.yaml:1:7: name: wanted a text; found an empty text"],
    ),
    "text for a mapping": (
        {"project.yaml": ("client: {name: Example Society}", "client: Example Society")},
        ["project.yaml:2:9: client: wanted names with values, such as {name: a text}; found Example Society"],
    ),
    "choice misspelt": (
        {"project.yaml": ("region: europe", "region: europa")},
        [
            "project.yaml:11:9: region: wanted one of europe, north_america; found "
            "europa (did you mean europe?)"
        ],
    ),
    "list for a choice": (
        {"project.yaml": ("region: europe", "region: [europe]")},
        ["project.yaml:11:9: region: wanted one of europe, north_america; found a list"],
    ),
    "choice in a mapping": (
        {"room_types/meeting.yaml": ("M1: {form: boundary", "M1: {form: boundry")},
        [
            "room_types/meeting.yaml:9:14: microphones.M1.form: wanted one of handheld, "
            "bodypack, boundary, "
            "gooseneck; found boundry (did you mean boundary?)"
        ],
    ),
    "key that is a choice": (
        {"room_types/meeting.yaml": ("{boundary: 1}", "{bodypak: 1}")},
        [
            "room_types/meeting.yaml:11:21: spare_microphones: wanted one of handheld, bodypack, boundary, "
            "gooseneck; found bodypak (did you mean bodypack?)"
        ],
    ),
    "bare number": (
        {"project.yaml": ("rack_slack: 3 m", "rack_slack: 3")},
        [
            "project.yaml:17:17: rules.cabling.rack_slack: wanted a length with its unit, such as 7.2 m or "
            "24 ft; found 3"
        ],
    ),
    "unit of another kind": (
        {"rooms/B002.yaml": ("2.5 m", "2.5 kg")},
        [
            "rooms/B002.yaml:1:19: ceiling.height: wanted a length with its unit, such as 7.2 m or 24 ft; "
            "found 2.5 kg"
        ],
    ),
    "thousands with a comma": (
        {"building.yaml": ("[12 m, 2 m]", "['1,200 m', 2 m]")},
        [
            "building.yaml:8:10: equipment_rooms.ER1.at.1: wanted a length with a "
            "decimal point and no comma, "
            "such as 7.2 m or 24 ft; found 1,200 m"
        ],
    ),
    "huge exponent": (
        {"building.yaml": ("[12 m, 2 m]", "[1e999 m, 2 m]")},
        [
            "building.yaml:8:10: equipment_rooms.ER1.at.1: wanted a length from -100000 to 100000 m, "
            "such as 7.2 m or 24 ft; found 1e999 m"
        ],
    ),
    "very long number": (
        {"building.yaml": ("[12 m, 2 m]", f"[{'9' * 50_000} m, 2 m]")},
        [
            "building.yaml:8:10: equipment_rooms.ER1.at.1: wanted a length of at most 64 characters, "
            f"such as 7.2 m or 24 ft; found {'9' * 60}…"
        ],
    ),
    "very long whole number": (
        {"project.yaml": ("vlan: 30", f"vlan: {'9' * 5000}")},
        [
            f"project.yaml:14:48: subnets.conference.vlan: wanted a whole number, such as 12; "
            f"found {'9' * 60}…"
        ],
    ),
    "digits of another script": (
        {"project.yaml": ("vlan: 30", "vlan: ٣٠")},
        ["project.yaml:14:48: subnets.conference.vlan: wanted a whole number, such as 12; found ٣٠"],
    ),
    "not a number": (
        {"project.yaml": ("rack_slack: 3 m", "routing_factor: nan")},
        ["project.yaml:17:21: rules.cabling.routing_factor: wanted a number, such as 2 or 1.5; found nan"],
    ),
    "below its limit": (
        {"project.yaml": ("rack_slack: 3 m", "rack_slack: -3 m")},
        ["project.yaml:17:17: rules.cabling.rack_slack: wanted at least 0 m; found -3 m"],
    ),
    "nothing where something is": (
        {"building.yaml": ("slab_to_slab: 3.6 m}\n  L1", "slab_to_slab: 0 ft}\n  L1")},
        ["building.yaml:2:55: storeys.L0.slab_to_slab: wanted more than 0 m; found 0 ft"],
    ),
    "share out of its limits": (
        {"project.yaml": ("  cabling:", "  power: {headroom: 120 %}\n  cabling:")},
        ["project.yaml:16:21: rules.power.headroom: wanted less than 100 %; found 120 %"],
    ),
    "whole number out of its limits": (
        {"project.yaml": ("vlan: 30", "vlan: 5000")},
        ["project.yaml:14:48: subnets.conference.vlan: wanted at most 4094; found 5000"],
    ),
    "half a microphone": (
        {"room_types/meeting.yaml": ("{boundary: 1}", "{boundary: 1.5}")},
        [
            "room_types/meeting.yaml:11:31: spare_microphones.boundary: wanted a whole number, such as 12; "
            "found 1.5"
        ],
    ),
    "neither yes nor no": (
        {"room_types/meeting.yaml": ("output: breakout", "output: breakout\nspares_paired: maybe")},
        ["room_types/meeting.yaml:13:16: spares_paired: wanted yes or no; found maybe"],
    ),
    "date of another age": (
        {"project.yaml": ("2031-03-03", "2301-03-03")},
        [
            "project.yaml:7:9: revision.date: wanted a date of the years 1900 to 2099, such as 2031-04-15; "
            "found 2301-03-03"
        ],
    ),
    "date in another order": (
        {"project.yaml": ("2031-03-03", "03.03.2031")},
        ["project.yaml:7:9: revision.date: wanted a date, such as 2031-04-15; found 03.03.2031"],
    ),
    "day that is none": (
        {"project.yaml": ("2031-03-03", "2031-02-30")},
        [
            "project.yaml:7:9: revision.date: wanted a day that the calendar has, such as 2031-04-15; "
            "found 2031-02-30"
        ],
    ),
    "seconds for a date": (
        {"project.yaml": ("2031-03-03", "86400")},
        ["project.yaml:7:9: revision.date: wanted a date, such as 2031-04-15; found 86400"],
    ),
    "hour that is none": (
        {"room_types/meeting.yaml": ("12:30", "25:30")},
        [
            "room_types/meeting.yaml:14:32: sessions.morning.end: wanted a time of day "
            "from 00:00 to 24:00, "
            "such as 09:30 or 9:30 am; found 25:30"
        ],
    ),
    "colour by name": (
        {"project.yaml": ('"#1f4e79"', "teal")},
        [
            "project.yaml:12:20: branding.colour: wanted a colour in quotes, # and six hexadecimal "
            'digits, such as "#1f4e79"; found teal'
        ],
    ),
    "text of another form": (
        {"project.yaml": ("identity: B", "identity: second issue")},
        ["project.yaml:6:13: revision.identity: wanted a text such as A; found second issue"],
    ),
    "position of one number": (
        {"building.yaml": ("[12 m, 2 m]", "[12 m]")},
        [
            "building.yaml:8:9: equipment_rooms.ER1.at.2: wanted a length with its unit, such as 7.2 m or "
            "24 ft; found nothing"
        ],
    ),
    "position of three numbers": (
        {"building.yaml": ("[12 m, 2 m]", "[12 m, 2 m, 0 m]")},
        ["building.yaml:8:9: equipment_rooms.ER1.at: wanted at most 2 entries; found 3"],
    ),
    "position that is no list": (
        {"building.yaml": ("[12 m, 2 m]", "12 m")},
        [
            "building.yaml:8:9: equipment_rooms.ER1.at: wanted a list of 2, in brackets, such as "
            "[7.2 m, 7.2 m]; found 12 m"
        ],
    ),
    "room of two corners": (
        {"room_types/meeting.yaml": (", [6 m, 5 m], [0 m, 5 m]]", "]")},
        ["room_types/meeting.yaml:3:10: outline: wanted at least 3 entries; found 2"],
    ),
    "no rack": (
        {"building.yaml": ("{RK1: {}}", "{}")},
        ["building.yaml:9:12: equipment_rooms.ER1.racks: wanted at least 1 entry; found none"],
    ),
}

# The room schedule.
CASES |= {
    "semicolons": (
        {"rooms.csv": "tag;name;room type\nB001;Meeting Room 1;meeting\n"},
        ["rooms.csv:1:1: wanted values separated by commas; found semicolons"],
    ),
    "heading twice": (
        {"rooms.csv": ("y (m),rotation (°)", "y (m),x (ft)")},
        ["rooms.csv:1:39: wanted each heading once; found x again"],
    ),
    "heading misspelt": (
        {"rooms.csv": ("storey", "story")},
        [
            "rooms.csv:1:1: storey: wanted a text; found no such column",
            "rooms.csv:1:20: wanted one of tag, name, type, storey, x, y, rotation, "
            "mirrored, equipment_room, "
            "internal_note; found story (did you mean storey?)",
        ],
    ),
    "heading left out": (
        {"rooms.csv": "tag,name,room type,x (m),y (m)\nB001,One,meeting,1,1\nB002,Two,meeting,1,1\n"},
        ["rooms.csv:1:1: storey: wanted a text; found no such column"],
    ),
    "no tags": (
        {"rooms.csv": "name,room type\nOne,meeting\n"},
        ["rooms.csv:1:1: wanted a heading tag; found none"],
    ),
    "row too long": (
        {"rooms.csv": ("L0,1,1,0", "L0,1,1,0,x")},
        ["rooms.csv:2:38: wanted 7 cells as in the heading; found 8"],
    ),
    "row too short": (
        {"rooms.csv": ("L0,1,1,0", "L0,1")},
        ["rooms.csv:2:32: wanted 7 cells as in the heading; found 5"],
    ),
    "empty cell": (
        {"rooms.csv": ("B001,Meeting Room 1,", "B001,,")},
        ["rooms.csv:2:6: name: wanted a text; found an empty cell"],
    ),
    "empty tag": (
        {"rooms.csv": ("B001,", ",")},
        ["rooms.csv:2:1: tag: wanted a name; found an empty cell"],
    ),
    "room tag twice": (
        {"rooms.csv": ("B002", "B001"), "rooms/B002.yaml": None},
        ["rooms.csv:3:1: tag: wanted each tag once; found B001 again, first in line 2"],
    ),
    "room tags that differ in case": (
        {"rooms.csv": ("B002", "b001"), "rooms/B002.yaml": None},
        ["rooms.csv:3:1: wanted tags that differ in more than case; found b001 beside B001"],
    ),
    "tag that leads elsewhere": (
        {"rooms.csv": ("B002", "../B2"), "rooms/B002.yaml": None},
        [
            "rooms.csv:3:1: wanted a tag of at most 24 letters, digits, dots, hyphens and underscores; "
            "found ../B2"
        ],
    ),
    "tag of a device": (
        {"rooms.csv": ("B002", "B001-AP1"), "rooms/B002.yaml": None},
        ["rooms.csv:3:1: wanted a tag that cannot be that of a device in B001; found B001-AP1"],
    ),
    "tag of an equipment room": (
        {"rooms.csv": ("B002", "ER1"), "rooms/B002.yaml": None},
        ["rooms.csv:3:1: wanted a tag that no equipment room has; found ER1"],
    ),
    "no room": (
        {"rooms.csv": "tag,name,room type,storey,x (m),y (m)\n", "rooms/B002.yaml": None},
        ["rooms.csv: wanted at least one room; found none"],
    ),
    "quoted cell without end": (
        {"rooms.csv": ("Meeting Room 2", '"Meeting Room 2')},
        ["rooms.csv:3:6: wanted a closing quote; found the end of the file"],
    ),
    "cell without a number": (
        {"rooms.csv": ("L0,1,1,0", "L0,one,1,0")},
        ["rooms.csv:2:32: x: wanted a length with its unit, such as 7.2 m or 24 ft; found one"],
    ),
}

# Names that name nothing, values that contradict each other.
CASES |= {
    "room type that is not there": (
        {"rooms.csv": ("Room 1,meeting", "Room 1,meetin")},
        ["rooms.csv:2:21: type: wanted a room type: meeting; found meetin"],
    ),
    "storey that is not there": (
        {"rooms.csv": ("meeting,L0", "meeting,L4")},
        ["rooms.csv:2:29: storey: wanted a storey of building.yaml: one of L0, L1; found L4"],
    ),
    "seat that is not there": (
        {"room_types/meeting.yaml": ("seat: S1", "seat: T1")},
        [
            "room_types/meeting.yaml:9:69: microphones.M1.seat: wanted a seat of this room type: "
            "one of S1, S2; found T1"
        ],
    ),
    "seat that one room takes away": (
        {"rooms/B002.yaml": "seats: {S1: null}\n"},
        [
            "room_types/meeting.yaml:9:69: microphones.M1.seat: wanted a seat of this room type: S2; "
            "found S1, as rooms/B002.yaml changes it"
        ],
    ),
    "taking away what is needed": (
        {"rooms/B002.yaml": "use: null\n"},
        ["rooms/B002.yaml:1:1: use: wanted a text; found nothing"],
    ),
    "taking away what is not there": (
        {"rooms/B002.yaml": "seats: {S9: null}\n"},
        ["rooms/B002.yaml:1:9: seats: wanted something to take away: one of S1, S2; found S9"],
    ),
    "taking away what cannot be": (
        {"rooms/B002.yaml": "ceiling: {hieght: null}\n"},
        [
            "rooms/B002.yaml:1:11: ceiling: wanted one of height, kind, tile, space; found hieght "
            "(did you mean height?)"
        ],
    ),
    "room fixed that is not there": (
        {"fixed.yaml": "rooms: {B01: {}}\n"},
        [
            "fixed.yaml:1:9: rooms.B01: wanted the tag of a room: one of B001, B002; "
            "found B01 (did you mean B001?)"
        ],
    ),
    "address that is none": (
        {"fixed.yaml": ("192.168.30.20", "192.168.30.256")},
        [
            "fixed.yaml:2:38: devices.B001-AP1.address: wanted a network address, such as 10.20.30.40; "
            "found 192.168.30.256"
        ],
    ),
    "network that is none": (
        {"project.yaml": ("192.168.30.0/24", "192.168.30.0/33")},
        [
            "project.yaml:14:25: subnets.conference.network: wanted an address range, "
            "such as 10.20.30.0/24; "
            "found 192.168.30.0/33"
        ],
    ),
    "gateway of another network": (
        {"project.yaml": ("gateway: 192.168.30.1", "gateway: 10.0.0.1")},
        [
            "project.yaml:14:61: subnets.conference.gateway: wanted an address in "
            "192.168.30.0/24; found 10.0.0.1"
        ],
    ),
    "locale and currency that are none": (
        {"project.yaml": ("region: europe", "region: europe\nlocale: xx_YY\ncurrency: QQQ")},
        [
            "project.yaml:12:9: locale: wanted a known language and country, such as en_GB; found xx_YY",
            "project.yaml:13:11: currency: wanted a currency by its three letters of ISO 4217, "
            "such as EUR or USD; found QQQ",
        ],
    ),
    "earlier revision from the future": (
        {"project.yaml": ("2031-02-01", "2032-02-01")},
        [
            "project.yaml:10:26: history.A.date: wanted a date not after the revision's, 2031-03-03; "
            "found 2032-02-01"
        ],
    ),
    "earlier revision by another name": (
        {"project.yaml": ("A: {identity: A", "A: {identity: C")},
        ["project.yaml:10:17: history.A.identity: wanted A, as it is named; found C"],
    ),
    "meeting that ends before it starts": (
        {"room_types/meeting.yaml": ("12:30", "08:30")},
        [
            "room_types/meeting.yaml:14:32: sessions.morning.end: wanted an end after the start, 09:00; "
            "found 08:30"
        ],
    ),
    "room whose walls cross": (
        {"room_types/meeting.yaml": ("[6 m, 5 m], [0 m, 5 m]]", "[0 m, 5 m], [6 m, 5 m]]")},
        [
            "room_types/meeting.yaml:3:10: outline: wanted sides that do not cross; "
            "found side 2 and side 4 crossing"
        ],
    ),
    "outline closed by hand": (
        {"room_types/meeting.yaml": ("[0 m, 5 m]]", "[0 m, 5 m], [0 m, 0 m]]")},
        [
            "room_types/meeting.yaml:3:10: outline: wanted each corner once, the outline closes itself; "
            "found one of them again"
        ],
    ),
    "room without an area": (
        {"room_types/meeting.yaml": ("[6 m, 5 m], [0 m, 5 m]]", "[9 m, 0 m]]")},
        ["room_types/meeting.yaml:3:10: outline: wanted an outline with an area; found corners in one line"],
    ),
    "rack by another code": (
        {"building.yaml": ("RK1: {}", "R1: {}")},
        ["building.yaml:9:13: equipment_rooms.ER1.racks.R1: wanted RK and a number, such as RK1; found R1"],
    ),
}

# Pictures and libraries.
CASES |= {
    "logo outside the folder": (
        {"project.yaml": ("logo.svg", "../logo.svg")},
        [
            "project.yaml:12:37: branding.logo: wanted the name of a file in images/, without a path; "
            "found ../logo.svg"
        ],
    ),
    "logo by an absolute path": (
        {"project.yaml": ("logo.svg", "/srv/logo.svg")},
        [
            "project.yaml:12:37: branding.logo: wanted the name of a file in images/, without a path; "
            "found /srv/logo.svg"
        ],
    ),
    "logo that is not there": (
        {
            "project.yaml": ("logo.svg", "logos.svg"),
            "images/plan.svg": '<svg xmlns="http://www.w3.org/2000/svg"/>',
        },
        [
            "project.yaml:12:37: branding.logo: wanted a file in images/: one of logo.svg, plan.svg; "
            "found logos.svg (did you mean logo.svg?)"
        ],
    ),
    "picture that is none": (
        {"images/room.png": b"GIF89a"},
        ["images/room.png: wanted a PNG picture; found a GIF picture"],
    ),
    "drawing with a script": (
        {"images/logo.svg": '<svg xmlns="http://www.w3.org/2000/svg">\n<script href="x.js"/></svg>'},
        ["images/logo.svg:2:1: wanted an element that only draws; found <script>"],
    ),
    "drawing that asks the network": (
        {
            "images/logo.svg": '<svg xmlns="http://www.w3.org/2000/svg">\n'
            '<image href="https://example.org/x.png"/></svg>'
        },
        [
            "images/logo.svg:2:8: wanted an embedded picture, data:image/png;base64,… or "
            "data:image/jpeg;base64,…; found https://example.org/x.png"
        ],
    ),
    "kind of equipment misspelt": (
        {"library/own.yaml": "charger: {}\n"},
        [
            "library/own.yaml:1:1: wanted one of microphones, wired_microphones, accessories, "
            "access_points, chargers, breakouts, "
            "mixers, switches, amplifiers, loudspeakers, racks, rack_parts and 20 more; "
            "found charger (did you mean chargers?)"
        ],
    ),
}

# Alternates: what their files say, and what they make of the project.
_ALTERNATE = "name: Goosenecks\ndescription: Talkers come closer.\nchanges:\n"
_GOOSE = "alternates/goose.yaml"
CASES |= {
    "alternate of an unknown part": (
        {_GOOSE: _ALTERNATE + "  roomtypes: {meeting: {output: mixer}}\n"},
        [
            f"{_GOOSE}:4:3: changes: wanted one of project, building, room_types, rooms, fixed; "
            "found roomtypes (did you mean room_types?)"
        ],
    ),
    "alternate without words": (
        {_GOOSE: "name: x\ndescripton: y\nchanges: {rooms: {B002: null}}\n"},
        [
            f"{_GOOSE}:1:1: description: wanted a text; found nothing",
            f"{_GOOSE}:2:1: wanted one of name, description, price, deductive, one_of, "
            "gives_up, internal_note, changes; "
            "found descripton (did you mean description?)",
        ],
    ),
    "alternate that changes nothing": (
        {_GOOSE: _ALTERNATE.rstrip() + " {}\n"},
        [f"{_GOOSE}:3:10: changes: wanted at least 1 entry; found none"],
    ),
    "alternate that takes all rooms away": (
        {_GOOSE: _ALTERNATE + "  rooms: null\n"},
        [f"{_GOOSE}:4:10: changes.rooms: wanted names with values; found null"],
    ),
    "alternate with a wrong value": (
        {_GOOSE: _ALTERNATE + "  room_types:\n    meeting: {microphones: {M1: {form: goosneck}}}\n"},
        [
            f"{_GOOSE}:5:40: changes.room_types.meeting.microphones.M1.form: "
            "wanted one of handheld, bodypack, boundary, gooseneck; found goosneck (did you mean gooseneck?)"
        ],
    ),
    "alternate that takes away what is not there": (
        {_GOOSE: _ALTERNATE + "  room_types:\n    meeting: {microphones: {M9: null}, outptu: null}\n"},
        [
            f"{_GOOSE}:5:29: changes.room_types.meeting.microphones: "
            "wanted something to take away: one of M1, M2; found M9",
            f"{_GOOSE}:5:40: changes.room_types.meeting: wanted one of name, use, outline, ceiling, "
            "furniture, levels, doors, seats, seat_rows, microphone_rows, microphones, wired_microphones "
            "and 31 more; found outptu (did you mean output?)",
        ],
    ),
    "alternate with a text for a room": (
        {_GOOSE: _ALTERNATE + "  rooms: {B001: hello}\n"},
        [
            f"{_GOOSE}:4:17: changes.rooms.B001: wanted names with values, such as "
            "{name: a text, type: a text, storey: a text, x: 7.2 m}; found "
            "hello"
        ],
    ),
    "alternate with a list for a room": (
        {_GOOSE: _ALTERNATE + "  rooms: {B001: [L0]}\n"},
        [
            f"{_GOOSE}:4:17: changes.rooms.B001: wanted names with values, such as "
            "{name: a text, type: a text, storey: a text, x: 7.2 m}; found "
            "a list"
        ],
    ),
    "alternate with a text for a layout": (
        {_GOOSE: _ALTERNATE + "  rooms: {B001: {layout: hello}}\n"},
        [
            f"{_GOOSE}:4:26: changes.rooms.B001.layout: wanted names with values, such as "
            "{name: a text, use: a text, "
            "outline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]], "
            "ceiling: {height: 7.2 m, kind: mineral tile}}; found hello"
        ],
    ),
    "alternate with a text for a room type": (
        {_GOOSE: _ALTERNATE + "  room_types: {meeting: hello}\n"},
        [
            f"{_GOOSE}:4:25: changes.room_types.meeting: wanted names with values, such as "
            "{name: a text, use: a text, "
            "outline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]], "
            "ceiling: {height: 7.2 m, kind: mineral tile}}; found hello"
        ],
    ),
    "a text for a list of texts": (
        {"building.yaml": ("    racks: {RK1: {}}", "    racks: {RK1: {}}\nstates: {open: {join: B001}}")},
        ["building.yaml:10:23: states.open.join: wanted a list, such as [[A101, A102]]; found B001"],
    ),
    "a tag for a list of tags": (
        {"room_types/meeting.yaml": ("output: breakout", "output: breakout\nsound_stays_in: closed")},
        [
            "room_types/meeting.yaml:13:17: sound_stays_in: wanted a list, such as [closed]; found closed",
        ],
    ),
    "yes for a reason": (
        {"room_types/meeting.yaml": ("output: breakout", "output: breakout\nsound_stays: yes")},
        [
            "room_types/meeting.yaml:13:14: sound_stays: wanted the reason in words, such as closed "
            "sessions; found yes"
        ],
    ),
    "a row too short, and what names its room": (
        {
            "rooms.csv": ("B001,Meeting Room 1,meeting,L0,1,1,0", "B001,Meeting Room 1,meeting,L0,1,1"),
            "building.yaml": (
                "    racks: {RK1: {}}",
                "    racks: {RK1: {}}\nstates: {open: {join: [[B001, B002]]}}",
            ),
            "alternates/less.yaml": "name: Less\ndescription: One room.\nchanges: {rooms: {B001: null}}\n",
        },
        ["rooms.csv:2:34: wanted 7 cells as in the heading; found 6"],
    ),
    "alternate that takes away what must be": (
        {_GOOSE: _ALTERNATE + "  room_types: {meeting: {use: null}}\n"},
        [f"{_GOOSE}:4:26: changes.room_types.meeting.use: wanted a text; found nothing"],
    ),
    "alternate with a misspelt room": (
        {_GOOSE: _ALTERNATE + "  rooms: {B01: {storey: L0}}\n"},
        [
            f"{_GOOSE}:4:11: changes.rooms: wanted one to change, or all that a new one needs: "
            "one of B001, B002; found B01 (did you mean B001?)"
        ],
    ),
    "alternate that takes away what the base names": (
        {_GOOSE: _ALTERNATE + "  room_types: {meeting: {seats: {S1: null}}}\n"},
        [
            f"{_GOOSE}:4:34: changes.room_types.meeting.seats.S1: "
            "wanted a seat of this room type: S2; found S1 "
            "(room_types/meeting.yaml:9:69: microphones.M1.seat)"
        ],
    ),
    "alternate that takes away a storey with rooms": (
        {_GOOSE: _ALTERNATE + "  building: {storeys: {L1: null}}\n"},
        [
            f"{_GOOSE}:4:24: changes.building.storeys.L1: "
            "wanted a storey of building.yaml: L0; found L1 (rooms.csv:3:29: storey)"
        ],
    ),
    "alternate that takes away every room type": (
        {_GOOSE: _ALTERNATE + "  room_types: {meeting: null}\n"},
        [
            f"{_GOOSE}:4:16: changes.room_types.meeting: wanted at least one room type, such as "
            "room_types/meeting_room.yaml; found none (room_types)"
        ],
    ),
    "alternate with another currency": (
        {_GOOSE: _ALTERNATE + "  project: {currency: USD}\n"},
        [
            f"{_GOOSE}:4:13: changes.project: wanted what one alternate alone may change; "
            "found currency, which the whole proposal has in common"
        ],
    ),
    "alternate with a wrong name": (
        {"alternates/two words.yaml": _ALTERNATE + "  rooms: {B002: null}\n"},
        [
            "alternates/two words.yaml: wanted a name of letters, digits, - and _, such as "
            "gooseneck_microphones.yaml; found two words.yaml"
        ],
    ),
    "unknown and repeated accepted alternates": (
        {
            _GOOSE: _ALTERNATE + "  rooms: {B002: null}\n",
            "project.yaml": ("region: europe", "region: europe\naccepted_alternates: [goos, goose, goose]"),
        },
        [
            "project.yaml:12:23: accepted_alternates.1: wanted a file in alternates/: goose; found goos",
            "project.yaml:12:36: accepted_alternates.3: wanted each alternate once; found goose again",
        ],
    ),
    "accepted alternate that breaks the base": (
        {
            _GOOSE: _ALTERNATE + "  room_types: {meeting: {seats: {S1: null}}}\n",
            "project.yaml": ("region: europe", "region: europe\naccepted_alternates: [goose]"),
        },
        [
            f"{_GOOSE}:4:34: changes.room_types.meeting.seats.S1: "
            "wanted a seat of this room type: S2; found S1 "
            "(room_types/meeting.yaml:9:69: microphones.M1.seat)"
        ],
    ),
}

# Several faults in several files: all are told at once, in the order of files and lines.
# Prices and rates of the project's own.
_LAST = "    device_cord: unknown\n"
POINT = model_of(shipped(), "access_point", works_with="Corvenhythe")
_TRADES = (
    "project manager, design engineer, drafter, workshop technician, cable installer, installer, "
    "electrician, network engineer, programmer, commissioning engineer, trainer"
)
CASES |= {
    "nothing for something sold": (
        {"project.yaml": (_LAST, f"{_LAST}price:\n  selling: {{{POINT}: 0 EUR}}\n")},
        [f"project.yaml:20:{15 + len(POINT)}: price.selling.{POINT}: wanted an amount above 0; found 0 EUR"],
    ),
    "price in steps that nobody can pay": (
        {"project.yaml": (_LAST, f"{_LAST}price:\n  selling: {{{POINT}: 1.005 EUR}}\n")},
        [
            f"project.yaml:20:{15 + len(POINT)}: price.selling.{POINT}: "
            "wanted an amount in steps of 0.01 EUR, such as 100.01 EUR; found 1.005 EUR"
        ],
    ),
    "unknown detail of prices": (
        {"project.yaml": (_LAST, f"{_LAST}price:\n  client_detail: rooms\n")},
        [
            "project.yaml:20:18: price.client_detail: wanted one of room, system, line; found rooms "
            "(did you mean room?)"
        ],
    ),
    "hours of nobody for changes": (
        {"project.yaml": (_LAST, f"{_LAST}price:\n  changes: {{hours: {{instaler: 60 EUR}}}}\n")},
        [
            "project.yaml:20:21: price.changes.hours.instaler: wanted a trade of the labour data: one of "
            f"{_TRADES}; found instaler (did you mean installer?)"
        ],
    ),
    "rate of nobody": (
        {"project.yaml": (_LAST, f"{_LAST}labour:\n  rates: {{instaler: {{cost: 60 EUR}}}}\n")},
        [
            "project.yaml:20:11: labour.rates.instaler: wanted a trade of the labour data: one of "
            f"{_TRADES}; found instaler (did you mean installer?)"
        ],
    ),
    "rate in a currency without exchange rate": (
        {"project.yaml": (_LAST, f"{_LAST}labour:\n  rates: {{drafter: {{selling: 60 SEK}}}}\n")},
        [
            "project.yaml:20:30: labour.rates.drafter.selling: wanted an exchange rate for SEK "
            '(terms.exchange), such as `SEK: {rate: "1.10", date: 2031-02-10, source: our bank}`; found none'
        ],
    ),
}

SEVERAL: dict[str, tuple[Edits, list[str]]] = {
    "faults in three files": (
        {
            "project.yaml": ("region: europe", "region: mars"),
            "building.yaml": ("storey: L0", "storey: L7"),
            "rooms.csv": ("meeting,L0", "meeting,L3"),
        },
        [
            "building.yaml:7:13: equipment_rooms.ER1.storey: wanted a storey of "
            "building.yaml: one of L0, L1; "
            "found L7",
            "project.yaml:11:9: region: wanted one of europe, north_america; found mars",
            "rooms.csv:2:29: storey: wanted a storey of building.yaml: one of L0, L1; found L3",
        ],
    ),
    "syntax here, fields there": (
        {
            "fixed.yaml": "devices: [\n",
            "room_types/meeting.yaml": ("kind: mineral tile", "kind: mineral"),
            "project.yaml": ("vlan: 30", "vlan: 0"),
        },
        [
            "fixed.yaml:2:1: wanted correct YAML; found no value where one should stand",
            "project.yaml:14:48: subnets.conference.vlan: wanted at least 1; found 0",
            "room_types/meeting.yaml:4:32: ceiling.kind: wanted one of mineral tile, "
            "plasterboard, plaster, coffered plaster, metal, timber, coffered timber, "
            "open; found mineral (did you mean mineral tile?)",
        ],
    ),
    "a table that cannot be read does not hide the rest": (
        {
            "rooms.csv": "tag;name\nB001;One\n",
            "building.yaml": ("slab_to_slab: 3.6 m}\n  L1", "slab_to_slab: tall}\n  L1"),
            "images/plan.png": b"x",
        },
        [
            "building.yaml:2:55: storeys.L0.slab_to_slab: wanted a length with its unit, such as 7.2 m or "
            "24 ft; found tall",
            "images/plan.png: wanted a PNG picture; found something else",
            "rooms.csv:1:1: wanted values separated by commas; found semicolons",
        ],
    ),
    "a room type and a room that changes it": (
        {
            "room_types/meeting.yaml": ("height: 2.7 m", "height: 2.7"),
            "rooms/B002.yaml": "output: radio\nspare_mics: 1\n",
        },
        [
            "room_types/meeting.yaml:4:19: ceiling.height: wanted a length with its unit, such as 7.2 m or "
            "24 ft; found 2.7",
            "rooms/B002.yaml:1:9: output: wanted one of mixer, breakout; found radio",
            "rooms/B002.yaml:2:1: wanted one of name, use, outline, ceiling, furniture, "
            "levels, doors, seats, seat_rows, microphone_rows, microphones, wired_microphones "
            "and 31 more; found spare_mics "
            "(did you mean spare_microphones?)",
        ],
    ),
    "missing, unknown and misplaced files": (
        {
            "project.yaml": None,
            "Project.yaml": "name: x\n",
            "wording/closing.txt": "Yours\n",
            "rooms/B003.yaml": "output: mixer\n",
        },
        [
            "Project.yaml: wanted one of project.yaml, building.yaml, rooms.csv, "
            "fixed.yaml, requirements.yaml; found Project.yaml "
            "(did you mean project.yaml?)",
            "project.yaml: wanted this file; found none",
            "rooms/B003.yaml: wanted a file named by the tag of a room in rooms.csv; found B003 "
            "(did you mean B002?)",
            "wording/closing.txt: wanted a name ending in .md; found closing.txt",
        ],
    ),
    "faults on one line": (
        {"room_types/meeting.yaml": ("{start: 09:00, end: 12:30}", "{start: nine, end: noon, lunch: yes}")},
        [
            "room_types/meeting.yaml:14:20: sessions.morning.start: wanted a time of day "
            "from 00:00 to 24:00, "
            "such as 09:30 or 9:30 am; found nine",
            "room_types/meeting.yaml:14:31: sessions.morning.end: wanted a time of day "
            "from 00:00 to 24:00, "
            "such as 09:30 or 9:30 am; found noon",
            "room_types/meeting.yaml:14:37: sessions.morning: wanted one of start, end; found lunch",
        ],
    ),
}
