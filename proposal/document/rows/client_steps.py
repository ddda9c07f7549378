"""Rows of what the work needs from the client, and by when."""

import datetime
from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.findings import QuestionRow
from proposal.document.rows.mute_controls import MuteControlRow, panel_count
from proposal.document.rows.network import NetworkQuestionRow
from proposal.document.rows.owner_equipment import FIRST_FIX, SECOND_FIX, OwnerEquipmentRow, Storeyed
from proposal.document.rows.pathways import PenetrationRow
from proposal.document.rows.programme import ActivityRow, ProgrammeSummary, SetDayRow, begins
from proposal.document.rows.radio import LeverRow, RadioSummary
from proposal.document.rows.rooms import StoreyRow
from proposal.document.rows.terms import OWN_EQUIPMENT, DutyRow
from proposal.document.schedule import ALL, Row, Schedule, Shows
from proposal.quantities.formatting import count_of, listed

PANELS = "panels"
"""Key of the decision how many panels mute, and where."""
ORDERED, APPROVED, ACCEPTED = "order", "drawings approved", "accepted"
HANDOVER = "papers handed over"
PROGRAMMING, APPROVAL = "programming", "approval"
NETWORK_TEAM = "network team"
"""Whom questions about the network are put to, where they are not put to a maker."""
YOU, YOURS, YOUR_NETWORK_TEAM, US, OTHERS = "you", "your ", "your network team", "us", "others on site"
QUESTIONS, NETWORK, OWN, DUTIES, PROGRAMME = "questions", "network", "own", "duties", "programme"
RADIO = "radio"
"""Where each step stands in full."""
USUAL_PARTIES = frozenset(
    ("Audio-visual contractor", "Electrical contractor", "General contractor", "Furniture supplier")
)
"""What others are called where a project gives them no name: names that people write keep their capitals."""
_ARTICLES = ("The", "A", "An")
SLEEVES = "Sleeves and cores through walls and floors"
"""Name of the duty to furnish sleeves."""
FIRE_STOPPING = "Fire-stopping"
"""Name of the duty to close openings."""
MUTE_CONTROLS = "Control panels or computers that mute groups of microphones"
"""Name of the duty to furnish what mutes groups."""
PANEL_OUTLETS = "Data outlets for panels that mute (their cables to the switch follow during first fix)"
PANEL_MAINS = "Mains outlets for panels that mute, one in each of their rooms"
"""Names of the duties to furnish what those need."""
_AT_THE_END = "Those who are to be trained, and somebody who may sign the acceptance"
_OWNERS, _OWNER = "Owner's ", "Owner, "
NETWORK_PARTY = "IT"
"""Letters of whoever looks after the client's network."""
_BEFORE = {
    FIRST_FIX: "Before cables are pulled",
    SECOND_FIX: "Before devices are mounted",
    "network": "Before the network is set up",
    "commissioning": "Before the system is tested",
}
"""What each part of the work is to those who do not build."""


class ClientStepRow(Row):
    """Something that the work needs from the client or from others."""

    schedule: ClassVar = Schedule("client_step", subject="programme", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="Its own key, the same in every revision."
    )
    what: Annotated[str, Shows("what_is_needed", ALL)] = Field(description="What is needed.")
    who: Annotated[str, Shows("from_whom", ALL)] = Field(description="Who does it or has it ready.")
    by: Annotated[datetime.date | None, Shows("by_when", ALL, "date", empty="with_the_order")] = Field(
        description="Day on which it has to be done at the latest; none without a programme."
    )
    to_spare: Annotated[
        int | None, Shows("days_to_spare", ALL, "working days", empty="depends_on_others")
    ] = Field(
        default=None,
        description="Working days by which it may be late without moving acceptance; none where others make "
        "something in between, or no work of ours waits for it.",
    )
    place: Annotated[str, Shows("in_full", ALL, drawn=True)] = Field(
        default="", description="Where it stands in full."
    )
    parties: Annotated[tuple[str, ...], Shows("parties", ALL, drawn=True)] = Field(
        default=(), description="Letters of the parties that have it ready; empty where nobody else is asked."
    )
    own_people: Annotated[bool, Shows("of_the_client", ALL, "flag", drawn=True)] = Field(
        default=False, description="Whether those parties are the client's own people."
    )

    @property
    def is_the_clients(self) -> bool:
        """Whether the client or people of the client do it."""
        return self.own_people or self.who == YOU or self.who.startswith(YOURS)


