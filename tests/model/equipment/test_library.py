"""Entries of the library, and how its layers are laid over one another."""

from typing import Any, get_args

import pytest
from pydantic import BaseModel, ValidationError

from proposal.model.equipment.devices import DEVICE_FIELDS, AccessPoint, Charger, SlotGroup
from proposal.model.equipment.library import FIELD_OF_KIND, Library, file_schema, layered, merge_patch
from proposal.model.equipment.materials import MATERIAL_FIELDS


def an_access_point(**changed: Any) -> dict[str, Any]:
    return {
        "maker": "Nobody (invented)",
        "description": "Access point for four",
        "list_price": "1680.00 EUR",
        "cost": "1050.00 EUR",
        "lead_time_days": "35",
        "warranty_months": "36",
        "channels": "4",
        "width": "19 cm",
        "height": "42 mm",
        "depth": "7.5 in",
        "weight": "780 g",
        "mounting": ["ceiling"],
        "coldest": "32 °F",
        "hottest": "50 °C",
        "poe": {"device_class": "3", "type": "1", "typical": "8.4 W", "maximum": "11.6 W"},
        "ports": {
            "N": {"signal": "network", "count": "2", "connector": "8P8C jack", "powered": "yes"},
            "C": {"signal": "contact input", "count": "1", "connector": "terminal block"},
        },
        "least_spacing": "3 m",
        "radio": {
            "regions": {"europe": {"carriers": "10", "powers": ["250 mW", "20 dBm"]}},
            "transceivers": "2",
            "slot_pairs": "3",
            "one_carrier": "yes",
            "in_a_row": "no",
            "sensitivity": "-83 dBm",
            "carrier_to_interference": "10 dB",
            "synchronisation": "network",
        },
        **changed,
    }


def a_file(source: str, **entries: dict[str, Any] | None) -> dict[str, Any]:
    codes = {code.replace("_", "-"): entry for code, entry in entries.items()}
    return {"source": source, "access_points": codes}


SHARED = a_file("editable default (invented)", ZZ_1=an_access_point(), ZZ_2=an_access_point())


def resolved(*files: tuple[Any, dict[str, Any]]) -> Library:
    return Library.model_validate(layered(files))


@pytest.mark.published
@pytest.mark.parametrize(
    ("target", "patch", "result"),
    [
        # RFC 7396, appendix A, all its examples (memory).
        ({"a": "b"}, {"a": "c"}, {"a": "c"}),
        ({"a": "b"}, {"b": "c"}, {"a": "b", "b": "c"}),
        ({"a": "b"}, {"a": None}, {}),
        ({"a": "b", "b": "c"}, {"a": None}, {"b": "c"}),
        ({"a": ["b"]}, {"a": "c"}, {"a": "c"}),
        ({"a": "c"}, {"a": ["b"]}, {"a": ["b"]}),
        ({"a": {"b": "c"}}, {"a": {"b": "d", "c": None}}, {"a": {"b": "d"}}),
        ({"a": [{"b": "c"}]}, {"a": [1]}, {"a": [1]}),
        (["a", "b"], ["c", "d"], ["c", "d"]),
        ({"a": "b"}, ["c"], ["c"]),
        ({"a": "foo"}, None, None),
        ({"a": "foo"}, "bar", "bar"),
        ({"e": None}, {"a": 1}, {"e": None, "a": 1}),
        ([1, 2], {"a": "b", "c": None}, {"a": "b"}),
        ({}, {"a": {"bb": {"ccc": None}}}, {"a": {"bb": {}}}),
    ],
)
def test_a_merge_patch_does_what_its_standard_prints(target: Any, patch: Any, result: Any) -> None:
    assert merge_patch(target, patch) == result


def test_text_with_units_becomes_values_in_si() -> None:
    entry = resolved(("shared", SHARED)).access_points["ZZ-1"]
    assert (entry.width, entry.height, entry.weight) == (0.19, 0.042, 0.78)
    assert entry.depth == pytest.approx(0.1905, abs=1e-12)
    assert entry.coldest == pytest.approx(0.0, abs=1e-9)
    assert entry.radio.regions["europe"].powers[0] == pytest.approx(23.979, abs=0.0005)
    assert (entry.radio.one_carrier, entry.radio.in_a_row) == (True, False)
    assert entry.currency == "EUR"


