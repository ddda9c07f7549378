"""The text of a file: its size, its encoding and its characters."""

import re

from proposal.errors import Place, Problem
from proposal.quantities.messages import printable

LARGEST_FILE = 5_000_000

_BYTE_ORDER_MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
_BINARY_FORMATS = (
    (b"PK\x03\x04", "a spreadsheet or an archive"),
    (b"\xd0\xcf\x11\xe0", "a spreadsheet or a document of an office program"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x1f\x8b", "a compressed file"),
)
# Within what YAML 1.2 calls printable, which XML takes too; without the signs that break or turn round a line
# in a page or a drawing.
UNPRINTABLE = re.compile(
    "[^\t\n\r -~\xa0-\u2027\u202f-\u2065\u206a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)


def text_of(data: bytes, file: str, problems: list[Problem]) -> str | None:
    """Return the text of a file, or None after adding what is wrong with it.

    data: UTF-8, with or without a byte order mark.
    file: as it is named in messages.
    """
    if len(data) > LARGEST_FILE:
        megabytes = f"{len(data) / 1e6:.1f} MB"
        problems.append(Problem(Place(file), "", f"wanted at most 5 MB; found {megabytes}"))
        return None
    for mark, encoding in _BYTE_ORDER_MARKS:
        if data.startswith(mark):
            problems.append(Problem(Place(file), "", f"wanted a text in UTF-8; found {encoding}"))
            return None
    for beginning, what in _BINARY_FORMATS:
        if data.startswith(beginning):
            problems.append(Problem(Place(file), "", f"wanted a text in UTF-8; found {what}"))
            return None
    data = data.removeprefix(b"\xef\xbb\xbf")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        found = f"byte 0x{data[error.start]:02X}, which is not UTF-8"
        problems.append(
            Problem(place_at(before, len(before), file), "", f"wanted a text in UTF-8; found {found}")
        )
        return None
    if bad := UNPRINTABLE.search(text):
        message = f"wanted a text of printable characters; found {printable(bad[0])}"
        problems.append(Problem(place_at(text, bad.start(), file), "", message))
        return None
    return text


def place_at(text: str, index: int, file: str) -> Place:
    """Return the place of a character, counted by index from the beginning of a text.

    file: name of the file, for the place.
    """
    before = text[:index].replace("\r\n", "\n").replace("\r", "\n")
    return Place(file, before.count("\n") + 1, len(before) - before.rfind("\n"))
