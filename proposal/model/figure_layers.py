"""Which library layer each figure comes from, and which prices a layer gives twice."""

from collections.abc import Iterator, Mapping
from functools import lru_cache

from proposal.errors import Place
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library_files import LibraryFile
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Path, Text
from proposal.model.reading.yaml_tree import read_yaml

PRICES = ("cost", "list_price")


@lru_cache(maxsize=4)
def figure_layers(
    libraries: tuple[LibraryFile, ...], labour_files: tuple[LibraryFile, ...]
) -> Mapping[Path, Layer]:
    """Return the highest layer that gives a figure, by its keys; a figure left out is the shared library's.

    libraries, labour_files: lowest layer first. Keys begin with `library` and a model code, or with `labour`.
    """
    found: dict[Path, Layer] = {}
    for files, top in ((libraries, "library"), (labour_files, "labour")):
        for file, path, _ in _figures(files):
            # Kinds of entries are left out: a model code is unique.
            found[(top, *(path[1:] if top == "library" else path))] = file.layer
    return found


@lru_cache(maxsize=4)
def figure_places(libraries: tuple[LibraryFile, ...]) -> Mapping[Path, Place]:
    """Return the place of each figure of entries that is not the shared library's, by the same keys."""
    return {("library", *path[1:]): text.place for _, path, text in _figures(libraries)}


@lru_cache(maxsize=4)
def prices_given_twice(libraries: tuple[LibraryFile, ...]) -> Mapping[Path, tuple[Place, ...]]:
    """Return the places of prices that several files of one layer say, by model code and field.

    libraries: lowest layer first.
    """
    found: dict[tuple[Layer, Path], list[Place]] = {}
    for file, path, text in _figures(libraries):
        if path[-1] in PRICES and len(path) > 2:
            found.setdefault((file.layer, path[1:]), []).append(text.place)
    return {path: tuple(places) for (_, path), places in found.items() if len(places) > 1}


def _figures(files: tuple[LibraryFile, ...]) -> Iterator[tuple[LibraryFile, Path, Text]]:
    """Yield every value of files above the shared ones, with its keys."""
    for file in files:
        if file.layer == "shared":
            continue
        tree = read_yaml(file.data, file.name, [])
        waiting: list[tuple[Path, object]] = [((), tree)]
        while waiting:
            path, node = waiting.pop()
            if isinstance(node, Tree):
                waiting += [((*path, key), inner) for key, (_, inner) in node.entries.items()]
            elif isinstance(node, Text) and path != ("source",):
                yield file, path, node


def layer_of(layers: Mapping[Path, Layer], *keys: str) -> Layer:
    """Return the layer that a figure comes from.

    layers: as `figure_layers` returns them.  keys: of the figure.
    """
    return layers.get(keys, "shared")
