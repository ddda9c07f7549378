"""What stands in the way of people, is called twice, or is named twice in a room."""

from proposal.model.room_shape import Seat
from proposal.model.rooms import Destination, Loudspeaker
from proposal.review.contained_sound import CONTAINED_SOUND_RULES
from proposal.review.destinations import loudspeakers_said_twice
from proposal.review.rooms import chargers_in_the_way, same_codes
from tests.design.making import designed, minimal, with_layout


def test_chargers_among_seats_are_a_warning_unless_their_place_is_written() -> None:
    """The longest wall of the room is 6 m: chargers stand before its middle, 3 m along."""
    seats = {"S1": Seat(at=(3.0, 0.6))}
    for written, rules in ((None, ["chargers-in-the-way"]), ((1.0, 3.0), [])):
        made = designed(with_layout(minimal(), "meeting", seats=seats, charging_at=written, microphones={}))
        assert [one.rule for one in chargers_in_the_way(made.project, made)] == rules


def test_a_code_of_two_things_is_a_warning() -> None:
    speakers = {"M1": Loudspeaker(at=(1.0, 1.0)), "LS1": Loudspeaker(at=(2.0, 1.0))}
    made = designed(with_layout(minimal(), "meeting", loudspeakers=speakers))
    (one,) = same_codes(made.project, made)
    assert one.rule == "same-code-twice"
    assert "1 code" in one.message
    assert "M1" in one.message


def test_loudspeakers_of_ours_named_as_a_destination_too_are_a_warning_and_the_cure_is_to_remove_it() -> None:
    ends = {"loudspeakers": Destination(name="room loudspeakers", signal="networked audio")}
    made = designed(
        with_layout(
            minimal(),
            "meeting",
            loudspeakers={"LS1": Loudspeaker(at=(2.0, 1.0))},
            destinations=ends,
            output="mixer",
            sound_stays="Closed sessions.",
        )
    )
    (one,) = loudspeakers_said_twice(made.project, made)
    assert one.rule == "loudspeakers-said-twice"
    assert one.remedy.startswith("Remove the destination loudspeakers")
    (rule,) = CONTAINED_SOUND_RULES
    (leaves,) = rule(made.project, made)
    assert leaves.remedy.startswith("Remove the destination loudspeakers")
    cured = designed(
        with_layout(
            made.project,
            "meeting",
            destinations={},
            network="alone",
            loudspeakers=made.kinds[0].layout.loudspeakers,
        )
    )
    assert not list(rule(cured.project, cured))
