"""How remedies against what a client can work out are put into words: what to write where, and how much."""

from collections.abc import Sequence
from decimal import Decimal

from proposal.model.alternate import ALTERNATES
from proposal.model.project import Project
from proposal.review.disclosure import Disclosed, Remedy, Way
from proposal.review.finding import listed

_WORDS: dict[Way, str] = {
    "one tax": "where the law takes goods and work for one supply, say so (`one_supply` under "
    "`price.taxes`), or tell prices before tax (leave out `price.taxes` and `price.place`)",
    "less detail": "tell prices room by room (`price.client_detail: room`)",
    "own crews": "state how many people of your own come at once (`labour.crews`)",
    "own rates": "state rates of your own (`labour.rates`)",
    "own hours": "compute with hours of your own (conditions under `labour`, or labour data of your own)",
    "own rates and hours": "state rates of your own (`labour.rates`) and compute with hours of your own "
    "(conditions under `labour`, or labour data of your own)",
    "own prices": "give what the rule prices selling prices of its own (`price.selling`)",
    "own cost of goods": "put what you really pay into a library of your own, of goods that cost "
    "{amount} by the shared library",
    "less spread": "spread at least {amount} less, and state that as a sum of your own under "
    "`price.surcharges`, with a rule",
    "fewer hours": "take at least {amount} h off what conditions under `labour` add, and state what they "
    "cost as a sum of your own under `price.surcharges`, with a rule",
    "on request": "price the alternate on request (`price: on request` in {file})",
    "own cost": "state costs that no library holds (administration, insurance, warranty, this revision's "
    "own work) as a sum of your own of at least {amount} under `price.surcharges`, with {further} so that it "
    "lies in a lump",
}
_OF_AN_ALTERNATE = (
    "state what the change itself costs you (designing again, ordering, administration) as a sum of your own "
    "of at least {amount} under `changes.project.price.surcharges.{alternate}` in {file}, with {further} so "
    "that it lies in a lump"
)
_ACCEPT = "Or accept that this much is known (`accepted_findings`)."


def remedy_words(project: Project, secrets: Sequence[Disclosed], names: Sequence[str]) -> str:
    """Return what would open some secrets that one finding tells of, as sentences.

    names: what each of them is called.
    """
    together = _against_all(secrets)
    if together:
        return f"{_sentence(project, together)} {_ACCEPT}"
    sentences = [
        f"Against {name}: {_phrase(project, one.remedies)}."
        if one.remedies
        else f"Nothing that is still to be sent keeps {name} open."
        for one, name in zip(secrets, names, strict=True)
    ]
    return " ".join((*sentences, _ACCEPT))


def _against_all(secrets: Sequence[Disclosed]) -> list[Remedy]:
    """Return the remedies that help against each of some secrets, with amounts that are enough for all."""
    found = []
    for remedy in secrets[0].remedies:
        alike = [
            other
            for one in secrets
            for other in one.remedies
            if (other.way, other.alternate, other.tax_kind) == (remedy.way, remedy.alternate, remedy.tax_kind)
        ]
        if len(alike) == len(secrets):
            found.append(max(alike, key=lambda one: one.amount or Decimal(0)))
    return found


def _sentence(project: Project, remedies: Sequence[Remedy]) -> str:
    words = _phrase(project, remedies)
    return f"{words[0].upper()}{words[1:]}."


def _phrase(project: Project, remedies: Sequence[Remedy]) -> str:
    return "; or ".join(_words(project, remedy) for remedy in remedies)


def _words(project: Project, remedy: Remedy) -> str:
    words = _OF_AN_ALTERNATE if remedy.way == "own cost" and remedy.alternate else _WORDS[remedy.way]
    unit = "" if remedy.way == "fewer hours" else f" {project.brief.currency}"
    kind = "services" if remedy.tax_kind == "goods and services" else remedy.tax_kind
    return words.format(
        amount="" if remedy.amount is None else f"{remedy.amount:f}{unit}",
        alternate=remedy.alternate,
        file=f"{ALTERNATES}/{remedy.alternate}.yaml",
        further=listed(["a rule", *([f"`tax_kind: {kind}`"] if kind else [])]),
    )
