"""Standing wording: cautions, scope, exclusions and duties, printed unless the author writes others."""

from collections.abc import Mapping
from typing import Annotated, Literal, get_args

from pydantic import Field

from proposal.model.base import Written, unwritten
from proposal.quantities.spellings import Spellings

Parties = Annotated[str, Field(pattern=r"^([A-Z0-9]{1,6}(, ?[A-Z0-9]{1,6})*)?$", examples=["AV", "AV, IT"])]
Duty = Literal["furnish", "install", "terminate", "configure", "test", "maintain"]
DUTIES: tuple[Duty, ...] = get_args(Duty)
WorkBegun = Literal["", "first fix", "second fix", "network", "commissioning"]
"""Work before which something of others has to be ready; empty where it is bound to none."""
Fact = Literal[
    "always",
    "amplifiers",
    "assistive listening by us",
    "signs of assistive listening",
    "assistive listening of others",
    "breakouts",
    "boxes by us",
    "building network",
    "calls",
    "ceiling devices",
    "ceilings opened",
    "ceilings opened in part",
    "chargers",
    "conduits",
    "equipment of the owner",
    "equipment rooms",
    "existing pathways",
    "fire alarm contact",
    "fire-stopping by others",
    "fire-stopping by us",
    "hooks",
    "leads to others",
    "line voltage by others",
    "lifts by us",
    "line voltage by us",
    "loudspeakers",
    "loudspeakers without announcements",
    "mixers",
    "mutes of groups",
    "network of its own",
    "new switches",
    "no fire alarm contact",
    "no other radio users",
    "no pathways",
    "normal hours",
    "off hours",
    "other radio users",
    "pathways by others",
    "pathways by us",
    "permits by us",
    "racks",
    "radio",
    "several storeys",
    "sleeves",
    "standby supplies",
    "storage by us",
    "subnets",
    "switches of the owner",
    "table devices",
    "trays",
    "USB cords",
    "wall devices",
    "waste by us",
    "wired microphones",
    "work at height",
]
"""What a design may contain, so that a line about it is printed."""


class StandingCaution(Written):
    """Something that can hurt somebody."""

    title: str = Field(description="What it is about.")
    text: str = Field(description="The caution.")
    readers: tuple[Literal["users", "work"], ...] = Field(
        description="users for everybody who uses the rooms, work for those who build and maintain."
    )


class Cautions(Written):
    """What shared/wording/cautions.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    cautions: Mapping[str, StandingCaution] = Field(default={}, description="Cautions by name.")


class StandingLine(Written):
    """A line of the scope, of the exclusions or of what is taken for granted."""

    text: str = Field(min_length=1, description="The line.")
    when: tuple[Fact, ...] = Field(
        default=(), description="It is printed where one of these applies; always by default."
    )
    unless: tuple[Fact, ...] = Field(
        default=(), description="It is not printed where one of these applies, whatever else does."
    )


class DefaultWording(Written):
    """What shared/wording/defaults.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    scope: Mapping[str, StandingLine] = Field(default={}, description="What is done, a line a name.")
    exclusions: Mapping[str, StandingLine] = Field(default={}, description="What is not done.")
    assumptions: Mapping[str, StandingLine] = Field(default={}, description="What is taken for granted.")
    handover: Mapping[str, StandingLine] = Field(
        default={}, description="Papers and files that are handed over before acceptance."
    )
    security: Mapping[str, StandingLine] = Field(
        default={}, description="What holds of passwords, of updates and of work on the system from afar."
    )


class DutyLine(Written):
    """Who has which duty about one thing: letters of parties, several parted by commas."""

    furnish: Parties = Field(default="", description="Who furnishes it.")
    install: Parties = Field(default="", description="Who installs it.")
    terminate: Parties = Field(default="", description="Who connects it.")
    configure: Parties = Field(default="", description="Who sets it up.")
    test: Parties = Field(default="", description="Who tests it.")
    maintain: Parties = Field(default="", description="Who maintains it.")
    before: WorkBegun = Field(
        default="", description="Work before which it has to be ready, where others furnish it."
    )
    when: tuple[Fact, ...] = Field(
        default=(), description="It is printed where one of these applies; always by default."
    )
    unless: tuple[Fact, ...] = Field(
        default=(), description="It is not printed where one of these applies, whatever else does."
    )


