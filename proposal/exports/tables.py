"""The schedules of an edition as plain tables: what CSV files and the workbook are made of."""

import datetime
from collections.abc import Sequence
from dataclasses import replace

from proposal.document import formatting, rows
from proposal.document.channel_rows import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow
from proposal.document.document import Document
from proposal.document.pathway_rows import ContentRow, PathwayRow, PullRow
from proposal.document.programme_rows import ActivityRow
from proposal.document.radio_rows import MarginRow, NeighbourhoodRow, RadioPlaceRow
from proposal.document.takeoff import ReelOrderRow, TakeoffRow
from proposal.editions import Edition
from proposal.exports.price_tables import labour_tables, price_tables
from proposal.exports.table import Column, Table, Value, Wanted, table_of

__all__ = ["Column", "Table", "Value", "schedules"]


def _listed(pairs: Sequence[tuple[str, int]]) -> str:
    return ", ".join(f"{tag} × {count}" if count > 1 else tag for tag, count in pairs)


def schedules(edition: Edition) -> tuple[Table, ...]:
    """Return every schedule for which the edition holds rows."""
    document = edition.document
    made = [
        table_of(edition, "rooms", "Rooms", rows.RoomRow, document.rooms, _ROOMS),
        table_of(
            edition,
            "equipment",
            "Equipment by model",
            rows.EquipmentLine,
            document.equipment,
            _equipment(document),
        ),
        table_of(edition, "devices", "Equipment by device", rows.DeviceRow, document.devices, _DEVICES),
        table_of(edition, "cables", "Cable schedule", rows.CableRow, document.cables, _CABLES),
        table_of(
            edition, "cable-totals", "Cable by type", rows.CableTotal, document.cable_totals, _CABLE_TOTALS
        ),
        table_of(edition, "pathways", "Pathways", PathwayRow, document.pathways, _PATHWAYS),
        table_of(
            edition,
            "pathway-contents",
            "Contents of pathways",
            ContentRow,
            document.pathway_contents,
            _CONTENTS,
        ),
        table_of(edition, "pulls", "Pulls through conduits", PullRow, document.pulls, _PULLS),
        table_of(edition, "switches", "Switches", rows.SwitchRow, document.switches, _SWITCHES),
        table_of(edition, "ports", "Switch ports", rows.PortRow, document.ports, _PORTS),
        table_of(edition, "take-off", "Take-off", TakeoffRow, document.takeoff, _TAKEOFF),
        table_of(edition, "reels", "Reels to order", ReelOrderRow, document.reel_orders, _REELS),
        table_of(edition, "channels", "Channel list", ChannelRow, document.channels, _CHANNELS),
        table_of(edition, "streams", "Streams of networked audio", StreamRow, document.streams, _STREAMS),
        table_of(edition, "audio-ends", "Inputs and outputs", AudioEndRow, document.audio_ends, _AUDIO_ENDS),
        table_of(edition, "settings", "Configuration sheets", SettingRow, document.settings, _SETTINGS),
        table_of(edition, "control-points", "Control points", ControlRow, document.controls, _CONTROLS),
        table_of(edition, "microphone-levels", "Microphone levels", MarginRow, document.margins, _MARGINS),
        table_of(
            edition,
            "neighbourhoods",
            "Radio neighbourhoods",
            NeighbourhoodRow,
            document.neighbourhoods,
            _NEIGHBOURHOODS,
        ),
        table_of(edition, "radio-plan", "Carriers and slots", RadioPlaceRow, document.radio_places, _PLACES),
        table_of(edition, "programme", "Programme", ActivityRow, document.activities, _ACTIVITIES),
        crew_loading(edition),
        *labour_tables(edition),
        *price_tables(edition),
        table_of(edition, "findings", "Findings", rows.FindingRow, document.findings, _FINDINGS),
        table_of(
            edition, "assumptions", "Assumptions", rows.AssumptionRow, document.assumptions, _ASSUMPTIONS
        ),
        table_of(edition, "questions", "Open questions", rows.QuestionRow, document.questions, _QUESTIONS),
        table_of(edition, "calculations", "Calculations", rows.WorkingRow, document.workings, _WORKINGS),
    ]
    return tuple(table for table in made if table.rows and table.columns)


