"""By what a row is known again in another document: its natural key, never a running number."""

from collections.abc import Mapping, Sequence
from typing import Any

from proposal.document import (
    alternate_rows,
    channel_rows,
    day_rows,
    labour_rows,
    pathway_rows,
    price_rows,
    programme_rows,
    radio_rows,
    rows,
    takeoff,
)
from proposal.document.readers import Shown

# Class → the fields that name its row within its collection.
KEYS: Mapping[type[Shown], tuple[str, ...]] = {
    alternate_rows.AlternateRow: ("key",),
    rows.RevisionRow: ("identity",),
    rows.MicrophoneRow: ("code",),
    rows.SizeRow: ("kind", "model"),
    rows.DestinationRow: ("code",),
    rows.FlowNode: ("code",),
    rows.FlowEdge: ("start", "end", "signal", "returning", "cable"),
    rows.RoomSheet: ("key",),
    rows.RoomRow: ("tag",),
    rows.StoreyRow: ("tag",),
    rows.EquipmentRoomRow: ("tag",),
    rows.DeviceRow: ("tag",),
    rows.EquipmentLine: ("model",),
    rows.CableRow: ("identity",),
    rows.RiserLine: ("room", "end", "signal", "description"),
    rows.CableTotal: ("type",),
    rows.PortRow: ("switch", "port"),
    rows.SwitchRow: ("tag",),
    rows.WorkingRow: ("chapter", "subject", "title"),
    rows.FindingRow: ("rule", "where"),
    rows.AssumptionRow: ("subject", "title"),
    rows.QuestionRow: ("subject", "title"),
    rows.Caution: ("title",),
    rows.DutyRow: ("about",),
    rows.SheetRow: ("kind", "subject", "part"),
    day_rows.MuteRow: ("trigger", "microphones"),
    day_rows.PackDay: ("form",),
    pathway_rows.NodeRow: ("tag",),
    pathway_rows.PathwayRow: ("tag",),
    pathway_rows.ContentRow: ("pathway", "type", "signal"),
    pathway_rows.PullRow: ("conduits",),
    channel_rows.ChannelRow: ("microphone",),
    channel_rows.StreamRow: ("name",),
    channel_rows.AudioEndRow: ("device", "direction", "port"),
    channel_rows.SettingRow: ("device", "name"),
    channel_rows.ControlRow: ("device", "point"),
    radio_rows.MarginRow: ("microphone",),
    radio_rows.RadioPlaceRow: ("identity",),
    radio_rows.NeighbourhoodRow: ("rooms",),
    radio_rows.FurtherRow: ("room",),
    radio_rows.RadioCaseRow: ("name",),
    radio_rows.DisturbanceRow: ("rooms",),
    takeoff.TakeoffRow: ("section", "room", "item", "unit"),
    takeoff.ReelOrderRow: ("type",),
    takeoff.ReelRow: ("number",),
    labour_rows.LabourRow: ("phase", "trade", "task", "room", "storey", "model", "unit"),
    labour_rows.TradeHoursRow: ("phase", "trade"),
    labour_rows.TravelRow: ("trade",),
    labour_rows.TradeRow: ("trade",),
    labour_rows.HoursSum: ("key",),
    labour_rows.ConditionRow: ("name", "scope"),
    price_rows.OfferRow: ("group", "room", "item", "description"),
    price_rows.PriceSum: ("key",),
    price_rows.TaxRow: ("place", "name", "kind"),
    price_rows.PaymentRow: ("number",),
    price_rows.UnitPriceRow: ("to", "item", "description"),
    price_rows.YearlyRow: ("item", "description"),
    price_rows.ExchangeRow: ("currency",),
    price_rows.PriceLineRow: ("group", "kind", "item", "description", "room", "system", "phase", "unit"),
    price_rows.SurchargeRow: ("name",),
    price_rows.CashRow: ("date", "what"),
    programme_rows.ActivityRow: ("key",),
    programme_rows.EventRow: ("key",),
    programme_rows.DaysOffRow: ("key",),
    programme_rows.LateRow: ("activity",),
    programme_rows.SetDayRow: ("key",),
    programme_rows.CrewLoadRow: ("trade",),
}

# Classes of which several rows may have one name: those are told apart by their order.
SHARED_NAMES: frozenset[type[Shown]] = frozenset(
    {rows.WorkingRow, channel_rows.SettingRow, labour_rows.LabourRow}
)

# Fields that say where a row stands among the others, or where its cause stands in a file, and nothing
# about the thing itself: a change of them alone is a renumbering.
SERIALS: Mapping[type[Shown], frozenset[str]] = {
    rows.WorkingRow: frozenset({"number"}),
    rows.FindingRow: frozenset({"number", "place"}),
    rows.AssumptionRow: frozenset({"number"}),
    rows.QuestionRow: frozenset({"number", "place"}),
    takeoff.TakeoffRow: frozenset({"number"}),
    radio_rows.NeighbourhoodRow: frozenset({"number"}),
    channel_rows.SettingRow: frozenset({"step"}),
    labour_rows.LabourRow: frozenset({"number"}),
    price_rows.OfferRow: frozenset({"number"}),
    price_rows.PriceLineRow: frozenset({"number"}),
}

# Fields that name rows of another collection of the document by their serial numbers.
REFERENCES: Mapping[tuple[type[Shown], str], str] = {
    (rows.WorkingRow, "assumptions"): "assumptions",
    (rows.WorkingRow, "questions"): "questions",
    (rows.QuestionRow, "used_by"): "workings",
    (programme_rows.ProgrammeSummary, "assumptions"): "assumptions",
}

Key = tuple[str, ...]


def natural_key(row: Shown) -> Key:
    """Return the fields that name a row, as texts; nothing where its class has no name."""
    key = tuple(_text(getattr(row, name)) for name in KEYS.get(type(row), ()))
    # Pathways belong to no room: what they are made of is listed pathway by pathway.
    if isinstance(row, takeoff.TakeoffRow | price_rows.PriceLineRow) and "pathways" in key:
        return (*key, *row.causes)
    return key


def keys_of(collection: Sequence[Shown]) -> tuple[Key, ...]:
    """Return a key for every row of a collection, no two alike.

    Rows that share a natural key are told apart by how many of that key came before.
    """
    seen: dict[Key, int] = {}
    found: list[Key] = []
    for row in collection:
        key = natural_key(row)
        count = seen[key] = seen.get(key, 0) + 1
        found.append(key if key and count == 1 else (*key, f"#{count}"))
    return tuple(found)


def _text(value: Any) -> str:
    if isinstance(value, tuple):
        return " ".join(str(item) for item in value)
    return str(value)


Numbering = Mapping[str, Mapping[str, Key]]


def numbering_of(document: Shown) -> Numbering:
    """Return by collection the key of the row that each serial number stands for."""
    found: dict[str, Mapping[str, Key]] = {}
    for name in sorted(set(REFERENCES.values())):
        collection = getattr(document, name, ())
        found[name] = {row.number: key for row, key in zip(collection, keys_of(collection), strict=True)}
    return found
