"""Sheets of a workbook that somebody sent, read as values: nothing of it is run, followed or computed.

How large it is when unpacked is read from its table of contents before anything is unpacked, and every part
that is read is looked over for declarations of a document type before it is parsed.
"""

import datetime
import io
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any, Literal, NamedTuple

from proposal.errors import InputError, Place, Problem
from proposal.quantities.messages import shown

LARGEST_BOOK = 30_000_000
LARGEST_UNPACKED = 200_000_000
MOST_PARTS = 2_000
MOST_TAGS = 4_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 60

Sort = Literal["nothing", "number", "text", "date", "formula", "error", "yes or no"]
_TAKEN_APART = (".xml", ".rels", ".vml")
_FORBIDDEN = (
    ("vbaproject", "macros (a Visual Basic project)"),
    ("xl/macrosheets/", "a sheet of macros"),
    ("xl/dialogsheets/", "a sheet of dialogs"),
    ("xl/activex/", "controls that run programs"),
    ("xl/embeddings/", "embedded files"),
    ("xl/externallinks/", "links to other workbooks"),
    ("xl/connections.xml", "connections to data elsewhere"),
    ("xl/querytables/", "queries of data elsewhere"),
)
_ENCODING = re.compile(rb"""^\s*<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']""")
_RELATIONSHIP = re.compile(rb"<(?:\w+:)?Relationship\b[^>]*>")
_EXTERNAL = re.compile(rb"""TargetMode\s*=\s*["']External""", re.IGNORECASE)
_DEFINED_NAME = re.compile(rb"<(?:\w+:)?definedName\b[^>]*>([^<]*)<")
_OUTSIDE = re.compile(rb"://|\||\[[^\]]*\.(?:xls|ods)|\[\d+\]", re.IGNORECASE)
_DECLARED = re.compile(rb"<!(?:DOCTYPE|ENTITY)", re.IGNORECASE)
_OLD_BOOK, _ZIP = b"\xd0\xcf\x11\xe0", b"PK\x03\x04"


class Cell(NamedTuple):
    """One cell as it was written.

    name: such as C12.  sort: what it holds.  text: the same as text; of a formula the formula.
    """

    name: str
    sort: Sort
    text: str

    @property
    def number(self) -> Decimal:
        """Return the number in it; only of a cell that holds one."""
        return Decimal(self.text)

    def __str__(self) -> str:
        """Return what a message says of it."""
        if self.sort in ("nothing", "number", "text"):
            return "an empty cell" if self.sort == "nothing" else shown(self.text)
        article = "an" if self.sort == "error" else "a"
        return (
            f"{self.sort}, {shown(self.text)}"
            if self.sort == "yes or no"
            else (f"{article} {self.sort}, {shown(self.text)}")
        )


Rows = tuple[tuple[Cell, ...], ...]


def sheets_of(data: bytes, file: str, wanted: Sequence[str] | None) -> Mapping[str, Rows]:
    """Return the rows of sheets of a workbook, by name.

    data: of the file.
    file: as messages name it.
    wanted: names of sheets; None for the first one alone. One that is not there is left out.
    Raises InputError where it is no workbook, or holds what has no business in one.
    """
    wrong = _wrong_file(data)
    if wrong:
        raise _refused(file, wrong)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as opened:
            wrong = _wrong_contents(opened) or _wrong_parts(opened)
    except (zipfile.BadZipFile, zipfile.LargeZipFile, EOFError, OSError, ValueError, NotImplementedError):
        wrong = "wanted a workbook (.xlsx) that can be unpacked; found a damaged one"
    except Exception as error:  # what unpacks data raises errors of its own, such as zlib's
        wrong = f"wanted a workbook (.xlsx) that can be unpacked; found {shown(str(error))}"
    if wrong:
        raise _refused(file, wrong)
    try:
        return _read(data, file, wanted)
    except InputError:
        raise
    except Exception as error:  # whatever somebody else's file makes of the library that reads it
        said = "a part that cannot be read" if not str(error).strip() else shown(str(error).splitlines()[0])
        raise _refused(file, f"wanted a workbook (.xlsx) that can be read; found {said}") from None


def _refused(file: str, message: str, field: str = "") -> InputError:
    return InputError([Problem(Place(file), field, message)])


def _wrong_file(data: bytes) -> str:
    if not data:
        return "wanted a workbook (.xlsx); found an empty file"
    if len(data) > LARGEST_BOOK:
        size = f"{len(data) / 1e6:.0f} MB"
        return f"wanted a workbook of at most {LARGEST_BOOK // 1_000_000} MB; found {size}"
    if data.startswith(_OLD_BOOK):
        return "wanted a workbook (.xlsx); found one of an old format, or one with a password"
    return "" if data.startswith(_ZIP) else "wanted a workbook (.xlsx); found another kind of file"


def _wrong_contents(opened: zipfile.ZipFile) -> str:
    """Return what is wrong with a table of contents, empty where nothing is."""
    parts = opened.infolist()
    if len(parts) > MOST_PARTS:
        return f"wanted a workbook of at most {MOST_PARTS} parts; found {len(parts)}"
    if (size := sum(one.file_size for one in parts)) > LARGEST_UNPACKED:
        return (
            f"wanted a workbook of at most {LARGEST_UNPACKED // 1_000_000} MB unpacked; "
            f"found {size / 1e6:.0f} MB"
        )
    if len({one.filename for one in parts}) < len(parts):
        return "wanted each part of the workbook once; found one twice"
    for one in parts:
        name = one.filename.casefold().lstrip("/")
        for beginning, what in _FORBIDDEN:
            if name.startswith(beginning) or (beginning == "vbaproject" and beginning in name):
                return f"wanted a workbook of values alone; found {what}"
        if ".." in name.split("/"):
            return "wanted parts inside the workbook; found one whose name leads out of it"
        if one.flag_bits & 1:
            return "wanted a workbook without a password; found an encrypted part"
    if not any(one.filename.casefold().lstrip("/") == "xl/workbook.xml" for one in parts):
        return "wanted a workbook (.xlsx); found an archive without one"
    return ""