def test_a_company_changes_one_figure_of_a_shared_entry_and_the_rest_stays() -> None:
    company = a_file("our price list", ZZ_1={"cost": "999.00 EUR"})
    library = resolved(("shared", SHARED), ("company", company))
    changed, kept = library.access_points["ZZ-1"], library.access_points["ZZ-2"]
    assert str(changed.cost) == "999.00 EUR"
    assert changed.channels == 4
    assert (changed.layer, kept.layer) == ("company", "shared")
    assert changed.source == "editable default (invented)"


def test_a_project_is_laid_over_a_company_and_a_company_over_the_shared_library() -> None:
    company = a_file("company", ZZ_1={"cost": "2.00 EUR", "channels": "8"})
    project = a_file("project", ZZ_1={"cost": "3.00 EUR"})
    entry = resolved(("shared", SHARED), ("company", company), ("project", project)).access_points["ZZ-1"]
    assert (str(entry.cost), entry.channels, entry.layer) == ("3.00 EUR", 8, "project")


def test_an_entry_of_ones_own_takes_the_source_of_its_file() -> None:
    own = resolved(("shared", SHARED), ("company", a_file("our tests", OWN=an_access_point())))
    assert own.access_points["OWN"].source == "our tests"
    assert own.access_points["OWN"].model == "OWN"


def test_none_takes_an_entry_away() -> None:
    library = resolved(("shared", SHARED), ("project", a_file("project", ZZ_1=None)))
    assert list(library.access_points) == ["ZZ-2"]


def test_laying_over_changes_none_of_the_files() -> None:
    before = repr(SHARED)
    layered((("shared", SHARED), ("company", a_file("company", ZZ_1={"cost": "1.00 EUR"}))))
    assert repr(SHARED) == before


def test_entries_come_in_the_order_of_kinds_and_codes_however_files_are_ordered() -> None:
    one, two = a_file("x", B=an_access_point()), a_file("x", A=an_access_point())
    there = resolved(("shared", one), ("shared", two))
    back = resolved(("shared", two), ("shared", one))
    assert [entry.model for entry in there.entries()] == ["A", "B"]
    assert [entry.model for entry in back.entries()] == ["A", "B"]
    assert tuple(there.of_kind("access_point")) == ("A", "B")
    assert there.entry("B").model == "B"
    with pytest.raises(KeyError):
        there.entry("C")


def test_slots_of_a_charger_are_counted_and_numbered_by_what_they_take() -> None:
    groups = [SlotGroup(count=2, forms=("gooseneck", "boundary")), SlotGroup(count=3, forms=("boundary",))]
    charger = Charger.model_construct(slot_groups=tuple(groups), system="", maker="Nobody (invented)")
    assert charger.slots == 5
    assert [charger.slots_for([form]) for form in ("gooseneck", "boundary", "handheld")] == [2, 5, 0]
    assert charger.slots_for(["gooseneck", "boundary"]) == 5
    assert charger.forms_by_slot == (groups[0].forms,) * 2 + (groups[1].forms,) * 3


def test_a_device_works_in_the_system_that_it_names_else_in_its_makers() -> None:
    one = AccessPoint.model_validate(an_access_point())
    assert one.works_with == "Nobody (invented)"
    assert AccessPoint.model_validate(an_access_point(system="Plain")).works_with == "Plain"


def test_a_model_code_under_two_kinds_is_refused() -> None:
    both = layered((("shared", SHARED),))
    both["mounts"] = {
        "ZZ-1": {
            **{key: an_access_point()[key] for key in ("maker", "description", "list_price", "cost")},
            **{key: an_access_point()[key] for key in ("lead_time_days", "warranty_months", "weight")},
            **{key: an_access_point()[key] for key in ("width", "height", "depth", "coldest", "hottest")},
            "mounting": ["wall"],
            "carries": ["access_point"],
            "load": "3 kg",
        }
    }
    with pytest.raises(ValidationError, match="found ZZ-1 under access_points and mounts"):
        Library.model_validate(both)


