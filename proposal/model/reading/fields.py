"""What the model wants at a path: found by walking its types, so that messages can say it in words."""

import datetime
import re
import types
import typing
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any, Literal

from pydantic import BaseModel, Tag
from pydantic.fields import FieldInfo

from proposal.field_classes import dataclass
from proposal.quantities.money import Money
from proposal.quantities.parsing import Colour, Quantity, TimeOfDay
from proposal.quantities.units import KINDS, Kind

_TIME_OF_DAY = TimeOfDay.__metadata__[0]  # type: ignore[attr-defined] # of an Annotated
_COLOUR = Colour.__metadata__[0]  # type: ignore[attr-defined] # of an Annotated


@dataclass(frozen=True, slots=True)
class Example:
    """A text of the form that is wanted, from the type of a field."""

    text: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """What may stand at a path.

    annotation: the type, without what is annotated to it and without None.
    metadata: limits and kinds annotated to it.
    field: the field of a model, where the path names one.
    """

    annotation: Any
    metadata: tuple[Any, ...] = ()
    field: FieldInfo | None = None

    @property
    def kind(self) -> Kind | None:
        """Return the kind of quantity, if it is one."""
        for part in self.metadata:
            if isinstance(part, Quantity):
                return KINDS[part.kind]
        return None

    @property
    def examples(self) -> tuple[str, ...]:
        """Return texts of the form that is wanted, as the type or the field gives them."""
        given = self.field.examples if self.field else None
        if given:
            return tuple(map(_as_written, given))
        return tuple(part.text for part in self.metadata if isinstance(part, Example))

    @property
    def choices(self) -> tuple[str, ...]:
        """Return the words among which one is chosen, none where it is no choice."""
        if typing.get_origin(self.annotation) is Literal:
            return tuple(str(choice) for choice in typing.get_args(self.annotation))
        return ()

    @property
    def names(self) -> tuple[str, ...]:
        """Return the names of a model's fields as they are written, none where it is no model."""
        if isinstance(self.annotation, type) and issubclass(self.annotation, BaseModel):
            return tuple(field.alias or name for name, field in self.annotation.model_fields.items())
        return ()


def wanted_at(annotation: Any, path: Sequence[str | int]) -> Wanted | None:
    """Return what a type wants at a path of keys and indices, or None where the path leads out of it.

    annotation: the type.
    """
    here: Wanted | None = _bare(Wanted(annotation))
    for key in path:
        here = _step(here, key) if here is not None else None
    return here


def wanted_of_key(annotation: Any, path: Sequence[str | int]) -> Wanted | None:
    """Return what a mapping at a path wants its keys to be.

    annotation: the type that the path begins at.
    """
    here = wanted_at(annotation, path)
    if here is None or not _is_mapping(here.annotation):
        return None
    return _bare(Wanted(typing.get_args(here.annotation)[0]))


def in_words(wanted: Wanted | None, found: object = None) -> str:
    """Return what is wanted as the words after `wanted`.

    found: what stands there, which a list may hold.
    """
    if wanted is None:
        return "something else"
    annotation, kind = wanted.annotation, wanted.kind
    if wanted.names or _is_mapping(annotation):
        return f"names with values, such as {example_of(wanted)}"
    if typing.get_origin(annotation) is tuple:
        members = typing.get_args(annotation)
        listed = members and members[-1] is not Ellipsis
        if not listed and _may_stand_in(members[0], found):
            return f"a list, such as [{found}]"
        many = f"a list of {len(members)}, in brackets" if listed else "a list"
        return f"{many}, such as {example_of(wanted)}"
    if wanted.choices:
        return f"one of {', '.join(wanted.choices)}" if len(wanted.choices) > 1 else wanted.choices[0]
    if kind:
        return f"{kind.noun} with its unit, such as {kind.examples[0]} or {kind.examples[1]}"
    if _TIME_OF_DAY in wanted.metadata:
        return "a time of day from 00:00 to 24:00, such as 09:30 or 9:30 am"
    if _COLOUR in wanted.metadata:
        return 'a colour in quotes, # and six hexadecimal digits, such as "#1f4e79"'
    return _WORDS.get(annotation, "a value")


def _as_written(example: object) -> str:
    """Return an example of a field as a file has it on one line."""
    if isinstance(example, dict):
        return f"{{{', '.join(f'{key}: {_as_written(value)}' for key, value in example.items())}}}"
    if isinstance(example, list):
        return f"[{', '.join(map(_as_written, example))}]"
    text = str(example)
    return f'"{text}"' if ":" in text or "#" in text else text


_MOST_NAMES, _DEEPEST = 4, 3
_OTHERS: Mapping[Any, str] = {
    Money: "1250.00 EUR",
    bool: "yes",
    int: "2",
    float: "1.5",
    Decimal: "1.5",
    datetime.date: "2031-04-15",
    str: "a text",
}


