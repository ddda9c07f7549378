"""A small complete document, built by hand, for the tests of everything that shows an edition.

Two storeys, two equipment rooms, two kinds of room, four rooms. Free-text fields hold what an unkind or
careless author could type. Nothing here was computed by the program; the sums were made by hand.
"""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from functools import cache

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow, CableTotal, RiserLine
from proposal.document.rows.equipment import DeviceRow, EquipmentLine
from proposal.document.rows.findings import AssumptionRow, FindingCount, FindingRow, QuestionRow, WorkingRow
from proposal.document.rows.latency import LatencyRow
from proposal.document.rows.pathways import ContentRow, NodeRow, PathwayRow, PullRow
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.document.rows.room_contents import (
    CarriedRow,
    DestinationRow,
    FlowEdge,
    FlowNode,
    MicrophoneRow,
    SizeRow,
)
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow, RoomSheet, StoreyRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.terms import Caution, Cover, DutyRow, Party, RevisionRow
from proposal.model.loading import standing_wording
from tests.sample_channels import (
    sample_channels,
    sample_controls,
    sample_day,
    sample_ends,
    sample_further_days,
    sample_line_loudspeakers,
    sample_lines,
    sample_mutes,
    sample_settings,
    sample_streams,
)
from tests.sample_network import (
    sample_hosts,
    sample_models,
    sample_questions,
    sample_switch_links,
    sample_uses,
    sample_vlans,
)
from tests.sample_price import labour_parts, price_parts
from tests.sample_programme import sample_activities, sample_crew_loads, sample_programme

SCRIPT = "<script>alert(1)</script>"
LINK = "[x](javascript:alert(1))"
TEMPLATE = "{{ cover.name }} {% raw %}"
PIPES = "a | b | c"
HEADING = "# not a heading"
STARS = "*not* **strong** _nor_ this"
HANDLER = '<img src=x onerror="alert(1)">'
HOSTILE = (SCRIPT, LINK, TEMPLATE, PIPES, HEADING, STARS, HANDLER)

CHAMBER, MEETING = "chamber", "meeting"
MEETING_ROOMS = ("B101", "B102", "B103")

CABLE, SPEAKER_CABLE = "NC-6A-24", "LC-14-2"
CABLE_NAME, SPEAKER_CABLE_NAME = "Category 6A, screened, 23 AWG", "Loudspeaker pair, 14 AWG"

MODELS = {
    "access point": ("Quillon", "QA-4", "Access point, 4 channels"),
    "charger": ("Quillon", "QC-8", "Charger, 8 slots"),
    "mixer": ("Tarnwick", "TM-16", "Automatic mixer, 16 inputs"),
    "breakout": ("Quillon", "QB-4", "Breakout, 4 outputs"),
    "amplifier": ("Tarnwick", "TA-2", "Amplifier, 2 channels"),
    "loudspeaker": ("Orrel", "OL-6", "Ceiling loudspeaker"),
    "switch": ("Halden & Voss", "HS-12P", "PoE switch, 12 ports"),
    "standby supply": ("Halden & Voss", "HU-1500", "Standby supply, 1500 VA"),
    "rack": ("Halden & Voss", "HR-24", "Rack, 24 units"),
    "patch panel": ("Halden & Voss", "HP-24", "Patch panel, 24 ports"),
}
UNIT_COST = {
    "QA-4": "1480.00",
    "QC-8": "690.00",
    "TM-16": "3120.50",
    "QB-4": "575.25",
    "TA-2": "880.00",
    "OL-6": "142.10",
    "HS-12P": "960.00",
    "HU-1500": "1210.00",
    "HR-24": "740.00",
    "HP-24": "98.40",
}
UNIT_LIST = {model: str(Decimal(cost) * 2) for model, cost in UNIT_COST.items()}
MAXIMUM_W = {"QA-4": 11.5, "QC-8": 24.0, "TM-16": 38.0, "QB-4": 6.2, "TA-2": 120.0, "HS-12P": 250.0}
POE_CLASS = {"QA-4": 3, "QC-8": 4, "QB-4": 2}
RACK_UNITS = {"mixer": 1, "amplifier": 1, "switch": 1, "standby supply": 2, "patch panel": 1}
WEIGHT_KG = {"QA-4": 0.9, "QC-8": 2.4, "TM-16": 3.1, "OL-6": 1.8, "HR-24": 38.0}


@cache
def words(locale: str) -> Mapping[str, str]:
    """Return the table of words that ships with the program."""
    return standing_wording().words.of_locale(locale)


