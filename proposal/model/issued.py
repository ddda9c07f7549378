"""Issued records as a project reads them: which follows which, and the numbers that they gave.

A record is a folder `issued/<revision>/`. Of it a project reads two files: `manifest.json`, which names the
records that it follows and its date, and, of the records that no other follows, `register.json`. Those are
several where branches that both issued were merged: the order of records is parent, then date, then name.

A record keeps two registers. `register.json` holds every number that the revision and all before it gave; the
next revision is computed from it. `register_before.json` holds `Project.issued` as the revision itself was
computed from it, so that the record tells what it was made from.
"""

import datetime
import json
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from proposal.errors import Place, Problem
from proposal.model.git_conflicts import record_conflict
from proposal.model.project import Numbered
from proposal.quantities.messages import printable, shown

MANIFEST = "manifest.json"
REGISTER = "register.json"
REGISTER_BEFORE = "register_before.json"
LATEST = "latest"
"""Name of the folder among the records that holds the schedules of the last one, and is no record."""
LAYOUT = 4
"""Number of the layout of records that this program writes; `record_layouts` leads to it from older ones."""
_KEYS = ("number", "retired", "at", "model")


def register_text(register: Mapping[str, Numbered]) -> str:
    """Return a register as a file holds it: a kind of number a line, in order.

    A record's register is never changed, so that nobody reads it line by line; the fewer there are, the
    easier the commit that issues it is looked through.

    register: numbers by identity.
    """
    lines: dict[str, list[str]] = {}
    for identity in sorted(register):
        entry = f"{_json(identity)}: {_json(_plain(register[identity]))}"
        lines.setdefault(identity.partition("/")[0], []).append(entry)
    inside = ",\n".join(f"  {', '.join(lines[kind])}" for kind in sorted(lines))
    return f"{{\n{inside}\n}}\n" if inside else "{}\n"


def _plain(numbered: Numbered) -> dict[str, Any]:
    """Return an entry as JSON has it; what only devices have is left out of others."""
    found: dict[str, Any] = {"number": numbered.number, "retired": numbered.retired}
    if numbered.at is not None:
        found["at"] = list(numbered.at)
    if numbered.model:
        found["model"] = numbered.model
    return found


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def read_register(data: bytes, file: str, problems: list[Problem]) -> dict[str, Numbered]:
    """Return the numbers that a register file holds, empty after adding what is wrong with it.

    data: what the file holds.
    file: its path in the project folder, for messages.
    """
    found = read_object(data, file, problems)
    if found is None:
        return {}
    register: dict[str, Numbered] = {}
    wrong: list[Problem] = []
    for identity, entry in found.items():
        message = _wrong_entry(entry) if identity.isprintable() else "wanted printable text; found other text"
        if message:
            wrong.append(Problem(Place(file), shown(identity), message))
        else:
            at = entry.get("at")
            # The file is checked here entry by entry; validating again would slow every command.
            register[identity] = Numbered.model_construct(
                number=entry["number"],
                retired=entry["retired"],
                at=None if at is None else (float(at[0]), float(at[1])),
                model=entry.get("model", ""),
            )
    problems += wrong
    return {} if wrong else register


def _wrong_entry(entry: object) -> str:
    """Return what is wrong with an entry of a register, empty where nothing is."""
    if not isinstance(entry, dict):
        return f"wanted an object with number and retired; found {shown(_json(entry))}"
    unknown = [key for key in entry if key not in _KEYS]
    if unknown:
        return f"wanted one of {', '.join(_KEYS)}; found {shown(unknown[0])}"
    number = entry.get("number")
    if not isinstance(number, str) or not number:
        return f"wanted a number as text; found {shown(_json(number))}"
    if not number.isprintable():
        return "wanted a number of printable characters; found others"
    if not isinstance(entry.get("retired"), bool):
        return f"wanted true or false under retired; found {shown(_json(entry.get('retired')))}"
    if not isinstance(entry.get("model", ""), str):
        return f"wanted a model code as text; found {shown(_json(entry['model']))}"
    at = entry.get("at")
    if at is not None and not (isinstance(at, list) and len(at) == 2 and all(map(_is_length, at))):
        return f"wanted two lengths in metres under at; found {shown(_json(at))}"
    return ""


