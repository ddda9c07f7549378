"""Open questions in the words of a person who can answer them: one table of words, by field."""

from collections.abc import Sequence

from proposal.model.project import Path, Question
from proposal.model.wording.wording import Answerer, Questions

_REST, _ONE = "**", "*"


def asked(question: Question, table: Questions) -> tuple[str, Answerer]:
    """Return a question to whoever can answer it, and who that is.

    question: of the project.  table: questions by the path of the value; the first that fits counts.
    """
    path = _as_written(question.path)
    what = (
        question.title[:1].lower() + question.title[1:] if question.title[1:2].islower() else question.title
    )
    for pattern, one in table.questions.items():
        if _fits(pattern.split("."), path):
            return one.ask.replace("{what}", what), one.who
    return f"What is known of it: {what}?", "you"


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
