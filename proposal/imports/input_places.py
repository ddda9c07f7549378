"""Where an input of the price is written, or would be: a file of the project, or of a library.

A figure is changed where the project writes it. One that a library below the project has goes into the
project's own library, since other projects read that one too; into the company's own where the call says so.
"""

from collections.abc import Mapping, Sequence

from proposal.document.making.price_inputs import Keys
from proposal.errors import Place
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Layer
from proposal.model.equipment.library import FIELD_OF_KIND
from proposal.model.equipment.library_files import LibraryFile
from proposal.model.labour.labour_files import NAMED
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Text, node_at
from proposal.model.reading.yaml_tree import read_yaml
from proposal.model.source import ProjectSource

PROJECT_FILE = "project.yaml"
LIBRARY_FILE, LABOUR_FILE = "library/estimate.yaml", "library/labour/estimate.yaml"


@dataclass(frozen=True, slots=True)
class InputPlace:
    """Where a value is written, or is to be added.

    file: as messages name it; of the project relative to its folder.
    path: keys from the top of the file.
    place: of the value, None where it is to be added.
    layer: of the file.
    """

    file: str
    path: Keys
    place: Place | None
    layer: Layer = "project"


class InputPlaces:
    """Finds where inputs of a project are written."""

    def __init__(self, source: ProjectSource, writable: Sequence[Layer]) -> None:
        """Read the files of the layers that may be written.

        writable: layers whose files may be changed.
        """
        self.project = source.base
        around = source.surroundings
        self.libraries = _trees(around.libraries, writable)
        self.labour = _trees(around.labour_files, writable)

    def of(self, keys: Keys) -> InputPlace:
        """Return where an input is written; keys: as the price rests on it."""
        first, *rest = keys
        if first == "library":
            field = FIELD_OF_KIND[self.project.library.entry(rest[0]).kind]
            return self._in_library(self.libraries, (field, *rest), 2, LIBRARY_FILE)
        if keys[:2] == ("labour", "tasks") and keys[3:] == ("hours",):
            for name, service in self.project.brief.terms.services.items():
                if service.task == keys[2]:
                    return self._in_project(("terms", "services", name, "hours"))
        if keys[:2] == ("labour", "rates"):
            return self._of_rate(keys)
        if first == "labour" and rest[0] not in ("overtime", "overtime_work"):
            named = 2 if rest[0] in NAMED else 1
            return self._in_library(self.labour, tuple(rest), named, LABOUR_FILE)
        return self._in_project(keys)

    def _of_rate(self, keys: Keys) -> InputPlace:
        """Return where the rate of a trade is written: in the project, else in a library that may change."""
        _, _, trade, which = keys
        here = self._in_project(keys)
        if here.place is not None:
            return here
        found = self._in_library(self.labour, ("trades", trade, which), 2, LABOUR_FILE)
        return here if found.place is None else found

    def _in_project(self, keys: Keys) -> InputPlace:
        place = self.project.places.get(("project", *keys))
        return InputPlace(PROJECT_FILE if place is None else place.file, keys, place)

    @staticmethod
    def _in_library(
        files: Sequence[tuple[LibraryFile, Tree]], path: Keys, named: int, new: str
    ) -> InputPlace:
        """Return the place of a value in the highest file that has it, or where it is to be added.

        named: how many keys name what the value is of.  new: file for what no file has yet.
        """
        for file, tree in reversed(files):
            node = node_at(tree, path)
            if isinstance(node, Text):
                return InputPlace(file.name, path, node.place, file.layer)
        own = [
            file
            for file, tree in files
            if file.layer == "project" and node_at(tree, path[:named]) is not None
        ]
        return InputPlace(own[-1].name if own else new, path, None)


def _trees(files: Sequence[LibraryFile], layers: Sequence[Layer]) -> Sequence[tuple[LibraryFile, Tree]]:
    read = [(file, read_yaml(file.data, file.name, [])) for file in files if file.layer in layers]
    return [(file, tree) for file, tree in read if tree is not None]


def texts_of(source: ProjectSource, files: Mapping[str, bytes]) -> Mapping[str, bytes]:
    """Return the content of every file that an input may stand in, by name.

    files: of the project folder.
    """
    around = source.surroundings
    return {**{one.name: one.data for one in (*around.libraries, *around.labour_files)}, **files}
