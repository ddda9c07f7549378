"""The standing wording from its files, checked."""

from functools import lru_cache

from pydantic import ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.model.reading.tree import Mapping, Node, plain
from proposal.model.reading.validation_messages import dotted, problems_of
from proposal.model.reading.yaml_tree import read_yaml
from proposal.model.wording.wording import Standing


@lru_cache(maxsize=4)
def read_standing(files: tuple[tuple[str, bytes], ...]) -> Standing:
    """Return what the files of standing wording say; the same files are not read again.

    files: name, as it stands in messages, and content; the name without folder and ending is the field.
    Raises InputError with everything that is wrong.
    """
    problems: list[Problem] = []
    entries: dict[str, tuple[Place, Node]] = {}
    for file, data in files:
        content = read_yaml(data, file, problems)
        if content is not None:
            entries[file.rpartition("/")[2].removesuffix(".yaml")] = (Place(file), content)
    tree = Mapping(entries, Place("shared/wording"))
    if not problems:
        try:
            return Standing.model_validate(plain(tree))
        except ValidationError as error:
            problems += problems_of(error, Standing, tree, {}, dotted)
    raise InputError(problems)
