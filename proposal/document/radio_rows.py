"""Rows about radio: what came of planning, levels, neighbourhoods and what could be added."""

from pydantic import Field

from proposal.document.readers import Everyone, NotClient, Shown


class RadioSummary(Shown):
    """What came of radio, for every reader."""

    outcome: Everyone[str] = Field(description="planned, impossible or not settled.")
    links: Everyone[int] = Field(description="Microphones linked by radio at once.")
    access_points: Everyone[int] = Field(description="Access points that serve them.")
    carriers: Everyone[int] = Field(description="Carriers that all equipment can use.")
    worst_margin_db: Everyone[float | None] = Field(
        description="Margin of the weakest microphone above sensitivity and fade margin, dB."
    )
    other_links: Everyone[int] = Field(description="Links of others on the band that were reckoned with.")
    over: Everyone[str] = Field(
        description="Where impossible: what is wanted against what there is, such as `43 links of 40`."
    )
    over_rooms: Everyone[tuple[str, ...]] = Field(description="Where impossible: tags of the rooms.")


class MarginRow(Shown):
    """How one microphone is received."""

    microphone: NotClient[str] = Field(default="", description="Tag.")
    room: NotClient[str] = Field(default="", description="Tag of its room.")
    access_point: NotClient[str] = Field(default="", description="Tag of the access point that serves it.")
    distance_m: NotClient[float] = Field(default=0.0, description="Straight distance, m.")
    loss_db: NotClient[float] = Field(default=0.0, description="Loss of the path, dB.")
    body_db: NotClient[float] = Field(default=0.0, description="Loss of bodies, dB.")
    received_dbm: NotClient[float] = Field(default=0.0, description="Level at the weaker end, dBm.")
    wanted_dbm: NotClient[float] = Field(default=0.0, description="Sensitivity and fade margin, dBm.")
    margin_db: NotClient[float] = Field(default=0.0, description="What is left, dB.")
    probability: NotClient[float] = Field(default=0.0, description="Probability of coverage, 0 to 1.")
    second: NotClient[str] = Field(default="", description="Tag of the second-best access point.")
    second_db: NotClient[float | None] = Field(default=None, description="Margin to it, dB.")
    verdict: NotClient[str] = Field(default="", description="holds or fails.")


class RadioPlaceRow(Shown):
    """Where the plan puts one link; it shows that room exists and is nothing to be entered."""

    identity: NotClient[str] = Field(default="", description="Tag of the microphone, or name of a bearer.")
    kind: NotClient[str] = Field(default="", description="link, bearer or other.")
    access_point: NotClient[str] = Field(default="", description="Tag of its access point.")
    group: NotClient[str] = Field(default="", description="Synchronisation group.")
    carrier: NotClient[int | None] = Field(default=None, description="Carrier, from 0.")
    carrier_hz: NotClient[float | None] = Field(default=None, description="Centre of the carrier, Hz.")
    slots: NotClient[tuple[int, ...]] = Field(default=(), description="Slot pairs of the frame, from 0.")
    clear_db: NotClient[float | None] = Field(
        default=None, description="Carrier to the sum of interference, less what is wanted, dB."
    )


class NeighbourhoodRow(Shown):
    """Links of which no two can share a carrier and a slot."""

    number: NotClient[str] = Field(default="", description="Number, such as N1, fullest first.")
    rooms: NotClient[tuple[str, ...]] = Field(default=(), description="Tags of rooms and other users.")
    links: NotClient[int] = Field(default=0, description="Links.")
    bearers: NotClient[int] = Field(default=0, description="Always-on bearers.")
    wanted: NotClient[int] = Field(default=0, description="Slot pairs wanted.")
    held: NotClient[int] = Field(default=0, description="Slot pairs there are.")
    spare_links: NotClient[int] = Field(default=0, description="Links that could still be added.")


class FurtherRow(Shown):
    """How many microphones a room could still take."""

    room: NotClient[str] = Field(default="", description="Tag.")
    links: NotClient[int] = Field(default=0, description="Microphones it has on the air.")
    further: NotClient[int] = Field(default=0, description="How many more, moving nothing.")
    at_least: NotClient[bool] = Field(default=False, description="Whether more were not looked for.")


class RadioCaseRow(Shown):
    """What becomes of the plan under another assumption."""

    name: NotClient[str] = Field(default="", description="The assumption.")
    outcome: NotClient[str] = Field(default="", description="planned, impossible or not settled.")
    worst_margin_db: NotClient[float | None] = Field(
        default=None, description="Margin of the weakest microphone, dB."
    )


class DisturbanceRow(Shown):
    """Two rooms whose links cannot all share carriers and slots."""

    rooms: NotClient[tuple[str, ...]] = Field(default=(), description="Tags of the two.")
    over_db: NotClient[float] = Field(
        default=0.0, description="How far the worst unwanted level lies above what is borne, dB."
    )
