"""The table of radio losses from its file, checked."""

from functools import lru_cache

from pydantic import ValidationError

from proposal.errors import InputError, Problem
from proposal.model.radio.radio import RadioLosses
from proposal.model.reading.complaints import dotted, problems_of
from proposal.model.reading.tree import plain
from proposal.model.reading.yaml_tree import read_yaml


@lru_cache(maxsize=4)
def read_radio_losses(file: str, data: bytes) -> RadioLosses:
    """Return what a file of radio losses says; the same file is not read again.

    file: its name, as it stands in messages; data: its content.
    Raises InputError with everything that is wrong.
    """
    problems: list[Problem] = []
    content = read_yaml(data, file, problems)
    if content is not None and not problems:
        try:
            return RadioLosses.model_validate(plain(content))
        except ValidationError as error:
            problems += problems_of(error, RadioLosses, content, {}, dotted)
    raise InputError(problems)
