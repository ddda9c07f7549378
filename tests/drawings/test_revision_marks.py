"""Marks beside what changed since the last issue: on what changed alone, and explained in the legend."""

import re
from dataclasses import dataclass, replace
from xml.etree import ElementTree

import pytest

from proposal.drawings import kinds
from proposal.drawings.kinds import kind_called
from proposal.drawings.revision_marks import changed_names, marks_svg
from proposal.drawings.riser_detail import layout as detail
from proposal.drawings.riser_overall import layout
from proposal.editions import edition_of
from tests.drawings.shown import SVG, sheet_svg, texts
from tests.sample_document import sample_document


@dataclass(frozen=True)
class Cable:
    identity: str
    length: str


@dataclass(frozen=True)
class Room:
    tag: str
    cables: tuple[Cable, ...]


@dataclass(frozen=True)
class Spec:
    strip: str
    rooms: tuple[Room, ...]


BEFORE = Spec("A", (Room("B101", (Cable("C1", "4 m"), Cable("C2", "5 m"))), Room("B102", ())))


def test_only_the_innermost_thing_that_changed_is_told() -> None:
    after = replace(BEFORE, rooms=(Room("B101", (Cable("C1", "4 m"), Cable("C2", "6 m"))), Room("B102", ())))
    assert changed_names(BEFORE, after) == (("C2", "6 m"),)
    assert changed_names(BEFORE, replace(BEFORE, strip="B")) == ()


def test_what_is_new_is_told_and_what_is_gone_is_not() -> None:
    after = replace(BEFORE, rooms=(*BEFORE.rooms[:1], Room("B103", ())))
    assert changed_names(BEFORE, after) == (("B103",),)


def test_a_mark_stands_left_of_its_text_wherever_the_text_is_set_from() -> None:
    drawn = (
        '<text x="50" y="20" font-size="10">C2</text>'
        '<text style="font-size: 10px; text-anchor: end" x="50" y="40">C3</text>'
    )
    # C and 2 are 0.722 and 0.556 of the size wide, so the second begins at 50 − 12.78.
    first, second = ("".join(marks_svg(drawn, ((name,),))) for name in ("C2", "C3"))
    rightmost = [max(float(x) for x in re.findall(r"([\d.]+),", mark)) for mark in (first, second)]
    assert 47 < rightmost[0] < 50
    assert 34 < rightmost[1] < 37.3
    assert marks_svg(drawn, (("C9",),)) == ()


def test_a_sheet_marks_what_changed_and_says_so() -> None:
    document = sample_document()
    sheet = document.sheets[0]
    spec = kind_called(sheet.kind).spec(edition_of(document, "installer"), sheet)
    marked = sheet_svg(layout.KIND, replace(spec, strip=replace(spec.strip, changed=(("B101", "Hall"),))))
    told = f"new or changed in revision {spec.strip.revision}"
    assert told in texts(marked)
    assert told not in texts(sheet_svg(layout.KIND, spec))
    assert marked.count('stroke="#8f1d1d"') == 2
    # The mark is moved with the drawing that its text is in.
    parents = {child: parent for parent in ElementTree.fromstring(marked).iter() for child in parent}
    mark = next(one for one in parents if one.get("stroke") == "#8f1d1d")
    (text,) = (one for one in parents if "".join(one.itertext()) == "B101" and one.tag == f"{SVG}text")
    assert _transforms(mark, parents) == _transforms(text, parents)


def _transforms(
    element: ElementTree.Element, parents: dict[ElementTree.Element, ElementTree.Element]
) -> list[str]:
    """Return what moves an element, from the innermost group outwards."""
    found = []
    while element in parents:
        element = parents[element]
        found += [element.get("transform", "")] if element.get("transform") else []
    return found


def test_a_sheet_of_which_much_changed_says_so_in_words() -> None:
    document = sample_document()
    sheet = next(sheet for sheet in document.detail_sheets if sheet.kind == "riser detail")
    spec = kind_called(sheet.kind).spec(edition_of(document, "installer"), sheet)
    shown = tuple((text,) for text in texts(sheet_svg(detail.KIND, spec)))
    marked = sheet_svg(detail.KIND, replace(spec, strip=replace(spec.strip, changed=shown)))
    assert f"Much of this sheet is new or changed in revision {spec.strip.revision}." in texts(marked)
    assert 'stroke="#8f1d1d"' not in marked


