"""Workbooks as nobody should send them, made of a good one."""

import io
import re
import struct
import zipfile
from collections.abc import Callable, Mapping

SHEET, CONTENTS, STRINGS = "xl/worksheets/sheet3.xml", "xl/worksheets/sheet2.xml", "xl/sharedStrings.xml"
Parts = dict[str, bytes]


def parts_of(book: bytes) -> Parts:
    with zipfile.ZipFile(io.BytesIO(book)) as opened:
        return {name: opened.read(name) for name in opened.namelist()}


def book_of(parts: Mapping[str, bytes]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as target:
        for name, content in parts.items():
            target.writestr(name, content)
    return made.getvalue()


def with_parts(book: bytes, **changed: bytes) -> bytes:
    return book_of({**parts_of(book), **{name.replace("__", "/"): one for name, one in changed.items()}})


def with_part(book: bytes, name: str, content: bytes) -> bytes:
    return book_of({**parts_of(book), name: content})


def edited(book: bytes, name: str, edit: Callable[[str], str]) -> bytes:
    parts = parts_of(book)
    before = parts[name].decode()
    after = edit(before)
    assert after != before, f"nothing is spoilt in {name}"
    return book_of({**parts, name: after.encode()})


def with_cell(book: bytes, cell: str, inside: str, attributes: str = "") -> bytes:
    """Return a book with another cell in its inputs; inside: what stands between the tags of the cell."""
    pattern = rf'<c r="{cell}"((?: s="[0-9]+")?)[^>]*>.*?</c>'
    return edited(
        book,
        SHEET,
        lambda text: re.sub(pattern, rf'<c r="{cell}"\1 {attributes}>{inside}</c>', text, count=1),
    )


def with_name(book: bytes, refers_to: str) -> bytes:
    """Return a book with one more name, of what it refers to."""
    more = f'<definedName name="more">{refers_to}</definedName>'
    return edited(
        book, "xl/workbook.xml", lambda text: text.replace("<definedNames>", f"<definedNames>{more}", 1)
    )


def typed(book: bytes, cell: str, value: str) -> bytes:
    return with_cell(book, cell, f"<v>{value}</v>")


def texted(book: bytes, cell: str, text: str) -> bytes:
    return with_cell(book, cell, f"<is><t>{text}</t></is>", 't="inlineStr"')


def without(book: bytes, name: str) -> bytes:
    return book_of({key: one for key, one in parts_of(book).items() if key != name})


def with_document_type(book: bytes, declared: str, name: str = SHEET) -> bytes:
    return edited(book, name, lambda text: re.sub(r"(<\?xml[^>]*\?>)", rf"\1{declared}", text, count=1))


def entity_bomb(book: bytes) -> bytes:
    levels = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 12))
    return with_document_type(book, f'<!DOCTYPE x [<!ENTITY e0 "ha">{levels}]>')


def many_rows(book: bytes) -> bytes:
    return edited(book, SHEET, lambda text: text.replace("</sheetData>", f"{'<row/>' * 10**6}</sheetData>"))


def far_row(book: bytes) -> bytes:
    row = '<row r="1048576"><c r="A1048576"><v>1</v></c></row>'
    return edited(book, SHEET, lambda text: text.replace("</sheetData>", f"{row}</sheetData>"))


def zip_bomb(book: bytes) -> bytes:
    """Return a book with a part that unpacks to 250 MB, by what its table of contents says."""
    small = with_part(book, "xl/media/image1.png", b"\0" * 1_234_567)
    true, said = struct.pack("<I", 1_234_567), struct.pack("<I", 250_000_000)
    assert true in small
    return small.replace(true, said)


def lying_bomb(book: bytes) -> bytes:
    """Return a book whose table of contents says that a large part is small."""
    large = with_part(book, STRINGS, b"<sst>" + b" " * 20_000_000 + b"</sst>")
    true, said = struct.pack("<I", 20_000_011), struct.pack("<I", 1_000)
    assert true in large
    return large.replace(true, said)


def many_parts(book: bytes) -> bytes:
    return book_of({**parts_of(book), **{f"xl/media/{n}.bin": b"" for n in range(2_100)}})


def twice(book: bytes) -> bytes:
    made = io.BytesIO(book)
    with zipfile.ZipFile(made, "a") as target:
        import warnings

        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            target.writestr(SHEET, b"<worksheet/>")
    return made.getvalue()


def encrypted(book: bytes) -> bytes:
    """Return a book whose parts say that they are encrypted."""
    made = bytearray(book)
    for mark, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        start = made.find(mark)
        while start >= 0:
            made[start + at] |= 1
            start = made.find(mark, start + 4)
    return bytes(made)


def deep(book: bytes) -> bytes:
    nested = "<x>" * 100_000
    return edited(book, SHEET, lambda text: text.replace("<sheetData>", f"{nested}<sheetData>"))


def in_utf16(book: bytes) -> bytes:
    parts = parts_of(book)
    text = parts[SHEET].decode().replace("UTF-8", "UTF-16")
    return book_of({**parts, SHEET: text.encode("utf-16")})


def many_tags(book: bytes) -> bytes:
    return edited(book, STRINGS, lambda text: text.replace("</sst>", "<a/>" * 4_100_000 + "</sst>"))
