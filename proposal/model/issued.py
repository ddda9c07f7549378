"""Issued records as a project reads them: their order, and the register of numbers of the last one.

A record is a folder `issued/<revision>/`. Of it a project reads two files: `manifest.json`, whose `sequence`
says which issue of the project it was (1, 2, 3 …, none left out), and, of the last record alone,
`register.json`.

A record keeps two registers. `register.json` holds every number that the revision and all before it gave; the
next revision is computed from it. `register_before.json` holds `Project.issued` as the revision itself was
computed from it, so that the record rebuilds from itself: its inputs with that register give it again.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from proposal.errors import Place, Problem
from proposal.model.project import Numbered
from proposal.quantities.messages import printable, shown

MANIFEST = "manifest.json"
REGISTER = "register.json"
REGISTER_BEFORE = "register_before.json"
SEQUENCE = "sequence"
_KEYS = ("number", "retired", "at", "model")


def register_text(register: Mapping[str, Numbered]) -> str:
    """Return a register as a file holds it: an identity a line, in order, so that it diffs well.

    register: numbers by identity.
    """
    lines = (f"{_json(identity)}: {_json(_plain(register[identity]))}" for identity in sorted(register))
    inside = ",\n".join(f"  {line}" for line in lines)
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


def read_sequence(data: bytes, file: str, problems: list[Problem]) -> int | None:
    """Return which issue of the project a record is, or None after adding what is wrong with its manifest.

    data: what manifest.json holds.
    file: its path in the project folder, for messages.
    """
    found = read_object(data, file, problems)
    if found is None:
        return None
    sequence = found.get(SEQUENCE)
    if not isinstance(sequence, int) or isinstance(sequence, bool) or sequence < 1:
        message = f"wanted a whole number from 1; found {shown(_json(sequence))}"
        problems.append(Problem(Place(file), SEQUENCE, message))
        return None
    return sequence


def last_record(sequences: Mapping[str, int], problems: list[Problem]) -> str | None:
    """Return the record that was issued last, None where there is none or their order is not clear.

    sequences: which issue of the project each record is, by its folder's name.
    problems: sequences that two records have, and those that none has, are added here.
    """
    by_sequence: dict[int, list[str]] = {}
    for name in sorted(sequences):
        by_sequence.setdefault(sequences[name], []).append(name)
    before = len(problems)
    for sequence, names in sorted(by_sequence.items()):
        if len(names) > 1:
            message = f"wanted a number of its own; found {sequence} in issued/{printable(names[0])} too"
            problems += (
                Problem(Place(f"issued/{printable(name)}/{MANIFEST}"), SEQUENCE, message)
                for name in names[1:]
            )
    lacking = [n for n in range(1, max(by_sequence, default=0)) if n not in by_sequence][:3]
    if lacking:
        highest = printable(by_sequence[max(by_sequence)][0])
        message = f"wanted records of every issue before it; found none with the sequence {_listed(lacking)}"
        problems.append(Problem(Place(f"issued/{highest}/{MANIFEST}"), SEQUENCE, message))
    if len(problems) > before or not by_sequence:
        return None
    return by_sequence[max(by_sequence)][0]


def _listed(numbers: Iterable[int]) -> str:
    return " or ".join(str(number) for number in numbers)


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
        problems.append(Problem(Place(file, error.lineno, error.colno), "", message))
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