_ACTIVITIES = (
    Wanted(field="key", heading="Key"),
    Wanted(field="name", heading="Activity"),
    Wanted(field="kind", heading="Kind"),
    Wanted(field="storey", heading="Storey"),
    Wanted(field="days", heading="Days", kind="count"),
    Wanted(field="calendar", heading="Days of"),
    Wanted(field="start", heading="Begins", kind="date"),
    Wanted(field="finish", heading="Is over", kind="date"),
    Wanted(field="latest", heading="At the latest", kind="date"),
    Wanted(field="total_float", heading="Float", kind="count"),
    Wanted(field="free_float", heading="Free float", kind="count"),
    Wanted(field="critical", heading="Critical"),
    Wanted(field="driving", heading="Sets acceptance"),
    Wanted(field="after", heading="Waits for", value=lambda row: ", ".join(row.after)),
    Wanted(
        field="crew",
        heading="Crew",
        value=lambda row: "; ".join(f"{people} × {trade}, {hours:f} h" for trade, people, hours in row.crew),
    ),
)


def crew_loading(edition: Edition) -> Table:
    """Return hours and people of each trade on each day worked, empty where the edition holds none."""
    programme = edition.document.programme
    days = [
        (load.trade, programme.start + datetime.timedelta(days=n), hours, people, load.crew)
        for load in edition.document.crew_loads
        if programme is not None
        for n, (hours, people) in enumerate(zip(load.hours, load.people, strict=True))
        if hours
    ]
    return Table(
        name="crew-loading",
        title="Crew loading",
        columns=(
            Column(name="trade", heading="Trade"),
            Column(name="day", heading="Day", kind="date"),
            Column(name="hours", heading="Hours", kind="number", unit="h", total=True),
            Column(name="people", heading="People", kind="number"),
            Column(name="crew", heading="Can come", kind="count"),
        ),
        rows=tuple(days),
    )