def test_an_entry_that_contradicts_its_key_is_refused() -> None:
    with pytest.raises(ValidationError, match="wanted ZZ-1, the key of the entry; found ZZ-9"):
        resolved(("shared", a_file("x", ZZ_1=an_access_point(model="ZZ-9"))))


@pytest.mark.parametrize(
    ("changed", "place", "message"),
    [
        ({"width": "19"}, "width", "wanted a length with its unit"),
        ({"cost": "1050"}, "cost", "wanted an amount with its currency"),
        ({"weigth": "1 kg"}, "weigth", "Extra inputs are not permitted"),
        ({"channels": "0"}, "channels", "greater than 0"),
        ({"mounting": ["roof"]}, "0", "Input should be"),
        (
            {"poe": {"device_class": "9", "type": "1", "typical": "1 W", "maximum": "1 W"}},
            "device_class",
            "8",
        ),
    ],
)
def test_a_wrong_value_is_refused_where_it_stands(changed: dict[str, Any], place: str, message: str) -> None:
    with pytest.raises(ValidationError) as refused:
        resolved(("shared", a_file("x", ZZ_1=an_access_point(**changed))))
    (error,) = refused.value.errors()
    assert error["loc"][:2] == ("access_points", "ZZ-1")
    assert str(error["loc"][-1]) == place
    assert message in error["msg"]


def test_what_is_malformed_is_passed_on_and_refused_by_validation() -> None:
    malformed: list[dict[str, Any]] = [{"access_points": "text"}, {"access_points": {"ZZ-1": "text"}}]
    for broken in (*malformed, {"toasters": {}}):
        with pytest.raises(ValidationError):
            resolved(("project", broken))


def test_ports_are_named_by_their_letters_and_counted() -> None:
    entry = AccessPoint.model_validate(an_access_point())
    assert entry.ports_carrying("network") == ("N1", "N2")
    assert entry.ports_carrying("contact input") == ("C1",)
    assert entry.ports_carrying("fibre") == ()
    assert entry.powered_by == "PoE"


def _models() -> list[type[BaseModel]]:
    """Return every model an entry is made of."""
    found: dict[str, type[BaseModel]] = {}
    waiting: list[Any] = [*DEVICE_FIELDS.values(), *MATERIAL_FIELDS.values()]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, type) and issubclass(kind, BaseModel) and kind.__name__ not in found:
            found[kind.__name__] = kind
            waiting += [field.annotation for field in kind.model_fields.values()]
        waiting += get_args(kind)
    return list(found.values())


def test_every_field_is_described_and_every_model_frozen_and_strict() -> None:
    models = _models()
    assert len(models) > 35
    for model in models:
        assert model.model_config.get("frozen") is True
        assert model.model_config.get("extra") == "forbid"
        for name, field in model.model_fields.items():
            assert field.description, f"{model.__name__}.{name}"


def test_no_figure_of_an_equipment_property_is_a_default_in_code() -> None:
    # 8 channels a stream and clock priority 128 are AES67's and IEEE 1588's; 4 pairs and 2 conductors are
    # what the kinds are. Every other figure stands in the data files.
    known = {"channels_a_stream": 8, "clock_priority": 128, "pairs": 4, "conductors": 2}
    for model in _models():
        for name, field in model.model_fields.items():
            if isinstance(field.default, int | float) and not isinstance(field.default, bool):
                assert field.default in (0, 1) or known.get(name) == field.default, f"{model.__name__}.{name}"


def test_the_schema_of_a_library_file_knows_every_kind_and_requires_nothing() -> None:
    schema = file_schema()
    assert set(FIELD_OF_KIND.values()) < set(schema["properties"])
    assert "required" not in schema
    assert all("required" not in part for part in schema["$defs"].values())
    assert "layer" not in schema["$defs"]["AccessPoint"]["properties"]
    (entry,) = schema["properties"]["access_points"]["patternProperties"].values()
    assert entry == {"anyOf": [{"$ref": "#/$defs/AccessPoint"}, {"type": "null"}]}
