"""The issue with which a revision is compared: the one before it."""

from collections.abc import Mapping
from pathlib import Path

from proposal.differences.changes import State
from proposal.differences.inputs import Inputs
from proposal.document.document import Document
from proposal.field_classes import dataclass
from proposal.model.folder_files import read_folder
from proposal.publish.compared_states import ProjectState, inputs_between, record_state
from proposal.publish.prices_in_records import received_until
from proposal.publish.record_order import last_record_folders
from proposal.review.received import Received


@dataclass(frozen=True, slots=True, kw_only=True)
class Earlier:
    """An earlier issue, and the inputs of now to compare its inputs with.

    before: the issue.
    files: the project's own files now, by path.
    library: the data beside the project now, by path; None where it is what program and call have.
    company: folder of a company's own library, as the call names it.
    received: prices that the client received with that issue and all before it.
    """

    before: ProjectState
    files: Mapping[str, bytes]
    received: tuple[Received, ...]
    library: Mapping[str, bytes] | None = None
    company: Path | None = None

    def inputs(self, document: Document) -> Inputs:
        """Return what changed in the inputs since; document: of now."""
        date = document.cover.revision.date
        now = State(label=f"revision {document.cover.revision.identity}", document=document, date=date)
        after = ProjectState(state=now, files=self.files, library=self.library)
        return inputs_between(self.before, after, self.company)


def last_issue(folder: Path, company: Path | None) -> Earlier | None:
    """Return the issue that a project folder as it stands is compared with, None where nothing is issued.

    folder: the project folder.
    company: folder of a company's own library, as the call names it.
    Raises InputError where the order of the records is not clear, or the last one cannot be read.
    """
    ends = last_record_folders(folder)
    if not ends:
        return None
    return Earlier(
        before=record_state(ends[-1], ends[-1].name),
        files=read_folder(folder, []) or {},
        received=received_until(ends),
        company=company,
    )
