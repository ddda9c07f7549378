"""The document: all that a proposal says, before anybody's edition of it is made."""

import datetime
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.cabling_and_network import CablingAndNetwork
from proposal.document.rooms_and_equipment import RoomsAndEquipment
from proposal.document.rows.band_users import BandUserRow
from proposal.document.rows.client_steps import NETWORK_TEAM, ClientStepRow, client_steps
from proposal.document.rows.data_sources import DataSourceRow
from proposal.document.rows.findings import AssumptionRow, FindingCount, FindingRow, QuestionRow, WorkingRow
from proposal.document.rows.mute_controls import MuteControlRow, mute_controls
from proposal.document.rows.plain_warnings import PlainWarningRow
from proposal.document.rows.price_movers import PriceMoverRow, price_movers
from proposal.document.rows.programme import (
    ActivityRow,
    CrewDayRow,
    CrewLoadRow,
    CrewWeekRow,
    ProgrammeSummary,
    crew_days,
    crew_weeks,
)
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
from proposal.document.rows.rooms import RoomRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.takeoff_sums import (
    DrawingQuantity,
    PhaseQuantity,
    RoomQuantity,
    StoreyQuantity,
    SupplierQuantity,
    SystemQuantity,
    TakeoffSum,
    quantities_by,
    takeoff_sums,
)
from proposal.document.rows.terms import Caution, ContractTermRow, DutyRow
from proposal.document.rows.yearly_costs import YearlyCostRow, yearly_costs
from proposal.document.schedule import (
    ALL,
    BUYERS,
    CHECKERS,
    HOUSE,
    NOT_CLIENT,
    NOT_INSTALLER,
    Schedule,
    Shows,
    composed,
)
from proposal.document.work_and_price import WorkAndPrice
from proposal.quantities.formatting import count_of


class Document(CablingAndNetwork, WorkAndPrice, RoomsAndEquipment):
    """All that a proposal says; an edition shows a part of it.

    Its parts stand in the order of their modules: rooms and equipment, work and price, cabling and network,
    and what is here: radio, programme, review, terms and drawings.
    """

    schedule: ClassVar = Schedule("document", subject="terms")

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
    band_users: Annotated[tuple[BandUserRow, ...], Shows("others_on_the_band", ALL, "rows")] = Field(
        default=(), description="Others who use the band, as the client told of them."
    )
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
    data_sources: Annotated[tuple[DataSourceRow, ...], Shows("data_sources", CHECKERS, "rows")] = Field(
        default=(), description="Where data and wording come from that no calculation names."
    )
    client_knowledge: Annotated[tuple[DataSourceRow, ...], Shows("taken_to_be_known", HOUSE, "rows")] = Field(
        default=(), description="What a client is taken to know about costs, hours and rates."
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
    handover: Annotated[tuple[str, ...], Shows("handed_over", ALL)] = Field(
        default=(), description="Papers and files that are handed over before acceptance."
    )
    security: Annotated[tuple[str, ...], Shows("passwords_and_updates", ALL)] = Field(
        default=(), description="What holds of passwords, of updates and of work from afar."
    )
    parties: Annotated[tuple[tuple[str, str], ...], Shows("parties", ALL, ("text", "text"))] = Field(
        default=(), description="Letters and names of the parties to the work."
    )
    client_parties: Annotated[tuple[str, ...], Shows("of_the_client", ALL, drawn=True)] = Field(
        default=(), description="Letters of the parties that are the client's own people."
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
        return client_steps(self)

    @composed(Shows("what_it_costs_each_year", BUYERS, "rows"))
    def yearly_costs(self) -> tuple[YearlyCostRow, ...]:
        """What recurs each year, whoever is paid for it, and is in no price of the proposal."""
        if not self.price:
            return ()
        cover = self.cover
        owners = bool(self.owner_equipment)
        return yearly_costs(
            self.yearly,
            self.energy,
            self.pack_lives,
            cover.currency,
            cover.locale,
            supplies=self.standby_supplies,
            with_owners=owners,
        )

    @composed(Shows("what_mutes_groups", ALL, "rows"))
    def mute_controls(self) -> tuple[MuteControlRow, ...]:
        """What panels or computers of the client mute, a row a kind of room."""
        return tuple(mute_controls(self.room_sheets))

    @property
    def planned_rooms(self) -> tuple[RoomRow, ...]:
        """Return the rooms in which something is planned."""
        empty = {tag for sheet in self.room_sheets if sheet.nothing_planned for tag in sheet.rooms}
        return tuple(row for row in self.rooms if row.tag not in empty)

    @property
    def rooms_in_words(self) -> str:
        """Return what is equipped: `3 rooms and 1 portable set`."""
        sets = {row.tag for row in self.portable_sets}
        rooms = count_of(sum(row.tag not in sets for row in self.planned_rooms), "room")
        return f"{rooms} and {count_of(len(sets), 'portable set')}" if sets else rooms

    @composed(Shows("what_may_change_the_price", BUYERS, "rows"))
    def price_movers(self) -> tuple[PriceMoverRow, ...]:
        """What may make the price higher or lower, besides the alternates."""
        if self.price is None:
            return ()
        return price_movers(
            self.offer,
            self.exchange_rates,
            self.questions,
            sum(row.asked == NETWORK_TEAM for row in self.network_questions),
            len(self.assumptions),
            self.unit_prices,
            len(self.planned_rooms),
            any(row.what == "price rise" for row in self.contract_terms),
        )

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

    @composed(Shows("takeoff_added_up", NOT_CLIENT, "rows"))
    def takeoff_sums(self) -> tuple[TakeoffSum, ...]:
        """The take-off and its work added up by room, phase, system, storey, drawings and supplier."""
        return takeoff_sums(self)

    @composed(Shows("quantities_by_room", NOT_CLIENT, "rows"))
    def quantities_by_room(self) -> tuple[RoomQuantity, ...]:
        """How much there is of each item in each room."""
        return quantities_by(self, "room", RoomQuantity)

    @composed(Shows("quantities_by_phase", NOT_CLIENT, "rows"))
    def quantities_by_phase(self) -> tuple[PhaseQuantity, ...]:
        """The same by phase."""
        return quantities_by(self, "phase", PhaseQuantity)

    @composed(Shows("quantities_by_system", NOT_CLIENT, "rows"))
    def quantities_by_system(self) -> tuple[SystemQuantity, ...]:
        """The same by system."""
        return quantities_by(self, "system", SystemQuantity)

    @composed(Shows("quantities_by_storey", NOT_CLIENT, "rows"))
    def quantities_by_storey(self) -> tuple[StoreyQuantity, ...]:
        """The same by storey."""
        return quantities_by(self, "storey", StoreyQuantity)

    @composed(Shows("quantities_by_drawing", NOT_CLIENT, "rows"))
    def quantities_by_drawing(self) -> tuple[DrawingQuantity, ...]:
        """The same by the drawings that show it."""
        return quantities_by(self, "drawings", DrawingQuantity)

    @composed(Shows("quantities_by_supplier", HOUSE, "rows"))
    def quantities_by_supplier(self) -> tuple[SupplierQuantity, ...]:
        """The same by supplier."""
        return quantities_by(self, "supplier", SupplierQuantity)

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
