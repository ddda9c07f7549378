"""How well microphones are received."""

from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """How a microphone is received.

    microphone, access_point, room: tags.
    distance_m, loss_db: of its path, obstructions included.
    body_db: loss of bodies.
    received_dbm, sensitivity_dbm: of the direction with less to spare.
    fade_db: margin kept for fading.
    second: tag of the second-best access point of the room, empty with one only; second_db: margin to it.
    hindered_db: what obstructions take of the path.
    """

    microphone: str
    access_point: str
    room: str
    distance_m: float
    loss_db: float
    body_db: float
    received_dbm: float
    sensitivity_dbm: float
    fade_db: float
    second: str
    second_db: float | None
    hindered_db: float

    @property
    def margin_db(self) -> float:
        """Return how far the level lies above sensitivity and fade margin."""
        return self.received_dbm - self.sensitivity_dbm - self.fade_db
