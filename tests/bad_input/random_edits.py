"""Random edits of a project's files, the same ones for the same seed."""

import random
import re
from collections.abc import Callable, Mapping

# What people type, paste and mistype, and what breaks readers.
TOKENS = (
    "null", "~", "unknown", "NO", "yes", "1:30", "24:00", "007", "0", "-1", "1", "1000000", "0 m", "-0 m",
    "1e999 m", "1e-320 m", "99999 m", "nan", "inf m", "٣ m", "½ m", "1 250 m", "1,5 m", "12' 6\"",
    "3 ft 14 in", "5 lb", "70 °F", "-400 °C", "120 %", "''", '""', "[]", "{}", "[{}]", "{a: {b: []}}",
    "*a", "&a x", "*nothing", "!!int 3", "!!python/name:os.system", "- ", ": ", "# ", "? ", "| ", "> ",
    "\t", "\x00", "\x1b[31m", "\u2028", "\ufeff", "\u202e", "\U0001f3a4", "9" * 400, "0x1F", "1_000",
    "<<: *a", "../../etc/hosts", "/", "\\", "[[[[", "}}}}", '"\\ud800"', '"\\0"', "%d", "{message}",
    "${x}", "{{x}}", "<script>", "'; --", "index", "A" * 200, "L0", "ER1", "B001", "M1", "AP1",
    "B001-AP1", "gooseneck", "europe", "10.0.0.0/8", "256.1.1.1", "2031-02-30", "EUR 5", "5 XXX",
    "#12345", "\r", "\n", "---\n", "...\n", ",", ";", '"', "'",
)  # fmt: skip

Edit = Callable[[random.Random, bytes], bytes]


def _some_bytes(chance: random.Random, data: bytes) -> bytes:
    at = chance.randrange(len(data) + 1)
    length = chance.choice((0, 1, 1, 3, 20))
    new = bytes(chance.randrange(256) for _ in range(chance.choice((0, 1, 1, 2, 5))))
    return data[:at] + new + data[at + length :]


def _cut_off(chance: random.Random, data: bytes) -> bytes:
    return data[: chance.randrange(len(data) + 1)]


def _lines(chance: random.Random, data: bytes) -> bytes:
    lines = data.splitlines(keepends=True) or [b""]
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    match chance.randrange(6):
        case 0:
            del lines[one]
        case 1:
            lines.insert(other, lines[one])
        case 2:
            lines[one], lines[other] = lines[other], lines[one]
        case 3:
            lines[one] = b"  " + lines[one]
        case 4:
            lines[one] = lines[one].lstrip(b" ")
        case _:
            lines[one] = lines[one].rstrip(b"\r\n")
    return b"".join(lines)


def _tokens(chance: random.Random, data: bytes) -> bytes:
    words = [found.span() for found in re.finditer(rb"[^\s,:\[\]{}]+", data)]
    if not words:
        return chance.choice(TOKENS).encode()
    begin, end = chance.choice(words)
    if chance.random() < 0.5:
        new = chance.choice(TOKENS).encode("utf-8", "surrogatepass")
    else:
        other = chance.choice(words)
        new = data[other[0] : other[1]]
    return data[:begin] + new + data[end:]


def _marks(chance: random.Random, data: bytes) -> bytes:
    marks = [found.start() for found in re.finditer(rb"[,:\[\]{}\"'#-]", data)]
    if not marks:
        return data
    at = chance.choice(marks)
    return data[:at] + chance.choice((b"", b"[", b"]", b"{", b"}", b":", b",", b'"', b"-")) + data[at + 1 :]


EDITS: tuple[Edit, ...] = (_some_bytes, _cut_off, _lines, _lines, _tokens, _tokens, _tokens, _tokens, _marks)


def edited(seed: int, files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the files that one to three random edits change, by their paths."""
    chance = random.Random(seed)
    changed: dict[str, bytes] = {}
    for _ in range(chance.choice((1, 1, 2, 3))):
        file = chance.choice(sorted(files))
        changed[file] = chance.choice(EDITS)(chance, changed.get(file, files[file]))
    return changed
