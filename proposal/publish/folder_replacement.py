"""Put finished folders in the place of older ones, so that a reader sees all of one or all of the other.

A build is written into `.part` beside what it replaces. When it is complete `.part` is renamed `.next`:
that is the moment it counts. Then each of its entries takes the place of the older one. A run that finds
`.next` completes the swap that was interrupted; one that finds `.part` throws it away.
"""

from collections.abc import Iterator
from contextlib import contextmanager, suppress

from proposal.errors import InputError
from proposal.publish.files import make_folder, move, remove, remove_empty
from proposal.publish.program_folders import FOLDER, NOTHING, OwnPath, refuse_in_the_way
from proposal.publish.stop_signals import uninterrupted

_PART, _NEXT, _FORMER = ".part", ".next", ".former"


def swapped_in(folder: OwnPath) -> tuple[OwnPath, ...]:
    """Return the folders whose entries a swap renames; they may hold only what the program made."""
    return folder, folder / _NEXT


@contextmanager
def replacing(folder: OwnPath) -> Iterator[OwnPath]:
    """Give a new, empty folder to fill, and swap its entries into `folder` when the block ends well.

    Entries of `folder` that the new one does not have stay. Where the block fails, nothing changes.
    Raises InputError where a link, or anything else that a build does not make, lies there.
    """
    refuse_in_the_way(swapped_in(folder))
    with uninterrupted():
        complete_swap(folder)
    part = folder / _PART
    remove(part)
    try:
        make_folder(part)
        yield part
    except BaseException:
        with suppress(OSError, InputError):
            remove(part)
        raise
    with uninterrupted():
        move(part, folder / _NEXT)
        complete_swap(folder)


def complete_swap(folder: OwnPath) -> None:
    """Finish the swap that an earlier run began in a folder, if there is one."""
    following, former = folder / _NEXT, folder / _FORMER
    if following.kind() == FOLDER:
        for name in following.names():
            current = folder / name
            if current.kind() != NOTHING:
                remove(former / name)
                make_folder(former)
                move(current, former / name)
            move(following / name, current)
        remove_empty(following)
    remove(former)


def unfinished(folder: OwnPath) -> bool:
    """Say whether a run that was interrupted has left something in a folder."""
    return any((folder / name).kind() != NOTHING for name in (_PART, _NEXT, _FORMER))
