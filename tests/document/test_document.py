"""The document of a computed project: readers of every field, and numbers that lead somewhere."""

import datetime
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

import proposal.document.document
from proposal.design.calculations import calculations
from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.making.findings import dotted
from proposal.document.readers import READERS, Reader, Shown
from proposal.document.schedule import Shows
from proposal.editions import edition_of
from proposal.pipeline import Computed, compute
from tests.design.making import EXAMPLE, PROJECTS, changed, minimal
from tests.whole_projects import whole_computed, whole_document

FOLDERS = (EXAMPLE, PROJECTS / "us_customary", PROJECTS / "failing", PROJECTS / "minimal")
every_project = pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)


def computed_of(folder: Path) -> Computed:
    return whole_computed(folder)


def document(folder: Path) -> Document:
    return whole_document(folder)


def parts() -> list[type[Shown]]:
    """Return every class of the document, however deep its modules define them."""
    assert proposal.document.document
    found = set[type[Shown]]()

    def add(part: type[Shown]) -> None:
        for inner in part.__subclasses__():
            if inner.__module__.startswith("proposal."):
                found.add(inner)
                add(inner)

    add(Shown)
    return sorted(found, key=lambda part: part.__name__)


@pytest.mark.parametrize("part", parts(), ids=lambda part: part.__name__)
def test_every_field_names_its_readers_once_and_is_described(part: type[Shown]) -> None:
    for name, field in part.model_fields.items():
        named = [item for item in field.metadata if isinstance(item, Shows)]
        assert len(named) == 1, name
        assert named[0].readers <= set(READERS), name
        assert "estimator" in named[0].readers, f"{name}: the house reads everything that it computes"
        assert field.description, name


@pytest.mark.parametrize("part", parts(), ids=lambda part: part.__name__)
def test_a_restricted_field_has_a_default_that_tells_nothing(part: type[Shown]) -> None:
    for name, field in part.model_fields.items():
        (named,) = [item for item in field.metadata if isinstance(item, Shows)]
        if named.readers != set(READERS):
            assert not field.is_required(), name
            default = field.get_default(call_default_factory=True)
            assert not (any(default) if isinstance(default, tuple) else default), name


def test_the_parts_are_all_found() -> None:
    names = {part.__name__ for part in parts()}
    assert {"Document", "Cover", "CableRow", "FindingRow", "WorkingRow", "RoomSheet"} <= names


@pytest.mark.parametrize(
    ("dated", "days", "last"),
    # Counted on a calendar: March has 31 days, and 2032 is a leap year.
    [
        (datetime.date(2031, 3, 3), 30, datetime.date(2031, 4, 2)),
        (datetime.date(2031, 3, 3), 90, datetime.date(2031, 6, 1)),
        (datetime.date(2032, 2, 28), 1, datetime.date(2032, 2, 29)),
        (datetime.date(2031, 2, 28), 1, datetime.date(2031, 3, 1)),
    ],
)
def test_a_proposal_holds_for_its_days_after_its_date(
    dated: datetime.date, days: int, last: datetime.date
) -> None:
    project = changed(minimal(), "brief.terms.validity_days", days)
    shown = document_of(compute(changed(project, "brief.revision.date", dated)))
    assert shown.cover.valid_until == last


@every_project
def test_numbers_count_up_from_one_in_each_room(folder: Path) -> None:
    made = document(folder)
    for letter, rows in (
        ("W", made.workings),
        ("F", made.findings),
        ("A", made.assumptions),
        ("T", made.takeoff),
        ("H", made.labour),
        ("C", made.offer),
        ("P", made.price_lines),
    ):
        counts: dict[str, int] = {}
        for row in rows:
            group = row.number.rpartition("-")[0]
            counts[group] = counts.get(group, 0) + 1
            assert row.number == (f"{group}-" if group else "") + f"{letter}{counts[group]}"


@every_project
def test_questions_have_short_numbers_through_the_whole_proposal(folder: Path) -> None:
    made = document(folder)
    assert [row.number for row in made.questions] == [f"Q{n}" for n in range(1, len(made.questions) + 1)]