_PATHWAYS = (
    Wanted(field="tag", heading="Pathway"),
    Wanted(field="kind", heading="Kind"),
    Wanted(field="from_node", heading="From"),
    Wanted(field="from_storey", heading="From storey"),
    Wanted(field="to_node", heading="To"),
    Wanted(field="to_storey", heading="To storey"),
    Wanted(field="space", heading="Space"),
    Wanted(field="temperature_c", heading="Air", kind="temperature"),
    Wanted(field="length_m", heading="Length", kind="length", total=True),
    Wanted(field="size", heading="Trade size or model"),
    Wanted(field="width_m", heading="Width", kind="short_length"),
    Wanted(field="depth_m", heading="Depth", kind="short_length"),
    Wanted(field="internal_diameter_m", heading="Inside diameter", kind="short_length"),
    Wanted(field="cables", heading="Cables", kind="count", value=lambda row: len(row.cables)),
    Wanted(field="powered", heading="With power", kind="count"),
    Wanted(field="fill", heading="Filled", kind="share"),
    Wanted(field="limit", heading="Limit", kind="share"),
    Wanted(field="spare", heading="Room for", kind="count"),
    Wanted(field="bends", heading="Bends, °", value=lambda row: ", ".join(f"{one:g}" for one in row.bends)),
    Wanted(field="radius_m", heading="Radius", kind="short_length"),
    Wanted(field="pull_points", heading="Pull points", kind="count", total=True),
    Wanted(field="verdict", heading="Verdict"),
)
_CONTENTS = (
    Wanted(field="pathway", heading="Pathway"),
    Wanted(field="signal", heading="Signal"),
    Wanted(field="type", heading="Cable"),
    Wanted(field="count", heading="Cables", kind="count"),
    Wanted(field="diameter_m", heading="Outside diameter", kind="short_length"),
)
_MARGINS = (
    Wanted(field="microphone", heading="Microphone"),
    Wanted(field="room", heading="Room"),
    Wanted(field="access_point", heading="Access point"),
    Wanted(field="distance_m", heading="Distance", kind="length"),
    Wanted(field="loss_db", heading="Path loss, dB", kind="number"),
    Wanted(field="body_db", heading="Body loss, dB", kind="number"),
    Wanted(field="received_dbm", heading="Received, dBm", kind="number"),
    Wanted(field="wanted_dbm", heading="Wanted, dBm", kind="number"),
    Wanted(field="margin_db", heading="Margin, dB", kind="number"),
    Wanted(field="probability", heading="Coverage", kind="share"),
    Wanted(field="second", heading="Second access point"),
    Wanted(field="second_db", heading="Margin to it, dB", kind="number"),
    Wanted(field="verdict", heading="Verdict"),
)
_NEIGHBOURHOODS = (
    Wanted(field="number", heading="Neighbourhood"),
    Wanted(field="rooms", heading="Rooms", value=lambda row: ", ".join(row.rooms)),
    Wanted(field="links", heading="Links", kind="count"),
    Wanted(field="bearers", heading="Always-on bearers", kind="count"),
    Wanted(field="wanted", heading="Slot pairs wanted", kind="count"),
    Wanted(field="held", heading="Slot pairs there are", kind="count"),
    Wanted(field="spare_links", heading="Links to spare", kind="count"),
)
_PLACES = (
    Wanted(field="identity", heading="Link"),
    Wanted(field="kind", heading="Kind"),
    Wanted(field="access_point", heading="Access point"),
    Wanted(field="group", heading="In step with"),
    Wanted(field="carrier", heading="Carrier", kind="count"),
    Wanted(
        field="carrier_hz",
        heading="Centre, MHz",
        kind="number",
        value=lambda row: None if row.carrier_hz is None else round(row.carrier_hz / 1e6, 3),
    ),
    Wanted(field="slots", heading="Slot pairs", value=lambda row: ", ".join(str(slot) for slot in row.slots)),
    Wanted(field="clear_db", heading="Clear of interference by, dB", kind="number"),
)
_PULLS = (
    Wanted(field="conduits", heading="Conduits", value=lambda row: ", ".join(row.conduits)),
    Wanted(field="from_node", heading="From"),
    Wanted(field="to_node", heading="To"),
    Wanted(field="cables", heading="Cables", kind="count"),
    Wanted(field="length_m", heading="Length", kind="length"),
    Wanted(field="degrees", heading="Bends, °", kind="number"),
    Wanted(field="pull_points", heading="Pull points", kind="count"),
    Wanted(field="wanted_points", heading="Better with", kind="count"),
    Wanted(field="tension_n", heading="Tension", kind="force"),
    Wanted(field="tension_limit_n", heading="Cables bear", kind="force"),
    Wanted(field="verdict", heading="Verdict"),
)
_ROOMS = (
    Wanted(field="tag", heading="Room"),
    Wanted(field="name", heading="Name"),
    Wanted(field="type", heading="Kind of room"),
    Wanted(field="storey", heading="Storey"),
    Wanted(field="equipment_room", heading="Equipment room"),
    Wanted(field="seats", heading="Seats", kind="count", total=True),
    Wanted(field="microphones", heading="Microphones in use", kind="count", total=True),
    Wanted(field="internal_note", heading="Internal note"),
)
_EQUIPMENT: tuple[Wanted, ...] = (
    Wanted(field="kind", heading="Kind"),
    Wanted(field="model", heading="Model"),
    Wanted(field="maker", heading="Maker"),
    Wanted(field="description", heading="Description"),
    Wanted(field="quantity", heading="Quantity", kind="count", total=True),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="rooms", heading="Where", value=lambda row: _listed(row.rooms)),
    Wanted(field="lead_time_days", heading="Lead time, days", kind="count"),
    Wanted(field="unit_list", heading="List price of one", kind="unit_money"),
    Wanted(field="unit_cost", heading="Cost of one", kind="unit_money"),
    Wanted(field="cost", heading="Cost", kind="money", formula="{quantity}*{unit_cost}", total=True),
    Wanted(field="internal_note", heading="Internal note"),
)


