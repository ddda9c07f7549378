"""The small file that says how a supplier's price list is read: itself read, and held against the library."""

from collections.abc import Iterator, Mapping
from dataclasses import field

from pydantic import ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.equipment.library import Library
from proposal.model.equipment.materials import Cable
from proposal.model.price.price_list import PriceListMapping
from proposal.model.reading.tree import place_of, plain
from proposal.model.reading.validation_messages import dotted, problems_of
from proposal.model.reading.yaml_tree import read_yaml
from proposal.quantities.messages import nearest, shown


@dataclass(frozen=True, slots=True)
class WrittenMapping:
    """What a mapping file says, and where.

    heads: place of each of the heads of columns.  articles: place of what each article number is of.
    """

    mapping: PriceListMapping
    heads: Mapping[str, Place] = field(default_factory=dict)
    articles: Mapping[str, Place] = field(default_factory=dict)


def read_mapping(data: bytes, file: str) -> WrittenMapping:
    """Return what a mapping file says.

    data: of the file.  file: as messages name it.
    Raises InputError with everything that is wrong with it.
    """
    problems: list[Problem] = []
    tree = read_yaml(data, file, problems)
    if tree is not None and not problems:
        try:
            mapping = PriceListMapping.model_validate(plain(tree))
        except ValidationError as error:
            problems += problems_of(error, PriceListMapping, tree, {}, dotted)
        else:
            return WrittenMapping(
                mapping,
                {name: place_of(tree, ("columns", name)) for name in mapping.columns},
                {article: place_of(tree, ("articles", article)) for article in mapping.articles},
            )
    raise InputError(problems)


def wrong_articles(written: WrittenMapping, library: Library) -> Iterator[Problem]:
    """Yield every article number that is said to be of what the library does not have.

    written: the mapping.  library: of the project.
    """
    entries = {entry.model: entry for entry in library.entries()}
    for article, named in written.mapping.articles.items():
        code, _, reel = named.partition(", ")
        entry = entries.get(code)
        if entry is None:
            known, wanted, found = list(entries), "a model code", code
        elif reel and reel not in (reels := entry.reels if isinstance(entry, Cable) else {}):
            known, wanted, found = list(reels), f"a reel of {code} ({', '.join(reels) or 'none'})", reel
        else:
            continue
        near = nearest(found, known)
        meant = f" (did you mean {near}?)" if near else ""
        message = f"wanted {wanted}; found {shown(found)}{meant}"
        yield Problem(written.articles[article], f"articles.{article}", message)