def example_of(wanted: Wanted, depth: int = 0) -> str:
    """Return a short example of what is wanted, in the form in which a file has it.

    depth: how deep in another example it stands; what lies too deep is told by three dots.
    """
    annotation = wanted.annotation
    if wanted.examples:
        return wanted.examples[0]
    if wanted.choices:
        return wanted.choices[0]
    if wanted.kind:
        return wanted.kind.examples[0]
    if _TIME_OF_DAY in wanted.metadata:
        return '"09:30"'
    if _COLOUR in wanted.metadata:
        return '"#1f4e79"'
    if depth >= _DEEPEST:
        return "…"
    if wanted.names:
        return _example_of_model(annotation, depth)
    if _is_mapping(annotation):
        key, value = (_bare(Wanted(part)) for part in typing.get_args(annotation))
        named = key.choices[0] if key.choices else "a_name"
        return f"{{{named}: {example_of(value, depth + 1)}}}"
    if typing.get_origin(annotation) is tuple:
        members = [_bare(Wanted(part)) for part in typing.get_args(annotation) if part is not Ellipsis]
        if [one.annotation for one in members] == [str]:
            return "[A, B]"
        return f"[{', '.join(example_of(one, depth + 1) for one in members)}]"
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return example_of(_bare(Wanted(typing.get_args(annotation)[0])), depth)
    return _OTHERS.get(annotation, "…")


def _example_of_model(model: Any, depth: int) -> str:
    """Return a model with the fields that it has to have; with its first ones where it has to have none."""
    fields = {field.alias or name: field for name, field in model.model_fields.items()}
    needed = {name: field for name, field in fields.items() if field.is_required()}
    told = list((needed or fields).items())[: _MOST_NAMES if needed else 2]
    parts = []
    for name, field in told:
        inner = _bare(Wanted(field.annotation, tuple(_flat(field.metadata)), field))
        parts.append(f"{name}: {example_of(inner, depth + 1)}")
    return f"{{{', '.join(parts)}}}"


# A text or a number that is not a quantity; bool comes before int, of which it is a kind.
_WORDS: Mapping[Any, str] = {
    Money: "an amount with its currency, such as 1250.00 EUR",
    bool: "yes or no",
    int: "a whole number, such as 12",
    float: "a number, such as 2 or 1.5",
    Decimal: "a number, such as 2 or 1.5",
    str: "a text",
    datetime.date: "a date, such as 2031-04-15",
    str | tuple[str, ...]: "numbers such as 1-12, or a list such as [1-6, 13, 7-12]",
}


_PLAIN_TEXT = re.compile(r"[\w .-]{1,40}")


def _may_stand_in(member: Any, found: object) -> bool:
    """Return whether a text that stands for a list is one of its entries, such as the tag of a room."""
    inner = _bare(Wanted(member))
    named = inner.choices or (found,)
    return (
        isinstance(found, str)
        and (inner.annotation is str or bool(inner.choices))
        and found in named
        and _PLAIN_TEXT.fullmatch(found) is not None
    )


def _is_mapping(annotation: Any) -> bool:
    origin = typing.get_origin(annotation)
    return isinstance(origin, type) and issubclass(origin, Mapping)


def _bare(wanted: Wanted) -> Wanted:
    """Return it without Annotated and without None around its type."""
    annotation = wanted.annotation
    origin = typing.get_origin(annotation)
    if origin is typing.Annotated:
        inner, *metadata = typing.get_args(annotation)
        return _bare(Wanted(inner, (*wanted.metadata, *_flat(metadata)), wanted.field))
    if origin in (typing.Union, types.UnionType):
        members = [member for member in typing.get_args(annotation) if member is not type(None)]
        if len(members) == 1:
            return _bare(Wanted(members[0], wanted.metadata, wanted.field))
    return wanted


def _flat(metadata: Sequence[Any]) -> list[Any]:
    """Return annotations with those inside `Field(gt=0)` taken out, and with its examples."""
    return [
        part
        for item in metadata
        for part in (
            (*item.metadata, *map(Example, item.examples or ())) if isinstance(item, FieldInfo) else [item]
        )
    ]


def _step(here: Wanted, key: str | int) -> Wanted | None:
    annotation = here.annotation
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        for name, field in annotation.model_fields.items():
            if key in (name, field.alias):
                return _bare(Wanted(field.annotation, tuple(_flat(field.metadata)), field))
        return None
    if _is_mapping(annotation):
        return _bare(Wanted(typing.get_args(annotation)[1]))
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        member = _tagged(annotation, key)
        return None if member is None else _bare(Wanted(member))
    if typing.get_origin(annotation) is tuple and isinstance(key, int):
        members = typing.get_args(annotation)
        if members and members[-1] is Ellipsis:
            return _bare(Wanted(members[0]))
        return _bare(Wanted(members[key])) if 0 <= key < len(members) else None
    return None


def _tagged(annotation: Any, tag: str | int) -> Any:
    """Return the member of a union that pydantic knows by a tag, None where none is."""
    for member in typing.get_args(annotation):
        if Tag(str(tag)) in getattr(member, "__metadata__", ()):
            return member
    return None


def without_tags(annotation: Any, path: Sequence[str | int]) -> tuple[str | int, ...]:
    """Return pydantic's location of an error without the tags of unions, which no file holds.

    annotation: the type that the path begins at.
    """
    kept: list[str | int] = []
    for place, key in enumerate(path):
        here = wanted_at(annotation, path[:place])
        if here is None or typing.get_origin(here.annotation) not in (typing.Union, types.UnionType):
            kept.append(key)
    return tuple(kept)
