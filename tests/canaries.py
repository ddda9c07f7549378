"""Canaries: values that nothing else in a proposal has, one in each field that some reader may not see.

A canary text is a word such as `qzx017vk`. A canary number is 7 017 391 and a fraction: however it is
grouped, rounded to places or to four digits, its first four digits name it. A canary day is 9 March of
the year 7017, in spreadsheets a count of days. `Scan` finds them in whatever an edition consists of: pages,
search index, drawings, names of files, JSON, and what lies in archives.
"""

import datetime
import gzip
import html
import io
import re
import types
import typing
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from proposal.document.document import Document
from proposal.document.readers import READERS, Reader, Shown
from proposal.document.rows.band_users import BandUserRow
from proposal.document.rows.contained_sound import ContainedSoundRow
from proposal.document.rows.portable_sets import PortableLinkRow, PortableSetRow, PortableUseRow
from proposal.document.rows.radio import RadioMoveRow, RadioStateRow
from proposal.document.rows.states import JoinedSoundRow, StateRow
from proposal.editions import readers_of

P = typing.TypeVar("P", bound=Shown)
EVERYONE = frozenset(READERS)

# By these a part is found or grouped, so that the computed parts keep theirs; a part of its own is added
# to every such collection that not everyone sees, in which these hold canaries too.
KEYS = {
    ("CableRow", "identity"),
    ("CableRow", "room"),
    ("CableRow", "from_tag"),
    ("CableRow", "to_tag"),
    ("AudioEndRow", "device"),
    ("ChannelRow", "microphone"),
    ("ChannelRow", "room"),
    ("ControlRow", "device"),
    ("SettingRow", "device"),
    ("StreamRow", "room"),
    ("ChannelRow", "room"),
    ("FindingRow", "accepted"),
    ("FindingRow", "number"),
    ("FindingRow", "severity"),
    ("PortRow", "switch"),
    ("SheetRow", "number"),
    ("StreamRow", "room"),
    ("SwitchRow", "tag"),
    ("WorkingRow", "chapter"),
    ("WorkingRow", "number"),
    ("WorkingRow", "subject"),
}
# A canary of its own would part a port from its switch, under which pages show it.
SHARED = {"ports.switch": "switches.tag"}
# These choose what a drawing shows, by names that other fields tell everyone, and are printed nowhere.
NEVER_PLANTED = {
    ("SheetRow", "kind"),
    ("SheetRow", "subject"),
    ("SheetRow", "part"),
    ("SheetRow", "parts"),
    ("SheetRow", "members"),
    ("SheetRow", "first"),
    ("SheetRow", "last"),
}


@dataclass(frozen=True, slots=True)
class Canary:
    """A canary and who may see it.

    path: the field, such as `cables.length_m`, with the place inside it where it holds several values.
    """

    ordinal: int
    path: str
    readers: frozenset[Reader]
    is_text: bool
    is_day: bool = False

    @property
    def text(self) -> str:
        return f"qzx{self.ordinal:03d}vk"

    @property
    def count(self) -> int:
        return 7_000_391 + 1000 * self.ordinal

    @property
    def number(self) -> float:
        return self.count + 0.4375

    @property
    def amount(self) -> Decimal:
        return self.count + Decimal("0.44")

    @property
    def day(self) -> datetime.date:
        return datetime.date(7000 + self.ordinal, 3, 9)

    @property
    def serial(self) -> int:
        """The day as spreadsheets count it."""
        return (self.day - datetime.date(1899, 12, 30)).days


