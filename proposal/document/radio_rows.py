"""Rows about radio: what came of planning, levels, neighbourhoods and what could be added."""

from typing import Annotated

from pydantic import Field

from proposal.document.quantities import Holds
from proposal.document.readers import Everyone, NotClient, Shown


class RadioSummary(Shown):
    """What came of radio, for every reader."""

    outcome: Annotated[Everyone[str], Holds("text")] = Field(
        description="planned, impossible or not settled."
    )
    links: Annotated[Everyone[int], Holds("count")] = Field(
        description="Microphones linked by radio at once."
    )
    access_points: Annotated[Everyone[int], Holds("count")] = Field(
        description="Access points that serve them."
    )
    carriers: Annotated[Everyone[int], Holds("count")] = Field(
        description="Carriers that all equipment can use."
    )
    worst_margin_db: Annotated[Everyone[float | None], Holds("dB")] = Field(
        description="Margin of the weakest microphone above sensitivity and fade margin, dB."
    )
    other_links: Annotated[Everyone[int], Holds("count")] = Field(
        description="Links of others on the band that were reckoned with."
    )
    over: Annotated[Everyone[str], Holds("text")] = Field(
        description="Where impossible: what is wanted against what there is, such as `43 links of 40`."
    )
    over_rooms: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Where impossible: tags of the rooms."
    )


class MarginRow(Shown):
    """How one microphone is received."""

    microphone: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag.")
    room: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of its room.")
    access_point: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the access point that serves it."
    )
    distance_m: Annotated[NotClient[float], Holds("length")] = Field(
        default=0.0, description="Straight distance, m."
    )
    loss_db: Annotated[NotClient[float], Holds("dB")] = Field(
        default=0.0, description="Loss of the path, dB."
    )
    body_db: Annotated[NotClient[float], Holds("dB")] = Field(default=0.0, description="Loss of bodies, dB.")
    received_dbm: Annotated[NotClient[float], Holds("dBm")] = Field(
        default=0.0, description="Level at the weaker end, dBm."
    )
    wanted_dbm: Annotated[NotClient[float], Holds("dBm")] = Field(
        default=0.0, description="Sensitivity and fade margin, dBm."
    )
    margin_db: Annotated[NotClient[float], Holds("dB")] = Field(default=0.0, description="What is left, dB.")
    probability: Annotated[NotClient[float], Holds("share")] = Field(
        default=0.0, description="Probability of coverage, 0 to 1."
    )
    second: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the second-best access point."
    )
    second_db: Annotated[NotClient[float | None], Holds("dB")] = Field(
        default=None, description="Margin to it, dB."
    )
    verdict: Annotated[NotClient[str], Holds("text")] = Field(default="", description="holds or fails.")


class RadioPlaceRow(Shown):
    """Where the plan puts one link; it shows that room exists and is nothing to be entered."""

    identity: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the microphone, or name of a bearer."
    )
    kind: Annotated[NotClient[str], Holds("text")] = Field(default="", description="link, bearer or other.")
    access_point: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of its access point."
    )
    group: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Synchronisation group.")
    carrier: Annotated[NotClient[int | None], Holds("number")] = Field(
        default=None, description="Carrier, from 0."
    )
    carrier_hz: Annotated[NotClient[float | None], Holds("hertz")] = Field(
        default=None, description="Centre of the carrier, Hz."
    )
    slots: Annotated[NotClient[tuple[int, ...]], Holds("number")] = Field(
        default=(), description="Slot pairs of the frame, from 0."
    )
    clear_db: Annotated[NotClient[float | None], Holds("dB")] = Field(
        default=None, description="Carrier to the sum of interference, less what is wanted, dB."
    )


class NeighbourhoodRow(Shown):
    """Links of which no two can share a carrier and a slot."""

    number: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Number, such as N1, fullest first."
    )
    rooms: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Tags of rooms and other users."
    )
    links: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Links.")
    bearers: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Always-on bearers.")
    wanted: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Slot pairs wanted.")
    held: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Slot pairs there are.")
    spare_links: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Links that could still be added."
    )


class FurtherRow(Shown):
    """How many microphones a room could still take."""

    room: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag.")
    links: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Microphones it has on the air."
    )
    further: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="How many more, moving nothing."
    )
    at_least: Annotated[NotClient[bool], Holds("flag")] = Field(
        default=False, description="Whether more were not looked for."
    )


class RadioCaseRow(Shown):
    """What becomes of the plan under another assumption."""

    name: Annotated[NotClient[str], Holds("text")] = Field(default="", description="The assumption.")
    outcome: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="planned, impossible or not settled."
    )
    worst_margin_db: Annotated[NotClient[float | None], Holds("dB")] = Field(
        default=None, description="Margin of the weakest microphone, dB."
    )


class DisturbanceRow(Shown):
    """Two rooms whose links cannot all share carriers and slots."""

    rooms: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Tags of the two."
    )
    over_db: Annotated[NotClient[float], Holds("dB")] = Field(
        default=0.0, description="How far the worst unwanted level lies above what is borne, dB."
    )
