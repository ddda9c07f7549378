"""Records and published folders put in their places, and what an ended run left there taken away."""

import shutil
from collections.abc import Sequence
from pathlib import Path

from proposal.document.readers import READERS
from proposal.publish.manifest import Manifest
from proposal.publish.proposal_site import EDITION_TITLES
from proposal.publish.published import surroundings
from proposal.publish.record import ISSUED, PUBLISHED, Record

PART = ".part"
_PLACING = ".placing"


def put_in_place(folder: Path, manifest: Manifest) -> None:
    """Put a finished revision in its place: what is published of it first, then its record, which counts.

    folder: the project folder.
    """
    published = folder / PUBLISHED
    # Who finds this file without the record knows what to take away.
    _put(published, _PLACING, manifest.revision.encode("utf-8"))
    place_artifacts(published, manifest.revision)
    (folder / ISSUED / PART).rename(folder / ISSUED / manifest.revision)
    (published / _PLACING).unlink()


def place_artifacts(published: Path, revision: str) -> None:
    """Put the editions of a revision from `.part` in their places; what stood there is taken away."""
    for reader in READERS:
        place = published / reader / revision
        place.parent.mkdir(exist_ok=True)
        if place.exists():
            shutil.rmtree(place)
        (published / PART / reader).rename(place)
    shutil.rmtree(published / PART)


def clean_up(folder: Path) -> None:
    """Take away what a run left that was ended before its revision counted.

    folder: the project folder.
    """
    published = folder / PUBLISHED
    for part in (folder / ISSUED / PART, published / PART):
        if part.exists():
            shutil.rmtree(part)
    placing = published / _PLACING
    if placing.exists():
        revision = placing.read_text("utf-8")
        if not (folder / ISSUED / revision).exists():
            for reader in READERS:
                if (published / reader / revision).exists():
                    shutil.rmtree(published / reader / revision)
        placing.unlink()
    for name in (ISSUED, PUBLISHED):
        if (folder / name).is_dir() and not any((folder / name).iterdir()):
            (folder / name).rmdir()


def write_surroundings(folder: Path, records: Sequence[Record]) -> None:
    """Write the files that lead between the revisions of a published folder, where they are not so already.

    folder: the project folder.
    records: in the order of issue; those of which nothing is published are passed over.
    """
    published = folder / PUBLISHED
    for path, content in expected_surroundings(folder, records).items():
        place = published / path
        if not place.is_file() or place.read_bytes() != content:
            _put(published, path, content)
    if (published / PART).exists():
        shutil.rmtree(published / PART)


def _put(published: Path, path: str, content: bytes) -> None:
    """Write a file whole or not at all; what is left of it by a run that was ended lies in `.part`."""
    staged = published / PART / "file"
    staged.parent.mkdir(exist_ok=True)
    staged.write_bytes(content)
    (published / path).parent.mkdir(exist_ok=True)
    staged.replace(published / path)


def expected_surroundings(folder: Path, records: Sequence[Record]) -> dict[str, bytes]:
    """Return the files that lead between the revisions that are published, by path in that folder."""
    published = folder / PUBLISHED
    there = [
        one.manifest
        for one in records
        if all((published / reader / one.manifest.revision).is_dir() for reader in READERS)
    ]
    return surroundings(there, EDITION_TITLES)