def sample_document() -> Document:
    """Return the whole document, as the integrator's own house sees it."""
    return Document(
        words=words("en_GB"),
        program_version="0.0.0",
        cover=_cover(),
        wording={
            "summary": f"The council speaks **once a week**.\n\n{SCRIPT}\n\n- one\n- two {LINK}\n",
            "scope": "We deliver, install and commission what the schedules list.\n",
            "exclusions": f"# By others\n\nLine-voltage power. {TEMPLATE}\n\n{HANDLER}\n",
        },
        storeys=(
            StoreyRow(tag="L0", name="Ground floor", height_m=0.0, slab_to_slab_m=4.2),
            StoreyRow(tag="L1", name=f"First floor {PIPES}", height_m=4.2, slab_to_slab_m=3.8),
        ),
        equipment_rooms=(
            EquipmentRoomRow(
                tag="ER1", name="Equipment room, ground", storey="L0", at=(20.0, 4.0), racks=("ER1-RK1",)
            ),
            EquipmentRoomRow(
                tag="ER2", name="Equipment room, first", storey="L1", at=(20.0, 4.0), racks=("ER2-RK1",)
            ),
        ),
        room_sheets=(_chamber(), _meeting()),
        rooms=_rooms(),
        devices=_devices(),
        equipment=_equipment(),
        equipment_cost=sum((line.cost or Decimal(0) for line in _equipment()), Decimal(0)),
        riser_lines=_riser_lines(),
        cable_totals=(
            CableTotal(type=SPEAKER_CABLE, description=SPEAKER_CABLE_NAME, count=2, length_m=57.5),
            CableTotal(
                type=CABLE,
                description=CABLE_NAME,
                count=13,
                length_m=sum(cable.length_m for cable in _cables() if cable.type == CABLE),
            ),
        ),
        cables=_cables(),
        nodes=(
            NodeRow(tag="N1", kind="junction", storey="L0", at=(12.0, 4.0), height_m=3.6),
            NodeRow(tag="FB1", kind="floor box", storey="L0", at=(5.0, 4.0), height_m=0.0),
            NodeRow(tag="N2", kind="junction", storey="L0", at=(20.0, 4.0), height_m=3.6),
        ),
        pathways=_pathways(),
        channels=sample_channels(),
        streams=sample_streams(),
        audio_ends=sample_ends(),
        loudspeaker_lines=sample_lines(SPEAKER_CABLE),
        line_loudspeakers=sample_line_loudspeakers("OL-6"),
        latencies=_latencies(),
        settings=sample_settings(),
        controls=sample_controls(),
        pathway_contents=(
            ContentRow(pathway="C1", type=CABLE, signal="network", count=2, diameter_m=0.0071),
            ContentRow(pathway="T1", type=CABLE, signal="network", count=2, diameter_m=0.0071),
        ),
        pulls=(
            PullRow(
                conduits=("C1",),
                from_node="N1",
                to_node="FB1",
                cables=2,
                length_m=11.0,
                degrees=225.0,
                pull_points=0,
                wanted_points=1,
                worst_degrees=225.0,
                longest_m=11.0,
                tension_n=96.4,
                tension_limit_n=220.0,
                verdict="holds",
            ),
        ),
        switches=_switches(),
        ports=_ports(),
        switch_links=sample_switch_links(),
        vlans=sample_vlans(PIPES),
        network_hosts=sample_hosts(_devices()),
        network_uses=sample_uses(SCRIPT),
        network_models=sample_models(_devices(), LINK),
        network_questions=sample_questions(TEMPLATE),
        workings=_workings(),
        finding_count=FindingCount(errors=1, warnings=1, notes=1, accepted=1),
        findings=_findings(),
        assumptions=(
            AssumptionRow(
                number="A1",
                title="Slack at the device's end",
                subject="project",
                value=3.0,
                kind="length",
                source="common practice",
                path="project.yaml: rules.slack_device",
            ),
            AssumptionRow(
                number="A2",
                title="Temperature along the route",
                subject="building",
                value=40.0,
                kind="temperature",
                source="common practice",
                path="building.yaml: temperature",
            ),
            AssumptionRow(
                number="A3",
                title=f"Spare share of channels {STARS}",
                subject=MEETING,
                value=0.1,
                kind="fraction",
                source="editable default",
                path="project.yaml: rules.spare_share",
            ),
        ),
        questions=(
            QuestionRow(
                number="Q1",
                title="Height of the void above the ceiling",
                asked="How high is the void above the ceiling?",
                who="the architect",
                subject="L1",
                value=0.6,
                kind="length",
                used_by=("W3",),
                place="building.yaml:14",
            ),
            QuestionRow(
                number="Q2",
                title=f"Who furnishes the switches? {LINK}",
                asked=f"Do you furnish the switches? {LINK}",
                who="you",
                by=datetime.date(2026, 5, 4),
                subject="ER2-SW1",
                value="contractor",
                kind="",
                used_by=(),
                place="project.yaml:40",
            ),
        ),
        cautions=(
            Caution(title="Charging", text="Charge only the batteries that belong to the microphones."),
        ),
        work_cautions=(
            Caution(title="Work at height", text=f"Two people at a ladder above 2.5 m. {SCRIPT}"),
        ),
        scope=("Engineering, with working drawings.", f"Training. {HEADING}"),
        exclusions=("Line voltage and its outlets.",),
        standing_assumptions=("Rooms are clean, dry and can be locked.", f"Ceilings stay open. {STARS}"),
        parties=(("AV", "Audio-visual contractor"), ("IT", f"Owner's network team {PIPES}")),
        responsibilities=(
            DutyRow(about="Network switches", duties=(("furnish", "AV"), ("maintain", "IT"))),
            DutyRow(about=f"Accounts {SCRIPT}", duties=(("furnish", "IT"), ("maintain", ""))),
        ),
        sheets=(
            _sheet("R-01", "Riser, whole building", "riser overall", ""),
            _sheet("S-01", "Signal flow, council chamber", "signal flow", CHAMBER),
            _sheet("S-02", "Signal flow, meeting room", "signal flow", MEETING),
            _sheet("W-01", "Network", "network", ""),
            _sheet("B-01", "Meeting day, council chamber", "charge timeline", CHAMBER),
            _sheet("G-01", "Programme", "gantt chart", ""),
        ),
        detail_sheets=(
            _sheet("R-11", "Riser, ground floor", "riser detail", "L0", 1, 1, ("B001",)),
            _sheet("R-12", "Riser, first floor, part 1", "riser detail", "L1", 1, 2, ("B101", "B102")),
            _sheet("R-13", "Riser, first floor, part 2", "riser detail", "L1", 2, 2, ("B103",)),
        ),
        check_sheets=(_sheet("H-01", "Crew loading", "crew loading", ""),),
        programme=sample_programme(),
        activities=sample_activities(),
        crew_loads=sample_crew_loads(),
        **labour_parts(STARS),
        **price_parts(SCRIPT),
    )


