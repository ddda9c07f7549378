"""Sheets of a portable set where it is used: courtyard and committee room of the municipal project."""

from functools import cache

import pytest

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.portable_place import alternative, spec_of
from proposal.drawings.room_plan import RoomPlanSpec
from proposal.editions import edition_of
from tests.drawings.shown import printed_pt, svg_of, texts
from tests.review.editing import PROJECTS
from tests.whole_projects import whole_document


@cache
def document() -> Document:
    return whole_document(PROJECTS / "municipal")


def sheet_of(place: str) -> SheetRow:
    return next(
        row for row in document().sheets if (row.kind, row.subject) == ("portable place", f"P1 {place}")
    )


@cache
def spec(place: str, reader: str = "installer") -> RoomPlanSpec:
    return spec_of(edition_of(document(), reader), sheet_of(place))  # type: ignore[arg-type]


@pytest.mark.pinned
def test_the_place_outdoors_is_told_from_the_nearest_room() -> None:
    """The set is 12 ft by 10 ft and stands at 20 ft, −60 ft: its middle at 26 ft, −55 ft, south of C101."""
    site = spec("courtyard").site
    assert site is not None
    assert site.where.endswith("Its middle is 55 ft from room C101.")
    west, south = (min(one) for one in zip(*site.stand, strict=True))
    assert (west / 0.3048, south / 0.3048) == (pytest.approx(20, abs=1e-3), pytest.approx(-60, abs=1e-3))
    assert [tag for tag, _ in site.rooms] == ["C101", "C102", "C103"]


@pytest.mark.parametrize("place", ["courtyard", "C102"])
def test_every_microphone_has_its_carrier_and_slots_in_each_state(place: str) -> None:
    site = spec(place).site
    assert site is not None
    uses = [row for row in document().portable_uses if row.key_of_place == place]
    states = {state for row in uses for state in row.states}
    links = [row for row in document().portable_links if set(row.states) <= states]
    assert len(links) == 3 * len(uses)
    assert [(one[0], one[2], one[3]) for one in site.links] == [
        (row.microphone, row.access_point, str(row.carrier)) for row in links
    ]
    printed = texts(svg_of(document(), sheet_of(place)))
    for row in links:
        assert row.microphone in printed
        assert ", ".join(map(str, row.slots)) in printed


def test_the_client_sees_the_place_and_no_radio() -> None:
    site = spec("courtyard", "client").site
    assert site is not None
    assert site.links == ()
    assert site.where
    assert "carrier" not in alternative(spec("courtyard", "client"))


def test_the_access_point_stands_on_its_mast_and_nothing_is_too_small() -> None:
    lines = {line.codes: line for line in spec("courtyard").lines}
    assert lines["AP1"].height == "6 ft"
    assert printed_pt(svg_of(document(), sheet_of("courtyard"))) >= 7
