"""What of the house's hours and rates a client takes from the shared library, and how far they may be off."""

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from proposal.design.equipment.unit_costs import in_currency
from proposal.field_classes import dataclass
from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.project import Project

if TYPE_CHECKING:
    from proposal.estimate.labour.labour import LabourEstimate

Span = tuple[float, float]
"""Between what a figure lies for all that a client knows, as multiples of what it is."""
EXACT: Span = (1.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What of the house's own figures a client takes from the shared library, by trade.

    hours: between what the hours lie; rates: the same of what an hour costs; prices: of what it sells for.
    hour_costs: what an hour costs the house, in the project's currency, which rates are multiples of.
    crews: people at once of the trades whose crews are those of the library.
    """

    hours: Mapping[str, Span]
    rates: Mapping[str, Span]
    prices: Mapping[str, Span]
    hour_costs: Mapping[str, float]
    crews: Mapping[str, int]

    @classmethod
    def of(
        cls, project: Project, labour: "LabourEstimate", library_hours: Mapping[str, Decimal]
    ) -> "Known | None":
        """Return what is known of a project, None where no shared data say what a client knows.

        Whatever a project takes from the shared library without a word is known; anything else lies around
        what the library says.
        labour: hours of the project; library_hours: of each trade, by the library for the same design.
        """
        knowledge = project.client_knowledge
        if knowledge is None:
            return None
        choices, trades = project.brief.labour, project.labour.trades
        factor = knowledge.rates_factor.factor
        shared = {key for key, trade in trades.items() if trade.layer == "shared"}
        own = dict.fromkeys(trades, (1 / factor, factor))
        return cls(
            hours=_hours_known(project, knowledge, labour, library_hours),
            rates={key: EXACT if key in shared else _around(*_rates(project, key), factor) for key in trades},
            prices={key: EXACT if key in shared else own[key] for key in trades},
            hour_costs={key: _rates(project, key)[0] for key in trades},
            crews={key: trades[key].crew for key in shared if key not in choices.crews},
        )


def _hours_known(
    project: Project,
    knowledge: ClientKnowledge,
    labour: "LabourEstimate",
    library_hours: Mapping[str, Decimal],
) -> dict[str, Span]:
    choices = project.brief.labour
    own_hours = (
        any(task.layer != "shared" for task in project.labour.tasks.values())
        or bool(choices.conditions or choices.room_conditions or choices.project_conditions)
        or choices.overtime > 0
    )
    if not own_hours:
        return {}
    from proposal.estimate.labour.labour import hours_by

    factor = knowledge.hours_factor.factor
    return {
        trade: _around(float(hours), float(library_hours.get(trade, 0)), factor)
        for trade, hours in hours_by(labour, "trade")
    }


def _rates(project: Project, trade: str) -> tuple[float, float]:
    """Return what an hour of a trade costs in a project, and by the shared library; 0 where it has none."""
    usual = project.usual_labour.trades.get(trade)
    ours = in_currency(project, project.labour.trades[trade].cost)
    return float(ours), float(in_currency(project, usual.cost)) if usual else 0.0


def _around(value: float, usual: float, factor: float) -> Span:
    """Return between what a value lies that is usually another, as multiples of it; it is among them."""
    if not (value and usual):
        return 1 / factor, factor
    return min(1.0, usual / factor / value), max(1.0, usual * factor / value)