def _sheet(
    number: str,
    title: str,
    kind: str,
    subject: str,
    part: int = 1,
    parts: int = 1,
    members: tuple[str, ...] = (),
) -> SheetRow:
    return SheetRow(
        number=number, title=title, kind=kind, subject=subject, part=part, parts=parts, members=members
    )


def _cover() -> Cover:
    return Cover(
        name="Council House <Example> & Annexe",
        number="P-0417",
        site="Council House, Example Town",
        client=Party(
            name="Example Town Council",
            contact=f"Facilities {STARS}",
            address=("1 Sample Street", f"Example Town {PIPES}"),
        ),
        integrator=Party(
            name="Invented Integrators",
            contact="Design office",
            address=("2 Made-up Road", "Example Town"),
        ),
        goals=("Every councillor is heard at every seat.", f"Nobody trips over a cable. {SCRIPT}", HEADING),
        revision=RevisionRow(
            identity="B",
            date=datetime.date(2026, 3, 16),
            purpose="For approval",
            prepared_by="A. Designer",
            checked_by="B. Checker",
            changes="Third meeting room added.",
        ),
        history=(
            RevisionRow(
                identity="A",
                date=datetime.date(2026, 2, 2),
                purpose="For comment",
                prepared_by="A. Designer",
                checked_by="B. Checker",
                changes=f"First issue. {TEMPLATE}",
            ),
        ),
        valid_until=datetime.date(2026, 6, 14),
        region="Europe, ten carriers",
        units="metric",
        locale="en_GB",
        currency="EUR",
        colour="#1f5f8b",
        logo="",
        internal_note=f"Council asked for a price below 80 000. {SCRIPT}",
    )


