"""Labels as a CSV file for label printers."""

from proposal.document.labels import labels_of
from proposal.editions import Edition
from proposal.exports.table import Column, Table

_NAME = "labels"
LABEL_FILE = f"{_NAME}.csv"


def label_table(edition: Edition) -> Table:
    """Return the labels of an edition as a table: one a row, up to three lines of text and the code."""
    labels = labels_of(edition.document)
    columns = (
        Column(name="of", heading="Label of"),
        Column(name="room", heading="Room"),
        Column(name="place", heading="Stuck to"),
        Column(name="line_1", heading="Line 1"),
        Column(name="line_2", heading="Line 2"),
        Column(name="line_3", heading="Line 3"),
        Column(name="code", heading="QR code"),
    )
    rows = tuple(
        (label.of, label.room, label.place, *(*label.lines, "", "", "")[:3], label.code) for label in labels
    )
    return Table(name=_NAME, title="Labels", columns=columns, rows=rows)
