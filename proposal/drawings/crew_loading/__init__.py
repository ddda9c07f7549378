"""The crew loading: how many people of each trade are at work on each day, against the crew size."""

import datetime
from decimal import Decimal

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeLoad:
    """One trade.

    people: on each day from the first one shown.  hours: of all days.  crew: most people at once.
    """

    trade: str
    people: tuple[Decimal, ...]
    hours: Decimal
    crew: int

    @property
    def over(self) -> tuple[int, ...]:
        """Positions of the days on which more people are needed than the crew has."""
        return tuple(n for n, people in enumerate(self.people) if people > self.crew)

    @property
    def most(self) -> Decimal:
        """The most people on one day."""
        return max(self.people, default=Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewLoadingSpec:
    """All that a sheet of the crew loading shows.

    first, last: days that the time axis spans, the same on every sheet.
    """

    strip: TitleBlock
    locale: str
    first: datetime.date
    last: datetime.date
    trades: tuple[TradeLoad, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> CrewLoadingSpec:
    """Return what a sheet of the crew loading shows.

    The sheet's members are trades; without any it shows all.
    Raises ValueError where the edition holds no hours of trades.
    """
    document = edition.document
    if document.programme is None or not document.crew_loads:
        raise ValueError("wanted an edition with the hours of trades; found none")
    members = set(sheet.members)
    return CrewLoadingSpec(
        strip=strip_of(edition, sheet),
        locale=document.cover.locale,
        first=document.programme.start,
        last=document.programme.finish,
        trades=tuple(
            TradeLoad(trade=row.trade, people=row.people, hours=sum(row.hours, Decimal(0)), crew=row.crew)
            for row in document.crew_loads
            if not members or row.trade in members
        ),
    )


def headline(load: TradeLoad, locale: str) -> str:
    """Return what a trade's panel says above its bars.

    locale: of the project.
    """
    hours = formatting.number(load.hours, locale, 2)
    most = formatting.short_number(load.most, locale, 2)
    crew = formatting.count_of(load.crew, "person", "people")
    over = f", over it on {formatting.count_of(len(load.over), 'day')}" if load.over else ""
    return f"{load.trade}: {hours} h, at most {most} of {crew}{over}"


def alternative(spec: CrewLoadingSpec) -> str:
    """Return what a sheet of the crew loading shows in sentences."""
    first, last = formatting.date(spec.first, spec.locale), formatting.date(spec.last, spec.locale)
    sentences = [f"People of each trade at work from {first} to {last}."]
    for load in spec.trades:
        worked = [n for n, people in enumerate(load.people) if people]
        when = ""
        if worked:
            start, end = (
                formatting.date(spec.first + datetime.timedelta(days=n), spec.locale)
                for n in (worked[0], worked[-1])
            )
            when = f" Between {start} and {end}." if start != end else f" On {start}."
        sentences.append(f"{headline(load, spec.locale)}.{when}")
    return " ".join(sentences)