def _chamber() -> RoomSheet:
    microphones = tuple(
        MicrophoneRow(
            code=f"M{number}",
            form="gooseneck" if number <= 6 else "handheld",
            pattern="cardioid",
            at=(1.0 + number, 4.0),
            height_m=0.75 if number <= 6 else 1.35,
            seat=f"S{number} Councillor {number}" if number <= 6 else "",
            return_audio=number <= 6,
            mute_group="chair" if number == 1 else "floor",
            access_point="AP1" if number <= 4 else "AP2",
            model="QG-1" if number <= 6 else "QH-1",
        )
        for number in range(1, 9)
    )
    return RoomSheet(
        key=CHAMBER,
        title="Council chamber",
        use=f"Debates with a chair, voted minutes {LINK}",
        rooms=("B001",),
        outline=((0.0, 0.0), (12.0, 0.0), (12.0, 9.0), (0.0, 9.0)),
        area_m2=108.0,
        ceiling_height_m=3.6,
        ceiling_kind="perforated plasterboard",
        seats=tuple((f"S{number}", f"Councillor {number}", (1.0 + number, 4.2)) for number in range(1, 7)),
        furniture=((f"Table {PIPES}", ((1.0, 3.5), (8.0, 3.5), (8.0, 4.5), (1.0, 4.5))),),
        microphones=microphones,
        spare_microphones=(("gooseneck", 1),),
        surfaces=(("floor", "carpet"), ("ceiling", "perforated plasterboard"), ("walls", "plaster")),
        sessions=(("Morning sitting", 540, 720), ("Afternoon sitting", 810, 990)),
        sizes=(
            SizeRow(
                kind="access point",
                model="QA-4",
                description="Access point, 4 channels",
                quantity=2,
                capacity=4,
                need=8,
                spare=0,
                chosen_by="least cost",
            ),
            SizeRow(
                kind="charger",
                model="QC-8",
                description="Charger, 8 slots",
                quantity=2,
                capacity=8,
                need=16,
                spare=0,
                chosen_by="designer",
            ),
            SizeRow(
                kind="mixer",
                model="TM-16",
                description="Automatic mixer, 16 inputs",
                quantity=1,
                capacity=16,
                need=8,
                spare=8,
                chosen_by="least cost",
            ),
        ),
        carried=(
            CarriedRow(what="networked inputs", need=8, given=16),
            CarriedRow(what="analogue outputs", need=2, given=1),
        ),
        slots_needed=16,
        channels_needed=8,
        own_switch=False,
        output="mixer",
        destinations=(
            DestinationRow(code="D1", name=f"Loudspeakers {HANDLER}", signal="loudspeaker line", channels=2),
            DestinationRow(code="D2", name="Conference computer", signal="USB", channels=2),
        ),
        returns=(DestinationRow(code="R1", name="Far end", signal="USB", channels=1),),
        flow_nodes=(
            FlowNode(code="MICS1", kind="microphones", title="M1 to M4", lines=("4 goosenecks",)),
            FlowNode(
                code="MICS2", kind="microphones", title="M5 to M8", lines=("2 goosenecks", "2 handhelds")
            ),
            FlowNode(code="AP1", kind="access point", title="AP1", lines=("QA-4", "4 of 4 channels")),
            FlowNode(code="AP2", kind="access point", title="AP2", lines=("QA-4", "4 of 4 channels")),
            FlowNode(code="CH1", kind="charger", title="CH1", lines=("QC-8", "8 slots")),
            FlowNode(code="NET", kind="network", title="Network", lines=("ER1-SW1",)),
            FlowNode(code="MX1", kind="mixer", title="MX1", lines=("TM-16", "8 of 16 inputs")),
            FlowNode(code="AM1", kind="amplifier", title="AM1", lines=("TA-2",)),
            FlowNode(code="LS", kind="loudspeakers", title="LS1, LS2", lines=("OL-6",)),
            FlowNode(code="D2", kind="destination", title="Conference computer", lines=("USB, 2 channels",)),
            FlowNode(code="R1", kind="return", title=f"Far end {PIPES}", lines=("USB, 1 channel",)),
        ),
        flow_edges=(
            _flow("MICS1", "AP1", "radio", "4 channels"),
            _flow("MICS2", "AP2", "radio", "4 channels"),
            _flow("AP1", "NET", "networked audio", "4 channels, N1", cable="AP1/N1/ER1-RK1"),
            _flow("AP2", "NET", "networked audio", "4 channels, N1", cable="AP2/N1/ER1-RK1"),
            _flow("CH1", "NET", "network", "charge state, N1", cable="CH1/N1/ER1-RK1"),
            _flow("NET", "MX1", "networked audio", "8 channels"),
            _flow("MX1", "AM1", "analogue", "2 channels"),
            _flow("AM1", "LS", "loudspeaker line", "L1", cable="LS1/L1/ER1-RK1"),
            _flow("MX1", "D2", "USB", "2 channels"),
            _flow("R1", "MX1", "USB", "1 channel", returning=True),
            _flow("MX1", "NET", "networked audio", "return, 1 channel", returning=True),
            _flow("NET", "AP1", "networked audio", "return", returning=True),
        ),
        day=sample_day(),
        further_days=sample_further_days(),
        mutes=sample_mutes(),
        internal_note="Chairman dislikes table boxes.",
    )


def _flow(
    start: str, end: str, signal: str, label: str, *, returning: bool = False, cable: str = ""
) -> FlowEdge:
    return FlowEdge(start=start, end=end, signal=signal, label=label, returning=returning, cable=cable)


def _meeting() -> RoomSheet:
    return RoomSheet(
        key=MEETING,
        title="Meeting room",
        use="Discussions and calls",
        rooms=MEETING_ROOMS,
        outline=((0.0, 0.0), (6.0, 0.0), (6.0, 4.5), (0.0, 4.5)),
        area_m2=27.0,
        ceiling_height_m=2.8,
        ceiling_kind="mineral tile",
        seats=tuple((f"S{number}", "", (0.6 * number, 2.0)) for number in range(1, 9)),
        furniture=(("Table", ((1.0, 1.5), (5.0, 1.5), (5.0, 3.0), (1.0, 3.0))),),
        microphones=tuple(
            MicrophoneRow(
                code=f"M{number}",
                form="boundary",
                pattern="omnidirectional",
                at=(1.0 * number, 2.2),
                height_m=0.73,
                seat="",
                return_audio=False,
                mute_group="room",
                access_point="AP1",
                model="QT-1",
            )
            for number in range(1, 4)
        ),
        spare_microphones=(("boundary", 1),),
        surfaces=(("floor", "carpet"), ("ceiling", "mineral tile"), ("walls", "glass")),
        sessions=(("Working day", 540, 1020),),
        sizes=(
            SizeRow(
                kind="access point",
                model="QA-4",
                description="Access point, 4 channels",
                quantity=1,
                capacity=4,
                need=4,
                spare=0,
                chosen_by="least cost",
            ),
            SizeRow(
                kind="charger",
                model="QC-8",
                description="Charger, 8 slots",
                quantity=1,
                capacity=8,
                need=4,
                spare=4,
                chosen_by="least cost",
            ),
            SizeRow(
                kind="breakout",
                model="QB-4",
                description="Breakout, 4 outputs",
                quantity=1,
                capacity=4,
                need=3,
                spare=1,
                chosen_by="least cost",
            ),
        ),
        slots_needed=4,
        channels_needed=4,
        own_switch=False,
        output="breakout",
        destinations=(DestinationRow(code="D1", name="Conference bar", signal="analogue", channels=3),),
        returns=(),
        flow_nodes=(
            FlowNode(code="MICS1", kind="microphones", title="M1 to M3", lines=("3 boundaries",)),
            FlowNode(code="AP1", kind="access point", title="AP1", lines=("QA-4", "3 of 4 channels")),
            FlowNode(code="NET", kind="network", title="Network", lines=("ER2-SW1",)),
            FlowNode(code="BO1", kind="breakout", title="BO1", lines=("QB-4", "3 of 4 outputs")),
            FlowNode(code="D1", kind="destination", title="Conference bar", lines=("analogue, 3 channels",)),
        ),
        flow_edges=(
            _flow("MICS1", "AP1", "radio", "3 channels"),
            _flow("AP1", "NET", "networked audio", "3 channels, N1", cable="AP1/N1/ER2-RK1"),
            _flow("NET", "BO1", "networked audio", "3 channels, N1", cable="BO1/N1/ER2-RK1"),
            _flow("BO1", "D1", "analogue", "3 channels"),
        ),
        internal_note="",
    )