def _wrong_parts(opened: zipfile.ZipFile) -> str:
    """Return what is wrong with the parts to be parsed, empty where nothing is."""
    tags = 0
    for one in opened.infolist():
        if not one.filename.casefold().endswith(_TAKEN_APART):
            continue
        content = opened.read(one)
        if wrong := _wrong_encoding(content[:1000]):
            return wrong
        if b"<!" in content and _DECLARED.search(content):
            return "wanted a workbook without document types; found one, which may hold entities"
        tags += content.count(b"<")
        if tags > MOST_TAGS:
            return f"wanted a workbook of at most {MOST_TAGS} tags; found more"
        if wrong := _wrong_links(one.filename.casefold(), content):
            return wrong
        if one.filename.casefold().endswith("[content_types].xml") and b"macroenabled" in content.lower():
            return "wanted a workbook of values alone; found one for macros"
    return ""


def _wrong_links(name: str, content: bytes) -> str:
    """Return what is wrong with where a part leads; empty where nothing is, as of a link to click on."""
    if name.endswith(".rels"):
        for link in _RELATIONSHIP.findall(content):
            if _EXTERNAL.search(link) and b"/hyperlink" not in link:
                return "wanted a workbook of values alone; found a part of it that lies elsewhere"
    if name.endswith("xl/workbook.xml") and any(map(_OUTSIDE.search, _DEFINED_NAME.findall(content))):
        return "wanted names of cells of this workbook; found one that leads to another file or program"
    return ""


def _wrong_encoding(beginning: bytes) -> str:
    declared = _ENCODING.match(beginning.removeprefix(b"\xef\xbb\xbf"))
    named = declared[1].decode("ascii", "replace").casefold() if declared else "utf-8"
    if named not in ("utf-8", "us-ascii", "ascii") or b"\0" in beginning[:200]:
        return "wanted parts in UTF-8; found another encoding"
    return ""


def results_of(data: bytes, file: str, sheet: str) -> Rows:
    """Return the rows of a sheet with what its formulas came to when saved; none where it is missing.

    data: of a workbook that `sheets_of` has taken.  file: as messages name it.  sheet: its name.
    """
    return _read(data, file, (sheet,), computed=True).get(sheet, ())


def names_of(data: bytes) -> Sequence[str]:
    """Return the names of the sheets of a workbook that is our own.

    data: of the file.
    """
    from openpyxl import load_workbook

    book = load_workbook(io.BytesIO(data), read_only=True)
    try:
        return [one.title for one in book.worksheets]
    finally:
        book.close()


def _read(data: bytes, file: str, wanted: Sequence[str] | None, computed: bool = False) -> Mapping[str, Rows]:
    import warnings

    from openpyxl import load_workbook

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what it does not keep, which nobody wants back here
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=computed, keep_links=False)
        try:
            names = [one.title for one in book.worksheets]
            chosen = names[:1] if wanted is None else [name for name in wanted if name in names]
            return {name: tuple(_rows(book[name], file)) for name in chosen}
        finally:
            book.close()


def _rows(sheet: Any, file: str) -> Iterator[tuple[Cell, ...]]:
    """Yield the rows that hold anything, as wide as the widest; raises InputError where they are too many."""
    sheet.reset_dimensions()  # what a sheet says of its size need not be so
    held: list[tuple[int, Any]] = []
    width = 0
    for number, row in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS), 1):
        if number > MOST_ROWS:
            message = f"wanted at most {MOST_ROWS} rows in a sheet; found more"
            raise _refused(file, message, sheet.title)
        last = max((n for n, one in enumerate(row, 1) if one.value is not None), default=0)
        if last:
            width = max(width, last)
            held.append((number, row))
    for number, row in held:
        cells = tuple(_cell(one, n, number) for n, one in enumerate(row[:width]))
        if any(one.sort != "nothing" for one in cells):
            yield cells


def _cell(one: Any, column: int, row: int) -> Cell:
    letters = chr(ord("A") + column) if column < 26 else f"A{chr(ord('A') + column - 26)}"
    name, value, kind = f"{letters}{row}", one.value, one.data_type
    if value is None or (isinstance(value, str) and not value.strip()):
        return Cell(name, "nothing", "")
    if kind == "f":
        return Cell(name, "formula", str(getattr(value, "text", value)))
    if kind == "e":
        return Cell(name, "error", str(value))
    if isinstance(value, bool):
        return Cell(name, "yes or no", "yes" if value else "no")
    if isinstance(value, int | float):
        exact = Decimal(repr(value))
        return Cell(
            name,
            "number" if exact.is_finite() else "error",
            f"{exact:f}" if exact.is_finite() else "no number",
        )
    if isinstance(value, datetime.date | datetime.datetime):
        return Cell(name, "date", value.isoformat()[:10])
    return Cell(name, "text", str(value))
