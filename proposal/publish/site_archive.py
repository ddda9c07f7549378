"""The site of an edition as one ZIP archive: to send, to unpack, and to open from disk."""

from collections.abc import Iterable
from pathlib import Path

from proposal.document.readers import Reader
from proposal.errors import BuildError, printable
from proposal.publish.archive import archive
from proposal.publish.files import replace
from proposal.publish.program_folders import own_folders
from proposal.publish.project_lock import exclusive
from proposal.publish.record import files_below


def pack_sites(folder: Path, readers: Iterable[Reader]) -> dict[Reader, Path]:
    """Pack the built site of each edition beside it and return the archive of each.

    folder: the project folder.
    readers: whose sites; each was built.
    Raises BuildError where a link lies in a site: what it leads to is nobody's to send.
    """
    build = own_folders(folder).build
    packed: dict[Reader, Path] = {}
    with exclusive(build):
        for reader in readers:
            site = files_below((build / reader / "site").path)
            for file in site.values():
                if file.is_symlink():
                    raise BuildError(f"{printable(str(file))}: wanted a file of the site; found a link")
            # One folder, so that what is unpacked lies together.
            files = {f"proposal-{reader}/{path}": file.read_bytes() for path, file in site.items()}
            target = build / f"{reader}.zip"
            replace(target, archive(files), build / f".{reader}.zip")
            packed[reader] = target.path
    return packed
