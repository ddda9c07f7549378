"""Rows of standby supplies, of what every room keeps without mains, and of where power comes from."""

from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows


class StandbySupplyRow(Row):
    """One standby supply: what it feeds and for how long, against what is asked of it."""

    schedule: ClassVar = Schedule("standby_supply", subject="power", key=("tag",))

    tag: Annotated[str, Shows("standby_supply", ALL, "tag", link="tag")] = Field(description="Its tag.")
    rack: Annotated[str, Shows("rack", ALL, "tag", link="tag")] = Field(description="Tag of its rack.")
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    packs: Annotated[int, Shows("battery_packs", ALL, "count", zero=False)] = Field(
        description="Battery packs beside it."
    )
    verdict: Annotated[str, Shows("verdict", ALL, "verdict")] = Field(
        description="holds or fails: by watts, by volt-amperes, by outlets and by time."
    )
    asked_min: Annotated[float, Shows("minutes_asked", ALL, "minutes")] = Field(
        description="How long it is to last."
    )
    lasts_min: Annotated[float | None, Shows("minutes_at_end_of_life", ALL, "minutes", follows=True)] = Field(
        description="How long it carries the typical load, its battery at the end of its life and cold, in "
        "whole minutes; none where its maker's table says nothing of such a load."
    )
    new_min: Annotated[float | None, Shows("minutes_when_new", ALL, "minutes", follows=True)] = Field(
        description="The same with a new battery."
    )
    full_min: Annotated[float | None, Shows("minutes_at_highest_load", ALL, "minutes", follows=True)] = Field(
        description="How long it carries the highest load, its battery at the end of its life and cold."
    )
    typical_w: Annotated[float, Shows("typical_load", ALL, "watts", follows=True)] = Field(
        description="What it feeds while people speak, W."
    )
    full_w: Annotated[float, Shows("highest_load", ALL, "watts", follows=True)] = Field(
        description="The most that what it feeds takes, W."
    )
    allowed_w: Annotated[float, Shows("load_allowed", ALL, "watts")] = Field(
        description="The most that it may feed, W."
    )
    full_va: Annotated[float, Shows("highest_apparent_load", ALL, "volt-amperes", follows=True)] = Field(
        description="The most that what it feeds takes, VA."
    )
    allowed_va: Annotated[float, Shows("apparent_load_allowed", ALL, "volt-amperes")] = Field(
        description="The most that it may feed, VA."
    )
    outlets_used: Annotated[int, Shows("outlets_used", ALL, "count", follows=True)] = Field(
        description="Outlets that feed something."
    )
    outlets: Annotated[int, Shows("outlets_offered", ALL, "count")] = Field(description="Outlets it has.")
    own_w: Annotated[float, Shows("heat_given_off", ALL, "watts", follows=True)] = Field(
        description="What it takes for itself and gives off as heat at the typical load, W."
    )
    recharge_h: Annotated[float, Shows("hours_to_recharge", ALL, "hours")] = Field(
        description="Hours until it is charged to 90 % again."
    )
    battery_months: Annotated[int, Shows("battery_replaced_after_months", ALL, "count")] = Field(
        description="Months after which its battery is replaced, by the temperature around it."
    )
    battery_price: Annotated[
        Decimal | None, Shows("list_price_of_its_batteries", ALL, "money", empty="ask_the_maker")
    ] = Field(
        default=None,
        description="List price of new batteries for it and its packs before tax; None where none is known.",
    )
    feeds: Annotated[tuple[str, ...], Shows("feeds", ALL, "tag", link="tag")] = Field(
        description="Tags of the devices, codes of the parts that it feeds."
    )


class RoomWithoutMainsRow(Row):
    """What a room keeps when the mains fails."""

    schedule: ClassVar = Schedule("room_without_mains", subject="power", key=("place",))

    place: Annotated[str, Shows("place", ALL, "tag", link="tag")] = Field(
        description="Tag of the room that is served, or of the equipment room."
    )
    keeps: Annotated[str, Shows("without_mains", ALL, "word")] = Field(
        description="all stays up, some stays up, or all goes down."
    )
    lasts_min: Annotated[float | None, Shows("minutes_at_end_of_life", ALL, "minutes", follows=True)] = Field(
        description="How long all that stays up does, in whole minutes."
    )
    stays: Annotated[tuple[str, ...], Shows("stays_up", ALL, "tag", link="tag", sorted=True)] = Field(
        description="Tags of what stays up."
    )
    goes: Annotated[tuple[str, ...], Shows("goes_down", ALL, "tag", link="tag", sorted=True)] = Field(
        description="Tags of what goes down with the mains."
    )


class PowerPathRow(Row):
    """What feeds one device that is not plugged into the mains itself, and whether it stays up without."""

    schedule: ClassVar = Schedule("power_path", subject="power", key=("device",))

    device: Annotated[str, Shows("device", ALL, "tag", link="tag")] = Field(
        description="Tag of a device, or code of a part with its rack before it."
    )
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of device or part.")
    place: Annotated[str, Shows("place", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room where it stands."
    )
    room: Annotated[str, Shows("serves_room", ALL, "tag", link="tag")] = Field(
        description="Tag of the room that it serves, or of its equipment room."
    )
    path: Annotated[tuple[str, ...], Shows("power_from", ALL, "tag", link="tag")] = Field(
        description="What it is fed through, from it back to what is plugged into the mains."
    )
    state: Annotated[str, Shows("without_mains", ALL, "word")] = Field(description="stays up or goes down.")
    lasts_min: Annotated[float | None, Shows("minutes_at_end_of_life", ALL, "minutes", follows=True)] = Field(
        description="How long it stays up, in whole minutes; none where it goes down."
    )
