"""Rows that repeat a result of the design or the estimate: filled by the names that both have."""

import inspect
from collections.abc import Mapping
from dataclasses import fields
from typing import Any, Generic, TypeVar

from proposal.document.schedule import Row

R = TypeVar("R")
P = TypeVar("P", bound=Row)


class ByName(Generic[R, P]):
    """How rows of a class are filled from results of a class.

    part: class of the rows.  result: class of the results.
    own: fields that are given with each result: it has none of that name, or one that holds something else.
    names: fields that hold what the result holds under the same name.
    """

    def __init__(self, part: type[P], result: type[R], *other: str) -> None:
        """Take both classes.

        other: fields that hold something else than the result does under the same name.
        Raises TypeError where one of them is not in both.
        """
        held = {name for kind in result.__mro__ for name in (*inspect.get_annotations(kind), *vars(kind))}
        both = held & part.model_fields.keys()
        if unknown := sorted(set(other) - both):
            raise TypeError(
                f"{part.__name__} is filled from {result.__name__}: "
                f"wanted names that both have, found {unknown}"
            )
        self.part, self.result = part, result
        self.names = tuple(name for name in part.model_fields if name in both and name not in other)
        self.own = part.model_fields.keys() - set(self.names)

    def of(self, result: R, **own: object) -> P:
        """Return the row of a result.

        own: what the fields hold that are not the result's.
        Raises TypeError where these are not the fields that were named.
        """
        if own.keys() != self.own:
            raise TypeError(f"wanted {sorted(self.own)} of {self.part.__name__}; found {sorted(own)}")
        return self.part.model_validate({name: getattr(result, name) for name in self.names} | own)


class WholeByName(Generic[R]):
    """What a row takes from a second result, all of whose fields it holds under the same names.

    part: class of the rows.  result: class of the results, a dataclass.
    names: of the fields of the result.
    """

    def __init__(self, part: type[Row], result: type[R]) -> None:
        """Take both classes.

        Raises TypeError where the result has a field that rows have not.
        """
        held: Any = result
        self.part, self.result = part, result
        self.names = tuple(one.name for one in fields(held))
        missing = [name for name in self.names if name not in part.model_fields]
        if missing:
            raise TypeError(f"{part.__name__} takes all of {result.__name__}: wanted fields for {missing}")

    def of(self, result: R | None) -> Mapping[str, object]:
        """Return the fields of a row that a result fills, at their defaults where there is none."""
        if result is None:
            declared = self.part.model_fields
            return {name: declared[name].get_default() for name in self.names}
        return {name: getattr(result, name) for name in self.names}
