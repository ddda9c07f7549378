"""Tags of devices in a room: no two alike, and none that the program gives to others."""

import pytest

from proposal.model.reading.project_tree import Untyped
from proposal.model.tags import DEVICE_CODES, wrong_tags


def room_type(**collections: tuple[str, ...]) -> Untyped:
    """Return an untyped project of one room type with devices by collection."""
    layout = {name: {tag: {} for tag in tags} for name, tags in collections.items()}
    return {"room_types": {"hall": layout}}


def told(tree: Untyped) -> list[str]:
    """Return what is wrong with tags, each with the last two keys of its path."""
    return [f"{'.'.join(path[-2:])}: {message}" for path, message in wrong_tags(tree)]


@pytest.mark.parametrize("code", sorted({*DEVICE_CODES.values()} - {"M"}))
def test_a_microphone_is_not_called_as_a_device_that_the_program_names(code: str) -> None:
    """A row MS once stood beside spare microphones MS1 and MS2, and slots were sought for ever."""
    noun = next(noun for noun, one in DEVICE_CODES.items() if one == code).replace("_", " ")
    wanted = (
        "wanted a tag that the program gives to no other device, such as M1 "
        f"({code} and a number is what it calls each {noun})"
    )
    assert told(room_type(microphones=("M1", f"{code}12", f"{code}X"))) == [
        f"microphones.{code}12: {wanted}; found {code}12"
    ]


def test_devices_of_a_room_have_tags_of_their_own() -> None:
    """Tags are told apart without case; loudspeakers may have the code of loudspeakers."""
    tree = room_type(microphones=("M1", "M2"), wired_microphones=("m2", "W1"), loudspeakers=("LS1", "W1"))
    assert told(tree) == [
        "wired_microphones.m2: wanted a tag that no microphone of the room has; found m2",
        "loudspeakers.W1: wanted a tag that no wired microphone of the room has; found W1",
    ]
