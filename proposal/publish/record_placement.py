"""Put records and published folders in place, and remove what an interrupted run left there."""

from collections.abc import Mapping, Sequence

from proposal.document.readers import READERS
from proposal.publish.files import make_folder, move, remove, remove_empty, replace
from proposal.publish.manifest import Manifest
from proposal.publish.program_folders import FOLDER, NOTHING, OwnFolders, OwnPath, refuse_in_the_way
from proposal.publish.proposal_site import EDITION_TITLES
from proposal.publish.published_folder import PublishedRevision, surroundings
from proposal.publish.published_list import (
    PUBLISHED_LIST,
    Published,
    files_published,
    published_list,
    published_text,
)
from proposal.publish.record import Record
from proposal.publish.revision_names import is_revision_name
from proposal.quantities.messages import shown

PART = ".part"
_PLACING = ".placing"


def refuse_strange(own: OwnFolders) -> None:
    """Raise InputError with everything in a project's own folders that a run which issues may not touch."""
    editions = (own.published / reader for reader in READERS)
    refuse_in_the_way([own.build, own.issued, own.published, *editions])
    _placed(own.published)


def put_in_place(own: OwnFolders, manifest: Manifest, published: Published) -> None:
    """Put a finished revision in its place: what is published of it first, then its record, which counts.

    published: what lies in `.part` of the published folder.
    """
    # Who finds this file without the record knows what to take away.
    _put(own.published, _PLACING, manifest.revision.encode("utf-8"))
    place_artifacts(own.published, manifest.revision, published)
    move(own.issued / PART, own.issued / manifest.revision)
    remove(own.published / _PLACING)


def place_artifacts(published: OwnPath, revision: str, made: Published) -> None:
    """Put the editions of a revision from `.part` in their places; what stood there is taken away.

    made: what they are, for the list.
    """
    for reader in READERS:
        place = published / reader / revision
        make_folder(place.above)
        remove(place)
        move(published / PART / reader, place)
    remove(published / PART)
    _list(published, {**(published_list(published) or {}), revision: made})


def _list(published: OwnPath, listed: Mapping[str, Published]) -> None:
    content = published_text(listed)
    if (published / PUBLISHED_LIST).read() != content:
        _put(published, PUBLISHED_LIST, content)


def clean_up(own: OwnFolders) -> None:
    """Remove what a run left that was interrupted before its revision counted.

    Raises InputError, with everything left as it was, where the name that such a run left is no revision's.
    """
    revision = _placed(own.published)
    for folder in (own.issued, own.published):
        remove(folder / PART)
    if revision and (own.issued / revision).kind() == NOTHING:
        for reader in READERS:
            remove(own.published / reader / revision)
        _unlist(own.published, revision)
    remove(own.published / _PLACING)
    for folder in (own.issued, own.published):
        remove_empty(folder)


def _unlist(published: OwnPath, revision: str) -> None:
    """Remove a revision from the list, and the list itself where it names no other."""
    listed = dict(published_list(published) or {})
    if listed.pop(revision, None) is None:
        return
    if listed:
        _list(published, listed)
    else:
        remove(published / PUBLISHED_LIST)
        remove(published / PART)


def _placed(published: OwnPath) -> str:
    """Return the revision that a run had begun to place, empty where there is none."""
    place = published / _PLACING
    kept = place.read()
    if kept is None:
        return ""
    revision = kept.decode("utf-8", "replace")
    if not is_revision_name(revision):
        raise place.refusal("the name of a revision", f"{shown(revision)}: delete the file")
    return revision


def write_surroundings(own: OwnFolders, records: Sequence[Record]) -> None:
    """Write the files that lead between the revisions of a published folder, where they are not so already.

    records: in the order of issue; those of which nothing is published are passed over.
    """
    for path, content in expected_surroundings(own.published, records).items():
        if (own.published / path).read() != content:
            _put(own.published, path, content)
    remove(own.published / PART)


def _put(published: OwnPath, path: str, content: bytes) -> None:
    """Write a file whole or not at all; what an interrupted run left of it is in `.part`."""
    replace(published / path, content, published / PART / "file")


def expected_surroundings(published: OwnPath, records: Sequence[Record]) -> dict[str, bytes]:
    """Return the files that lead between the revisions that are published, by path in that folder.

    records: in the order of issue.
    """
    listed = published_list(published) or {}
    there = [
        PublishedRevision(one.manifest, files)
        for one in records
        if (files := files_published(one.manifest, listed)) is not None
        and all((published / reader / one.manifest.revision).kind() == FOLDER for reader in READERS)
    ]
    return surroundings(there, EDITION_TITLES)