@every_project
def test_a_line_is_numbered_within_its_room(folder: Path) -> None:
    made = document(folder)
    for row in (*made.takeoff, *made.labour, *made.offer, *made.price_lines):
        assert row.number.rpartition("-")[0] == row.room


@every_project
def test_every_number_that_is_named_leads_somewhere(folder: Path) -> None:
    made = document(folder)
    assumptions = {row.number for row in made.assumptions}
    questions = {row.number for row in made.questions}
    workings = {row.number for row in made.workings}
    for row in made.workings:
        assert set(row.assumptions) <= assumptions, row.number
        assert set(row.questions) <= questions, row.number
    for question in made.questions:
        assert set(question.used_by) <= workings, question.number


@every_project
def test_a_question_and_its_workings_name_each_other(folder: Path) -> None:
    made = document(folder)
    for question in made.questions:
        naming = tuple(row.number for row in made.workings if question.number in row.questions)
        assert question.used_by == naming


def test_every_open_question_of_the_example_has_workings_that_rest_on_it() -> None:
    assert len(document(EXAMPLE).questions) >= 2
    for question in document(EXAMPLE).questions:
        assert question.used_by, question.title


@every_project
def test_inputs_named_by_workings_are_fields_that_are_there(folder: Path) -> None:
    """A use that is neither left out nor unknown has been written; a misspelt one would be neither."""
    computed = computed_of(folder)
    project = computed.project
    known = {dotted(one.path) for one in (*project.assumptions, *project.questions)}
    written = {dotted(path) for path in project.places}
    tops: Mapping[str, Any] = {
        "project": project.brief,
        "building": project.building,
        "room_types": project.room_types,
        "rooms": project.rooms,
    }
    for use in {use for noted in calculations(computed.design) for use in noted.working.uses}:
        assert use in known | written or there(tops, use), use


def there(tops: Mapping[str, Any], use: str) -> bool:
    """Return whether a dotted path leads to a field; keys with dots in them are tried whole."""
    here: Any = tops
    rest = use
    while rest:
        if isinstance(here, Mapping):
            keys = [key for key in here if rest == key or rest.startswith(f"{key}.")]
            if not keys:
                return False
            key = max(keys, key=len)
            here, rest = here[key], rest[len(key) + 1 :]
        else:
            key, _, rest = rest.partition(".")
            if key not in type(here).model_fields:
                return False
            here = getattr(here, key)
    return True


@every_project
def test_every_device_stands_in_a_room_or_equipment_room_and_is_counted(folder: Path) -> None:
    made = document(folder)
    places = {row.tag for row in (*made.rooms, *made.equipment_rooms)}
    assert {row.room for row in made.devices} <= places
    counted = Counter({line.model: line.quantity for line in made.equipment})
    owned = {row.tag for row in made.owner_equipment}
    chosen = Counter(row.model for row in made.devices if row.tag not in owned)
    # Each microphone in use has the accessories that its row tells, those chosen for it too.
    for sheet in made.room_sheets:
        for row in sheet.microphones:
            chosen.update(list(row.accessories) * len(sheet.rooms))
    # A module goes into each of the two ports that a link by fibre joins.
    chosen.update(row.module for row in made.switch_links for _ in range(2) if row.module)
    chosen.update(parts_of_racks(made))
    chosen.update(row.cord for row in made.mains_outlets if row.cord)
    assert counted == chosen


def parts_of_racks(made: Document) -> Counter[str]:
    """Return what is bought for racks, counted from what stands in them: a cord an inlet, earthing a rack."""
    found: Counter[str] = Counter()
    devices = {row.tag for row in made.devices}
    for row in made.rack_places:
        if row.name not in devices and not row.kind.endswith(("patch panel", "fibre panel")):
            closes = row.kind in ("blank panel", "vent panel")
            found[row.model] += row.units if closes else 1
        if row.cord:
            found[row.cord] += len(row.outlets)
    kits = [line.model for line in made.equipment if "earthing" in line.description.lower()]
    found.update(kits * len(made.racks))
    return found