def _rooms() -> tuple[RoomRow, ...]:
    meeting = tuple(
        RoomRow(
            tag=tag,
            name=f"Meeting {number} {STARS}" if number == 1 else f"Meeting {number}",
            sheet=MEETING,
            type="Meeting room",
            storey="L1",
            equipment_room="ER2",
            origin=(6.0 * (number - 1), 10.0),
            outline=(
                (6.0 * (number - 1), 10.0),
                (6.0 * number, 10.0),
                (6.0 * number, 14.5),
                (6.0 * (number - 1), 14.5),
            ),
            seats=8,
            microphones=3,
            internal_note="Glass wall arrives late." if number == 2 else "",
        )
        for number, tag in enumerate(MEETING_ROOMS, start=1)
    )
    chamber = RoomRow(
        tag="B001",
        name=f"Council chamber {SCRIPT}",
        sheet=CHAMBER,
        type="Council chamber",
        storey="L0",
        equipment_room="ER1",
        origin=(0.0, 0.0),
        outline=((0.0, 0.0), (12.0, 0.0), (12.0, 9.0), (0.0, 9.0)),
        seats=6,
        microphones=8,
        internal_note="",
    )
    return (chamber, *meeting)


def _device(
    tag: str, kind: str, room: str, storey: str, location: str, number: int, switch_port: str = ""
) -> DeviceRow:
    maker, model, description = MODELS[kind]
    return DeviceRow(
        tag=tag,
        kind=kind,
        room=room,
        location=location,
        storey=storey,
        at=(2.0 + number, 3.0),
        height_m=2.8 if location == "ceiling" else 0.8,
        model=model,
        maker=maker,
        description=description,
        rack_units=RACK_UNITS.get(kind, 0),
        typical_w=MAXIMUM_W.get(model, 0.0) / 2,
        maximum_w=MAXIMUM_W.get(model, 0.0),
        poe_class=POE_CLASS.get(model),
        weight_kg=WEIGHT_KG.get(model, 1.0),
        furnished_by="contractor",
        lead_time_days=42,
        address=f"10.20.{1 if storey == 'L0' else 2}.{10 + number}" if switch_port else "",
        host=tag.lower() if switch_port else "",
        switch_port=switch_port,
        unit_cost=Decimal(UNIT_COST[model]),
        internal_note=f"Second hand would do. {SCRIPT}" if tag == "ER1-UP1" else "",
    )


def _devices() -> tuple[DeviceRow, ...]:
    rack1, rack2 = "ER1-RK1", "ER2-RK1"
    rows = [
        _device("B001-AM1", "amplifier", "B001", "L0", rack1, 1),
        _device("B001-AP1", "access point", "B001", "L0", "ceiling", 2, "ER1-SW1/1"),
        _device("B001-AP2", "access point", "B001", "L0", "ceiling", 3, "ER1-SW1/2"),
        _device("B001-CH1", "charger", "B001", "L0", "table", 4, "ER1-SW1/3"),
        _device("B001-CH2", "charger", "B001", "L0", "table", 5, "ER1-SW1/4"),
        _device("B001-LS1", "loudspeaker", "B001", "L0", "ceiling", 6),
        _device("B001-LS2", "loudspeaker", "B001", "L0", "ceiling", 7),
        _device("B001-MX1", "mixer", "B001", "L0", rack1, 8, "ER1-SW1/5"),
    ]
    for number, room in enumerate(MEETING_ROOMS):
        port = 3 * number + 1
        rows += [
            _device(f"{room}-AP1", "access point", room, "L1", "ceiling", 10 + port, f"ER2-SW1/{port}"),
            _device(f"{room}-BO1", "breakout", room, "L1", "table", 11 + port, f"ER2-SW1/{port + 1}"),
            _device(f"{room}-CH1", "charger", room, "L1", "table", 12 + port, f"ER2-SW1/{port + 2}"),
        ]
    rows += [
        _device("ER1-PP1", "patch panel", "ER1", "L0", rack1, 30),
        _device("ER1-RK1", "rack", "ER1", "L0", "floor", 31),
        _device("ER1-SW1", "switch", "ER1", "L0", rack1, 32),
        _device("ER1-UP1", "standby supply", "ER1", "L0", rack1, 33),
        _device("ER2-PP1", "patch panel", "ER2", "L1", rack2, 30),
        _device("ER2-RK1", "rack", "ER2", "L1", "floor", 31),
        _device("ER2-SW1", "switch", "ER2", "L1", rack2, 32),
    ]
    return tuple(rows)


