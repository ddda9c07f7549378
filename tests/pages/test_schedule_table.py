import html
import re
from typing import Annotated, ClassVar

import pytest

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.rows.cabling import CableRow
from proposal.document.schedule import ALL, HOUSE, Row, Schedule, Shows, composed, gathered
from proposal.editions import edition_of
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import fields_of, of_part, schedule
from proposal.pages.tables import Cell, Column
from tests.sample_document import sample_document

TARGETS = {("tag", "B101"): "rooms.md#B101", ("activity", "order"): "programme.md#order"}


class Sample(Row):
    """A row with every way of showing something."""

    schedule: ClassVar = Schedule("sample", subject="rooms")

    title: Annotated[str, Shows("name", ALL, link="tag", target="tag")] = "Board <room>"
    tag: Annotated[str, Shows("room", ALL, "tag", link="room")] = "B101"
    severity: Annotated[str, Shows("severity", ALL, "verdict", order="rank")] = "error"
    after: Annotated[tuple[str, ...], Shows("waits_for", ALL, "tag", link="activity")] = ("order",)
    lines: Annotated[tuple[str, ...], Shows("lines", ALL, lines=True)] = ("a < b", "c")
    limit: Annotated[float | None, Shows("limit", ALL, "ratio")] = 2.5
    rule: Annotated[str, Shows("rule", ALL, "code")] = "a_1 < b"
    kept: Annotated[str, Shows("internal_note", HOUSE)] = "ours"

    @composed(Shows("severity", ALL, "number", drawn=True))
    def rank(self) -> int:
        """Place in the order."""
        return 3

    @composed(Shows("limit", ALL, ("text", "figure", "unit"), order="limit"))
    def bound(self) -> tuple[tuple[str, float, str], ...]:
        """Limit with its sign."""
        return (("≤", 2.5, "m"),)

    @gathered(Shows("rooms", ALL, "count"))
    def count(self, document: Document) -> int:
        """How many rooms there are."""
        return len(document.rooms)


def here(reader: str = "estimator") -> PageContext:
    edition = edition_of(sample_document(), "client" if reader == "client" else "estimator")
    return PageContext("index.md", edition, TARGETS)


def shown(name: str) -> object:
    (field,) = fields_of(here(), Sample, name)
    return field.value(Sample())


def test_a_text_links_by_the_name_beside_it() -> None:
    assert shown("title") == '<a href="rooms.html#B101">Board &#60;room&#62;</a>'


def test_a_room_is_shown_with_its_name_and_an_activity_by_its_name() -> None:
    name = next(row.name for row in sample_document().rooms if row.tag == "B101")
    assert html.unescape(str(shown("tag"))) == f'<a href="rooms.html#B101">B101 {name}</a>'
    assert shown("after") == '<a href="programme.html#order">Order</a>'


def test_a_mark_sorts_by_the_column_beside_it_and_stays_left() -> None:
    (field,) = fields_of(here(), Sample, "severity")
    cell = field.value(Sample())
    assert isinstance(cell, Cell)
    assert cell.order == 3
    assert 'class="status bad"' in str(cell.content)
    assert not (isinstance(field.column, Column) and field.column.numeric)


def test_a_figure_with_its_sign_sorts_by_size_and_stands_right() -> None:
    (field,) = fields_of(here(), Sample, "bound")
    assert field.value(Sample()) == Cell("≤ 2.5 m", 2.5)
    assert isinstance(field.column, Column)
    assert field.column.numeric


def test_values_stand_in_lines_of_their_own() -> None:
    assert shown("lines") == "a &lt; b<br>c"


def test_what_is_gathered_is_read_from_the_edition() -> None:
    assert shown("count") == Cell(str(len(sample_document().rooms)), len(sample_document().rooms))


def test_a_column_of_another_reader_s_is_left_out() -> None:
    assert [field.name for field in fields_of(here("client"), Sample, "tag", "kept")] == ["tag"]


def test_signs_to_be_read_one_by_one_stand_as_code() -> None:
    assert shown("rule") == "<code>a_1 &lt; b</code>"


def test_columns_of_a_part_show_that_part_and_keep_their_names() -> None:
    pair = (1, Sample())
    (field,) = of_part(fields_of(here(), Sample, "limit"), lambda one: one[1])
    assert field.name == "limit"
    assert field.value(pair) == Cell("2.5", 2.5)


def test_a_column_that_no_row_has_is_refused() -> None:
    with pytest.raises(KeyError):
        fields_of(here(), Sample, "nothing")


CABLE = (
    *("identity", "verdict", "room", "signal", "from_tag", "from_port", "to_tag", "to_port", "type"),
    *("jacket", "route", "length_m", "limit_m"),
)


def cables(reader: Reader, *columns: str) -> str:
    document = sample_document()
    edition = edition_of(document, reader)
    context = PageContext("index.md", edition, {})
    return schedule("Cables", fields_of(context, CableRow, *columns), edition.document.cables)


@pytest.mark.parametrize(
    ("reader", "opens"), [("reviewer", "check"), ("estimator", "price"), ("installer", "pull")]
)
def test_a_wide_schedule_offers_views_by_job_and_opens_with_the_reader_s(reader: Reader, opens: str) -> None:
    page = cables(reader, *CABLE)
    named = "check Checking|pull Pulling|terminate Terminating|test Testing|price Pricing"
    assert f'data-views="{named}" data-opens="{opens}"' in page
    heads = re.findall(r"<th scope=\"col\"(.*?)>(.*?)</th>", page)
    of = {title.split(" <")[0]: re.findall(r'data-views="(.*?)"', said) for said, title in heads}
    assert of["Cable"] == []  # what names a row stands in every view
    assert of["Route"] == ["pull"]
    assert of["To port"] == ["terminate"]
    assert of["Verdict"] == ["check test"]


def test_a_narrow_schedule_offers_no_views() -> None:
    assert "data-views" not in cables("installer", *CABLE[:8])


def test_a_long_text_is_folded_to_its_beginning_and_a_short_one_is_not() -> None:
    (field,) = fields_of(here(), CableRow, "route")
    route = "up or down to T03, along x and y to T03, T02, up or down to ER1 & on"
    assert field.value(CableRow(route=route)) == (
        '<details class="fold"><summary>up or down to T03, along x and y to T03, T02\u2009…</summary>'
        "up or down to T03, along x and y to T03, T02, up or down to ER1 &amp; on</details>"
    )
    assert field.value(CableRow(route="tray T1")) == "tray T1"


def test_a_verdict_that_is_none_says_why() -> None:
    (field,) = fields_of(here(), CableRow, "verdict")
    assert html.unescape(str(field.value(CableRow()))) == "not applicable: no limit of length"