# The example has one state without a name.
BY_STATE: Mapping[str, Any] = {
    "band_users": (BandUserRow(tag="U1", name="Telephones", storey="L0", at=(1.0, 2.0), links=3),),
    "radio_states": (
        RadioStateRow(
            states=("divided",), outcome="planned", sum="30 × 3", wanted=90, held=120, missing=0, elsewhere=2
        ),
    ),
    "states": (StateRow(name="garden", joined=(), open_walls=(), kind_of_day=""),),
    "contained_sound": (
        ContainedSoundRow(room="A101", reason="Closed sessions", verdict="stays", encryption=("AES",)),
    ),
    "joined_sound": (JoinedSoundRow(state="joined", room="A101", other="A102"),),
    "portable_sets": (
        PortableSetRow(
            tag="P1", name="Cart", microphones=1, charger="with the set", reserve=0.2, put_away_in=()
        ),
    ),
    "portable_uses": (
        PortableUseRow(
            set="P1",
            states=("garden",),
            place="Courtyard",
            needs="an outlet of the mains",
            outlet=True,
            outcome="planned",
            missing=0,
        ),
    ),
    "portable_links": (PortableLinkRow(microphone="P1-M1", states=("garden",)),),
    "radio_moves": (RadioMoveRow(states=("divided",), identity="A101-M1", carrier=3, slots=(0, 1, 2)),),
}

# 7.536, 7.566 and 7.632 Mbit/s are streams of networked audio, in bit/s; all read what a device sends.
REAL_NUMBERS = (536, 566, 632)
"""Ordinals, in order, that no canary gets: what would be its number is one of the example's."""


@dataclass
class Planter:
    """Puts canaries into a document.

    canaries: by path.  without: fields that can hold none, and why.
    """

    canaries: dict[str, Canary] = field(default_factory=dict)
    without: dict[str, str] = field(default_factory=dict)

    def planted(self, document: Document) -> Document:
        """Return a document in which every field that not everyone sees holds a canary."""
        return self._part(document, EVERYONE, "", added=False)

    def _part(self, part: P, above: frozenset[Reader], path: str, *, added: bool) -> P:
        kind = type(part)
        if isinstance(part, Document):
            there = {name: rows for name, rows in BY_STATE.items() if not getattr(part, name)}
            part = part.model_copy(update=there)
        changed: dict[str, Any] = {}
        for name, info in kind.model_fields.items():
            here = f"{path}.{name}" if path else name
            readers = above & readers_of(kind)[name]
            value = getattr(part, name)
            if readers == EVERYONE and not _holds_restricted(info.annotation):
                continue
            if _holds_parts(info.annotation):
                changed[name] = self._inner(value, readers, here, added=added)
            elif (kind.__name__, name) in NEVER_PLANTED:
                self.without[here] = "chooses what a drawing shows"
            elif added or (kind.__name__, name) not in KEYS:
                changed[name] = self._canary(info.annotation, readers, here, value)
        return part.model_copy(update=changed)

    def _inner(self, value: Any, readers: frozenset[Reader], path: str, *, added: bool) -> Any:
        if isinstance(value, Shown):
            return self._part(value, readers, path, added=added)
        assert isinstance(value, tuple), f"{path}: no way is known to put canaries into {value!r}"
        assert value, f"{path} is empty: no part to put canaries into"
        rows = [self._part(row, readers, path, added=added) for row in value]
        if readers != EVERYONE and _has_keys(type(value[-1])):
            rows.append(self._part(value[-1], readers, path, added=True))
        return tuple(rows)

    def _canary(self, annotation: Any, readers: frozenset[Reader], path: str, value: Any) -> Any:
        origin, inner = typing.get_origin(annotation), typing.get_args(annotation)
        if origin in (typing.Union, types.UnionType):
            kinds = [kind for kind in inner if kind is not type(None)]
            assert len(kinds) == 1, f"{path}: no way is known to put a canary into {annotation}"
            return self._canary(kinds[0], readers, path, value)
        if origin is tuple:
            kinds = [inner[0]] if inner[-1] is Ellipsis else list(inner)
            several = len(kinds) > 1
            return tuple(
                self._canary(kind, readers, f"{path}[{n}]" if several else path, None)
                for n, kind in enumerate(kinds)
            )
        if annotation is bool:
            self.without[path] = "yes or no: two values, neither its own"
            return value
        shared = self.canaries.get(SHARED.get(path, ""))
        ordinal = shared.ordinal if shared else _ordinal(len(self.canaries))
        is_text, is_day = annotation is str, annotation is datetime.date
        canary = self.canaries.setdefault(path, Canary(ordinal, path, readers, is_text, is_day))
        values = {
            str: canary.text,
            int: canary.count,
            float: canary.number,
            Decimal: canary.amount,
            datetime.date: canary.day,
        }
        return values[annotation]