def _equipment() -> tuple[EquipmentLine, ...]:
    lines = []
    for kind, (maker, model, description) in MODELS.items():
        rooms: dict[str, int] = {}
        for device in _devices():
            if device.model == model:
                rooms[device.room] = rooms.get(device.room, 0) + 1
        quantity = sum(rooms.values())
        lines.append(
            EquipmentLine(
                kind=kind,
                model=model,
                maker=maker,
                description=description,
                quantity=quantity,
                unit="each",
                rooms=tuple(sorted(rooms.items())),
                lead_time_days=42,
                unit_list=Decimal(UNIT_LIST[model]),
                unit_cost=Decimal(UNIT_COST[model]),
                cost=Decimal(UNIT_COST[model]) * quantity,
                internal_note="Ask for the project rate." if kind == "mixer" else "",
            )
        )
    return tuple(lines)


LENGTH_M = {
    "B001-AP1/N1/ER1-RK1": 31.5,
    "B001-AP2/N1/ER1-RK1": 35.0,
    "B001-CH1/N1/ER1-RK1": 28.0,
    "B001-CH2/N1/ER1-RK1": 29.5,
    "B101-AP1/N1/ER2-RK1": 44.0,
    "B101-BO1/N1/ER2-RK1": 41.0,
    "B101-CH1/N1/ER2-RK1": 42.0,
    "B102-AP1/N1/ER2-RK1": 61.5,
    "B102-BO1/N1/ER2-RK1": 58.0,
    "B102-CH1/N1/ER2-RK1": 59.0,
    "B103-AP1/N1/ER2-RK1": 91.25,
    "B103-BO1/N1/ER2-RK1": 83.0,
    "B103-CH1/N1/ER2-RK1": 84.5,
}
SPEAKER_LENGTH_M = {"B001-LS1/L1/ER1-RK1": 27.5, "B001-LS2/L1/ER1-RK1": 30.0}


def _cables() -> tuple[CableRow, ...]:
    rows = []
    for number, (identity, length_m) in enumerate(sorted(LENGTH_M.items()), start=1):
        device, port, end = identity.split("/")
        ground = end == "ER1-RK1"
        rows.append(
            CableRow(
                identity=identity,
                room=device.split("-")[0],
                signal="network",
                from_tag=device,
                from_port=port,
                from_connector="8P8C",
                to_tag=end,
                to_port=f"{end[:3]}-PP1 port {number if ground else number - 4}",
                to_connector="8P8C",
                type=CABLE,
                description=CABLE_NAME,
                jacket="plenum",
                route="ceiling void, riser" if ground else f"ceiling void {PIPES}",
                from_storey="L0" if ground else "L1",
                to_storey="L0" if ground else "L1",
                estimated_m=None if identity == "B101-AP1/N1/ER2-RK1" else length_m - 5.0,
                slack_m=None if identity == "B101-AP1/N1/ER2-RK1" else 5.0,
                measured=identity == "B101-AP1/N1/ER2-RK1",
                length_m=length_m,
                cords_m=6.0,
                channel_m=length_m + 6.0,
                limit_m=88.0,
                margin_m=88.0 - length_m,
                temperature_c=40.0,
                verdict="holds" if length_m <= 88.0 else "fails",
            )
        )
    for number, (identity, length_m) in enumerate(sorted(SPEAKER_LENGTH_M.items()), start=1):
        device, port, end = identity.split("/")
        rows.append(
            CableRow(
                identity=identity,
                room="B001",
                signal="loudspeaker line",
                from_tag=device,
                from_port=port,
                from_connector="bare ends",
                to_tag=end,
                to_port=f"B001-AM1 output {number}",
                to_connector="screw terminal",
                type=SPEAKER_CABLE,
                description=SPEAKER_CABLE_NAME,
                jacket="plenum",
                route="ceiling void",
                from_storey="L0",
                to_storey="L0",
                estimated_m=length_m - 5.0,
                slack_m=5.0,
                measured=False,
                length_m=length_m,
                cords_m=None,
                channel_m=None,
                limit_m=None,
                margin_m=None,
                temperature_c=None,
                verdict="",
            )
        )
    return tuple(sorted(rows, key=lambda row: row.identity))