class Responsibilities(Written):
    """What shared/wording/responsibilities.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    parties: Mapping[str, str] = Field(default={}, description="Parties by their letters.")
    of_the_owner: tuple[str, ...] = Field(
        default=(), description="Letters of the parties that are the client's own people."
    )
    present_where: Mapping[str, tuple[Fact, ...]] = Field(
        default={},
        description="Parties that a job has where one of these applies, named by its project or not.",
    )
    rows: Mapping[str, DutyLine] = Field(default={}, description="Duties, by what they are about.")


class LineChange(Written):
    """What a project changes of a line, or a line of its own."""

    text: str = Field(default="", description="The line; as it was where left out.")
    when: tuple[Fact, ...] | None = Field(
        default=None, description="It is printed where one of these applies; unchanged by default."
    )
    left_out: bool = Field(default=False, description="Whether it is left out of the proposal.")


class DutyChange(Written):
    """What a project changes of a row of duties, or a row of its own."""

    furnish: Parties | None = Field(default=None, description="Who furnishes it; as it was where left out.")
    install: Parties | None = Field(default=None, description="Who installs it; as it was where left out.")
    terminate: Parties | None = Field(default=None, description="Who connects it; as it was where left out.")
    configure: Parties | None = Field(default=None, description="Who sets it up; as it was where left out.")
    test: Parties | None = Field(default=None, description="Who tests it; as it was where left out.")
    maintain: Parties | None = Field(default=None, description="Who maintains it; as it was where left out.")
    before: WorkBegun | None = Field(
        default=None, description="Work before which it has to be ready; as it was where left out."
    )
    when: tuple[Fact, ...] | None = Field(
        default=None, description="It is printed where one of these applies; unchanged by default."
    )
    left_out: bool = Field(default=False, description="Whether it is left out of the proposal.")


class ResponsibilityChanges(Written):
    """What a project changes of who does what."""

    parties: Mapping[str, str] = Field(
        default={},
        description="Parties of the job by their letters, with the names that pages print, such as "
        "`EC: Our electrician`: standing ones that it has, and further ones. What others would do is the "
        "owner's.",
    )
    of_the_client: tuple[str, ...] = Field(
        default=(),
        description="Letters of further parties that are the client's own people, beside IT and FM.",
    )
    rows: Mapping[str, DutyChange] = Field(
        default={},
        description="Rows by what they are about: those of the standing matrix are changed or left out, "
        "others are added.",
    )


class ScopeChanges(Written):
    """What a project changes of the standing scope, exclusions, assumptions, handover and security.

    A file of the same name in wording/ replaces what is printed of each.
    """

    work: Mapping[str, LineChange] = Field(default={}, description="Lines of the scope of work by name.")
    exclusions: Mapping[str, LineChange] = Field(default={}, description="Lines of the exclusions by name.")
    assumptions: Mapping[str, LineChange] = Field(
        default={}, description="Lines of what is taken for granted, by name."
    )
    handover: Mapping[str, LineChange] = Field(
        default={}, description="Lines of the papers and files that are handed over, by name."
    )
    security: Mapping[str, LineChange] = Field(
        default={}, description="Lines on passwords, updates and work from afar, by name."
    )


class PlaceWords(Written):
    """Words that a language or a place has otherwise."""

    headings: Mapping[str, str] = Field(default={}, description="Headings by their keys.")
    values: Mapping[str, str] = Field(default={}, description="Coded values, and what they are called.")
    texts: Mapping[str, str] = Field(
        default={}, description="Composed texts by their keys, with what is put in named in braces."
    )
    rows: Mapping[str, str] = Field(default={}, description="What a row is called, by its schedule.")
    subjects: Mapping[str, str] = Field(default={}, description="Subjects under which changes are listed.")
    spellings: Mapping[str, str] = Field(
        default={},
        description="Words that the place spells otherwise, by the word, in small letters.",
    )


class Words(PlaceWords):
    """What shared/wording/words.yaml holds."""

    source: str = Field(default="our own wording", description="Where the wording comes from.")
    places: Mapping[str, PlaceWords] = Field(
        default={}, description="Words that a place has otherwise, by locale."
    )

    def of_locale(self, locale: str) -> dict[str, str]:
        """Return all words of a locale by section and key, such as `headings.length`.

        locale: as the project has it, such as en_US.
        """
        own = self.places.get(locale, PlaceWords())
        spellings = Spellings(own.spellings)
        found = {
            f"{section}.{key}": spellings.spelled(text)
            for part in (self, own)
            for section in PlaceWords.model_fields
            if section != "spellings"
            for key, text in getattr(part, section).items()
        }
        return found | {f"spellings.{word}": text for word, text in own.spellings.items()}


Answerer = Literal[
    "you",
    "your network team",
    "your facilities team",
    "the architect",
    "the electrical contractor",
    "us",
]


class AskedQuestion(Written):
    """How a value that nobody knows yet is asked for."""

    ask: str = Field(
        min_length=1,
        description="The question; `{what}` stands for the description of the field.",
    )
    who: Answerer = Field(description="Who can answer it.")
    meanwhile: str = Field(
        default="", description="What is counted until it is answered, where no value of the field says it."
    )


class Questions(Written):
    """What shared/wording/questions.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    questions: Mapping[str, AskedQuestion] = Field(
        default={}, description="Questions by the path of the value, `*` for one name and `**` for the rest."
    )


class Standing(Written):
    """All standing wording."""

    cautions: Cautions = Field(default=unwritten(Cautions), description="Cautions.")
    defaults: DefaultWording = Field(
        default=unwritten(DefaultWording), description="Scope, exclusions, assumptions."
    )
    responsibilities: Responsibilities = Field(default=unwritten(Responsibilities), description="Duties.")
    questions: Questions = Field(default=unwritten(Questions), description="Open questions.")
    words: Words = Field(default=unwritten(Words), description="Words of pages and files by their keys.")
