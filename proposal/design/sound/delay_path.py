"""One way of sound: its parts, their sum, and the limit that it is held against."""

import math
from itertools import groupby

from proposal.design.sound.latency_parts import Part
from proposal.field_classes import dataclass
from proposal.standards.latency import path_delay_ms
from proposal.standards.sources import EDITABLE_DEFAULT
from proposal.standards.working import Limit, Working, working

IN_ROOM_USE, ELSEWHERE_USE = "project.rules.latency.in_room", "project.rules.latency.elsewhere"


@dataclass(frozen=True, slots=True, kw_only=True)
class DelayPath:
    """The slowest way of sound from a kind of microphone, or of return audio, to a listener.

    spoken_in: key of the kind of room, or in joined rooms the tag of the room, where people speak.
    returned_from: what return audio comes from, empty where people speak in the room itself; its way begins
        where it leaves that.
    rooms: tags of the rooms for which it stands.
    heard_in: tag of the room that is joined to it, where it is heard; empty for the room itself.
    states: states in which it is so; empty for all.
    microphone, model: tag and model code of the microphone; empty for return audio.
    listener: what is heard there, such as the loudspeakers of a zone.
    parts: in the order of the signal.
    limit_s: longest delay allowed; None where none is stated.
    uses: what it and the parts rest on, by dotted path.
    """

    spoken_in: str
    rooms: tuple[str, ...]
    heard_in: str
    states: tuple[str, ...]
    microphone: str
    model: str
    listener: str
    parts: tuple[Part, ...]
    limit_s: float | None
    uses: tuple[str, ...]
    returned_from: str = ""

    @property
    def known_s(self) -> float:
        """Return the sum of all parts that are known, s."""
        return sum(part.delay_s for part in self.parts if part.delay_s is not None)

    @property
    def unknown(self) -> tuple[Part, ...]:
        """Return the parts of which nobody says how long they take."""
        return tuple(part for part in self.parts if part.delay_s is None)

    @property
    def largest(self) -> Part | None:
        """Return the part that takes longest, the first of equals; None where none is known."""
        known = [part for part in self.parts if part.delay_s is not None]
        return max(known, key=lambda part: part.delay_s or 0.0, default=None)

    @property
    def over_s(self) -> float:
        """Return how much the known parts are over the limit, s; below 0 where not, or where none is set."""
        return -math.inf if self.limit_s is None else self.known_s - self.limit_s

    @property
    def verdict(self) -> str:
        """Return fails where known parts are over the limit, else open where one is not known, else holds.

        Empty where no limit is stated.
        """
        if self.limit_s is None:
            return ""
        if self.working.verdict == "fails":
            return "fails"
        return "open" if self.unknown else "holds"

    @property
    def way(self) -> tuple[str, ...]:
        """Return what return audio comes from, the tags that sound passes, in order, and the listener."""
        tags = [tag for part in self.parts for tag in part.at]
        first = (self.returned_from,) if self.returned_from else ()
        return (*first, *(tag for tag, _ in groupby(tags)), self.listener)

    @property
    def workings(self) -> tuple[Working, ...]:
        """Return the workings of the network on its way, and its sum."""
        return (*(part.working for part in self.parts if part.working is not None), self.working)

    @property
    def working(self) -> Working:
        """Return the sum of its known parts against the limit."""
        open_yet = self.limit_s is None or (bool(self.unknown) and self.over_s <= 0)
        return working(
            path_delay_ms,
            title=f"Delay from {self.microphone or self.returned_from} to {self.listener}"
            + (f" in {self.heard_in}" if self.heard_in else ""),
            limit=None if open_yet else Limit(1000 * (self.limit_s or 0.0), "≤", EDITABLE_DEFAULT),
            uses=self.uses,
            note="Not known yet: " + ", ".join(f"{part.name} {part.at[0]}" for part in self.unknown) + "."
            if self.unknown
            else "",
            parts_ms=tuple(1000 * part.delay_s for part in self.parts if part.delay_s is not None),
        )