def _pathways() -> tuple[PathwayRow, ...]:
    cables = ("B001-AP1/N1/ER1-RK1", "B001-CH1/N1/ER1-RK1")
    return (
        PathwayRow(
            tag="C1",
            kind="conduit",
            from_node="N1",
            to_node="FB1",
            from_storey="L0",
            to_storey="L0",
            space=f"Screed {PIPES}",
            temperature_c=22.0,
            length_m=11.0,
            size="1",
            chosen=True,
            internal_diameter_m=0.0266,
            cables=cables,
            powered=1,
            tied=2,
            rise_k=1.37,
            fill=0.1424,
            limit=0.31,
            spare=1,
            bends=(90.0, 90.0, 45.0),
            radius_m=0.146,
            pull_points=0,
            verdict="holds",
        ),
        PathwayRow(
            tag="T1",
            kind="tray",
            from_node="N1",
            to_node="N2",
            from_storey="L0",
            to_storey="L0",
            space="Ceiling void",
            temperature_c=40.0,
            length_m=8.0,
            width_m=0.1,
            depth_m=0.054,
            cables=cables,
            powered=1,
            tied=2,
            rise_k=0.83,
            fill=0.0147,
            limit=0.5,
            spare=66,
            verdict="holds",
        ),
    )


def _riser_lines() -> tuple[RiserLine, ...]:
    lines = [
        RiserLine(
            room="B001",
            end="ER1",
            signal="loudspeaker line",
            description=SPEAKER_CABLE_NAME,
            count=2,
            shortest_m=27.5,
            longest_m=30.0,
        )
    ]
    for room, end in (("B001", "ER1"), ("B101", "ER2"), ("B102", "ER2"), ("B103", "ER2")):
        lengths = [length for identity, length in LENGTH_M.items() if identity.startswith(room)]
        lines.append(
            RiserLine(
                room=room,
                end=end,
                signal="network",
                description=CABLE_NAME,
                count=len(lengths),
                shortest_m=min(lengths),
                longest_m=max(lengths),
            )
        )
    return tuple(lines)


POWER_W = {"AP": (15.4, 11.9), "CH": (30.0, 25.6), "BO": (7.0, 6.3)}
CLASS = {"AP": 3, "CH": 4, "BO": 2}


def _ports() -> tuple[PortRow, ...]:
    rows = []
    for switch, last in (("ER1-SW1", 10), ("ER2-SW1", 12)):
        for port in range(1, last + 1):
            device = next((row for row in _devices() if row.switch_port == f"{switch}/{port}"), None)
            if device is None:
                rows.append(PortRow(switch=switch, port=str(port)))
                continue
            code = device.tag.split("-")[1][:2]
            powered = code in POWER_W
            rows.append(
                PortRow(
                    switch=switch,
                    port=str(port),
                    device=device.tag,
                    cable=f"{device.tag}/N1/{switch[:3]}-RK1" if powered else "",
                    vlan=120,
                    poe_class=CLASS.get(code),
                    allocated_w=POWER_W[code][0] if powered else 0.0,
                    drawn_w=POWER_W[code][1] if powered else 0.0,
                    loop_ohm=6.4 if powered else None,
                    device_v=50.1 if powered else None,
                    least_v=37.0 if powered else None,
                    priority={"AP": 1, "CH": 3}.get(code, 2),
                    pairs=2 if powered else None,
                    allowed_w=12.95 if powered else None,
                    device_w=12.25 if powered else None,
                    loss_w=0.625 if powered else None,
                    place_in_drop=port if powered else None,
                    verdict="holds" if powered else "",
                )
            )
    return tuple(rows)


def _latencies() -> tuple[LatencyRow, ...]:
    return (
        LatencyRow(
            spoken_in=CHAMBER,
            rooms=("B001",),
            model="HS-AP8",
            listener="loudspeakers, zone gallery",
            verdict="fails",
            total_s=0.0211,
            limit_s=0.02,
            microphone_s=0.0006,
            radio_s=0.0112,
            access_point_s=0.0013,
            network_s=0.0023,
            mixing_s=0.0037,
            amplifier_s=0.0021,
            largest="radio link",
            way=("B001-M1", "B001-AP1", "ER1-SW1", "loudspeakers, zone gallery"),
        ),
        LatencyRow(
            spoken_in="B101",
            rooms=("B101",),
            heard_in="B102",
            states=("divided",),
            model="HS-AP8",
            listener="recorder",
            verdict="open",
            total_s=0.0131,
            limit_s=0.05,
            radio_s=0.0112,
            largest="radio link",
            unknown=("microphone B101-M1: ask the maker of HS-AP8",),
            way=("B101-M1", "B101-AP1", "recorder"),
        ),
    )


def _switches() -> tuple[SwitchRow, ...]:
    return (
        SwitchRow(
            tag="ER1-SW1",
            model="HS-12P",
            ports=10,
            used=5,
            spare=5,
            spare_wanted=2,
            budget_w=180.0,
            usable_w=144.0,
            allocated_w=90.8,
            drawn_w=75.0,
            drops_first=("B001-CH2", "B001-CH1"),
            worst_port="ER1-SW1/1",
            worst_spare_v=4.75,
            supplies=1,
            left_w=0.0,
            drops_then=("B001-CH2", "B001-CH1"),
            verdict="holds",
        ),
        SwitchRow(
            tag="ER2-SW1",
            model="HS-12P",
            ports=12,
            used=9,
            spare=3,
            spare_wanted=2,
            budget_w=180.0,
            usable_w=144.0,
            allocated_w=157.2,
            drawn_w=131.4,
            drops_first=("B103-CH1", "B102-CH1", "B101-CH1"),
            worst_port="ER2-SW1/3",
            worst_spare_v=3.25,
            supplies=2,
            left_w=92.5,
            drops_then=("B103-CH1", "B102-CH1"),
            verdict="fails",
        ),
    )


