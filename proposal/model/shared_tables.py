"""Tables of the shared data from their files, checked: radio losses, what a client is taken to know."""

from functools import lru_cache
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from proposal.errors import InputError, Problem
from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.radio.radio import RadioLosses
from proposal.model.reading.tree import plain
from proposal.model.reading.validation_messages import dotted, problems_of
from proposal.model.reading.yaml_tree import read_yaml

Table = TypeVar("Table", bound=BaseModel)


@lru_cache(maxsize=4)
def read_radio_losses(file: str, data: bytes) -> RadioLosses:
    """Return what a file of radio losses says; the same file is not read again.

    file: its name, as it stands in messages; data: its content.
    Raises InputError with everything that is wrong.
    """
    return _read(RadioLosses, file, data)


@lru_cache(maxsize=4)
def read_client_knowledge(file: str, data: bytes) -> ClientKnowledge:
    """Return what a file says that a client is taken to know; the same file is not read again.

    file: its name, as it stands in messages; data: its content.
    Raises InputError with everything that is wrong.
    """
    return _read(ClientKnowledge, file, data)


def _read(model: type[Table], file: str, data: bytes) -> Table:
    problems: list[Problem] = []
    content = read_yaml(data, file, problems)
    if content is not None and not problems:
        try:
            return model.model_validate(plain(content))
        except ValidationError as error:
            problems += problems_of(error, model, content, {}, dotted)
    raise InputError(problems)
