"""Rows of the take-off and of what is bought for it."""

from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.bought_from import Article, NeededBy, OrderBy, Priced, Supplier
from proposal.document.rows.equipment import EquipmentLine
from proposal.document.rows.price_inputs import RestsOnInputs, layer_of_input
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow
from proposal.document.rows.sheets import CEILING_PLAN, FLOOR_PLAN, ROOM_PLAN, SheetRow
from proposal.document.schedule import (
    CHECKERS,
    HOUSE,
    NOT_CLIENT,
    Row,
    Schedule,
    Shows,
    composed,
    gathered,
)

_SPARE = ", spare"


class Quantified(Protocol):
    """What of the document tells where a line is used, and who sells it."""

    @property
    def rooms(self) -> tuple[RoomRow, ...]:
        """The rooms."""

    @property
    def equipment_rooms(self) -> tuple[EquipmentRoomRow, ...]:
        """The rooms with racks."""

    @property
    def sheets(self) -> tuple[SheetRow, ...]:
        """The drawing sheets."""

    @property
    def equipment(self) -> tuple[EquipmentLine, ...]:
        """All devices of each model."""

    @property
    def purchases(self) -> "tuple[PurchaseRow, ...]":
        """What is bought besides devices."""


def sheets_showing(document: Quantified, room: str, storey: str) -> tuple[str, ...]:
    """Return the numbers of the plans of a room, else of its storey; of the riser for the building.

    room: its tag, empty for the building.
    storey: tag of the storey where it is used; plans of the room show nothing on another one.
    """
    if not room:
        return tuple(one.number for one in document.sheets if one.kind == "riser overall")
    kept = next((one.sheet for one in document.rooms if one.tag == room and one.storey == storey), "")
    plans = [one for one in document.sheets if one.kind == ROOM_PLAN and one.subject == kept and kept]
    own = [one.number for one in plans if not one.members or room in one.members]
    of_storey = (FLOOR_PLAN, CEILING_PLAN)
    whole = [one.number for one in document.sheets if one.kind in of_storey and one.subject == storey]
    return tuple(own or whole)