class Needs(Protocol):
    """What steps of the client follow from."""

    @property
    def programme(self) -> ProgrammeSummary | None:
        """The programme as a whole; none where no dates are planned."""

    @property
    def activities(self) -> Sequence[ActivityRow]:
        """Activities and milestones."""

    @property
    def radio(self) -> RadioSummary | None:
        """What came of radio; none where nothing is linked by it."""

    @property
    def levers(self) -> Sequence[LeverRow]:
        """What would help where radio has no room for all."""

    @property
    def questions(self) -> Sequence[QuestionRow]:
        """Values to be found out."""

    @property
    def network_questions(self) -> Sequence[NetworkQuestionRow]:
        """Questions about the network."""

    @property
    def owner_equipment(self) -> Sequence[OwnerEquipmentRow]:
        """What the owner furnishes."""

    @property
    def responsibilities(self) -> Sequence[DutyRow]:
        """Who does what."""

    @property
    def parties(self) -> Sequence[tuple[str, str]]:
        """Letters and names of the parties."""

    @property
    def client_parties(self) -> Sequence[str]:
        """Letters of the parties that are the client's own people."""

    @property
    def penetrations(self) -> Sequence[PenetrationRow]:
        """Openings through rated walls and floors."""

    @property
    def mute_controls(self) -> Sequence[MuteControlRow]:
        """What mutes groups of microphones."""

    @property
    def rooms(self) -> Sequence[Storeyed]:
        """Rooms."""

    @property
    def equipment_rooms(self) -> Sequence[Storeyed]:
        """Equipment rooms."""

    @property
    def storeys(self) -> Sequence[StoreyRow]:
        """Storeys, with their names."""


def client_steps(needs: Needs) -> tuple[ClientStepRow, ...]:
    """Return what the work needs from the client and from others, earliest first.

    needs: the document that they follow from.
    """
    order = needs.programme.start if needs.programme is not None else None
    steps = [
        *_room_on_the_air(needs, order),
        ClientStepRow(
            key=ORDERED,
            what="The order",
            who=YOU,
            by=order,
            to_spare=_to_spare(needs.activities, (ORDERED,)),
            place=PROGRAMME,
        ),
        *_answers(needs, order),
        *(() if needs.programme is None else _of_programme(needs, needs.programme)),
        *_ready(needs),
        *_own(needs),
    ]
    return tuple(sorted(steps, key=lambda one: one.by or order or datetime.date.min))


def _room_on_the_air(needs: Needs, order: datetime.date | None) -> Iterator[ClientStepRow]:
    """Yield the choice of what changes, with the order, where microphones find no place on the air."""
    if needs.radio is not None and needs.radio.missing:
        best = [f" (we recommend {row.name})" for row in needs.levers if row.recommended]
        many = count_of(needs.radio.missing, "microphone")
        what = f"A choice of what changes: {many} find no room on the air as proposed{''.join(best)}"
        yield ClientStepRow(key=RADIO, what=what, who=YOU, by=order, place=RADIO)


def _answers(needs: Needs, order: datetime.date | None) -> Iterator[ClientStepRow]:
    """Yield answers to what is open, with the order, and to what the network team are asked.

    What we have to settle with makers ourselves is no need.
    """
    asked_of: dict[str, list[str]] = {}
    for row in needs.questions:
        asked_of.setdefault(row.who or YOU, []).append(question_in_place(needs, row))
    for who, asked in asked_of.items():
        if who != US:
            yield ClientStepRow(
                key="answers" if who == YOU else f"answers of {who}",
                what=f"Answers to {count_of(len(asked), 'open question')}: {' '.join(asked)}",
                who=who,
                by=order,
                to_spare=_to_spare(needs.activities, (ORDERED,)),
                place=QUESTIONS,
            )
    asked_there = [row.question for row in needs.network_questions if row.asked == NETWORK_TEAM]
    if asked_there:
        yield ClientStepRow(
            key="network answers",
            what=f"Answers to {count_of(len(asked_there), 'question')} about the network: "
            f"{' '.join(asked_there)}",
            who=called_by_client(dict(needs.parties).get(NETWORK_PARTY, "")) or YOU,
            by=begins(needs.activities, PROGRAMMING) or order,
            to_spare=None if _network_team_cables(needs) else _to_spare(needs.activities, (PROGRAMMING,)),
            place=NETWORK,
            parties=(NETWORK_PARTY,),
            own_people=True,
        )


