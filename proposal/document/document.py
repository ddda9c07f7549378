"""The document: all that a proposal says, before anybody's edition of it is made."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.alternates import AlternateRow
from proposal.document.rows.cable_types import CableTypeRow
from proposal.document.rows.cabling import CableRow, CableTotal, RiserLine
from proposal.document.rows.client_steps import ClientStepRow, client_steps
from proposal.document.rows.contained_sound import ContainedSoundRow
from proposal.document.rows.disclosure import DisclosureRow
from proposal.document.rows.equipment import DeviceRow, EquipmentLine
from proposal.document.rows.findings import AssumptionRow, FindingCount, FindingRow, QuestionRow, WorkingRow
from proposal.document.rows.labour import (
    ConditionRow,
    LabourRow,
    OvertimeRow,
    PhaseHours,
    RoomHours,
    SystemHours,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.document.rows.latency import LatencyRow
from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow, LoudspeakerLineRow
from proposal.document.rows.mains import CircuitRow, EnergyRow, MainsLoadRow, MainsOutletRow
from proposal.document.rows.network import (
    NetworkHostRow,
    NetworkModelRow,
    NetworkQuestionRow,
    NetworkUseRow,
    SwitchTrafficRow,
    VlanRow,
)
from proposal.document.rows.owner_equipment import OwnerEquipmentRow, OwnerJoinRow
from proposal.document.rows.pack_life import PackLifeRow
from proposal.document.rows.patch_table import PatchRow
from proposal.document.rows.pathways import ContentRow, NodeRow, PathwayRow, PenetrationRow, PullRow
from proposal.document.rows.plain_warnings import PlainWarningRow
from proposal.document.rows.portable_sets import PortableLinkRow, PortableSetRow, PortableUseRow
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.document.rows.price import (
    ExchangeRow,
    GroupPrice,
    OfferRow,
    PaymentRow,
    PhasePrice,
    PriceTotal,
    RoomPrice,
    SystemPrice,
    TaxRow,
    UnitPriceRow,
    YearlyRow,
)
from proposal.document.rows.price_build_up import CashRow, PriceLineRow, SurchargeRow, UnitCostRow
from proposal.document.rows.price_inputs import PriceInputRow
from proposal.document.rows.programme import (
    ActivityRow,
    CrewDayRow,
    CrewLoadRow,
    CrewWeekRow,
    ProgrammeSummary,
    crew_days,
    crew_weeks,
)
from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.document.rows.radio import (
    DisturbanceRow,
    FurtherRow,
    LeverRow,
    MarginRow,
    NeighbourhoodRow,
    OverfullRow,
    RadioCaseRow,
    RadioMoveRow,
    RadioPlaceRow,
    RadioStateRow,
    RadioSummary,
)
from proposal.document.rows.requirements import (
    RequirementAnswerRow,
    RequirementCount,
    RequirementRow,
    requirement_count,
)
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow, RoomSheet, StoreyRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.sound import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow
from proposal.document.rows.standby import PowerPathRow, RoomWithoutMainsRow, StandbySupplyRow
from proposal.document.rows.states import JoinedSoundRow, StateRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.document.rows.takeoff import PurchaseRow, ReelOrderRow, TakeoffRow
from proposal.document.rows.terms import Caution, ContractTermRow, Cover, DutyRow
from proposal.document.schedule import (
    ALL,
    BUYERS,
    CHECKERS,
    HOUSE,
    NOT_CLIENT,
    NOT_INSTALLER,
    Row,
    Schedule,
    Shows,
    composed,
)

SCHEMA_VERSION = 3


class Document(Row):
    """All that a proposal says; an edition shows a part of it."""

    schedule: ClassVar = Schedule("document", subject="terms")

    schema_version: Annotated[int, Shows("schema_version", ALL, "number")] = Field(
        default=SCHEMA_VERSION, description="Version of this layout."
    )
    program_version: Annotated[str, Shows("program_version", ALL)] = Field(
        description="Version of the program that computed it."
    )
    cover: Annotated[Cover, Shows("cover", ALL, "rows")] = Field(description="Cover.")
    included_alternates: Annotated[tuple[AlternateRow, ...], Shows("included_alternates", ALL, "rows")] = (
        Field(
            default=(), description="Alternates that are accepted and part of this, in order of application."
        )
    )
    words: Annotated[Mapping[str, str], Shows("words", ALL)] = Field(
        default={}, description="Words of headings and coded values, by section and key."
    )
    wording: Annotated[Mapping[str, str], Shows("wording", ALL)] = Field(
        description="The author's prose in Markdown, by name."
    )
    storeys: Annotated[tuple[StoreyRow, ...], Shows("storeys", ALL, "rows")] = Field(
        description="Storeys, lowest first."
    )
    equipment_rooms: Annotated[tuple[EquipmentRoomRow, ...], Shows("equipment_rooms", ALL, "rows")] = Field(
        description="Equipment rooms by tag."
    )
    room_sheets: Annotated[tuple[RoomSheet, ...], Shows("room_sheets", ALL, "rows")] = Field(
        description="Kinds of room as designed."
    )
    rooms: Annotated[tuple[RoomRow, ...], Shows("rooms", ALL, "rows")] = Field(description="Rooms by tag.")
    states: Annotated[tuple[StateRow, ...], Shows("states", ALL, "rows")] = Field(
        default=(), description="States in which the building is used, in the order written."
    )
    joined_sound: Annotated[tuple[JoinedSoundRow, ...], Shows("joined_sound", NOT_CLIENT, "rows")] = Field(
        default=(), description="The ways of sound between joined rooms, state by state."
    )
    latencies: Annotated[
        tuple[LatencyRow, ...], Shows("delay_of_sound", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="How long sound takes from microphones to those who listen.")
    contained_sound: Annotated[tuple[ContainedSoundRow, ...], Shows("contained_sound", ALL, "rows")] = Field(
        default=(), description="Rooms whose sound may not leave them."
    )
    portable_sets: Annotated[tuple[PortableSetRow, ...], Shows("portable_sets", ALL, "rows")] = Field(
        default=(), description="Portable sets by tag; none where the building has none."
    )
    portable_uses: Annotated[tuple[PortableUseRow, ...], Shows("portable_uses", ALL, "rows")] = Field(
        default=(), description="Where each portable set is used in which states."
    )
    portable_links: Annotated[tuple[PortableLinkRow, ...], Shows("portable_links", NOT_CLIENT, "rows")] = (
        Field(default=(), description="The link of each portable microphone in each place.")
    )
    devices: Annotated[tuple[DeviceRow, ...], Shows("equipment_by_device", ALL, "rows")] = Field(
        description="Devices by tag."
    )
    owner_equipment: Annotated[tuple[OwnerEquipmentRow, ...], Shows("owner_equipment", ALL, "rows")] = Field(
        default=(), description="Equipment of the owner by tag, with what it needs."
    )
    owner_joins: Annotated[
        tuple[OwnerJoinRow, ...], Shows("owner_joins", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Ports of the owner's equipment, and what they are joined to.")
    equipment: Annotated[
        tuple[EquipmentLine, ...], Shows("equipment_by_model", ALL, "rows", follows=True)
    ] = Field(description="Devices by model.")
    pack_lives: Annotated[
        tuple[PackLifeRow, ...], Shows("packs_over_the_years", ALL, "rows", follows=True)
    ] = Field(default=(), description="Packs of microphones over the years.")
    equipment_cost: Annotated[Decimal | None, Shows("equipment_cost", HOUSE, "money", subject="price")] = (
        Field(default=None, description="What all equipment costs us.")
    )
    takeoff: Annotated[tuple[TakeoffRow, ...], Shows("take_off", NOT_CLIENT, "rows")] = Field(
        default=(), description="Lines of the take-off."
    )
    purchases: Annotated[tuple[PurchaseRow, ...], Shows("what_is_bought", NOT_CLIENT, "rows")] = Field(
        default=(), description="What is bought besides devices, in wholes."
    )
    reel_orders: Annotated[tuple[ReelOrderRow, ...], Shows("reels_to_order", NOT_CLIENT, "rows")] = Field(
        default=(), description="Reels to order, by type of cable."
    )
    materials_cost: Annotated[Decimal | None, Shows("materials_cost", HOUSE, "money", subject="price")] = (
        Field(default=None, description="What all lines of the take-off cost us, equipment included.")
    )
    labour: Annotated[tuple[LabourRow, ...], Shows("labour", CHECKERS, "rows")] = Field(
        default=(), description="Labour, line by line."
    )
    labour_summary: Annotated[
        tuple[TradeHoursRow, ...], Shows("labour_summary", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="Hours by phase and trade, as they are charged.")
    overtime: Annotated[tuple[OvertimeRow, ...], Shows("overtime", CHECKERS, "rows", follows=True)] = Field(
        default=(), description="Work outside normal working time, by what it is, phase and trade."
    )
    travel: Annotated[tuple[TravelRow, ...], Shows("travel", CHECKERS, "rows")] = Field(
        default=(), description="Coming to site, by trade."
    )
    trades: Annotated[tuple[TradeRow, ...], Shows("trades", CHECKERS, "rows")] = Field(
        default=(), description="Trades, and what they charge."
    )
    hours_by_room: Annotated[
        tuple[RoomHours, ...], Shows("hours_by_room", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="All hours by room.")
    hours_by_system: Annotated[
        tuple[SystemHours, ...], Shows("hours_by_system", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="All hours by system.")
    hours_by_phase: Annotated[
        tuple[PhaseHours, ...], Shows("hours_by_phase", CHECKERS, "rows", follows=True)
    ] = Field(default=(), description="All hours by phase.")
    labour_conditions: Annotated[tuple[ConditionRow, ...], Shows("labour_conditions", CHECKERS, "rows")] = (
        Field(default=(), description="What makes work slower or quicker.")
    )
    labour_hours: Annotated[
        Decimal | None, Shows("labour_travel_included", CHECKERS, "hours", subject="labour")
    ] = Field(default=None, description="All hours charged, travel included, h.")
    price_wording: Annotated[str, Shows("price_wording", BUYERS, subject="price")] = Field(
        default="", description="The author's prose about the price in Markdown, wording/price.md."
    )
    price: Annotated[PriceTotal | None, Shows("the_whole_price", BUYERS, "rows")] = Field(
        default=None, description="The whole price."
    )
    offer: Annotated[tuple[OfferRow, ...], Shows("what_the_price_contains", BUYERS, "rows")] = Field(
        default=(), description="What the price contains, as finely as the client reads it, by room."
    )
    room_prices: Annotated[tuple[RoomPrice, ...], Shows("room_prices", HOUSE, "rows", follows=True)] = Field(
        default=(), description="The price of what each room takes, by room."
    )
    system_prices: Annotated[tuple[SystemPrice, ...], Shows("system_prices", HOUSE, "rows", follows=True)] = (
        Field(default=(), description="The same by system.")
    )
    phase_prices: Annotated[tuple[PhasePrice, ...], Shows("phase_prices", HOUSE, "rows", follows=True)] = (
        Field(default=(), description="The same by phase.")
    )
    group_prices: Annotated[tuple[GroupPrice, ...], Shows("group_prices", HOUSE, "rows", follows=True)] = (
        Field(default=(), description="The same by equipment, materials, labour, travel and what is added.")
    )
    taxes: Annotated[tuple[TaxRow, ...], Shows("taxes", BUYERS, "rows")] = Field(
        default=(), description="Taxes by place and kind."
    )
    payments: Annotated[tuple[PaymentRow, ...], Shows("payments", BUYERS, "rows")] = Field(
        default=(), description="Payments in order."
    )
    unit_prices: Annotated[tuple[UnitPriceRow, ...], Shows("unit_prices", BUYERS, "rows", follows=True)] = (
        Field(default=(), description="What further things are charged for, where it is stated.")
    )
    unit_costs: Annotated[tuple[UnitCostRow, ...], Shows("unit_prices_by_rule", HOUSE, "rows")] = Field(
        default=(), description="What further things come to by the proposal's own rules."
    )
    yearly: Annotated[tuple[YearlyRow, ...], Shows("each_year", BUYERS, "rows")] = Field(
        default=(), description="What recurs each year and is not in the price."
    )
    exchange_rates: Annotated[tuple[ExchangeRow, ...], Shows("exchange_rates", BUYERS, "rows")] = Field(
        default=(), description="Exchange rates that the price rests on."
    )
    price_lines: Annotated[tuple[PriceLineRow, ...], Shows("price_build_up", HOUSE, "rows")] = Field(
        default=(), description="How every line's price is built up."
    )
    price_inputs: Annotated[tuple[PriceInputRow, ...], Shows("inputs_of_the_price", HOUSE, "rows")] = Field(
        default=(), description="Every figure that the price rests on, as it is written."
    )
    surcharges: Annotated[tuple[SurchargeRow, ...], Shows("surcharges", HOUSE, "rows")] = Field(
        default=(), description="What is added on top, as lines or in them."
    )
    cash_flow: Annotated[tuple[CashRow, ...], Shows("cash_flow", HOUSE, "rows", follows=True)] = Field(
        default=(), description="Money in and out, in order of days."
    )
    disclosure: Annotated[tuple[DisclosureRow, ...], Shows("open_to_the_client", HOUSE, "rows")] = Field(
        default=(), description="How far costs, margins and hours stay open to a client."
    )
    house_findings: Annotated[tuple[FindingRow, ...], Shows("findings_of_the_price", HOUSE, "rows")] = Field(
        default=(), description="Findings about the price, errors first."
    )
    riser_lines: Annotated[tuple[RiserLine, ...], Shows("riser_lines", ALL, "rows", follows=True)] = Field(
        description="Cables by room and type."
    )
    cable_totals: Annotated[tuple[CableTotal, ...], Shows("cable_by_type", ALL, "rows", follows=True)] = (
        Field(description="Cables by type.")
    )
    cable_types: Annotated[tuple[CableTypeRow, ...], Shows("cable_types", NOT_CLIENT, "rows")] = Field(
        default=(), description="Types of cable and cord by model."
    )
    cables: Annotated[tuple[CableRow, ...], Shows("cable_schedule", NOT_CLIENT, "rows")] = Field(
        default=(), description="Cables by identity."
    )
    switches: Annotated[tuple[SwitchRow, ...], Shows("switches", NOT_CLIENT, "rows")] = Field(
        default=(), description="Switches by tag."
    )
    nodes: Annotated[tuple[NodeRow, ...], Shows("nodes", NOT_CLIENT, "rows")] = Field(
        default=(), description="Nodes of pathways by tag."
    )
    pathways: Annotated[tuple[PathwayRow, ...], Shows("pathways", NOT_CLIENT, "rows")] = Field(
        default=(), description="Pathways by tag."
    )
    pathway_contents: Annotated[
        tuple[ContentRow, ...], Shows("contents_of_pathways", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Cables of each type in each pathway.")
    penetrations: Annotated[tuple[PenetrationRow, ...], Shows("openings_to_close", ALL, "rows")] = Field(
        default=(), description="Openings through rated walls and floors."
    )
    pulls: Annotated[tuple[PullRow, ...], Shows("pulls_through_conduits", NOT_CLIENT, "rows")] = Field(
        default=(), description="Conduits as cables are pulled through them."
    )
    switch_links: Annotated[tuple[SwitchLinkRow, ...], Shows("links_between_switches", ALL, "rows")] = Field(
        default=(), description="Links between switches, by the farther switch."
    )
    vlans: Annotated[tuple[VlanRow, ...], Shows("vlans", ALL, "rows", follows=True)] = Field(
        default=(), description="VLANs that the system uses, that of audio first."
    )
    network_hosts: Annotated[
        tuple[NetworkHostRow, ...], Shows("devices_on_the_network", ALL, "rows", follows=True)
    ] = Field(default=(), description="Everything on the network by tag, with what it sends and takes.")
    switch_traffic: Annotated[
        tuple[SwitchTrafficRow, ...], Shows("traffic_of_switches", ALL, "rows", follows=True)
    ] = Field(default=(), description="What passes each switch, and what it has to hold.")
    network_uses: Annotated[tuple[NetworkUseRow, ...], Shows("to_be_opened", ALL, "rows", follows=True)] = (
        Field(default=(), description="Uses of the network, and what has to be opened for them.")
    )
    network_models: Annotated[
        tuple[NetworkModelRow, ...], Shows("models_on_the_network", ALL, "rows", follows=True)
    ] = Field(default=(), description="Models on the network: how they are found and kept.")
    network_questions: Annotated[
        tuple[NetworkQuestionRow, ...], Shows("questions_about_the_network", ALL, "rows", follows=True)
    ] = Field(default=(), description="What network people and makers are to be asked.")
    patches: Annotated[tuple[PatchRow, ...], Shows("patch_table", NOT_CLIENT, "rows", follows=True)] = Field(
        default=(), description="Joins of the network from end to end, by identity."
    )
    racks: Annotated[tuple[RackRow, ...], Shows("racks", NOT_CLIENT, "rows")] = Field(
        default=(), description="Racks by tag."
    )
    rack_places: Annotated[
        tuple[RackPlaceRow, ...], Shows("rack_places", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="What stands in each rack, from above downwards.")
    circuits: Annotated[tuple[CircuitRow, ...], Shows("load_schedule", ALL, "rows", follows=True)] = Field(
        default=(), description="Mains circuits by place."
    )
    mains_outlets: Annotated[
        tuple[MainsOutletRow, ...], Shows("mains_outlets", ALL, "rows", follows=True)
    ] = Field(default=(), description="Mains outlets by circuit.")
    mains_loads: Annotated[tuple[MainsLoadRow, ...], Shows("mains_loads", ALL, "rows", follows=True)] = Field(
        default=(), description="What every device takes from the mains, by name."
    )
    standby_supplies: Annotated[
        tuple[StandbySupplyRow, ...], Shows("standby_supplies", ALL, "rows", follows=True)
    ] = Field(default=(), description="Standby supplies by tag.")
    rooms_without_mains: Annotated[
        tuple[RoomWithoutMainsRow, ...], Shows("rooms_without_mains", ALL, "rows", follows=True)
    ] = Field(default=(), description="What every room keeps when the mains fails, where anything does.")
    power_paths: Annotated[tuple[PowerPathRow, ...], Shows("power_paths", ALL, "rows", follows=True)] = Field(
        default=(),
        description="What feeds devices that are not plugged into the mains, where any stays up.",
    )
    energy: Annotated[tuple[EnergyRow, ...], Shows("energy_and_heat", ALL, "rows", follows=True)] = Field(
        default=(), description="Energy in a year and heat by room and equipment room."
    )
    ports: Annotated[tuple[PortRow, ...], Shows("switch_ports", NOT_CLIENT, "rows")] = Field(
        default=(), description="Switch ports in order."
    )
    channels: Annotated[tuple[ChannelRow, ...], Shows("channel_list", NOT_CLIENT, "rows")] = Field(
        default=(), description="Microphones and the way of their sound, by room."
    )
    streams: Annotated[tuple[StreamRow, ...], Shows("streams_of_networked_audio", NOT_CLIENT, "rows")] = (
        Field(default=(), description="Streams of networked audio by number.")
    )
    audio_ends: Annotated[tuple[AudioEndRow, ...], Shows("inputs_and_outputs", NOT_CLIENT, "rows")] = Field(
        default=(), description="Inputs and outputs of mixers and breakouts beside the microphones'."
    )
    loudspeaker_lines: Annotated[
        tuple[LoudspeakerLineRow, ...], Shows("loudspeaker_lines", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Loudspeaker lines by room and channel.")
    line_loudspeakers: Annotated[
        tuple[LineLoudspeakerRow, ...], Shows("line_loudspeakers", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Loudspeakers on lines, from the amplifier on.")
    settings: Annotated[tuple[SettingRow, ...], Shows("configuration_sheets", NOT_CLIENT, "rows")] = Field(
        default=(), description="Configuration sheets, in the order of the work."
    )
    controls: Annotated[tuple[ControlRow, ...], Shows("control_points", NOT_CLIENT, "rows")] = Field(
        default=(), description="What a control system can read or set, by device."
    )
    radio: Annotated[RadioSummary | None, Shows("radio_as_a_whole", ALL, "rows")] = Field(
        default=None, description="What came of radio; nothing where no microphone is linked."
    )
    overfull: Annotated[tuple[OverfullRow, ...], Shows("rooms_too_full", ALL, "rows")] = Field(
        default=(), description="Rooms that together want more of the air than there is."
    )
    levers: Annotated[tuple[LeverRow, ...], Shows("what_would_help", ALL, "rows")] = Field(
        default=(), description="What would help where not all find a place on the air, most helpful first."
    )
    margins: Annotated[tuple[MarginRow, ...], Shows("microphone_levels", NOT_CLIENT, "rows")] = Field(
        default=(), description="How each microphone is received."
    )
    radio_places: Annotated[
        tuple[RadioPlaceRow, ...], Shows("carriers_and_slots", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="The plan of carriers and slots, which shows that room exists.")
    neighbourhoods: Annotated[
        tuple[NeighbourhoodRow, ...], Shows("radio_neighbourhoods", NOT_CLIENT, "rows")
    ] = Field(default=(), description="Links that exclude each other, fullest first.")
    further: Annotated[tuple[FurtherRow, ...], Shows("further", NOT_CLIENT, "rows", follows=True)] = Field(
        default=(), description="How many microphones each room could still take."
    )
    radio_cases: Annotated[tuple[RadioCaseRow, ...], Shows("radio_cases", NOT_CLIENT, "rows")] = Field(
        default=(), description="The outcome of radio under other assumptions."
    )
    disturbances: Annotated[
        tuple[DisturbanceRow, ...], Shows("disturbances", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Pairs of rooms whose links disturb each other.")
    radio_states: Annotated[tuple[RadioStateRow, ...], Shows("radio_by_state", ALL, "rows")] = Field(
        default=(), description="What of radio holds in which states; nothing where it is the same in all."
    )
    radio_moves: Annotated[tuple[RadioMoveRow, ...], Shows("links_elsewhere", NOT_CLIENT, "rows")] = Field(
        default=(), description="Links that lie elsewhere in some states than in the plan of the others."
    )
    programme: Annotated[ProgrammeSummary | None, Shows("programme_as_a_whole", ALL, "rows")] = Field(
        default=None, description="When the work is done, as a whole."
    )
    activities: Annotated[tuple[ActivityRow, ...], Shows("programme", ALL, "rows")] = Field(
        default=(), description="Activities and milestones of the programme, as they begin."
    )
    crew_loads: Annotated[tuple[CrewLoadRow, ...], Shows("crews", CHECKERS, "rows")] = Field(
        default=(), description="Hours and people of each trade, day by day."
    )
    workings: Annotated[tuple[WorkingRow, ...], Shows("calculations", CHECKERS, "rows")] = Field(
        default=(), description="Calculations."
    )
    finding_count: Annotated[
        FindingCount | None, Shows("finding_count", NOT_INSTALLER, "rows", follows=True)
    ] = Field(default=None, description="How many findings of each severity.")
    findings: Annotated[tuple[FindingRow, ...], Shows("findings", CHECKERS, "rows")] = Field(
        default=(), description="Findings, errors first."
    )
    plain_warnings: Annotated[
        tuple[PlainWarningRow, ...], Shows("warnings_in_plain_words", ALL, "rows", follows=True)
    ] = Field(default=(), description="Open errors and warnings of the review in plain words.")
    assumptions: Annotated[tuple[AssumptionRow, ...], Shows("assumptions", ALL, "rows")] = Field(
        description="Defaults taken."
    )
    questions: Annotated[tuple[QuestionRow, ...], Shows("open_questions", ALL, "rows")] = Field(
        description="Values to be found out."
    )
    requirements: Annotated[tuple[RequirementRow, ...], Shows("requirements", ALL, "rows")] = Field(
        default=(), description="What the client asks for, in the order written."
    )
    requirement_answers: Annotated[
        tuple[RequirementAnswerRow, ...], Shows("answers_to_requirements", ALL, "rows", follows=True)
    ] = Field(default=(), description="What answers each requirement, and what came of it.")
    cautions: Annotated[tuple[Caution, ...], Shows("cautions", ALL, "rows")] = Field(
        description="Cautions for those who use the system."
    )
    work_cautions: Annotated[tuple[Caution, ...], Shows("work_cautions", NOT_CLIENT, "rows")] = Field(
        default=(), description="Cautions for those who do the work."
    )
    scope: Annotated[tuple[str, ...], Shows("scope", ALL)] = Field(
        default=(), description="Standing scope of work."
    )
    contract_terms: Annotated[tuple[ContractTermRow, ...], Shows("contract_terms", ALL, "rows")] = Field(
        default=(), description="Terms of the contract: damages, price rises, payment, exemption from tax."
    )
    exclusions: Annotated[tuple[str, ...], Shows("exclusions", ALL)] = Field(
        default=(), description="Standing exclusions."
    )
    standing_assumptions: Annotated[tuple[str, ...], Shows("standing_assumptions", ALL)] = Field(
        default=(), description="What is taken for granted about site and work."
    )
    parties: Annotated[tuple[tuple[str, str], ...], Shows("parties", ALL, ("text", "text"))] = Field(
        default=(), description="Letters and names of the parties to the work."
    )
    responsibilities: Annotated[tuple[DutyRow, ...], Shows("responsibilities", ALL, "rows")] = Field(
        default=(), description="Who does what."
    )
    sheets: Annotated[tuple[SheetRow, ...], Shows("sheets", ALL, "rows")] = Field(
        description="Drawing sheets for every reader."
    )
    detail_sheets: Annotated[
        tuple[SheetRow, ...], Shows("sheets_with_every_identity", NOT_CLIENT, "rows")
    ] = Field(default=(), description="Drawing sheets with every identity.")
    check_sheets: Annotated[tuple[SheetRow, ...], Shows("sheets_of_hours_and_people", CHECKERS, "rows")] = (
        Field(default=(), description="Drawing sheets that tell of hours and people.")
    )

    @composed(Shows("what_we_need_from_you", ALL, "rows"))
    def client_steps(self) -> tuple[ClientStepRow, ...]:
        """What the work needs from the client and from others, earliest first."""
        return client_steps(self.programme, self.activities, self.questions, self.owner_equipment)

    @composed(Shows("requirements_counted", ALL, "rows"))
    def requirement_count(self) -> RequirementCount | None:
        """How many requirements are met, and how many are not; none where the client has stated none."""
        return requirement_count(self.requirements)

    @composed(Shows("crew_loading_by_day", CHECKERS, "rows"))
    def crew_loading(self) -> tuple[CrewDayRow, ...]:
        """Hours and people of each trade on each day worked."""
        return () if self.programme is None else crew_days(self.crew_loads, self.programme.start)

    @composed(Shows("hours_by_trade_and_week", CHECKERS, "rows"))
    def crew_weeks(self) -> tuple[CrewWeekRow, ...]:
        """The same by weeks."""
        return crew_weeks(self.crew_loading)

    @composed(Shows("lowest_balance", HOUSE, "money"))
    def lowest_balance(self) -> Decimal | None:
        """Least that is left of the money, on any day; none where there is no cash flow."""
        return min((row.balance for row in self.cash_flow), default=None)

    @composed(Shows("day_of_the_lowest_balance", HOUSE, "date"))
    def lowest_balance_on(self) -> datetime.date | None:
        """First day on which as little is left."""
        return next((row.date for row in self.cash_flow if row.balance == self.lowest_balance), None)

    @composed(Shows("balance_at_the_end", HOUSE, "money"))
    def last_balance(self) -> Decimal | None:
        """What is left when all is paid."""
        return self.cash_flow[-1].balance if self.cash_flow else None