class TakeoffRow(Row):
    """One line of the take-off."""

    schedule: ClassVar = Schedule(
        "takeoff",
        subject="cabling",
        key=("section", "room", "item", "unit", "system", "pathway_causes"),
        views={
            "check": "number room item description quantity unit plan_m vertical_m slack_start_m "
            "slack_end_m ends_m cut_m causes",
            "pull": "number room item description quantity unit spacing_m cut_m count terminations reels",
            "price": "number room item description quantity unit waste unit_cost wholes cost "
            "base_hours condition_factor hours labour_cost",
        },
    )

    number: Annotated[str, Shows("line", NOT_CLIENT, "tag", serial=True)] = Field(
        default="", description="Number, such as A101-T12."
    )
    section: Annotated[str, Shows("section", NOT_CLIENT)] = Field(
        default="", description="Equipment, cable, reels, termination and so on."
    )
    item: Annotated[str, Shows("item", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What it is."
    )
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag", empty="building")] = Field(
        default="", description="Room or equipment room; empty for the building."
    )
    storey: Annotated[str, Shows("storey", NOT_CLIENT, "tag", link="tag", follows=True)] = Field(
        default="",
        description="Tag of the storey where it stands, of devices in racks that of the rack; empty for the "
        "building.",
    )
    spacing_m: Annotated[float | None, Shows("supports_every", NOT_CLIENT, "length", subject="lengths")] = (
        Field(default=None, description="Of hooks and straps, from one to the next, m.")
    )
    system: Annotated[str, Shows("system", NOT_CLIENT, "word", follows=True)] = Field(
        default="", description="System it belongs to."
    )
    phase: Annotated[str, Shows("phase", NOT_CLIENT, "word", follows=True)] = Field(
        default="", description="Phase of the work in which it is used."
    )
    quantity: Annotated[Decimal, Shows("quantity", NOT_CLIENT, "how many")] = Field(
        default=Decimal(0), description="How much, before waste."
    )
    unit: Annotated[str, Shows("unit", NOT_CLIENT, "unit")] = Field(
        default="", description="What is counted: each, m, or the length of a reel."
    )
    is_length: Annotated[bool, Shows("is_length", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether the quantity is a length in m."
    )
    plan_m: Annotated[Decimal | None, Shows("on_plan", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Of a cable line, length on plan, m."
    )
    vertical_m: Annotated[Decimal | None, Shows("rises", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Of a cable line, rises, m."
    )
    slack_start_m: Annotated[
        Decimal | None, Shows("slack_at_devices", NOT_CLIENT, "length", subject="lengths")
    ] = Field(default=None, description="Of a cable line, slack at the devices, m.")
    slack_end_m: Annotated[
        Decimal | None, Shows("slack_at_far_ends", NOT_CLIENT, "length", subject="lengths")
    ] = Field(default=None, description="Of a cable line, slack at the far ends, m.")
    ends_m: Annotated[Decimal | None, Shows("terminating", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Of a cable line, used up by terminating, m."
    )
    cut_m: Annotated[Decimal | None, Shows("cut_length", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None,
        description="Of a cable line, cut lengths with tolerance, lead and tail, m.",
    )
    count: Annotated[int | None, Shows("cables", NOT_CLIENT, "count")] = Field(
        default=None, description="Of a cable line, how many cables."
    )
    terminations: Annotated[int | None, Shows("ends", NOT_CLIENT, "count")] = Field(
        default=None, description="Of a cable line, ends to terminate."
    )
    reels: Annotated[tuple[int, ...], Shows("reels", NOT_CLIENT, "number", follows=True)] = Field(
        default=(), description="Of a cable line, numbers of the reels it is cut from."
    )
    waste: Annotated[Decimal, Shows("waste", NOT_CLIENT, "share", zero=False)] = Field(
        default=Decimal(0), description="Share added for spoilage, 0 to 1."
    )
    causes: Annotated[tuple[str, ...], Shows("for", NOT_CLIENT, "tag", link="subject", most=3)] = Field(
        default=(), description="Cables or devices the line is for."
    )
    recompute: Annotated[bool, Shows("plan", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether its cost comes from a plan that has to be computed again."
    )
    unit_cost: Annotated[Decimal | None, Shows("unit_cost", HOUSE, "price by unit", subject="price")] = Field(
        default=None, description="What one unit costs us."
    )
    spoilage_only: Annotated[bool, Shows("spoilage_alone_is_priced", HOUSE, "flag")] = Field(
        default=False, description="Whether the cost is for the spoiled part alone, as reels hold the rest."
    )
    wholes: Annotated[
        Decimal | None, Shows("for_wholes", HOUSE, "money", sums=True, subject="price", follows=True)
    ] = Field(
        default=None,
        description="Its share of what wholes cost beyond the need; below 0 where a reel costs less than "
        "its metres.",
    )
    cost: Annotated[
        Decimal | None,
        Shows(
            "cost",
            HOUSE,
            "money",
            sums=True,
            formula='{quantity}*({waste}+IF({spoilage_only}="yes",0,1))*{unit_cost}+{wholes}',
            subject="price",
            follows=True,
        ),
    ] = Field(default=None, description="What the line costs us: its share of what is bought.")
    trades: Annotated[tuple[str, ...], Shows("labour", CHECKERS, follows=True)] = Field(
        default=(), description="Who installs its devices or cables, of work that is done to these."
    )
    work_within: Annotated[tuple[str, ...], Shows("work_within", CHECKERS, follows=True)] = Field(
        default=(),
        description="Of what has no hours of its own: the tasks whose hours hold its work, or By others.",
    )
    base_hours: Annotated[Decimal | None, Shows("base_hours", CHECKERS, "hours", follows=True)] = Field(
        default=None, description="Hours before conditions, h."
    )
    condition_factor: Annotated[
        Decimal | None, Shows("condition_factor", CHECKERS, "ratio", follows=True)
    ] = Field(default=None, description="What conditions, groups and repetition make of the base hours.")
    hours: Annotated[Decimal | None, Shows("hours", CHECKERS, "hours", sums=True, follows=True)] = Field(
        default=None, description="Hours charged, h."
    )
    labour_cost: Annotated[Decimal | None, Shows("labour_cost", HOUSE, "money", sums=True, follows=True)] = (
        Field(default=None, description="What these hours cost us.")
    )

    @composed(Shows("labour", CHECKERS, together=True))
    def worked_by(self) -> str:
        """Who installs it, or within which work it is set."""
        within = f"within: {', '.join(self.work_within)}" if self.work_within else ""
        return "; ".join(part for part in (", ".join(self.trades), within) if part)

    @gathered(Shows("drawings", NOT_CLIENT, "tag", link="drawing"))
    def drawings(self, document: Quantified) -> tuple[str, ...]:
        """Sheets that show it: the plan of its room, else those of its storey; the riser for the building."""
        return sheets_showing(document, self.room, self.storey)

    @gathered(Shows("supplier", HOUSE))
    def supplier(self, document: Quantified) -> str:
        """Who is asked for a quote, and sells it; of reels from several suppliers each of them."""
        bought = [one.supplier for one in document.purchases if one.item == self.item]
        devices = (one.supplier for one in document.equipment if one.model == self.item)
        return ", ".join(dict.fromkeys(bought or devices))

    @gathered(Shows("cost_layer", HOUSE, "word", words="layer"))
    def cost_from(self, document: RestsOnInputs) -> str:
        """Layer that what one unit costs us comes from."""
        return layer_of_input(document, f"library.{self.item}.cost")

    @property
    def pathway_causes(self) -> str:
        """What it is for, where that is a pathway: pathways belong to no room and are listed one by one."""
        return ", ".join(self.causes) if "pathways" in (self.section, self.room, self.item, self.unit) else ""


class PurchaseRow(Row):
    """So many of one thing that are bought: whole pieces, packs, reels, rounded up once for the project."""

    schedule: ClassVar = Schedule(
        "purchase",
        subject="cabling",
        key=("section", "item", "sold_as"),
        views={
            "check": "section item description need unit sold_as pieces bought cost_from priced",
            "price": "section item description bought unit_cost cost supplier list_price unit_price price",
        },
    )

    section: Annotated[str, Shows("section", NOT_CLIENT)] = Field(
        default="", description="Section of the take-off that it is for."
    )
    item: Annotated[str, Shows("item", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What it is."
    )
    need: Annotated[Decimal, Shows("needed", NOT_CLIENT, "how many")] = Field(
        default=Decimal(0), description="What all rooms need together with waste, in `unit`."
    )
    unit: Annotated[str, Shows("unit", NOT_CLIENT, "unit")] = Field(
        default="", description="What is needed: each or m."
    )
    sold_as: Annotated[str, Shows("sold_as", NOT_CLIENT)] = Field(
        default="", description="What is bought: each, pack, stick, or the length of a reel."
    )
    pieces: Annotated[Decimal, Shows("holds", NOT_CLIENT, "how many")] = Field(
        default=Decimal(0), description="What one of these holds, in `unit`."
    )
    bought: Annotated[int, Shows("bought", NOT_CLIENT, "count")] = Field(
        default=0, description="How many of these are bought."
    )
    furnished_by: Annotated[str, Shows("furnished_by", NOT_CLIENT, "word", follows=True)] = Field(
        default="",
        description="contractor, owner or others; what others furnish is counted for them at no cost.",
    )
    unit_cost: Annotated[Decimal | None, Shows("unit_cost", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="What one of these costs us."
    )
    cost: Annotated[
        Decimal | None,
        Shows("cost", HOUSE, "money", sums=True, formula="{bought}*{unit_cost}", subject="price"),
    ] = Field(default=None, description="What all of them cost us; the lines of the take-off share it.")
    supplier: Supplier = ""
    article: Article = ""
    priced: Priced = ""
    lead_time_days: Annotated[int, Shows("lead_time", NOT_CLIENT, "days", zero=False)] = Field(
        default=0, description="Lead time, calendar days."
    )
    needed_by: NeededBy = None
    order_by: OrderBy = None
    list_price: Annotated[Decimal | None, Shows("list_price", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="List price of one of these."
    )
    unit_price: Annotated[Decimal | None, Shows("unit_price", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="What one of these sells for, before tax."
    )
    price: Annotated[
        Decimal | None,
        Shows("price", HOUSE, "money", sums=True, formula="{bought}*{unit_price}", subject="price"),
    ] = Field(default=None, description="What all of them sell for; the lines of the price share it.")

    @gathered(Shows("cost_layer", HOUSE, "word", words="layer"))
    def cost_from(self, document: RestsOnInputs) -> str:
        """Layer that what one of these costs us comes from."""
        reel = f"library.{self.item}.reels.{self.sold_as.removesuffix(_SPARE)}.cost"
        return layer_of_input(document, reel, f"library.{self.item}.cost")
