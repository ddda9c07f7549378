"""The take-off and the reels of a computed project as rows."""

from collections.abc import Mapping
from decimal import Decimal
from typing import TypedDict

from proposal.document.making.by_name import ByName, WholeByName
from proposal.document.making.serials import serials
from proposal.document.rows.takeoff import PurchaseRow, ReelOrderRow, ReelRow, TakeoffRow
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.price.takeoff_labour import LineLabour, labour_costs, takeoff_labour
from proposal.estimate.reels.cut_plan import Reel
from proposal.estimate.takeoff.lines import CableParts, TakeoffLine, exact
from proposal.estimate.takeoff.purchases import SPARE, Purchase
from proposal.estimate.takeoff.reel_orders import ReelOrder
from proposal.model.equipment.materials import Cable
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded, step_of

_PARTS = WholeByName(TakeoffRow, CableParts)
_OF_LABOUR = ("trades", "base_hours", "condition_factor", "hours", "labour_cost")
_LINE = ByName(
    TakeoffRow,
    TakeoffLine,
    *("number", "item", "description", "is_length", "reels", "recompute", "spoilage_only"),
    *_PARTS.names,
    *_OF_LABOUR,
)
_PURCHASE = ByName(
    PurchaseRow, Purchase, "item", "description", "bought", "list_price", "unit_price", "price"
)
_REEL = ByName(ReelRow, Reel, "cuts", "container", "weight_kg")
