"""One register made of those of merged branches that both issued revisions, and which numbers clash.

Each branch gave numbers without knowing of the other's. Where two things have one number, the thing of the
record that comes first in the order of issue keeps it; the other is as if it had never had one, so that the
next revision numbers it anew, unless it is fixed by hand. Where one thing has two numbers, the first record's
counts, and the other number is retired.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from proposal.model.project import Numbered

_SHARED = frozenset({"radio", "cut", "reel"})
"""Kinds of number that several things may have, or that are counted for each type by itself."""
_WAS = " was "


class NumberClash(NamedTuple):
    """A number of a record that gives way to one of a record before it.

    record: the one whose number gives way.  identity: of the thing.  number: that it loses.
    first: the record that comes first.  holder: the thing that has the number there, empty where the same
    thing has another number there.
    """

    record: str
    identity: str
    number: str
    first: str
    holder: str

    def __str__(self) -> str:
        """Return the line a person reads."""
        if self.holder:
            why = (
                f"which revision {self.first} gave to {self.holder}: it is numbered anew, unless it is fixed"
            )
        else:
            why = f"and revision {self.first} another one, which it keeps"
        return f"revision {self.record} gave {self.identity} the number {self.number}, {why}"


def merged_registers(
    registers: Sequence[tuple[str, Mapping[str, Numbered]]],
) -> tuple[dict[str, Numbered], tuple[NumberClash, ...]]:
    """Return the numbers of several records together, and those that clash and must change.

    registers: name of each record and its numbers by identity, in the order of issue.
    """
    found: dict[str, Numbered] = {}
    givers: dict[str, str] = {}
    holders: dict[tuple[str, str], str] = {}
    clashes: list[NumberClash] = []
    for record, register in registers:
        for identity in sorted(register):
            one, before = register[identity], found.get(identity)
            key = (identity.partition("/")[0], one.number)
            holder = identity if key[0] in _SHARED else holders.get(key, identity)
            if holder != identity and not (one.retired and _WAS in identity):
                clashes.append(NumberClash(record, identity, one.number, givers[holder], holder))
            elif holder != identity:
                continue  # given up here, and in use there
            elif before is None:
                found[identity] = one
                givers[identity] = record
                holders[key] = identity
            elif before.number != one.number and key[0] not in _SHARED:
                clashes.append(NumberClash(record, identity, one.number, givers[identity], ""))
                was = f"{identity}{_WAS}{one.number}"
                found.setdefault(was, Numbered(number=one.number, retired=True))
                givers.setdefault(was, record)
                holders[key] = was
            elif before.retired and not one.retired:
                found[identity] = one
    return found, tuple(clashes)
