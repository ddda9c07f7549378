"""What would help where radio has no room for all: which change is recommended, and what each one takes."""

from collections.abc import Iterator, Sequence

from proposal.document.rows.radio import LeverRow, RadioSummary
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.radio_in_words import named_states
from proposal.pages.schedule_table import Field, fields_of, schedule


def levers_lead(radio: RadioSummary, rows: Sequence[LeverRow]) -> Iterator[str]:
    """Yield what goes before the changes: the one that is recommended, and what was planned.

    radio: what came of it.  rows: what would help.
    """
    for row in rows:
        if row.recommended:
            yield f"We recommend: {row.text}. {row.recommended}"
    yield (
        "For each change the whole building was planned again, with that one change and nothing else, and so "
        "with the access points that are proposed. It is enough where none is left without a place. Stronger "
        "interference was not tried with it: what stays on the air may be near the limit, and may have to be "
        "measured before equipment is ordered. That is told when the change is designed in full."
    )
    if radio.for_states:
        yield (
            "Wired or fewer microphones were planned for every state of the building; the other changes for "
            f"{named_states(radio.for_states)} alone."
        )
    if any(row.name in ("wired microphones", "fewer microphones") for row in rows):
        yield (
            "The plan was made without the microphones that are named. Those who use a room may choose "
            "others there; it is planned again then. A gooseneck or boundary microphone that stays at one "
            "seat can be wired."
        )
    if any(row.name == "more loss" for row in rows):
        yield (
            "Where walls and floors stop radio by 10 dB more, a tenth of the power comes through; by 40 dB "
            "more, a ten-thousandth, which takes metal on all sides."
        )
        if radio.out_of_step:
            yield (
                "With more loss a microphone may no longer hear equipment that is not synchronised with its "
                "own. It then takes fewer slot pairs, and fewer may be left without a place than the sums "
                "above say."
            )


def levers_table(here: PageContext) -> Html:
    """Return what would help, the most helpful first, with what each change takes."""
    fields: list[Field[LeverRow]] = [
        *fields_of(here, LeverRow, "name", "text", "missing", "costs", "people", "agree"),
    ]
    rows = [
        row.model_copy(update={"text": f"Not enough by itself: {row.text}"}) if row.missing else row
        for row in here.document.levers
    ]
    return schedule("What would help, the most helpful first", fields, rows)
