"""Words change no number: what tells whether prices are still the same leaves them out, and nothing else."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from proposal.document.making.sensitivity import cases_of, price_of
from proposal.model.loading import load_source
from proposal.model.numbers_alone import _WORDS, numbers_alone
from proposal.model.reading.tree import Mapping, Node, Sequence, Text
from proposal.model.source import ProjectSource, source_of
from proposal.pipeline import compute
from tests.long_form import LONG

EXAMPLE = Path(__file__).parents[2] / "example_project"
Keys = tuple[str, ...]


@cache
def example() -> ProjectSource:
    return load_source(EXAMPLE)


def leaves(node: Node, keys: Keys = ()) -> Iterator[tuple[Keys, Text]]:
    if isinstance(node, Text):
        yield keys, node
    elif isinstance(node, Mapping):
        for key, (_, inner) in node.entries.items():
            yield from leaves(inner, (*keys, key))
    else:
        for n, item in enumerate(node.items):
            yield from leaves(item, (*keys, str(n)))


def written(node: Node, change: Callable[[Keys, Text], Text], keys: Keys = ()) -> Node:
    """Return a tree with each of its texts as `change` writes it."""
    if isinstance(node, Text):
        return change(keys, node)
    if isinstance(node, Mapping):
        entries = {
            key: (place, written(inner, change, (*keys, key))) for key, (place, inner) in node.entries.items()
        }
        return replace(node, entries=entries)
    return Sequence(
        tuple(written(item, change, (*keys, str(n))) for n, item in enumerate(node.items)), node.place
    )


def is_word(keys: Keys) -> bool:
    return any(
        len(keys) == len(path) and all(part in ("*", key) for key, part in zip(keys, path, strict=True))
        for path in _WORDS
    )


def with_other_words(keys: Keys, text: Text) -> Text:
    """Return a text, a much longer one for a word, which begins in another column too."""
    if not is_word(keys):
        return text
    place = text.place._replace(column=text.place.column + 7)
    return Text(f"Zz {'.'.join(keys)} {text.value * 3}", place)


def test_other_words_leave_every_price_as_it_is() -> None:
    source = example()
    words = [keys for keys, _ in leaves(source.parts.tree) if is_word(keys)]
    assert len(words) > 40
    tree = written(source.parts.tree, with_other_words)
    assert isinstance(tree, Mapping)
    other = source_of(replace(source.parts, tree=tree), source.surroundings, [])
    assert other.base.brief.name != source.base.brief.name
    assert other.fingerprint() != source.fingerprint()
    assert other.numbers_fingerprint() == source.numbers_fingerprint()
    ours, theirs = compute(source.base), compute(other.base)
    assert theirs.price.whole.price == ours.price.whole.price
    cases, others = cases_of(source.base), cases_of(other.base)
    assert [(case.path, case.row.lower, case.row.upper) for case in cases] == [
        (case.path, case.row.lower, case.row.upper) for case in others
    ]
    for case, again in list(zip(cases, others, strict=True))[:: 1 if LONG else 21]:
        assert price_of(other, theirs, again, "upper") == price_of(source, ours, case, "upper"), case.path


def test_anything_else_that_is_written_counts() -> None:
    parts = example().parts
    told = numbers_alone(parts)
    other = [keys for keys, _ in leaves(parts.tree) if not is_word(keys)]
    assert len(other) > 500
    for chosen in other[::9]:
        tree = written(
            parts.tree,
            lambda keys, text, at=chosen: text._replace(value=f"{text.value}1") if keys == at else text,
        )
        assert isinstance(tree, Mapping)
        assert numbers_alone(replace(parts, tree=tree)) != told, chosen


def test_a_word_that_is_not_known_yet_counts() -> None:
    parts = example().parts

    def unknown(keys: Keys, text: Text) -> Text:
        return Text("unknown", text.place, plain=True) if keys == ("project", "site") else text

    tree = written(parts.tree, unknown)
    assert isinstance(tree, Mapping)
    assert numbers_alone(replace(parts, tree=tree)) != numbers_alone(parts)


def test_what_alternates_change_counts_and_what_they_are_called_does_not() -> None:
    parts = example().parts
    key, alternate = next(iter(parts.alternates.items()))

    def patched(of: str) -> list[object]:
        tree = written(
            alternate, lambda keys, text: text._replace(value=f"{text.value}1") if keys[0] == of else text
        )
        assert isinstance(tree, Mapping)
        return numbers_alone(replace(parts, alternates={**parts.alternates, key: tree}))

    assert patched("name") == patched("description") == numbers_alone(parts)
    assert patched("changes") != numbers_alone(parts)