def _equipment(document: Document) -> tuple[Wanted, ...]:
    """Return the columns of equipment by model; costs are formulas where the formula gives them all.

    A cost is the sum of the take-off's lines, each rounded by itself: where one costs a fraction of the
    currency's smallest unit, the number of all times the cost of one may come to a little more or less.
    """
    currency = document.cover.currency
    product = all(
        row.unit_cost is None or formatting.amount(row.quantity * row.unit_cost, currency) == row.cost
        for row in document.equipment
    )
    return tuple(
        column if product or column.field != "cost" else replace(column, formula="") for column in _EQUIPMENT
    )


_DEVICES = (
    Wanted(field="tag", heading="Tag"),
    Wanted(field="kind", heading="Kind"),
    Wanted(field="room", heading="Room"),
    Wanted(field="storey", heading="Storey"),
    Wanted(field="location", heading="Where it stands"),
    Wanted(field="at", heading="x", kind="length", value=lambda row: row.at[0] if row.at else None),
    Wanted(field="at", heading="y", kind="length", value=lambda row: row.at[1] if row.at else None),
    Wanted(field="height_m", heading="Height", kind="length"),
    Wanted(field="model", heading="Model"),
    Wanted(field="maker", heading="Maker"),
    Wanted(field="description", heading="Description"),
    Wanted(field="rack_units", heading="Rack units", kind="count"),
    Wanted(field="typical_w", heading="Typical power", kind="power"),
    Wanted(field="maximum_w", heading="Highest power", kind="power"),
    Wanted(field="poe_class", heading="PoE class", kind="count"),
    Wanted(field="weight_kg", heading="Weight", kind="mass", total=True),
    Wanted(field="furnished_by", heading="Furnished by"),
    Wanted(field="lead_time_days", heading="Lead time, days", kind="count"),
    Wanted(field="host", heading="Host name"),
    Wanted(field="address", heading="Address"),
    Wanted(field="switch_port", heading="Switch port"),
    Wanted(field="unit_cost", heading="Cost", kind="money", total=True),
    Wanted(field="internal_note", heading="Internal note"),
)
_CABLES = (
    Wanted(field="identity", heading="Cable"),
    Wanted(field="signal", heading="Signal"),
    Wanted(field="room", heading="Room"),
    Wanted(field="from_tag", heading="From"),
    Wanted(field="from_port", heading="From port"),
    Wanted(field="from_connector", heading="From connector"),
    Wanted(field="to_tag", heading="To"),
    Wanted(field="to_port", heading="To port"),
    Wanted(field="to_connector", heading="To connector"),
    Wanted(field="type", heading="Type"),
    Wanted(field="jacket", heading="Jacket"),
    Wanted(field="route", heading="Route"),
    Wanted(field="estimated_m", heading="Estimated", kind="length"),
    Wanted(field="slack_m", heading="Slack", kind="length"),
    Wanted(field="length_m", heading="Permanent link", kind="length", total=True),
    Wanted(field="channel_m", heading="Channel", kind="length"),
    Wanted(field="limit_m", heading="Limit", kind="length"),
    Wanted(field="margin_m", heading="Margin", kind="length"),
    Wanted(field="temperature_c", heading="Temperature", kind="temperature"),
    Wanted(field="measured", heading="Measured", value=lambda row: "yes" if row.measured else ""),
    Wanted(field="verdict", heading="Verdict"),
)
_CABLE_TOTALS = (
    Wanted(field="type", heading="Type"),
    Wanted(field="description", heading="Description"),
    Wanted(field="count", heading="Cables", kind="count", total=True),
    Wanted(field="length_m", heading="Length", kind="length", total=True),
)
_SWITCHES = (
    Wanted(field="tag", heading="Switch"),
    Wanted(field="model", heading="Model"),
    Wanted(field="ports", heading="Ports", kind="count", total=True),
    Wanted(field="used", heading="Used", kind="count", total=True),
    Wanted(field="spare", heading="Spare", kind="count", formula="{ports}-{used}", total=True),
    Wanted(field="spare_wanted", heading="Spare wanted", kind="count"),
    Wanted(field="budget_w", heading="Budget", kind="power"),
    Wanted(field="usable_w", heading="Budget less headroom", kind="power"),
    Wanted(field="allocated_w", heading="Set aside", kind="power", total=True),
    Wanted(field="drawn_w", heading="Drawn", kind="power", total=True),
    Wanted(field="verdict", heading="Verdict"),
)
_PORTS = (
    Wanted(field="switch", heading="Switch"),
    Wanted(field="port", heading="Port", kind="count"),
    Wanted(field="device", heading="Device"),
    Wanted(field="cable", heading="Cable"),
    Wanted(field="vlan", heading="VLAN", kind="count"),
    Wanted(field="poe_class", heading="PoE class", kind="count"),
    Wanted(field="allocated_w", heading="Set aside", kind="power", total=True),
    Wanted(field="drawn_w", heading="Drawn", kind="power", total=True),
    Wanted(field="loop_ohm", heading="Loop", kind="resistance"),
    Wanted(field="device_v", heading="At the device", kind="voltage"),
    Wanted(field="least_v", heading="At least", kind="voltage"),
    Wanted(field="priority", heading="Priority", kind="count"),
    Wanted(field="verdict", heading="Verdict"),
)
_CHANNELS = (
    Wanted(field="microphone", heading="Microphone"),
    Wanted(field="room", heading="Room"),
    Wanted(field="name", heading="Name"),
    Wanted(field="form", heading="Form"),
    Wanted(field="model", heading="Model"),
    Wanted(field="access_point", heading="Access point"),
    Wanted(field="channel", heading="Channel", kind="count"),
    Wanted(field="stream", heading="Stream", kind="count"),
    Wanted(field="group", heading="Multicast group"),
    Wanted(field="position", heading="Channel in stream", kind="count"),
    Wanted(field="mixing", heading="Mixer or breakout"),
    Wanted(field="input", heading="Input or output"),
    Wanted(field="berth", heading="Charger and slot"),
    Wanted(field="mute_group", heading="Mute group"),
    Wanted(field="switch", heading="Switch"),
    Wanted(field="return_audio", heading="Return audio"),
)
_STREAMS = (
    Wanted(field="number", heading="Stream", kind="count"),
    Wanted(field="name", heading="Name"),
    Wanted(field="room", heading="Room"),
    Wanted(field="sender", heading="Sent by"),
    Wanted(field="carries", heading="Carries"),
    Wanted(field="channels", heading="Channels", kind="count", total=True),
    Wanted(field="group", heading="Multicast group"),
    Wanted(field="receivers", heading="Taken by", value=lambda row: ", ".join(row.receivers)),
    Wanted(field="bandwidth_bit_s", heading="On the wire, bit/s", kind="number"),
)
_AUDIO_ENDS = (
    Wanted(field="device", heading="Device"),
    Wanted(field="direction", heading="Way"),
    Wanted(field="port", heading="Port"),
    Wanted(field="name", heading="Connected"),
    Wanted(field="signal", heading="Signal"),
    Wanted(field="channels", heading="Channels", kind="count"),
)
_SETTINGS = (
    Wanted(field="device", heading="Device"),
    Wanted(field="step", heading="Step", kind="count"),
    Wanted(field="name", heading="Setting"),
    Wanted(field="value", heading="Value"),
)
_CONTROLS = (
    Wanted(field="device", heading="Device"),
    Wanted(field="point", heading="Point"),
    Wanted(field="access", heading="Access"),
    Wanted(field="value", heading="Holds"),
    Wanted(field="through", heading="Answered by"),
    Wanted(field="address", heading="Address"),
    Wanted(field="port", heading="Port"),
)
_TAKEOFF = (
    Wanted(field="number", heading="Line"),
    Wanted(field="section", heading="Section"),
    Wanted(field="room", heading="Room", value=lambda row: row.room or "building"),
    Wanted(field="item", heading="Item"),
    Wanted(field="description", heading="Description"),
    Wanted(field="quantity", heading="Quantity", kind="number"),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="plan_m", heading="On plan", kind="length"),
    Wanted(field="vertical_m", heading="Rises", kind="length"),
    Wanted(field="slack_start_m", heading="Slack at devices", kind="length"),
    Wanted(field="slack_end_m", heading="Slack at far ends", kind="length"),
    Wanted(field="ends_m", heading="Terminating", kind="length"),
    Wanted(field="cut_m", heading="Cut length", kind="length"),
    Wanted(field="count", heading="Cables", kind="count"),
    Wanted(field="terminations", heading="Ends", kind="count"),
    Wanted(field="reels", heading="Reels (recompute)", value=lambda row: ", ".join(map(str, row.reels))),
    Wanted(field="waste", heading="Waste", kind="share"),
    Wanted(
        field="spoilage_only",
        heading="Spoilage alone is priced",
        value=lambda row: "yes" if row.spoilage_only else "no",
    ),
    Wanted(field="unit_cost", heading="Unit cost", kind="unit_money"),
    Wanted(
        field="cost",
        heading="Cost",
        kind="money",
        formula='{quantity}*({waste}+IF({spoilage_only}="yes",0,1))*{unit_cost}',
        total=True,
    ),
    Wanted(field="trades", heading="Labour", value=lambda row: ", ".join(row.trades)),
    Wanted(field="base_hours", heading="Base hours", kind="hours"),
    Wanted(field="condition_factor", heading="Condition factor", kind="number"),
    Wanted(field="hours", heading="Hours", kind="hours", total=True),
    Wanted(field="labour_cost", heading="Labour cost", kind="money", total=True),
    Wanted(field="recompute", heading="Plan", value=lambda row: "recompute" if row.recompute else ""),
    Wanted(field="causes", heading="For", value=lambda row: ", ".join(row.causes)),
)
_REELS = (
    Wanted(field="type", heading="Cable"),
    Wanted(field="description", heading="Description"),
    Wanted(field="counts", heading="Plan takes (recompute)", value=lambda row: _listed(row.counts)),
    Wanted(field="spare", heading="Spare"),
    Wanted(field="proven", heading="Proven least", value=lambda row: "yes" if row.proven else "no"),
    Wanted(field="cut_m", heading="Cut", kind="length", total=True),
    Wanted(field="remnant_m", heading="Left over", kind="length", total=True),
    Wanted(field="set_ups", heading="Set-ups", kind="count"),
    Wanted(
        field="percentage_count",
        heading="By percentage",
        value=lambda row: f"{row.percentage_count} × {row.percentage_stock}",
    ),
    Wanted(field="cost", heading="Cost", kind="money", total=True),
    Wanted(field="bound", heading="Least possible", kind="money", total=True),
)
_FINDINGS = (
    Wanted(field="number", heading="Number"),
    Wanted(field="severity", heading="Severity"),
    Wanted(field="rule", heading="Rule"),
    Wanted(field="where", heading="Where"),
    Wanted(field="place", heading="Place in the files"),
    Wanted(field="message", heading="What"),
    Wanted(field="value", heading="Value", kind="number"),
    Wanted(field="limit", heading="Limit", kind="number"),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="source", heading="Source"),
    Wanted(field="remedy", heading="What would fix it"),
    Wanted(field="accepted", heading="Accepted"),
)
_ASSUMPTIONS = (
    Wanted(field="number", heading="Number"),
    Wanted(field="title", heading="Assumption"),
    Wanted(field="subject", heading="About"),
    Wanted(field="value", heading="Value, SI", kind="number"),
    Wanted(field="source", heading="Source"),
    Wanted(field="path", heading="Where it would be written"),
)
_QUESTIONS = (
    Wanted(field="number", heading="Number"),
    Wanted(field="title", heading="Question"),
    Wanted(field="subject", heading="About"),
    Wanted(field="value", heading="Value meanwhile, SI", kind="number"),
    Wanted(field="place", heading="Place in the files"),
)
_WORKINGS = (
    Wanted(field="number", heading="Number"),
    Wanted(field="chapter", heading="Chapter"),
    Wanted(field="subject", heading="About"),
    Wanted(field="title", heading="What is calculated"),
    Wanted(field="equation", heading="Equation"),
    Wanted(field="substituted", heading="Numbers put in"),
    Wanted(field="result", heading="Result", kind="number"),
    Wanted(field="unit", heading="Unit"),
    Wanted(field="comparison", heading="Compared"),
    Wanted(field="limit", heading="Limit", kind="number"),
    Wanted(field="verdict", heading="Verdict"),
    Wanted(field="source", heading="Source"),
    Wanted(field="note", heading="Note"),
)
