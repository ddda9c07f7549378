"""How much a drawing draws once every reference in it is followed.

A few elements that each use the one before many times draw more than any computer can; so do patterns in
patterns. What is counted is what a browser draws at most.
"""

from collections.abc import Iterator
from dataclasses import field

from proposal.errors import Problem
from proposal.field_classes import dataclass
from proposal.model.pictures.svg_rules import Kept
from proposal.model.pictures.svg_styles import references
from proposal.model.pictures.svg_tree import SvgElement, SvgTree

MOST_DRAWN = 200_000
MOST_LEVELS = 200


class _RefusedError(Exception):
    """What was wanted and found, and the element at which."""

    def __init__(self, element: SvgElement, message: str) -> None:
        super().__init__(message)
        self.element = element


def wrong_references(tree: SvgTree, kept: Kept, problems: list[Problem]) -> None:
    """Add a problem where a drawing refers to itself, or repeats parts of itself too often."""
    by_identity: dict[str, SvgElement] = {}
    for element in _all(kept.root):
        for attribute in element.attributes:
            if attribute.name == "id":
                by_identity.setdefault(attribute.value, element)
    try:
        _Counting(by_identity, _by_rule(kept)).drawn(kept.root, 1)
    except _RefusedError as refused:
        problems.append(Problem(tree.place(refused.element), "", str(refused)))


def _all(element: SvgElement) -> Iterator[SvgElement]:
    waiting = [element]
    while waiting:
        one = waiting.pop()
        yield one
        waiting += one.children()


@dataclass
class _Counting:
    by_identity: dict[str, SvgElement]
    by_rule: dict[str, list[str]]
    _known: dict[int, tuple[int, int]] = field(default_factory=dict)
    _open: set[int] = field(default_factory=set)

    def drawn(self, element: SvgElement, level: int) -> tuple[int, int]:
        """Return how many elements one draws, with all that it refers to, and how many levels deep."""
        if (known := self._known.get(id(element))) is not None:
            return known
        if id(element) in self._open:
            raise _RefusedError(element, "wanted elements that do not draw themselves; found one that does")
        if level > MOST_LEVELS:
            self._too_deep(element)
        self._open.add(id(element))
        count, levels = 1, 0
        for one in (*element.children(), *self._referred(element)):
            more, deeper = self.drawn(one, level + 1)
            count, levels = count + more, max(levels, deeper)
        if count > MOST_DRAWN:
            message = f"wanted at most {MOST_DRAWN} elements drawn, each as often as it is used; found more"
            raise _RefusedError(element, message)
        if levels + 1 > MOST_LEVELS:
            self._too_deep(element)
        self._open.remove(id(element))
        self._known[id(element)] = count, levels + 1
        return count, levels + 1

    def _too_deep(self, element: SvgElement) -> None:
        raise _RefusedError(element, f"wanted at most {MOST_LEVELS} levels of references; found more")

    def _referred(self, element: SvgElement) -> Iterator[SvgElement]:
        """Yield the elements that one refers to by its attributes or by rules that may be for it."""
        names: list[str] = []
        said = ["*", element.name]
        for attribute in element.attributes:
            if attribute.name == "href" and attribute.value[:1] == "#":
                names.append(attribute.value[1:])
            elif attribute.name == "id":
                said.append(f"#{attribute.value}")
            elif attribute.name == "class":
                said += [f".{name}" for name in attribute.value.split()]
            else:
                names += references(attribute.value)
        for name in said:
            names += self.by_rule.get(name, ())
        yield from (self.by_identity[name] for name in dict.fromkeys(names) if name in self.by_identity)


def _by_rule(kept: Kept) -> dict[str, list[str]]:
    """Return what rules of style refer to, by a name that every element has for which a rule is."""
    found: dict[str, list[str]] = {}
    for rule in kept.rules:
        named = [name for _, value in rule.declarations for name in references(value)]
        if named:
            for last in rule.last_names():
                found.setdefault(last, []).extend(named)
    return found
