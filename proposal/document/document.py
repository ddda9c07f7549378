"""The document: all that a proposal says, before anybody's edition of it is made."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.alternate_rows import AlternateRow
from proposal.document.channel_rows import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow
from proposal.document.labour_rows import (
    ConditionRow,
    HoursSum,
    LabourRow,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.document.pathway_rows import ContentRow, NodeRow, PathwayRow, PullRow
from proposal.document.price_rows import (
    CashRow,
    ExchangeRow,
    OfferRow,
    PaymentRow,
    PriceLineRow,
    PriceSum,
    PriceTotal,
    SurchargeRow,
    TaxRow,
    UnitPriceRow,
    YearlyRow,
)
from proposal.document.programme_rows import ActivityRow, CrewLoadRow, ProgrammeSummary
from proposal.document.quantities import Holds
from proposal.document.radio_rows import (
    DisturbanceRow,
    FurtherRow,
    MarginRow,
    NeighbourhoodRow,
    RadioCaseRow,
    RadioPlaceRow,
    RadioSummary,
)
from proposal.document.readers import Buyers, Checkers, Everyone, House, NotClient, NotInstaller, Shown
from proposal.document.rows import (
    AssumptionRow,
    CableRow,
    CableTotal,
    Caution,
    Cover,
    DeviceRow,
    DutyRow,
    EquipmentLine,
    EquipmentRoomRow,
    FindingCount,
    FindingRow,
    PortRow,
    QuestionRow,
    RiserLine,
    RoomRow,
    RoomSheet,
    SheetRow,
    StoreyRow,
    SwitchRow,
    WorkingRow,
)
from proposal.document.takeoff import ReelOrderRow, TakeoffRow

SCHEMA_VERSION = 1


class Document(Shown):
    """All that a proposal says; an edition shows a part of it."""

    schema_version: Annotated[Everyone[int], Holds("number")] = Field(
        default=SCHEMA_VERSION, description="Version of this layout."
    )
    program_version: Annotated[Everyone[str], Holds("text")] = Field(
        description="Version of the program that computed it."
    )
    cover: Everyone[Cover] = Field(description="Cover.")
    included_alternates: Everyone[tuple[AlternateRow, ...]] = Field(
        default=(), description="Alternates that are accepted and part of this, in order of application."
    )
    wording: Annotated[Everyone[Mapping[str, str]], Holds("text")] = Field(
        description="The author's prose in Markdown, by name."
    )
    storeys: Everyone[tuple[StoreyRow, ...]] = Field(description="Storeys, lowest first.")
    equipment_rooms: Everyone[tuple[EquipmentRoomRow, ...]] = Field(description="Equipment rooms by tag.")
    room_sheets: Everyone[tuple[RoomSheet, ...]] = Field(description="Kinds of room as designed.")
    rooms: Everyone[tuple[RoomRow, ...]] = Field(description="Rooms by tag.")
    devices: Everyone[tuple[DeviceRow, ...]] = Field(description="Devices by tag.")
    equipment: Everyone[tuple[EquipmentLine, ...]] = Field(description="Devices by model.")
    equipment_cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What all equipment costs us."
    )
    takeoff: NotClient[tuple[TakeoffRow, ...]] = Field(default=(), description="Lines of the take-off.")
    reel_orders: NotClient[tuple[ReelOrderRow, ...]] = Field(
        default=(), description="Reels to order, by type of cable."
    )
    materials_cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What all lines of the take-off cost us, equipment included."
    )
    labour: Checkers[tuple[LabourRow, ...]] = Field(default=(), description="Labour, line by line.")
    labour_summary: Checkers[tuple[TradeHoursRow, ...]] = Field(
        default=(), description="Hours by phase and trade, as they are charged."
    )
    travel: Checkers[tuple[TravelRow, ...]] = Field(default=(), description="Coming to site, by trade.")
    trades: Checkers[tuple[TradeRow, ...]] = Field(default=(), description="Trades, and what they charge.")
    hours_by_room: Checkers[tuple[HoursSum, ...]] = Field(default=(), description="All hours by room.")
    hours_by_system: Checkers[tuple[HoursSum, ...]] = Field(default=(), description="All hours by system.")
    hours_by_phase: Checkers[tuple[HoursSum, ...]] = Field(default=(), description="All hours by phase.")
    labour_conditions: Checkers[tuple[ConditionRow, ...]] = Field(
        default=(), description="What makes work slower or quicker."
    )
    labour_hours: Annotated[Checkers[Decimal | None], Holds("hours")] = Field(
        default=None, description="All hours charged, travel included, h."
    )
    price_wording: Annotated[Buyers[str], Holds("text")] = Field(
        default="", description="The author's prose about the price in Markdown, wording/price.md."
    )
    price: Buyers[PriceTotal | None] = Field(default=None, description="The whole price.")
    offer: Buyers[tuple[OfferRow, ...]] = Field(
        default=(), description="What the price contains, as a client reads it, by room."
    )
    room_prices: Buyers[tuple[PriceSum, ...]] = Field(default=(), description="The price by room.")
    system_prices: Buyers[tuple[PriceSum, ...]] = Field(default=(), description="The price by system.")
    phase_prices: Buyers[tuple[PriceSum, ...]] = Field(default=(), description="The price by phase.")
    group_prices: Buyers[tuple[PriceSum, ...]] = Field(
        default=(), description="The price by equipment, materials, labour, travel and what is added."
    )
    taxes: Buyers[tuple[TaxRow, ...]] = Field(default=(), description="Taxes by place and kind.")
    payments: Buyers[tuple[PaymentRow, ...]] = Field(default=(), description="Payments in order.")
    unit_prices: Buyers[tuple[UnitPriceRow, ...]] = Field(
        default=(), description="What further things are charged for."
    )
    yearly: Buyers[tuple[YearlyRow, ...]] = Field(
        default=(), description="What recurs each year and is not in the price."
    )
    exchange_rates: Buyers[tuple[ExchangeRow, ...]] = Field(
        default=(), description="Exchange rates that the price rests on."
    )
    price_lines: House[tuple[PriceLineRow, ...]] = Field(
        default=(), description="How every line's price is built up."
    )
    surcharges: House[tuple[SurchargeRow, ...]] = Field(
        default=(), description="What is reckoned on top, as lines or in them."
    )
    cash_flow: House[tuple[CashRow, ...]] = Field(
        default=(), description="Money in and out, in order of days."
    )
    riser_lines: Everyone[tuple[RiserLine, ...]] = Field(description="Cables by room and type.")
    cable_totals: Everyone[tuple[CableTotal, ...]] = Field(description="Cables by type.")
    cables: NotClient[tuple[CableRow, ...]] = Field(default=(), description="Cables by identity.")
    switches: NotClient[tuple[SwitchRow, ...]] = Field(default=(), description="Switches by tag.")
    nodes: NotClient[tuple[NodeRow, ...]] = Field(default=(), description="Nodes of pathways by tag.")
    pathways: NotClient[tuple[PathwayRow, ...]] = Field(default=(), description="Pathways by tag.")
    pathway_contents: NotClient[tuple[ContentRow, ...]] = Field(
        default=(), description="Cables of each type in each pathway."
    )
    pulls: NotClient[tuple[PullRow, ...]] = Field(
        default=(), description="Conduits as cables are pulled through them."
    )
    ports: NotClient[tuple[PortRow, ...]] = Field(default=(), description="Switch ports in order.")
    channels: NotClient[tuple[ChannelRow, ...]] = Field(
        default=(), description="Microphones and the way of their sound, by room."
    )
    streams: NotClient[tuple[StreamRow, ...]] = Field(
        default=(), description="Streams of networked audio by number."
    )
    audio_ends: NotClient[tuple[AudioEndRow, ...]] = Field(
        default=(), description="Inputs and outputs of mixers and breakouts beside the microphones'."
    )
    settings: NotClient[tuple[SettingRow, ...]] = Field(
        default=(), description="Configuration sheets, in the order of the work."
    )
    controls: NotClient[tuple[ControlRow, ...]] = Field(
        default=(), description="What a control system can read or set, by device."
    )
    radio: Everyone[RadioSummary | None] = Field(
        default=None, description="What came of radio; nothing where no microphone is linked."
    )
    margins: NotClient[tuple[MarginRow, ...]] = Field(
        default=(), description="How each microphone is received."
    )
    radio_places: NotClient[tuple[RadioPlaceRow, ...]] = Field(
        default=(), description="The plan of carriers and slots, which shows that room exists."
    )
    neighbourhoods: NotClient[tuple[NeighbourhoodRow, ...]] = Field(
        default=(), description="Links that exclude each other, fullest first."
    )
    further: NotClient[tuple[FurtherRow, ...]] = Field(
        default=(), description="How many microphones each room could still take."
    )
    radio_cases: NotClient[tuple[RadioCaseRow, ...]] = Field(
        default=(), description="The outcome of radio under other assumptions."
    )
    disturbances: NotClient[tuple[DisturbanceRow, ...]] = Field(
        default=(), description="Pairs of rooms whose links disturb each other."
    )
    programme: Everyone[ProgrammeSummary | None] = Field(
        default=None, description="When the work is done, as a whole."
    )
    activities: Everyone[tuple[ActivityRow, ...]] = Field(
        default=(), description="Activities and milestones of the programme, as they begin."
    )
    crew_loads: Checkers[tuple[CrewLoadRow, ...]] = Field(
        default=(), description="Hours and people of each trade, day by day."
    )
    workings: Checkers[tuple[WorkingRow, ...]] = Field(default=(), description="Calculations.")
    finding_count: NotInstaller[FindingCount | None] = Field(
        default=None, description="How many findings of each severity."
    )
    findings: Checkers[tuple[FindingRow, ...]] = Field(default=(), description="Findings, errors first.")
    assumptions: Everyone[tuple[AssumptionRow, ...]] = Field(description="Defaults taken.")
    questions: Everyone[tuple[QuestionRow, ...]] = Field(description="Values to be found out.")
    cautions: Everyone[tuple[Caution, ...]] = Field(description="Cautions for those who use the system.")
    work_cautions: NotClient[tuple[Caution, ...]] = Field(
        default=(), description="Cautions for those who do the work."
    )
    scope: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="Standing scope of work."
    )
    exclusions: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="Standing exclusions."
    )
    standing_assumptions: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        default=(), description="What is taken for granted about site and work."
    )
    parties: Annotated[Everyone[tuple[tuple[str, str], ...]], Holds("text", "text")] = Field(
        default=(), description="Letters and names of the parties to the work."
    )
    responsibilities: Everyone[tuple[DutyRow, ...]] = Field(default=(), description="Who does what.")
    sheets: Everyone[tuple[SheetRow, ...]] = Field(description="Drawing sheets for every reader.")
    detail_sheets: NotClient[tuple[SheetRow, ...]] = Field(
        default=(), description="Drawing sheets with every identity."
    )
    check_sheets: Checkers[tuple[SheetRow, ...]] = Field(
        default=(), description="Drawing sheets that tell of hours and people."
    )
