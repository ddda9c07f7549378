"""Rules about terms that stand in the author's own words and in project.yaml: they say the same."""

import re
from collections.abc import Iterator, Mapping

from proposal.design.design import Design
from proposal.errors import Place
from proposal.field_classes import dataclass
from proposal.model.price.terms_in_words import share_in_words
from proposal.model.project import Brief, Project
from proposal.review.finding import Finding, Rule, listed
from proposal.standards.sources import COMMON_PRACTICE

_UNITS = (
    "",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
_TEENS = ("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_IN_WORDS: Mapping[str, int] = {
    **{word: n for n, word in enumerate((*_UNITS, *_TEENS)) if word},
    **{
        f"{ten}-{one}".removesuffix("-"): 10 * tens + ones
        for tens, ten in enumerate(_TENS, 2)
        for ones, one in enumerate(_UNITS[:10])
    },
}
_NUMBER = r"(\d{1,4}(?:\.\d+)?|" + "|".join(sorted(_IN_WORDS, key=len, reverse=True)) + ")"
_SENTENCE = re.compile(r"(?:[^.!?;\n]|\.(?=\d)|\n(?!\n))+")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Subject:
    """A term that people write about.

    name: what it is called.  spoken: what tells that a sentence is about it.
    said: a number and its unit.  path: where project.yaml has it.
    """

    name: str
    spoken: re.Pattern[str]
    said: re.Pattern[str]
    path: tuple[str, ...]


def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(text, re.IGNORECASE)


_SUBJECTS = (
    _Subject(
        name="time to pay",
        spoken=_pattern(r"\b(?:pay(?:s|able|ments?)?|paid|invoices?)\b"),
        said=_pattern(rf"\b{_NUMBER} (?:calendar )?(days)\b"),
        path=("price", "payments"),
    ),
    _Subject(
        name="validity",
        spoken=_pattern(r"\b(?:valid|validity)\b|\b(?:offer|price|proposal)s? (?:shall )?holds?\b"),
        said=_pattern(rf"\b{_NUMBER} (?:calendar )?(days)\b"),
        path=("terms", "validity_days"),
    ),
    _Subject(
        name="warranty",
        spoken=_pattern(r"\bwarrant(?:y|ies|ed)?\b"),
        said=_pattern(rf"\b{_NUMBER} (months?|years?)\b"),
        path=("terms", "warranty_months"),
    ),
    _Subject(
        name="retention",
        spoken=_pattern(r"\b(?:retention|retainage|retained|kept back|keeps? back)\b"),
        said=_pattern(rf"\b{_NUMBER} ?(%|per ?cent)"),
        path=("price", "retention"),
    ),
)


def _held(name: str, brief: Brief) -> Mapping[float, str]:
    """Return each figure of a term that project.yaml has, and how it is written; none where it has none."""
    if name == "time to pay":
        return {float(one.days): f"{one.days} days" for one in brief.price.payments.values()}
    if name == "validity":
        return {float(brief.terms.validity_days): f"{brief.terms.validity_days} days"}
    if name == "warranty":
        months = brief.terms.warranty_months
        return {} if months is None else {float(months): f"{months} months"}
    words = share_in_words(brief.price.retention)
    return {float(words.removesuffix(" %")): words}


def terms_said_otherwise(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each figure of a term in the author's words that project.yaml has otherwise."""
    for name, prose in sorted(project.wording.items()):
        for sentence in _SENTENCE.finditer(prose):
            for subject in _SUBJECTS:
                held = _held(subject.name, project.brief)
                if not held or not subject.spoken.search(sentence[0]):
                    continue
                for said in subject.said.finditer(sentence[0]):
                    if _figure(said[1], said[2]) in held:
                        continue
                    line = prose.count("\n", 0, sentence.start() + said.start()) + 1
                    yield Finding(
                        rule="terms-said-otherwise",
                        severity="warning",
                        where=name,
                        place=Place(f"wording/{name}.md", line),
                        message=f"Beside {subject.name} the text says “{said[0]}”; project.yaml has "
                        f"{' and '.join(held.values())} ({'.'.join(subject.path)}).",
                        source=COMMON_PRACTICE,
                        remedy="Say it in one place: leave the figure out of the text, or correct the "
                        "one that is wrong.",
                    )


def _figure(number: str, unit: str) -> float:
    """Return a figure as project.yaml counts it: days, months, or hundredths."""
    value = float(_IN_WORDS.get(number.lower(), 0) or number)
    return value * 12 if unit.lower().startswith("year") else value


SAMPLES: Mapping[str, str] = {
    "name": "Your project",
    "site": "Your client's building",
    "client": "Your client",
    "integrator": "Your company",
    "summary": "Say here, in a few sentences",
}
"""What `proposal new` writes where the author's own words are to stand."""


def sample_text_left(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where words of the starter still stand that were to be replaced."""
    brief = project.brief
    found = {
        "name": brief.name,
        "site": brief.site,
        "client": brief.client.name,
        "integrator": brief.integrator.name,
        "summary": project.wording.get("summary", ""),
    }
    left = [part for part, said in found.items() if said.strip().startswith(SAMPLES[part])]
    if left:
        prose = left == ["summary"]
        yield Finding(
            rule="sample-text-left",
            severity="warning",
            where="project",
            place=Place("wording/summary.md", 1, 1) if prose else project.place("project", left[0]),
            message=f"Words of the starter project still stand: {listed(left)}.",
            source=COMMON_PRACTICE,
            remedy="Write your own, in project.yaml and wording/summary.md.",
        )


TERMS_IN_PROSE_RULES: tuple[Rule, ...] = (terms_said_otherwise, sample_text_left)