def _network_team_cables(needs: Needs) -> bool:
    """Return whether the network team have outlets or cables ready before ours are pulled.

    They can begin them only when they have answered, so that what is to spare depends on how long they need.
    """
    return any(row.before == FIRST_FIX and NETWORK_PARTY in _others(row) for row in needs.responsibilities)


def question_in_place(needs: Needs, row: QuestionRow) -> str:
    """Return a question with the rooms or the storey that it is about, where it is not about the whole.

    needs: the document that it is part of.
    """
    asked = row.asked or row.title
    if row.key.startswith("project."):
        return asked
    storeys = {one.tag: one.name for one in needs.storeys}
    where = _low(storeys.get(row.subject) or row.subject) if row.subject in storeys else row.subject
    return f"{where}: {asked}" if where[:1].isupper() else f"{where[:1].upper()}{where[1:]}: {asked}"


def _of_programme(needs: Needs, programme: ProgrammeSummary) -> Iterator[ClientStepRow]:
    """Yield the approval of the drawings, what has to be so before work may begin, and the last day."""
    for event in programme.events:
        spare = _to_spare(needs.activities, (event.key,))
        if event.key == APPROVED:
            days = next((one.days for one in needs.activities if one.kind == APPROVAL), 0)
            within = (
                f", within {count_of(days, 'working day')} after the day on which you have them"
                if days
                else ""
            )
            yield ClientStepRow(
                key=APPROVED,
                what=f"Approval of the working drawings{within}",
                who=YOU,
                by=event.date,
                to_spare=spare,
                place=PROGRAMME,
            )
            yield from _panels(needs, event.date)
        if event.key == ACCEPTED:
            yield ClientStepRow(
                key=ACCEPTED, what=_AT_THE_END, who=YOU, by=event.date, to_spare=spare, place=PROGRAMME
            )
    for day in programme.days_set:
        if day.rule == "begin not before":
            whom = YOU if day.party.startswith(_OWNER) else called_by_client(day.party)
            yield ClientStepRow(
                key=f"day {day.key}",
                what=day.name,
                who=whom or OTHERS,
                by=day.date,
                to_spare=_to_spare(needs.activities, day.phases, day.storeys)
                if _binds(needs.activities, day)
                else None,
                place=PROGRAMME,
            )


def _panels(needs: Needs, day: datetime.date) -> Iterator[ClientStepRow]:
    """Yield the decision how many panels mute and where, with the drawings: outlets follow from it."""
    known = panel_count(needs.mute_controls)
    if known.least:
        many = f"{known.least}, one in each room" + (f", or up to {known.most}" if known.more else "")
        yield ClientStepRow(
            key=PANELS,
            what=f"Decision how many panels, computers or laptops mute ({many}) and where each stands, as "
            "their outlets and cables follow from it",
            who=YOU,
            by=day,
            place=DUTIES,
        )


_NEXT_DAY = datetime.timedelta(days=3)
"""How long after a day the next working day may come: over a weekend."""


def _binds(activities: Sequence[ActivityRow], day: SetDayRow) -> bool:
    """Return whether work of ours begins as soon as a day set by others has come."""
    starts = [
        one.start
        for one in activities
        if one.kind in day.phases and (not day.storeys or one.storey in day.storeys)
    ]
    return bool(starts) and min(starts) <= day.date + _NEXT_DAY


def _to_spare(
    activities: Sequence[ActivityRow], waiting: Sequence[str], storeys: Sequence[str] = ()
) -> int | None:
    """Return by how many days what activities wait for may be late without moving acceptance; none for none.

    waiting: their kinds, or the key of one.  storeys: on which; empty for all.
    """
    floats = [
        one.total_float
        for one in activities
        if (one.kind in waiting or one.key in waiting) and (not storeys or one.storey in storeys)
    ]
    if not floats and "network" in waiting:
        return _to_spare(activities, ("commissioning",), storeys)
    return min(floats, default=None)


