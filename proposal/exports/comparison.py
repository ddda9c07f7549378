"""What changed between two states, for a terminal, as Markdown and as JSON."""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from proposal.differences.causes import Cause, Causes
from proposal.differences.changes import Changes, State
from proposal.differences.consequences import Consequence
from proposal.differences.details import (
    Detail,
    by_subject,
    change_text,
    details_of,
    shares,
    total_texts,
    unseen,
)
from proposal.differences.difference_json import plain_difference, plain_value
from proposal.differences.inputs import InputRow
from proposal.document.readers import Reader
from proposal.document.rows.terms import Cover
from proposal.document.values import Values, values_of
from proposal.quantities import formatting

# 2: totals and changed fields name what they hold by one closed list.
FORMAT = 2
_SIGNS: Mapping[str, str] = {"new": "+", "removed": "-", "changed": "~"}
_MOST_INPUTS = 3


def comparison_text(changes: Changes, reader: Reader) -> str:
    """Return what changed as lines for a terminal: totals first, then inputs, then row by row."""
    values = values_of(changes.after.document)
    lines = [f"{_states(changes)}, as the {reader} sees it", ""]
    lines += ["Consequences", *_consequence_lines(changes, values)]
    listed = _inputs(changes)
    if listed:
        lines += ["", "What changed in the inputs", *(f"  {line}" for line in listed)]
    details = details_of(changes.difference, changes.before.document, changes.after.document)
    causes = _Numbered(changes)
    for subject, mine in by_subject(details, values.words):
        lines += ["", subject]
        lines += [f"  {_SIGNS[one.sign]} {_sentence(one)}{causes.of(one)}" for one in mine]
    rest = _rest(changes, details)
    lines += ["", *rest] if rest else []
    # A record may have been altered: what a terminal would obey is not for it.
    shown = ("".join(sign if sign.isprintable() else "\ufffd" for sign in line) for line in lines)
    return "\n".join(shown) + "\n"


def _inputs(changes: Changes) -> list[str]:
    """Return the changes of the inputs, numbered, and what else may have changed something."""
    numbered = [f"{n}. {input_text(one)}" for n, one in enumerate(changes.inputs.all, 1)]
    return [*numbered, *changes.inputs.elsewhere]


class _Numbered:
    """The numbers of the changes of the inputs that a row may come from."""

    def __init__(self, changes: Changes) -> None:
        inputs = changes.inputs.all
        self._causes = Causes(changes.inputs, changes.before.document, changes.after.document)
        self._numbers = {one: number for number, one in enumerate(inputs, 1)}

    def of(self, detail: Detail) -> str:
        """Return ` (from 2)`, ` (from 1 or 3)`; nothing where nothing is known of the inputs."""
        cause = self._causes.of(detail.path)
        return "" if cause is None else f" (from {_alternatives(cause, self._numbers)})"


def _alternatives(cause: Cause, numbers: Mapping[InputRow, int]) -> str:
    named = [str(numbers[one]) for one in cause.inputs[:_MOST_INPUTS]]
    others = ["others"] if len(cause.inputs) > _MOST_INPUTS or (len(named) == 1 and not cause.certain) else []
    *most, last = [*named, *others]
    return f"{', '.join(most)} or {last}" if most else last


def _states(changes: Changes) -> str:
    cover = changes.after.document.cover
    return f"{_state(changes.before, cover)} and {_state(changes.after, cover)}"


def _state(state: State, cover: Cover) -> str:
    return f"{state.label} ({formatting.date(state.date, cover.locale)})"


def _consequence_lines(changes: Changes, values: Values) -> Iterator[str]:
    changed = [one for one in changes.consequences if one.changed]
    rows = [_consequence_cells(one, values) for one in changed]
    widths = [max((len(row[column]) for row in rows), default=0) for column in range(4)]
    for group, before, after, by in rows:
        line = f"  {group:<{widths[0]}}  {before:>{widths[1]}} → {after:>{widths[2]}}"
        yield f"{line}  {by:>{widths[3]}}".rstrip()
    if not changed:
        yield "  no total changed"


def _consequence_cells(one: Consequence, values: Values) -> tuple[str, str, str, str]:
    before, after = total_texts(one, values)
    return f"{one.group_title}: {one.title}", before or "–", after or "–", change_text(one, values)


def _sentence(one: Detail, shown: Callable[[str], str] = str) -> str:
    name = shown(one.name)
    if one.sign == "changed":
        return f"{name}: " + "; ".join(
            shown(f"{fact.label} {fact.before} → {fact.after}" if fact.before else fact.label)
            for fact in one.facts
        )
    return f"{name} ({shown(one.about)})" if one.about else name


