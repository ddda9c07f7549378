"""The ceiling plan of a storey: what hangs overhead, and the pathways and cables that lie there."""

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.storey_plan import storey_plan
from proposal.drawings.plan.storey_spec import StoreyPlanSpec
from proposal.editions import Edition


def spec_of(edition: Edition, sheet: SheetRow) -> StoreyPlanSpec:
    """Return what the ceiling plan of a storey shows to an edition's reader."""
    return storey_plan(edition, sheet, "ceiling")
