"""Tables of schedules with their texts as the place spells them."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from proposal.document.document import Document
from proposal.document.spelling import Spelling
from proposal.exports.table import Table

_IN_SI = "calculations"
"""Workings are made in SI, on pages too."""


def spelled_tables(tables: Sequence[Table], document: Document) -> tuple[Table, ...]:
    """Return tables with every text spelled as pages of the document spell it.

    tables: of schedules.  document: whose place and units count.
    """
    spelling = Spelling.of(document)
    with_measures, in_si = cache(spelling.plain), cache(spelling.without_measures().plain)
    found = []
    for table in tables:
        spelled = in_si if table.name.startswith(_IN_SI) else with_measures
        rows = tuple(
            tuple(spelled(value) if isinstance(value, str) else value for value in row) for row in table.rows
        )
        columns = tuple(replace(one, heading=spelled(one.heading)) for one in table.columns)
        found.append(replace(table, title=spelled(table.title), columns=columns, rows=rows))
    return tuple(found)
