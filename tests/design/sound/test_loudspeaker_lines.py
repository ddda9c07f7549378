"""One sound followed to a loudspeaker: channel, terminals, tap, conductor, label, box in the signal flow."""

import pytest

from proposal.design.sound.loudspeaker_lines import loudspeakers_on
from proposal.document.labels import labels_of
from proposal.document.making.document import document_of
from proposal.model.project import FixedDevice, Project
from proposal.model.rooms import Loudspeaker
from proposal.pipeline import compute
from tests.design.making import changed, designed, minimal, with_layout


def room_with(**loudspeakers: Loudspeaker) -> Project:
    return with_layout(
        minimal(), "meeting", loudspeakers=loudspeakers, network="rack", output="mixer", seats={}
    )


def two_zones() -> Project:
    """Return a room with two loudspeakers in front, one of them with a tap by hand, and one at the back."""
    return room_with(
        LS1=Loudspeaker(at=(1.0, 1.0), zone="front", tap=10.0),
        LS2=Loudspeaker(at=(2.0, 1.0), zone="front"),
        LS3=Loudspeaker(at=(4.0, 3.0), zone="rear", tap=2.5),
    )


def test_a_sound_is_followed_from_the_channel_to_the_last_terminal() -> None:
    design = designed(two_zones())
    rear, front = sorted(design.loudspeaker_lines, key=lambda line: line.zone, reverse=True)
    assert (front.identity, rear.identity) == ("B001-AM1/L1", "B001-AM1/L2")
    # The rack is nearer to LS2, so that the line comes to it first.
    first, second = loudspeakers_on(front)
    assert (second.loudspeaker, second.unit.tap_w, second.unit.written) == ("B001-LS1", 10.0, True)
    assert (first.loudspeaker, first.unit.written) == ("B001-LS2", False)
    assert first.cable_in == "B001-LS2/L1/ER1-RK1"
    assert first.cable_out == second.cable_in == "B001-LS1/L1/B001-LS2"
    assert second.cable_out == ""
    assert {first.terminals, second.terminals} == {"L1"}
    cable = next(one for one in design.cables if one.identity == first.cable_in)
    assert cable.end_port == "B001-AM1/L1"


def test_labels_settings_and_signal_flow_tell_tap_and_line() -> None:
    project = two_zones()
    computed = compute(project)
    document = document_of(computed)
    labels = {one.place: one.lines for one in labels_of(document) if one.of == "device"}
    assert "tap 10 W on 100 V" in labels["B001-LS1"]
    assert "tap 2.5 W on 100 V" in labels["B001-LS3"]
    settings = {one.name: one.value for one in document.settings if one.device == "B001-AM1"}
    assert settings["Output L2"].startswith("100 V line, 1 × 2.5 W; zone rear, load 3")
    (flow,) = computed.design.flows.values()
    boxes = {node.code: node.lines for node in flow.nodes}
    assert boxes["LS-rear"] == ("LS3", "100 V line, 1 × 2.5 W")


def test_the_rows_hold_what_a_test_may_show() -> None:
    """A tap of 2.5 W with a loss of 0.8 dB draws 3.006 W: 10 000/3.006 = 3327 Ω, 2661 to 3992 Ω at 20 %."""
    project = two_zones()
    entries = {
        code: one.model_copy(update={"transformer_loss": 0.8})
        for code, one in project.library.loudspeakers.items()
    }
    document = document_of(compute(changed(project, "library.loudspeakers", entries)))
    row = next(one for one in document.loudspeaker_lines if one.zone == "rear")
    assert row.impedance_ohm == pytest.approx(3327, abs=0.5)
    assert row.least_ohm == pytest.approx(2661, abs=0.7)
    assert row.most_ohm == pytest.approx(3992, abs=0.7)
    assert row.verdict == "holds"


def test_taps_are_chosen_again_where_loudspeakers_hang_by_hand() -> None:
    """At four times the height over ears the power is sixteen times as much, straight below."""
    project = room_with(LS1=Loudspeaker(at=(1.0, 1.0)))
    microphones = project.rooms["B001"].layout.microphones
    below = {code: one.model_copy(update={"at": (1.0, 1.0)}) for code, one in microphones.items()}
    project = with_layout(project, "meeting", microphones=below)
    needed = []
    for height_m in (2.2, 5.2):
        by_hand = changed(project, "fixed.devices", {"B001-LS1": FixedDevice(height=height_m)})
        (line,) = designed(by_hand).loudspeaker_lines
        needed.append(line.load.units[0].needed_w)
    assert needed[1] == pytest.approx(16 * needed[0], rel=1e-9)


def test_a_line_without_transformers_gives_every_loudspeaker_what_it_needs() -> None:
    project = with_layout(
        room_with(
            LS1=Loudspeaker(at=(1.0, 1.0), tap=4.0),
            LS2=Loudspeaker(at=(2.0, 1.0), tap=1.0),
        ),
        "meeting",
        loudspeaker_line="low impedance",
    )
    (line,) = designed(project).loudspeaker_lines
    # Two of the same impedance side by side get the same: what the one that needs most needs.
    assert line.joined.wiring == "parallel"
    assert line.joined.load_w == pytest.approx(8.0)
    assert line.words(project) == "low impedance in parallel, 1 × 4 W and 1 × 1 W"
