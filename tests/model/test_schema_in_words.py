"""The list to read of a kind of file: every field of its schema, with its form and its default."""

import pytest

from proposal.model.schema import schema_of, schemas
from proposal.model.schema_in_words import schema_in_words


@pytest.mark.parametrize("kind", sorted(schemas()))
def test_every_field_of_a_schema_is_listed(kind: str) -> None:
    schema = schema_of(kind)
    lines = [line.strip() for line in schema_in_words(schema)]
    named = {line.partition(":")[0] for line in lines}
    fields = {
        name for part in (schema, *schema.get("$defs", {}).values()) for name in part.get("properties", {})
    }
    assert fields - named == set()


@pytest.mark.parametrize(
    ("kind", "line"),
    [
        ("building", "slab_to_slab: a length (7.2 m, 24 ft, 12 ft 6 in); has to be written. "),
        ("building", "ceiling_temperature: a temperature (20 °C, 68 °F); 30 °C where left out. "),
        ("room_type", "end: text; has to be written; such as 12:30. When it ends."),
        ("project", "units: metric | us_customary; metric where left out. "),
        ("requirements", "- How many of something the design has."),
    ],
)
def test_a_field_tells_its_form_and_its_default(kind: str, line: str) -> None:
    assert any(one.strip().startswith(line) for one in schema_in_words(schema_of(kind)))
