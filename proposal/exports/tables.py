"""All schedules of an edition, for every kind of file."""

import datetime

from proposal.editions import Edition
from proposal.exports.table import Column, Table, tables_of


def schedules(edition: Edition) -> tuple[Table, ...]:
    """Return every schedule of an edition that holds something."""
    return (*tables_of(edition), *crew_loading(edition))


def crew_loading(edition: Edition) -> tuple[Table, ...]:
    """Return hours and people of each trade on each day worked; nothing where the edition holds none."""
    programme = edition.document.programme
    days = tuple(
        (load.trade, programme.start + datetime.timedelta(days=n), hours, people, load.crew)
        for load in edition.document.crew_loads
        if programme is not None
        for n, (hours, people) in enumerate(zip(load.hours, load.people, strict=True))
        if hours
    )
    if not days:
        return ()
    columns = (
        Column(name="trade", heading="Trade"),
        Column(name="day", heading="Day", quantity="date"),
        Column(name="hours", heading="Hours", quantity="number", unit="h", total=True),
        Column(name="people", heading="People", quantity="number"),
        Column(name="crew", heading="Can come", quantity="count"),
    )
    return (Table(name="crew-loading", title="Crew loading by day", columns=columns, rows=days),)