def _ordinal(before: int) -> int:
    """Return the next ordinal after so many, past those whose digits really stand in the example."""
    ordinal = before + 1
    for taken in REAL_NUMBERS:
        ordinal += ordinal >= taken
    return ordinal


def _holds_parts(annotation: Any) -> bool:
    if isinstance(annotation, type) and issubclass(annotation, Shown):
        return True
    return any(_holds_parts(inner) for inner in typing.get_args(annotation))


def _has_keys(annotation: Any) -> bool:
    """Return whether a part, or one inside it, is found or grouped by one of its fields."""
    if isinstance(annotation, type) and issubclass(annotation, Shown):
        return any(
            (annotation.__name__, name) in KEYS or _has_keys(info.annotation)
            for name, info in annotation.model_fields.items()
        )
    return any(_has_keys(inner) for inner in typing.get_args(annotation))


def _holds_restricted(annotation: Any) -> bool:
    """Return whether somewhere in parts that everyone sees there is a field that not everyone sees."""
    if isinstance(annotation, type) and issubclass(annotation, Shown):
        readers = readers_of(annotation)
        return any(
            readers[name] != EVERYONE or _holds_restricted(info.annotation)
            for name, info in annotation.model_fields.items()
        )
    return any(_holds_restricted(inner) for inner in typing.get_args(annotation))


# Every pattern begins with its first sign and looks back from there, so that most of a file is passed over.
_TEXT = re.compile(r"[qQ][zZ][xX](\d{3})[vV][kK]")
# Seven digits before the point, in groups of three, as in India, or in none; a point after the first digit
# alone is none of these, and drawings are full of such coordinates.
_GROUP = r"[.,'’_\s]"
_ALONE = r"7(?<![0-9a-zA-Z]7)(?<!\d\.7)"
_NOT_A_DIGIT = re.compile(r"\D")
_NUMBER = re.compile(
    rf"{_ALONE}(?:\d{{6}}|{_GROUP}\d{{3}}{_GROUP}\d{{3}}|\d{_GROUP}\d\d{_GROUP}\d{{3}})(?!\d)"
)
# The same digits as a percentage or in thousandths: 9 and 10 of them, with those behind the point.
_SCALED = re.compile(
    rf"{_ALONE}(?:\d{{8,9}}|\d\d{_GROUP}\d{{3}}{_GROUP}\d{{3}}"
    rf"|{_GROUP}\d{{3}}{_GROUP}\d{{3}}{_GROUP}\d{{3}}|\d{_GROUP}\d\d{_GROUP}\d\d{_GROUP}\d{{3}})(?!\d)"
)
_DAYS = (
    re.compile(r"7(?<!\d7)(\d{3})-?03-?09(?!\d)"),
    re.compile(r"9(?<!\d9) Mar(?:ch)?,? 7(\d{3})(?!\d)"),
    re.compile(r"Mar(?<!\dMar)(?:ch)? 9, 7(\d{3})(?!\d)"),
)
_SERIAL = re.compile(r"<v>(\d{7})</v>")
_POWER_OF_TEN = re.compile(r"7(?<![0-9]7)[.,](\d+)\s?(?:×\s?10⁶|[eE]\+?0?6)")