def input_text(row: InputRow) -> str:
    """Return a change of the inputs in a line."""
    if row.kind == "changed" and (row.before or row.after):
        return f"{row.place} {row.name} ({row.before} → {row.after})"
    return f"{row.place} {row.name} ({row.kind})"


def _rest(changes: Changes, details: tuple[Detail, ...]) -> list[str]:
    """Return the lines about what is not listed row by row."""
    lines: list[str] = []
    smaller = unseen(changes.difference, details)
    difference = changes.difference
    said = (
        (
            smaller,
            "figure changed by less than is shown of it",
            "figures changed by less than is shown of them",
        ),
        (
            shares(difference),
            "figure is another share of another whole price",
            "figures are other shares of another whole price",
        ),
        (
            len(difference.renumbered),
            "running number or line of a file moved",
            "running numbers and lines of files moved",
        ),
        (len(difference.reordered), "list is in another order", "lists are in another order"),
    )
    for count, one, more in said:
        if count:
            lines.append(f"{formatting.count_of(count, one, more)}.")
    if not difference:
        lines.append("Nothing differs.")
    return lines


def comparison_markdown(changes: Changes, reader: Reader) -> str:
    """Return what changed as Markdown, for a comment on a proposed change; every field is escaped."""
    values = values_of(changes.after.document)
    details = details_of(changes.difference, changes.before.document, changes.after.document)
    causes = _Numbered(changes)
    lines = [f"# What changed between {_plain_text(_states(changes))}", ""]
    lines += [f"As the {reader} sees it.", "", "## Consequences", ""]
    changed = [one for one in changes.consequences if one.changed]
    if changed:
        lines += ["| Total | Before | After | Change |", "|---|--:|--:|--:|"]
        lines += [
            "| " + " | ".join(map(_plain_text, _consequence_cells(one, values))) + " |" for one in changed
        ]
    else:
        lines.append("No total changed.")
    inputs = changes.inputs.all
    if inputs or changes.inputs.elsewhere:
        lines += ["", "## What changed in the inputs", ""]
        lines += [f"{n}. {_plain_text(input_text(one))}" for n, one in enumerate(inputs, 1)]
        lines += ["", *(f"Besides: {_plain_text(one)}" for one in changes.inputs.elsewhere)]
    for subject, mine in by_subject(details, values.words):
        lines += ["", f"## {subject}", ""]
        lines += [f"- **{one.sign}** {_sentence(one, _plain_text)}{causes.of(one)}" for one in mine]
    rest = _rest(changes, details)
    if rest:
        lines += ["", "## Besides", "", *(f"- {line}" for line in rest)]
    return "\n".join(lines).rstrip() + "\n"


_SPECIAL = {ord(sign): f"\\{sign}" for sign in "\\`*_{}[]<>#|!~@&$"}


def _plain_text(text: str) -> str:
    """Return a text in which nothing is Markdown or HTML, as services for git show it."""
    folded = " ".join(text.split())
    return folded.translate(_SPECIAL)


def comparison_json(changes: Changes, reader: Reader) -> str:
    """Return what changed as JSON: totals, the whole difference, and the changes of the inputs."""
    causes = Causes(changes.inputs, changes.before.document, changes.after.document)
    inputs = changes.inputs.all
    places = {one: number for number, one in enumerate(inputs)}
    difference = plain_difference(changes.difference)
    for name in ("additions", "removals", "changes"):
        rows = getattr(changes.difference, name)
        for plain, one in zip(difference[name], rows, strict=True):
            cause = causes.of(one.path)
            if cause is not None:
                plain["follows_from" if cause.certain else "may_follow_from"] = [
                    places[row] for row in cause.inputs
                ]
    content: dict[str, Any] = {
        "format": FORMAT,
        "schema_version": changes.after.document.schema_version,
        "reader": reader,
        "before": _state_json(changes.before),
        "after": _state_json(changes.after),
        "consequences": [
            {
                "group": one.group_title,
                "name": one.title,
                "quantity": one.quantity,
                "before": plain_value(one.before),
                "after": plain_value(one.after),
            }
            for one in changes.consequences
        ],
        "difference": difference,
        "inputs": [plain_value(one) for one in inputs],
        "elsewhere": list(changes.inputs.elsewhere),
    }
    return json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _state_json(state: State) -> dict[str, str]:
    return {"label": state.label, "date": state.date.isoformat()}
