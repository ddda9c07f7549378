"""Classes of fields that load quickly: those of the standard library, with less that is compiled for each.

For a frozen class the standard library compiles six functions when its module is loaded, an eighth of the
time of `check` with some 250 classes. Here one is compiled, which makes an instance; comparing, hashing and
printing are shared. That no field is assigned to later is held by the check of types, for which this is the
decorator of the standard library, and not by each instance.
"""

import dataclasses
from operator import attrgetter
from reprlib import recursive_repr
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls=None, /, *, frozen=False, **options):
        """Return a class of fields.

        frozen: whether it is compared and hashed by its fields, none of which changes.
        options: those of the standard library.
        """

        def made(cls):
            if not frozen or not options.keys() <= {"slots", "kw_only"}:
                return dataclasses.dataclass(cls, frozen=frozen, **options)
            done = dataclasses.dataclass(cls, repr=False, eq=False, **options)
            values = _values_of([one.name for one in dataclasses.fields(done) if one.compare])
            for name, method in (
                ("__eq__", _comparing(values)),
                ("__hash__", _hashing(values)),
                ("__repr__", _printed),
            ):
                if name not in cls.__dict__:
                    setattr(done, name, method)
            return done

        return made if cls is None else made(cls)


def _values_of(names: list[str]) -> Any:
    """Return what takes the values of some fields of an instance as a tuple."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda instance: tuple(getattr(instance, name) for name in names)


def _comparing(values: Any) -> Any:
    def equal(self: object, other: object) -> bool:
        return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

    return equal


def _hashing(values: Any) -> Any:
    return lambda self: hash(values(self))


@recursive_repr()
def _printed(self: Any) -> str:
    shown = (f"{one.name}={getattr(self, one.name)!r}" for one in dataclasses.fields(self) if one.repr)
    return f"{type(self).__qualname__}({', '.join(shown)})"