def test_it_is_known_which_sheets_are_new_changed_and_as_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The sample without one sheet, and with one cable's length changed, stands for the last issue."""
    now = sample_document()
    cable = now.cables[0]
    shorter = cable.model_copy(update={"length_m": cable.length_m + 5.0})
    issued = now.model_copy(
        update={
            "sheets": now.sheets[1:],
            "cables": (shorter, *now.cables[1:]),
            "cover": now.cover.model_copy(update={"name": "Another name"}),
        }
    )
    monkeypatch.setattr(kinds, "edition_before", lambda edition: edition_of(issued, edition.reader))
    edition = edition_of(now, "installer")
    found = {sheet: kinds.drawing_of(edition, sheet).change for sheet in (*now.sheets, *now.detail_sheets)}
    assert found[now.sheets[0]] == "new"
    shown: dict[str, set[str]] = {}
    for sheet, change in found.items():
        shown.setdefault(sheet.kind, set()).add(change)
    assert shown["riser detail"] == {"changed", "as before"}
    assert shown["signal flow"] == {"as before"}
    monkeypatch.setattr(kinds, "edition_before", lambda _: None)
    assert {kinds.drawing_of(edition, sheet).change for sheet in found} == {""}


def test_a_mark_stands_beside_its_text_where_it_touches_nothing() -> None:
    """The text begins at 50; left of it stands a symbol, right of it another text, above it a line."""
    drawn = (
        '<circle cx="44" cy="17" r="3" fill="#1c2530"/><text x="50" y="20" font-size="10">C2</text>'
        '<text x="65" y="20" font-size="10">C3</text><polyline points="0,8 90,8" stroke="#1c2530"/>'
    )
    (mark,) = marks_svg(drawn, (("C2",),))
    points = [tuple(map(float, at.split(","))) for at in re.findall(r"[-\d.]+,[-\d.]+", mark)]
    # The letters of 10 pt end 2.1 pt below their line at 20.
    assert min(y for _, y in points) > 22.1
    assert 49 < min(x for x, _ in points) < max(x for x, _ in points) < 64


def test_no_mark_stands_on_any_side_of_a_box() -> None:
    """The box ends 2 pt before the text; its line there is the one that closes it."""
    drawn = (
        '<polygon points="48,5 90,5 90,30 48,30" fill="none" stroke="#1c2530"/>'
        '<text x="50" y="20" font-size="10">C2</text>'
    )
    (mark,) = marks_svg(drawn, (("C2",),))
    # C and 2 are 0.722 and 0.556 of the size wide: the text ends at 62.78.
    assert min(float(x) for x in re.findall(r"([-\d.]+),", mark)) > 62.78


def test_what_is_called_as_things_that_did_not_change_is_told_by_what_holds_it() -> None:
    before = Spec("A", (Room("B101", (Cable("M1", "4 m"),)), Room("B102", (Cable("M1", "4 m"),))))
    after = replace(before, rooms=(before.rooms[0], Room("B102", (Cable("M1", "4 m"), Cable("M1", "9 m")))))
    assert changed_names(before, after) == (("9 m",),)
    moved = replace(before, rooms=(before.rooms[0], Room("B102", (Cable("M1", ""),))))
    assert changed_names(before, moved) == (("B102",),)


def test_a_name_in_several_lines_is_marked_at_its_first_line_and_no_word_of_it_alone() -> None:
    drawn = (
        '<text x="50" y="20" font-size="10">sound archive</text>'
        '<text x="50" y="32" font-size="10">recorder</text>'
        '<text x="50" y="80" font-size="10">recorder</text>'
    )
    (mark,) = marks_svg(drawn, (("sound archive recorder",),))
    tops = [float(y) for y in re.findall(r",([\d.]+)", mark)]
    assert 10 < min(tops) < max(tops) < 22