def _ready(needs: Needs) -> Iterator[ClientStepRow]:
    """Yield what others have ready before each part of the work begins, one row a part and party."""
    names = dict(needs.parties)
    waiting: dict[tuple[str, tuple[str, ...]], list[DutyRow]] = {}
    for row in needs.responsibilities:
        if row.before and row.about != OWN_EQUIPMENT:
            waiting.setdefault((row.before, _others(row)), []).append(row)
    for (before, letters), rows in waiting.items():
        first = begins(needs.activities, before)
        if first is None:
            continue
        yield ClientStepRow(
            key=f"ready for {before}: {', '.join(letters)}",
            what=f"{_BEFORE[before]}: {'; '.join(_told(row, needs) for row in rows)}",
            who=listed([called_by_client(names.get(one, one)) for one in letters]),
            by=first,
            to_spare=_to_spare(needs.activities, (before,)),
            place=DUTIES,
            parties=letters,
            own_people=bool(letters) and all(one in needs.client_parties for one in letters),
        )


def _told(row: DutyRow, needs: Needs) -> str:
    """Return a duty as it stands inside a sentence, with how many openings there are to close."""
    about = _low(row.about)
    if row.about == FIRE_STOPPING and needs.penetrations:
        openings = count_of(len(needs.penetrations), "opening")
        return f"{about} of {openings}, which are listed under who does what"
    if row.about == MUTE_CONTROLS and needs.mute_controls:
        rooms = sum(len(one.rooms) for one in needs.mute_controls)
        return f"{about} in {count_of(rooms, 'room')}, which are listed under who does what"
    return about


def _others(row: DutyRow) -> tuple[str, ...]:
    """Return the letters of those who have something ready: who furnishes it, else who sets it up."""
    who = row.furnish or row.install or row.configure
    return tuple(one for one in who.split(", ") if one)


def _low(words: str) -> str:
    """Return words as they stand inside a sentence: a capital of an abbreviation stays."""
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def called_by_client(party: str) -> str:
    """Return what the client calls a party to the work, in the middle of a sentence.

    party: its name in the table of duties.
    """
    if party.startswith(_OWNER):
        return f"you, {party.removeprefix(_OWNER).replace('the owner engages', 'you engage')}"
    if party.startswith(_OWNERS):
        return f"your {party.removeprefix(_OWNERS)}"
    ours = party in USUAL_PARTIES or party.partition(" ")[0] in _ARTICLES
    return _low(party) if ours else party


def furnishing(duties: Sequence[DutyRow], about: str) -> tuple[str, ...]:
    """Return the letters of those who furnish something, else of those who install or set it up.

    duties: who does what.  about: name of the duty; nobody has one that is not among them.
    """
    return next((_others(row) for row in duties if row.about == about), ())


def _own(needs: Needs) -> Iterator[ClientStepRow]:
    """Yield what the owner and others furnish and we join in second fix: a row a storey and party."""
    storey_of = {one.tag: one.storey for one in (*needs.rooms, *needs.equipment_rooms)}
    names, parties = {one.tag: one.name for one in needs.storeys}, dict(needs.parties)
    rows: dict[tuple[str, tuple[str, ...]], list[OwnerEquipmentRow]] = {}
    for row in needs.owner_equipment:
        rows.setdefault((storey_of.get(row.room, ""), row.parties), []).append(row)
    several = len({storey for storey, _ in rows}) > 1
    for (storey, letters), own in rows.items():
        where = f", {_low(names.get(storey) or storey)}" if storey and several else ""
        called = [called_by_client(parties.get(one, one)) for one in letters]
        yield ClientStepRow(
            key=f"own equipment {storey} {', '.join(letters)}".strip(),
            what=f"Equipment in place{where}: {_named_once(own)}",
            who=listed(called) or YOU,
            by=own[0].in_place_by(needs),
            to_spare=_to_spare(needs.activities, (SECOND_FIX,), (storey,)),
            place=OWN,
            parties=letters,
            own_people=bool(letters) and all(one in needs.client_parties for one in letters),
        )


def _named_once(rows: Sequence[OwnerEquipmentRow]) -> str:
    """Return what the owner's devices are called, each name once with how many there are of it."""
    counts: dict[str, int] = {}
    for row in rows:
        counts[row.name] = counts.get(row.name, 0) + 1
    return listed([name if count == 1 else f"{count} × {name}" for name, count in counts.items()])
