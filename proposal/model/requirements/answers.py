"""What answers a requirement of the client: a sort of answer each, told by its first key."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag, model_validator

from proposal.model.assistive_listening import Carrier
from proposal.model.base import Name, Written
from proposal.model.equipment.parts import Category
from proposal.model.labour.labour import Phase
from proposal.model.microphone_positions import Form, WiredForm
from proposal.model.programme import PaymentEvent
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal, shown
from proposal.quantities.money import WholeAmount
from proposal.quantities.parsing import Length, parse

_Most = Annotated[int, Field(ge=0, le=100_000)]
Counted = Literal[
    "rooms",
    "seats",
    "seats with a microphone",
    "seats without a microphone",
    "microphones",
    "spare microphones",
    "access points",
    "chargers",
    "places to charge microphones",
    "swaps of microphones a day",
    "years a battery lasts",
    "mixers",
    "breakouts",
    "loudspeakers",
    "free switch ports",
    "new switches",
    "racks",
    "cables that leave their room",
    "wired microphones",
    "assistive receivers",
    "assistive transmitters",
    "receivers for hearing aids",
    "signs for assistive listening",
    "places to charge receivers",
]
Figure = Literal[
    "radio margin", "lowest charge", "link length", "conduit fill", "speech level", "delay of sound"
]
SEATS_BY_MICROPHONE: tuple[Counted, ...] = ("seats with a microphone", "seats without a microphone")
OF_A_LEVEL: tuple[Counted, ...] = ("seats", "microphones", "wired microphones", *SEATS_BY_MICROPHONE)
FIGURES: Mapping[Figure, str] = {
    "radio margin": "level",
    "lowest charge": "fraction",
    "link length": "length",
    "conduit fill": "fraction",
    "speech level": "sound_level",
    "delay of sound": "duration",
}
"""Figures, and the kind of quantity that each is."""
Check = Literal[
    "rooms",
    "cabling",
    "pathways",
    "power over Ethernet",
    "network",
    "racks",
    "mains",
    "charging",
    "channels",
    "radio",
    "latency",
    "surfaces not to be touched",
    "sound that stays",
]
Direction = Literal["from the room", "to the room", "both ways"]
Sum = Literal["before tax", "tax", "with tax", "allowance"]
Term = Literal["validity", "warranty", "retention"]
Agreed = Literal[
    "damages",
    "price rise",
    "tax exemption",
    "retention",
    "payment",
    "payment days",
    "bond",
    "milestone",
    "wages",
    "work hours",
    "no work",
    "service",
]
Stance = Literal["complies", "complies in part", "does not comply", "clarification", "by others"]


def _one_limit(least: object, most: object) -> None:
    """Refuse what has no limit, or two."""
    if (least is None) == (most is None):
        found = "neither" if least is None else "both"
        raise refusal("either at_least or at_most, such as `at_least: 4`", found)


class CountAnswer(Written):
    """How many of something the design has."""

    count: Counted = Field(description="What is counted.")
    form: Form | WiredForm | None = Field(
        default=None,
        description="Form of the microphones that are counted, such as gooseneck; all where left out.",
    )
    carrier: Carrier | None = Field(
        default=None,
        description="What carries the sound of the assistive transmitters counted, such as infrared.",
    )
    within: Annotated[Length, Field(gt=0, le=100)] | None = Field(
        default=None,
        description="How near a microphone is to a seat that has one, such as 0.8 m; left out, a seat has "
        "the microphone that names it (seat).",
    )
    level: str = Field(
        default="", description="Tag of the level of the room, such as balcony; all of it where left out."
    )
    room: str = Field(default="", description="Tag of the room it is counted in; all rooms where left out.")
    joined_in: str = Field(
        default="",
        description="State in which the rooms that are joined with it count, too, such as both.",
    )
    at_least: _Most | None = Field(default=None, description="Fewest that meet the requirement.")
    at_most: _Most | None = Field(default=None, description="Most that meet the requirement.")

    @model_validator(mode="after")
    def _has_a_limit(self) -> "CountAnswer":
        _one_limit(self.at_least, self.at_most)
        if self.form is not None and not self.count.endswith("microphones"):
            raise refusal(
                "form beside microphones, spare microphones or wired microphones, such as "
                "`count: microphones, form: handheld`",
                shown(self.count),
            )
        if self.carrier is not None and self.count != "assistive transmitters":
            raise refusal(
                "carrier beside assistive transmitters, such as "
                "`count: assistive transmitters, carrier: infrared`",
                shown(self.count),
            )
        if self.within is not None and self.count not in SEATS_BY_MICROPHONE:
            raise refusal(
                f"within beside {' or '.join(SEATS_BY_MICROPHONE)}, such as "
                f"`count: {SEATS_BY_MICROPHONE[0]}, within: 1 m`",
                shown(self.count),
            )
        if self.joined_in and not self.room:
            raise refusal(
                "a room beside joined_in, such as `count: seats, room: B101, joined_in: both`", "none"
            )
        if self.level and not (self.room and self.count in OF_A_LEVEL):
            raise refusal(
                "level beside a room and a count of seats or microphones, such as "
                "`count: seats, room: B101, level: balcony`",
                shown(self.count),
            )
        return self


class FigureAnswer(Written):
    """The worst of a figure that the design computes."""

    figure: Figure = Field(description="The figure; the worst one counts.")
    room: str = Field(default="", description="Tag of the room it is for; all rooms where left out.")
    at_least: str | None = Field(default=None, description="Least that meets it, with unit, such as 6 dB.")
    at_most: str | None = Field(default=None, description="Most that meets it, with unit, such as 80 m.")

    @model_validator(mode="after")
    def _has_a_limit(self) -> "FigureAnswer":
        _one_limit(self.at_least, self.at_most)
        parse(self.written, FIGURES[self.figure])
        return self

    @property
    def written(self) -> str:
        """Return the limit as it is written."""
        return str(self.at_most if self.at_least is None else self.at_least)

    @property
    def limit(self) -> float:
        """Return the limit, in SI units."""
        return parse(self.written, FIGURES[self.figure])


class CheckAnswer(Written):
    """That the review of a subject finds no error."""

    check: Check = Field(description="Subject of the review in which no error may be found.")


class ConnectionAnswer(Written):
    """That the sound of a room goes somewhere or comes from there."""

    connection: Name = Field(description="Code of a destination or return of the room, such as recorder.")
    room: Name = Field(description="Tag of the room.")
    carries: str = Field(
        default="",
        description="What one of its channels has to carry, as the room type writes it: mix, M1, "
        "group dais or return far-end.",
    )
    direction: Direction | None = Field(
        default=None,
        description="Which way the sound goes: from the room, to the room, or both ways; left out, as the "
        "room has it.",
    )


class PriceAnswer(Written):
    """A sum of the price, or an allowance that it contains."""

    price: Sum = Field(
        description="The whole price before or with tax, the tax alone, or an allowance: a sum set "
        "aside is provisional and never more than met in part."
    )
    allowance: str = Field(default="", description="Name of the allowance in project.yaml.")
    at_least: WholeAmount | None = Field(default=None, description="Least that meets it.")
    at_most: WholeAmount | None = Field(default=None, description="Most that meets it.")

    @model_validator(mode="after")
    def _names_what_it_means(self) -> "PriceAnswer":
        _one_limit(self.at_least, self.at_most)
        if (self.price == "allowance") != bool(self.allowance):
            found = "none" if self.price == "allowance" else shown(self.allowance)
            raise refusal("the name of an allowance for `price: allowance` alone", found)
        return self


class MeasuredAnswer(Written):
    """A figure that the design does not compute, and that is measured on site: open until then."""

    measured: Annotated[str, Field(min_length=3, max_length=120)] = Field(
        description="What is measured, such as speech transmission index (STI)."
    )
    wanted: Annotated[str, Field(min_length=1, max_length=120)] = Field(
        description="What it has to be, in words, such as `0.60 or more at every seat`."
    )
    room: str = Field(default="", description="Tag of the room it is measured in; all rooms where left out.")


class DateAnswer(Written):
    """The day on which something of the programme has happened."""

    date: PaymentEvent = Field(description="What has happened.")
    by: Date = Field(description="Last day that meets the requirement.")


class TermAnswer(Written):
    """A term of the proposal."""

    term: Term = Field(description="validity in days, warranty in months, or retention in days.")
    at_least: _Most = Field(description="Fewest days or months that meet the requirement.")


class CableAnswer(Written):
    """What data cables are."""

    cable: Category = Field(description="Lowest category that meets the requirement: 5e, 6 or 6A.")
    room: str = Field(default="", description="Tag of the room they serve; all rooms where left out.")
    screened: bool = Field(default=False, description="Whether they have to be screened.")
    copper: bool = Field(default=False, description="Whether their conductors have to be solid copper.")


class StateAnswer(Written):
    """What a state offers: rooms that are one, a room that hears another, a portable set in its place."""

    state: Name = Field(description="Name of the state in building.yaml, such as joined.")
    joins: Annotated[tuple[Name, ...], Field(max_length=50)] = Field(
        default=(), description="Tags of rooms whose sound is one in it."
    )
    listener: str = Field(default="", description="Tag of a room that hears another in it, such as overflow.")
    hears: str = Field(default="", description="Tag of the room that it hears.")
    hears_not: str = Field(default="", description="Tag of a room that it may not hear in that state.")
    portable: str = Field(default="", description="Tag of a portable set that is used in it.")
    place: str = Field(default="", description="Where that set is used: a place of portable_places.")

    @model_validator(mode="after")
    def _asks_for_something(self) -> "StateAnswer":
        if bool(self.portable) != bool(self.place):
            raise refusal(
                "a portable set and its place together, such as `portable: P1, place: courtyard`",
                "one of them alone",
            )
        if bool(self.listener) != bool(self.hears or self.hears_not):
            raise refusal(
                "a listener and the room that it hears (or hears_not), such as `listener: B102, hears: B101`",
                "one of them alone",
            )
        if len(self.joins) == 1 or not (self.joins or self.portable or self.listener):
            raise refusal(
                "two rooms or more under joins, such as "
                "`joins: [B101, B102]`, a listener and the room it hears, "
                "or a portable set and its place",
                "none of them",
            )
        return self


class ConditionAnswer(Written):
    """That the work on site of a room is priced under a condition of labour."""

    condition: Name = Field(description="Key of the condition, such as off hours.")
    room: Name = Field(description="Tag of the room.")


class SiteClosedAnswer(Written):
    """That nobody works on site on some days."""

    site_closed: Date = Field(description="First day.")
    until: Date = Field(description="Last day.")

    @model_validator(mode="after")
    def _runs_forward(self) -> "SiteClosedAnswer":
        if not 0 <= (self.until - self.site_closed).days <= 3660:
            raise refusal(
                "a last day on or after the first, within ten years, such as "
                "`site_closed: 2031-08-01, until: 2031-08-15`",
                self.until.isoformat(),
            )
        return self


class OvertimeAnswer(Written):
    """That work of a phase is done outside normal working time, and charged to a room."""

    overtime: Phase = Field(description="Phase of the work, such as first fix.")
    room: Name = Field(description="Tag of the room that pays for it.")


class AgreedAnswer(Written):
    """A term of the contract, as project.yaml has it."""

    agreed: Agreed = Field(
        description="damages, price rise, tax exemption, retention, payment, payment days, bond, milestone, "
        "wages, work hours, no work, or service."
    )
    says: Name = Field(
        description="What it has to be, such as `0.5 % a week, at most 5 %` of damages, or several with `;` "
        "between, `20 % upon the order; 80 % upon acceptance`; `Mon-Fri, 18:00 to 22:00` of work hours, "
        "`Tue in B101` of no work; reasons and names in brackets, time to pay and months of a service may be "
        "left out. Where the proposal has another, the message says it in the same form."
    )


class StatementAnswer(Written):
    """What a person states; it never makes a requirement met."""

    statement: Stance = Field(
        description="complies, complies in part, does not comply, clarification, or by others."
    )
    words: Annotated[str, Field(min_length=3)] = Field(description="The statement in words.")
    by: Name = Field(description="Who states it.")
    on: Date = Field(description="When it was stated.")


SORTS: Mapping[str, type[Written]] = {
    "count": CountAnswer,
    "figure": FigureAnswer,
    "check": CheckAnswer,
    "connection": ConnectionAnswer,
    "price": PriceAnswer,
    "measured": MeasuredAnswer,
    "date": DateAnswer,
    "term": TermAnswer,
    "cable": CableAnswer,
    "state": StateAnswer,
    "condition": ConditionAnswer,
    "site_closed": SiteClosedAnswer,
    "overtime": OvertimeAnswer,
    "agreed": AgreedAnswer,
    "statement": StatementAnswer,
}
"""Sorts of answers by the key that tells them."""


def sort_of(value: Any) -> str | None:
    """Return which sort of answer something written is, None where no key or several keys tell.

    value: an answer, or what a file has in place of one.
    """
    if isinstance(value, Written):
        return next((key for key, sort in SORTS.items() if type(value) is sort), None)
    told = [key for key in SORTS if isinstance(value, Mapping) and key in value]
    return told[0] if len(told) == 1 else None


Answer = Annotated[
    Annotated[CountAnswer, Tag("count")]
    | Annotated[FigureAnswer, Tag("figure")]
    | Annotated[CheckAnswer, Tag("check")]
    | Annotated[ConnectionAnswer, Tag("connection")]
    | Annotated[PriceAnswer, Tag("price")]
    | Annotated[MeasuredAnswer, Tag("measured")]
    | Annotated[DateAnswer, Tag("date")]
    | Annotated[TermAnswer, Tag("term")]
    | Annotated[CableAnswer, Tag("cable")]
    | Annotated[StateAnswer, Tag("state")]
    | Annotated[ConditionAnswer, Tag("condition")]
    | Annotated[SiteClosedAnswer, Tag("site_closed")]
    | Annotated[OvertimeAnswer, Tag("overtime")]
    | Annotated[AgreedAnswer, Tag("agreed")]
    | Annotated[StatementAnswer, Tag("statement")],
    Discriminator(
        sort_of,
        custom_error_type="wanted",
        custom_error_message=f"wanted one key of {', '.join(SORTS)}, such as {{count: seats, at_least: 8}}; "
        "found none or several of them",
    ),
]