@dataclass
class Scan:
    """Which canaries stand in files.

    found: ordinal of a canary and the files it stands in.
    known: what contents hold that were looked at before, which several scans for the same canaries may share.
    """

    canaries: Mapping[str, Canary] = field(repr=False)
    found: dict[int, list[str]] = field(default_factory=dict)
    known: dict[bytes, frozenset[int]] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        self._texts = {canary.ordinal for canary in self.canaries.values() if canary.is_text}
        self._days = {canary.ordinal for canary in self.canaries.values() if canary.is_day}
        others = {canary.ordinal for canary in self.canaries.values() if not canary.is_text}
        self._numbers = others - self._days
        self._serials = {canary.serial: canary.ordinal for canary in self.canaries.values() if canary.is_day}

    def folder(self, folder: Path) -> "Scan":
        """Look at the names and contents of every file under a folder."""
        files = [path for path in sorted(folder.rglob("*")) if path.is_file()]
        assert files, f"nothing under {folder}"
        for path in files:
            name = path.relative_to(folder).as_posix()
            self.content(name, path.read_bytes())
        return self

    def content(self, name: str, content: bytes) -> "Scan":
        """Look at a file's name and content, and at what it holds if it is an archive."""
        for ordinal in self._in_text(name):
            self.found.setdefault(ordinal, []).append(name)
        if content not in self.known:
            self.known[content] = frozenset(
                ordinal for layer in _layers(content) for ordinal in self._in_text(layer)
            )
        for ordinal in self.known[content]:
            self.found.setdefault(ordinal, []).append(name)
        return self

    def _in_text(self, text: str) -> Iterator[int]:
        for match in _TEXT.finditer(text):
            if int(match[1]) in self._texts:
                yield int(match[1])
        for match in _NUMBER.finditer(text):
            digits = _NOT_A_DIGIT.sub("", match[0])
            # As it is, or with the last three digits rounded away.
            if digits[4:] in ("391", "000") and int(digits[1:4]) in self._numbers:
                yield int(digits[1:4])
        for match in _SCALED.finditer(text):
            digits = _NOT_A_DIGIT.sub("", match[0])
            if digits[4:9] in ("39143", "39144") and int(digits[1:4]) in self._numbers:
                yield int(digits[1:4])
        for day in _DAYS:
            for match in day.finditer(text):
                if int(match[1]) in self._days:
                    yield int(match[1])
        for match in _SERIAL.finditer(text):
            if int(match[1]) in self._serials:
                yield self._serials[int(match[1])]
        for match in _POWER_OF_TEN.finditer(text):
            digits = match[1].ljust(3, "0")
            if int(digits[:3]) in self._numbers and re.match(r"39|4|$", digits[3:]):
                yield int(digits[:3])

    def paths(self, where: str = "") -> set[str]:
        """Return the paths of the canaries found, in files whose name ends as told."""
        return {
            canary.path
            for canary in self.canaries.values()
            if any(name.endswith(where) for name in self.found.get(canary.ordinal, ()))
        }

    def leaks(self, reader: Reader) -> list[str]:
        """Return every canary found that a reader may not see, with the files it stands in."""
        return [
            f"{canary.path} in {', '.join(sorted(set(self.found[canary.ordinal]))[:4])}"
            for canary in self.canaries.values()
            if reader not in canary.readers and canary.ordinal in self.found
        ]


def _layers(content: bytes) -> Iterator[str]:
    """Return a file as text in every way in which a reader could get at it."""
    if content.startswith(b"\x1f\x8b"):
        yield from _layers(gzip.decompress(content))
    elif content.startswith(b"PK\x03\x04"):
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            for entry in archive.infolist():
                yield entry.filename
                yield from _layers(archive.read(entry))
    else:
        text = content.decode("utf-8", errors="replace")
        yield text
        # Separators of thousands may be written as entities, in percent or as escapes of JSON.
        if "&" in text:
            yield html.unescape(text)
        if "%" in text:
            yield unquote(text)
        if "\\u" in text:
            yield re.sub(r"\\u([0-9a-fA-F]{4})", lambda match: chr(int(match[1], 16)), text)
