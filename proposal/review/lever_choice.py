"""What a change that would help costs, means for people and needs agreed, and which one is recommended."""

from collections.abc import Mapping, Sequence

from proposal.design.radio.radio_levers import Lever, LeverName
from proposal.model.project import Project
from proposal.model.requirements.answers import CountAnswer
from proposal.quantities.formatting import count_of, listed

_PRICED = "Ask for it as an alternate: it is then designed and priced in full."
_LIGHTEST_FIRST: dict[LeverName, str] = {
    "lower power": "It costs nothing, and every microphone is still received as well as it has to be.",
    "access points moved": "Every seat keeps its microphone, and nothing more is bought.",
    "portable set elsewhere": "It costs nothing, and no microphone is left out.",
    "fewer slot pairs": "Every seat keeps a wireless microphone, and nothing is built for it.",
    "wired microphones": "Every seat keeps a microphone, and no wall has to be rebuilt.",
    "fewer microphones": "It costs least, and nothing else in the building changes.",
    "more loss": "No other change that was planned leaves room for as many.",
}
"""Why each is recommended where it is: those first that cost and change least."""


def costs_words(lever: Lever) -> str:
    """Return what a change costs, in a plain sentence or two."""
    many = count_of(len(lever.microphones), "microphone")
    asked_first = f"There is no price here: which seats, and how cables get there, is agreed first. {_PRICED}"
    return {
        "lower power": "Nothing. It is a setting, made when the system is put into operation.",
        "access points moved": "No other equipment; cables become longer or shorter. The price "
        "follows when the new places are written.",
        "portable set elsewhere": "Nothing.",
        "fewer slot pairs": f"Other microphones and access points in place of these. {_PRICED}"
        if lever.models
        else "Not known: no equipment of that kind is in the library, so its makers have to be asked.",
        "wired microphones": f"{many} with a cable and an input of the mixer each, in place of wireless "
        f"ones. {asked_first}",
        "more loss": "Building work that is not part of this proposal. The builder gives the price, after "
        "the loss was measured.",
        "fewer microphones": f"Less than proposed: {many} left out. Fewer chargers and access points may do "
        f"then, which were not taken out here. {_PRICED}",
    }[lever.name]


def people_words(lever: Lever) -> str:
    """Return what a change means for the people in the rooms, in a plain sentence."""
    many = len(lever.microphones)
    seats = "One seat has" if many == 1 else f"{many} seats have"
    return {
        "lower power": "Nothing that anyone sees or hears.",
        "access points moved": "Access points hang at other places; microphones stay where they are.",
        "portable set elsewhere": "The set is used in the other place, and no longer in this one.",
        "fewer slot pairs": "Other microphones stand there, which may look and sound different.",
        "wired microphones": f"{seats} a microphone on a cable, which stays there. Nobody goes without.",
        "more loss": "Walls, doors or floors are rebuilt, and the rooms are closed meanwhile.",
        "fewer microphones": f"{count_of(many, 'microphone')} fewer can be on at once: people share one, or "
        "it is handed round.",
    }[lever.name]


def more_words(lever: Lever, without: int, states: int) -> str:
    """Return why more microphones go than find no place, as a sentence; nothing where no more do.

    without: how many find no place in the state where most do.  states: in how many the rest has a plan.
    """
    many = len(lever.microphones)
    if not without or many <= without:
        return ""
    finds = f"{without} {'finds' if without == 1 else 'find'}"
    suit = "the places that become free have to suit whole links"
    if states > 1:
        suit = f"{suit} in every state of the building"
    return (
        f"That is {many}, while {finds} no place: {suit}, and the least number was not searched one by one."
    )


def left_words(lever: Lever, project: Project, forms: Mapping[str, str]) -> str:
    """Return how many microphones are left of those that requirements count in rooms, in sentences.

    forms: of each microphone, by its tag.  Nothing where the change leaves none out, or none are counted.
    """
    if lever.name != "fewer microphones":
        return ""
    said = []
    for number, requirement in project.requirements.items():
        for answer in requirement.answers:
            if not isinstance(answer, CountAnswer) or answer.at_least is None or answer.level:
                continue
            if answer.room not in lever.rooms or answer.room not in project.rooms:
                continue
            layout = project.rooms[answer.room].layout
            kept = [code for code in layout.microphones if f"{answer.room}-{code}" not in lever.microphones]
            if answer.count == "microphones":
                left = sum(answer.form in (None, forms.get(f"{answer.room}-{code}")) for code in kept)
            elif answer.count == "seats with a microphone" and answer.within is None:
                seats = {layout.microphones[code].seat for code in kept}
                seats |= {wired.seat for wired in layout.wired_microphones.values()}
                left = len(seats & set(layout.seats))
            else:
                continue
            what = f"{answer.form} {answer.count}" if answer.form else answer.count
            rest = f"{left} {'is' if left == 1 else 'are'} left"
            said.append(f"{number} asks for at least {answer.at_least} {what} in {answer.room}; {rest}.")
    return " ".join(said)


def agree_words(lever: Lever, project: Project) -> str:
    """Return who has to agree to a change, in a plain sentence or two.

    project: whose rooms may have surfaces that are not to be touched.
    """
    kept = [
        f"the {listed(sorted(layout.untouchable))} of {tag}"
        for tag in lever.rooms
        if tag in project.rooms and (layout := project.rooms[tag].layout).untouchable
    ]
    kept_words = f" Nothing may be fixed to {listed(kept)}." if kept else ""
    return {
        "lower power": "Nobody. That microphones are still received is shown in commissioning.",
        "access points moved": f"Whoever answers for ceilings and walls there.{kept_words}",
        "portable set elsewhere": "Those who use it there.",
        "fewer slot pairs": "You, to other equipment. It is designed anew before it is ordered.",
        "wired microphones": "Those who sit there, and whoever answers for furniture and floors, where the "
        f"cables lie.{kept_words}",
        "more loss": f"The owner of the building, and whoever plans and pays building work.{kept_words}",
        "fewer microphones": "You and those who use the rooms: which ones go, and that what is left is "
        "enough for what you asked.",
    }[lever.name]


def recommended(levers: Sequence[Lever]) -> tuple[Lever, str] | None:
    """Return which change is recommended, and why in a sentence or two; None where there is none.

    levers: what would help, in order.
    Of those that leave the fewest microphones without a place, the one that costs and changes least.
    Equipment that is not in the library comes last: nobody knows whether there is any.
    """
    if not levers:
        return None
    order = list(_LIGHTEST_FIRST)

    def burden(one: Lever) -> tuple[int, bool, int]:
        unknown = one.name == "fewer slot pairs" and not one.models
        return one.missing, unknown, order.index(one.name)

    best = min(levers, key=burden)
    why = _LIGHTEST_FIRST[best.name]
    fewer = any(one.name == "fewer microphones" and one.missing == best.missing for one in levers)
    if fewer and best.name == "wired microphones":
        why += " Where not all of them are needed at once, fewer microphones cost less: settle that first."
    if best.missing:
        why += f" By itself it is not enough: {count_of(best.missing, 'microphone')} still find no place."
    return best, why
