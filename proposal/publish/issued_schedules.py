"""The schedules of the revision issued last as text for git: `issued/latest/*.csv`.

They are the estimator's, and for the house alone. They follow from the last record, and are replaced at each
issue, so that a commit that issues a revision shows row by row what changed.

Every figure stands there once, so that a change of one line of the inputs is seen in the rows that it is
about and not in hundreds of others. What follows from other rows is left out: numbers of lines (one more
would change those of all after it), sums, shares of sums (what is spread over all prices moves with each of
them), and the same rows in another order. What is said of many things alike stands once too: how an item is
priced, whatever the room; a setting, whatever the device; an equation, whatever it is about. Amounts of the
price stand in the offer, hours in the labour, quantities in the take-off. Fields declare it (`follows`);
all of it is in the record, on the pages and in `compare`.
"""

from collections.abc import Mapping

from proposal.document.whole_proposal import Proposal
from proposal.editions import edition_of
from proposal.publish.files import move, remove, write_all
from proposal.publish.manifest import Manifest
from proposal.publish.program_folders import FOLDER, OwnFolders, regular_content
from proposal.publish.record import Record, files_below, proposal_in
from proposal.publish.record_layouts import record_digest
from proposal.publish.record_placement import PART
from proposal.publish.revision_names import LATEST


def schedules_of(proposal: Proposal) -> Mapping[str, bytes]:
    """Return every schedule of a proposal as its file, by name."""
    from proposal.exports.csv_files import line_files
    from proposal.exports.table import lasting_schedules

    return line_files(lasting_schedules(edition_of(proposal.document, "estimator")))


def write_latest(own: OwnFolders, files: Mapping[str, bytes]) -> None:
    """Replace the folder of schedules; what an interrupted run left of it is in `.part`.

    files: of the last record, by name.
    """
    part, place = own.issued / PART, own.issued / LATEST
    remove(part)
    write_all(part, files)
    remove(place)
    move(part, place)


def expected_latest(record: Record) -> Mapping[str, bytes]:
    """Return the schedules that follow from a record, by name; none of one of a layout without them.

    Raises InputError where the record cannot be read.
    """
    if not record.manifest.latest:
        return {}
    return schedules_of(proposal_in(record.contents(), record.name))


def latest_is_as_written(own: OwnFolders, manifest: Manifest) -> bool:
    """Say whether the schedules are those that were written with a revision."""
    if (own.issued / LATEST).kind() != FOLDER:
        return not manifest.latest
    found = {
        path: regular_content(file) or b"" for path, file in files_below((own.issued / LATEST).path).items()
    }
    return record_digest(found) == manifest.latest