@every_project
def test_cables_end_at_devices_and_every_one_is_in_the_totals(folder: Path) -> None:
    made = document(folder)
    tags = {row.tag for row in made.devices}
    for cable in made.cables:
        # A lead to what others furnish ends at the code of the destination or return.
        ends = {cable.from_tag} if cable.route.startswith("lead to ") else {cable.from_tag, cable.to_tag}
        assert ends <= tags, cable.identity
        assert cable.identity == f"{cable.from_tag}/{cable.from_port}/{cable.to_tag}"
    for total in made.cable_totals:
        mine = [cable.length_m for cable in made.cables if cable.type == total.type]
        assert (total.count, total.length_m) == (len(mine), pytest.approx(sum(mine)))
    assert sum(line.count for line in made.riser_lines) == len(made.cables)


@every_project
def test_panel_and_switch_ports_are_used_once(folder: Path) -> None:
    made = document(folder)
    ends = Counter((cable.to_tag, cable.to_port) for cable in made.cables if cable.signal == "network")
    assert {end: count for end, count in ends.items() if count > 1 or not end[1]} == {}
    at_ports = Counter((port.switch, port.port) for port in made.ports)
    assert set(at_ports.values()) <= {1}


@every_project
def test_ports_of_a_switch_are_all_shown_and_sums_agree(folder: Path) -> None:
    made = document(folder)
    for switch in made.switches:
        mine = [one for one in made.ports if one.switch == switch.tag and not one.port.startswith("U")]
        # An owner's switch has as many as are free, whatever their numbers.
        numbered = [one for one in mine if int(one.port.lstrip("N")) <= switch.ports or not switch.model]
        assert len(numbered) == switch.ports
        assert switch.used == sum(bool(port.device) for port in mine)
        assert switch.allocated_w == pytest.approx(sum(port.allocated_w for port in mine))
        assert switch.drawn_w == pytest.approx(sum(port.drawn_w for port in mine))


def values(part: Any) -> Iterator[Any]:
    if isinstance(part, Shown):
        for name in type(part).model_fields:
            yield from values(getattr(part, name))
    elif isinstance(part, Mapping):
        for key, inner in part.items():
            yield from values(key)
            yield from values(inner)
    elif isinstance(part, tuple):
        for inner in part:
            yield from values(inner)
    else:
        yield part


@every_project
def test_a_client_sees_no_cost_no_place_in_files_and_no_calculation(folder: Path) -> None:
    seen = edition_of(document(folder), "client").document
    assert (seen.workings, seen.findings, seen.cables, seen.equipment_cost) == ((), (), (), None)
    assert all(line.cost is None and line.unit_cost is None for line in seen.equipment)
    assert not any(isinstance(one, str) and (".yaml:" in one or ".csv:" in one) for one in values(seen))


@every_project
def test_findings_are_counted_and_numbered_as_they_are_found(folder: Path) -> None:
    made, computed = document(folder), computed_of(folder)
    count = made.finding_count
    assert count is not None
    assert count.errors == len(computed.errors)
    assert count.errors + count.warnings + count.notes + count.accepted == len(made.findings)
    assert [row.rule for row in made.findings] == [one.rule for one in computed.findings]


@every_project
def test_a_channel_that_is_sent_says_in_which_stream_and_where_in_it(folder: Path) -> None:
    made = document(folder)
    channels = {stream.number: stream.channels for stream in made.streams}
    sent = [row for row in made.channels if row.stream is not None]
    assert sent
    for row in made.channels:
        assert (row.stream is None) == (row.position is None) == (row.group == ""), row.microphone
    places = [(row.stream, row.position) for row in sent]
    assert len(set(places)) == len(places)
    for row in sent:
        assert row.position is not None
        assert 1 <= row.position <= channels[row.stream]


@pytest.mark.parametrize("reader", READERS)
def test_a_document_for_one_reader_gives_the_edition_of_the_whole_document(reader: Reader) -> None:
    alone = document_of(computed_of(EXAMPLE), (reader,))
    assert edition_of(alone, reader) == edition_of(document(EXAMPLE), reader)
    if reader == "client":  # who may not see them does not wait for them
        assert (alone.workings, alone.disclosure) == ((), ())
        assert alone.radio.walls_off_db is None
