"""Open questions in the words of a person who can answer them: one table of words, by field."""

from collections.abc import Sequence

from proposal.model.project import Path, Question
from proposal.model.wording.wording import Answerer, AskedQuestion, Questions

_REST, _ONE = "**", "*"


def asked(question: Question, table: Questions) -> tuple[str, Answerer]:
    """Return a question to whoever can answer it, and who that is.

    question: of the project.  table: questions by the path of the value; the first that fits counts.
    """
    what = (
        question.title[:1].lower() + question.title[1:] if question.title[1:2].islower() else question.title
    )
    one = _entry(question, table)
    return (
        (f"What is known of it: {what}?", "you")
        if one is None
        else (one.ask.replace("{what}", what), one.who)
    )


def meanwhile(question: Question, table: Questions) -> str:
    """Return what is counted until a question is answered, in words; empty where its value says it.

    question: of the project.  table: questions by the path of the value; the first that fits counts.
    """
    one = _entry(question, table)
    return "" if one is None or question.value is not None else one.meanwhile


def _entry(question: Question, table: Questions) -> AskedQuestion | None:
    """Return how a value is asked for; None where no entry fits its path."""
    path = _as_written(question.path)
    return next((one for pattern, one in table.questions.items() if _fits(pattern.split("."), path)), None)


def _as_written(path: Path) -> tuple[str, ...]:
    """Return the path of a value, what one room changes of its type as that of the type."""
    parts = tuple(map(str, path))
    if parts[0] == "rooms" and parts[2:3] == ("layout",):
        return ("room_types", parts[1], *parts[3:])
    return ("project", *parts[1:]) if parts[0] == "brief" else parts


def _fits(pattern: Sequence[str], path: Sequence[str]) -> bool:
    if pattern[-1] == _REST:
        return len(path) >= len(pattern) - 1 and _fits([*pattern[:-1], "."], [*path[: len(pattern) - 1], "."])
    return len(pattern) == len(path) and all(
        one in (_ONE, part) for one, part in zip(pattern, path, strict=True)
    )