def _is_length(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6


class Issue(NamedTuple):
    """Where a record stands among others.

    parents: the records that it follows; none of the first.  date: of the revision.
    """

    parents: tuple[str, ...]
    date: datetime.date


def read_issue(data: bytes, file: str, problems: list[Problem]) -> Issue | None:
    """Return where a record stands, or None after adding what is wrong with its manifest.

    data: what manifest.json holds.
    file: its path in the project folder, in the folder of the record, for messages.
    """
    found = read_object(data, file, problems)
    if found is None:
        return None
    folder = file.split("/")[-2]
    if found.get("revision", folder) != folder:
        message = f"wanted {folder}, as its folder is called; found {shown(_json(found['revision']))}"
        problems.append(Problem(Place(file), "revision", message))
        return None
    layout = layout_of(found)
    if layout is None:
        message = f"wanted 1 to {LAYOUT}, which this program reads; found {shown(_json(found.get('layout')))}"
        problems.append(Problem(Place(file), "layout", message))
        return None
    date = _date(found.get("date"))
    if date is None:
        message = f"wanted a date, such as 2031-02-28; found {shown(_json(found.get('date')))}"
        problems.append(Problem(Place(file), "date", message))
    parents = _parents(found, layout)
    if parents is None:
        message = "wanted the records that it follows, each with a digest; found something else"
        problems.append(Problem(Place(file), "parents" if layout > 1 else "previous", message))
    return None if date is None or parents is None else Issue(parents, date)


def layout_of(manifest: Mapping[str, Any]) -> int | None:
    """Return the layout of a record by what its manifest holds; None where this program does not know it."""
    # The first layout called it otherwise.
    layout = manifest.get("layout", manifest.get("format"))
    known = isinstance(layout, int) and not isinstance(layout, bool) and 1 <= layout <= LAYOUT
    return layout if known and ("layout" in manifest) == (layout != 1) else None


def _date(value: object) -> datetime.date | None:
    try:
        return datetime.date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None


def _parents(manifest: Mapping[str, Any], layout: int) -> tuple[str, ...] | None:
    if layout == 1:
        previous = manifest.get("previous")
        return None if not isinstance(previous, str) else (previous,) if previous else ()
    parents = manifest.get("parents")
    good = isinstance(parents, dict) and all(isinstance(one, str) for one in parents.values())
    return tuple(sorted(parents)) if good and parents is not None else None


def order_of(issues: Mapping[str, Issue], problems: list[Problem]) -> tuple[str, ...]:
    """Return the records in the order of issue: parent before child, then by date, then by name.

    issues: where each record stands, by its folder's name.
    problems: records that follow one that is not there, or each other, are added here.
    """
    before = len(problems)
    for name in sorted(issues):
        for parent in issues[name].parents:
            if parent not in issues:
                message = f"wanted the record that it follows, issued/{printable(parent)}; found none"
                problems.append(Problem(_manifest_of(name), "parents", message))
    if len(problems) > before:
        return ()
    waiting = dict(issues)
    found: list[str] = []
    while waiting:
        ready = [
            name for name, one in waiting.items() if not any(parent in waiting for parent in one.parents)
        ]
        if not ready:
            message = "wanted records that follow others; found one that follows itself, or what follows it"
            problems += (Problem(_manifest_of(name), "parents", message) for name in sorted(waiting))
            return ()
        found.append(min(ready, key=lambda name: (waiting[name].date, name)))
        del waiting[found[-1]]
    return tuple(found)


def ends_of(issues: Mapping[str, Issue], order: Iterable[str]) -> tuple[str, ...]:
    """Return the records that no other follows, which the next issue will follow.

    issues: where each record stands.  order: all of them, in the order of issue.
    """
    followed = {parent for one in issues.values() for parent in one.parents}
    return tuple(name for name in order if name not in followed)


def _manifest_of(name: str) -> Place:
    return Place(f"issued/{printable(name)}/{MANIFEST}")


class _WrongJsonError(ValueError):
    """What JSON allows and a record does not: a key twice, a number that is none."""


def read_object(data: bytes, file: str, problems: list[Problem]) -> dict[str, Any] | None:
    """Return the JSON object that a file holds, or None after adding what is wrong with it.

    data: what the file holds.
    file: its path in the project folder, for messages.
    """
    try:
        found = json.loads(data.decode("utf-8"), object_pairs_hook=_once, parse_constant=_no_number)
    except UnicodeDecodeError as error:
        message = f"wanted UTF-8 text; found another byte at position {error.start + 1}"
        problems.append(Problem(Place(file), "", message))
    except json.JSONDecodeError as error:
        message = f"wanted JSON; found a fault: {error.msg}"
        fault = Problem(Place(file, error.lineno, error.colno), "", message)
        problems.append(record_conflict(error.doc, file) or fault)
    except RecursionError:
        problems.append(Problem(Place(file), "", "wanted JSON; found objects nested too deeply"))
    except ValueError as error:
        what = str(error) if isinstance(error, _WrongJsonError) else "a number that cannot be read"
        problems.append(Problem(Place(file), "", f"wanted JSON; found {what}"))
    else:
        if isinstance(found, dict):
            return found
        problems.append(Problem(Place(file), "", f"wanted a JSON object; found {shown(_json(found))}"))
    return None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        raise _WrongJsonError(f"{shown(next(key for key in keys if keys.count(key) > 1))} twice")
    return found


def _no_number(constant: str) -> Any:
    raise _WrongJsonError(constant)
