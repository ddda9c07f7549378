from proposal.editions import edition_of
from proposal.exports.table import Table, job_schedules, schedules
from tests.sample_document import sample_document


def tables() -> dict[str, Table]:
    return {table.name: table for table in schedules(edition_of(sample_document(), "estimator"))}


def values(table: Table, name: str) -> list[object]:
    place = [column.name for column in table.columns].index(name)
    return [row[place] for row in table.rows]


def test_files_hold_what_rows_gather() -> None:
    """The page of rooms tells areas, storeys and equipment rooms, and so do the files."""
    document = sample_document()
    sheets = {sheet.key: sheet for sheet in document.room_sheets}
    found = tables()
    assert values(found["rooms"], "area_m2") == [sheets[room.sheet].area_m2 for room in document.rooms]
    for place, storey in enumerate(document.storeys):
        tags = [room.tag for room in document.rooms if room.storey == storey.tag]
        assert values(found["storeys"], "rooms")[place] == (", ".join(tags) or None)


def test_files_of_a_job_hold_its_columns_alone() -> None:
    edition = edition_of(sample_document(), "installer")
    found = {table.name: table for table in job_schedules(edition, "pull")}
    assert {"cables", "devices", "pathways"} <= set(found)
    assert "rooms" not in found
    whole = {table.name: table for table in schedules(edition)}
    assert {column.name for column in found["devices"].columns} >= {"tag", "at_east", "at_north"}
    assert "host" not in {column.name for column in found["devices"].columns}
    assert values(found["cables"], "route") == values(whole["cables"], "route")
    assert "from_port" not in {column.name for column in found["cables"].columns}


def test_files_hold_parts_and_not_what_puts_them_together() -> None:
    columns = [column.name for column in tables()["pathways"].columns]
    assert {"from_node", "from_storey", "chosen"} <= set(columns)
    assert not {"begins_at", "size_from"} & set(columns)


def test_headings_of_a_schedule_are_told_apart() -> None:
    for table in tables().values():
        headings = [(column.heading, column.unit) for column in table.columns]
        assert len(set(headings)) == len(headings), table.name


def test_words_for_what_is_missing_stand_in_no_column_of_figures() -> None:
    document = sample_document()
    (first, *others) = document.yearly
    open_one = first.model_copy(update={"unit_price": None, "price": None})
    edition = edition_of(document.model_copy(update={"yearly": (open_one, *others)}), "estimator")
    yearly = next(table for table in schedules(edition) if table.name == "yearly")
    assert values(yearly, "price")[0] is None