def _workings() -> tuple[WorkingRow, ...]:
    return (
        WorkingRow(
            number="W1",
            chapter="Sizing",
            subject=CHAMBER,
            title="Charge slots needed",
            equation="n = 2·g + h",
            substituted="n = 2·7 + 2",
            values=(("g", "goosenecks with spares", 7.0, "-"), ("h", "handhelds", 2.0, "-")),
            result=16.0,
            unit="-",
            limit=16.0,
            comparison="≤",
            verdict="holds",
            source="common practice",
            assumptions=("A3",),
            questions=(),
            note="",
        ),
        WorkingRow(
            number="W2",
            chapter="Cabling",
            subject="B103-AP1/N1/ER2-RK1",
            title="Length of the permanent link against its limit",
            equation="L = l + s",
            substituted="L = 86.25 m + 5 m",
            values=(("l", "routed length", 86.25, "m"), ("s", "slack at both ends", 5.0, "m")),
            result=91.25,
            unit="m",
            limit=88.0,
            comparison="≤",
            verdict="fails",
            source="ANSI/TIA-568.2-D, 6.4 (memory)",
            assumptions=("A1", "A2"),
            questions=(),
            note=f"Derated for 40 °C. {PIPES}",
        ),
        WorkingRow(
            number="W3",
            chapter="Cabling",
            subject="B101-CH1/N1/ER2-RK1",
            title="Routed length",
            equation="l = x + y + 2·v",
            substituted="l = 24 m + 11.8 m + 2·0.6 m",
            values=(("x", "east-west run", 24.0, "m"), ("v", "height of the void", 0.6, "m")),
            result=37.0,
            unit="m",
            limit=None,
            comparison="",
            verdict="",
            source="",
            assumptions=(),
            questions=("Q1",),
            note="Uses a value that is still to be found out.",
        ),
        WorkingRow(
            number="W4",
            chapter="Power",
            subject="ER2-SW1/3",
            title="Voltage at the device",
            equation="U = (V + √(V² − 4·R·P))/2",
            substituted="U = (50 + √(50² − 4·7.454·11.6))/2",
            values=(
                ("V", "voltage at the source", 50.0, "V"),
                ("R", "loop resistance", 7.454, "Ω"),
                ("P", "power of the device", 11.6, "W"),
            ),
            result=48.2063,
            unit="V",
            limit=37.0,
            comparison="≥",
            verdict="holds",
            source="Ohm's law for a load of constant power",
            assumptions=("A1", "A2", "A3"),
            questions=("Q1",),
            note="",
        ),
        WorkingRow(
            number="W5",
            chapter="Power",
            subject="ER2-SW1",
            title="Power set aside on the switch",
            equation="P = sum(P_i)",
            substituted="P = 15.4 W + 7 W + 30 W + … (9 terms)",
            values=(("P_i", "power by class", 157.2, "W"),),
            result=157.2,
            unit="W",
            limit=144.0,
            comparison="≤",
            verdict="fails",
            source="IEEE 802.3-2018, 33.2 (memory)",
            assumptions=(),
            questions=(),
            note="",
        ),
    )


def _findings() -> tuple[FindingRow, ...]:
    return (
        FindingRow(
            number="F1",
            rule="link-too-long",
            severity="error",
            where="B103-AP1/N1/ER2-RK1",
            place="rooms.csv:5",
            message=f"The cable is longer than its limit. {SCRIPT} {PIPES}",
            value=91.25,
            limit=88.0,
            unit="m",
            source="ANSI/TIA-568.2-D, 6.4 (memory)",
            remedy="Move the equipment room or the access point.",
            accepted="",
        ),
        FindingRow(
            number="F2",
            rule="switch-budget",
            severity="error",
            where="ER2-SW1",
            place="building.yaml:22",
            message="More power is set aside than the switch may give.",
            value=157.2,
            limit=144.0,
            unit="W",
            source="common practice",
            remedy="Choose a switch with a larger budget.",
            accepted=f"Budget is raised by the owner's IT. {LINK} (B. Checker, 12 March 2026)",
        ),
        FindingRow(
            number="F3",
            rule="no-spare-channel",
            severity="warning",
            where=CHAMBER,
            place="room_types/chamber.yaml:3",
            message="No channel is left for one microphone more.",
            value=0.0,
            limit=1.0,
            unit="",
            source="common practice",
            remedy="Add an access point.",
            accepted="",
        ),
        FindingRow(
            number="F4",
            rule="glass-wall",
            severity="note",
            where="B102",
            place="rooms.csv:4",
            message=f"Glass next to the access point. {HEADING}",
            value=None,
            limit=None,
            unit="",
            source="",
            remedy="",
            accepted="",
        ),
    )
