"""The network on its sheets: every switch and every link once, loads as scheduled, isolation told."""

from typing import Any

import pytest

from proposal.document.document import Document
from proposal.document.rows.network import NetworkHostRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.drawings.network import NetworkSpec, alternative, kinds_of, spec_of
from proposal.editions import edition_of
from tests.drawings.shown import printed_pt, svg_of, texts
from tests.sample_document import sample_document

MEGA = 1e6


def host(tag: str, kind: str, switch_port: str, **given: Any) -> NetworkHostRow:
    known = {
        "room": "ER1", "host": tag.lower(), "addresses": (), "vlan": 120, "addressing": "static",
        "sent_groups": (), "taken_groups": (), "sent_bit_s": 0.0, "taken_bit_s": 0.0, "control_bit_s": 0.0,
        "protocols": (),
    }  # fmt: skip
    return NetworkHostRow(device=tag, kind=kind, switch_port=switch_port, **(known | given))


def link(far: str, near: str, **given: Any) -> SwitchLinkRow:
    known = {
        "identity": f"{far}/U1/{near}", "from_switch": far, "from_port": "U1", "to_switch": near,
        "to_port": "U2", "verdict": "holds", "medium": "fibre", "module": "M", "speed_bit_s": 1e10,
        "inwards_bit_s": 20.044 * MEGA, "outwards_bit_s": 10.172 * MEGA, "streams_in": 2, "streams_out": 1,
        "audio_in_bit_s": 19.744 * MEGA, "audio_out_bit_s": 9.872 * MEGA, "control_bit_s": 0.3 * MEGA,
    }  # fmt: skip
    return SwitchLinkRow(**(known | given))


def sheet(*members: str, part: int = 1, parts: int = 1) -> SheetRow:
    return SheetRow(
        number=f"W-0{part}", title="Network", kind="network", subject="", part=part, parts=parts,
        members=members, first=1, last=0,
    )  # fmt: skip


def network(hosts: tuple[NetworkHostRow, ...], links: tuple[SwitchLinkRow, ...]) -> Document:
    return sample_document().model_copy(update={"network_hosts": hosts, "switch_links": links})


def spec(document: Document, *members: str) -> NetworkSpec:
    return spec_of(edition_of(document, "client"), sheet(*members))


def two_switches(**given: Any) -> Document:
    return network(
        (
            host("ER1-SW1", "switch", ""),
            host("ER2-SW1", "switch", "ER1-SW1/U2"),
            host("B001-AP1", "access point", "ER1-SW1/1", sent_bit_s=9.84 * MEGA),
            host("B001-BO1", "breakout", "ER1-SW1/2", taken_bit_s=2.928 * MEGA),
            # It hangs on the switch inside the breakout, which leads on to the same switch.
            host("B001-AP2", "access point", "B001-BO1/1", sent_bit_s=9.84 * MEGA, vlan=121),
        ),
        (link("ER2-SW1", "ER1-SW1", **given),),
    )


def test_a_switch_shows_what_stands_on_it_by_kind_with_the_sums_of_its_audio() -> None:
    first = spec(two_switches(), "ER1-SW1", "ER2-SW1").boxes[0]
    assert [(kinds_of(one), one.count, one.vlans, one.sent, one.taken) for one in first.groups] == [
        ("access point", 1, "120", "9.840 Mbit/s", ""),
        ("access point behind breakouts", 1, "121", "9.840 Mbit/s", ""),
        ("breakout", 1, "120", "", "2.928 Mbit/s"),
    ]


def test_a_sheet_says_who_shares_a_port_where_anybody_does() -> None:
    shared = " Those behind a breakout share its port."
    hosts = (host("ER1-SW1", "switch", ""), host("B001-AP1", "access point", "ER1-SW1/1"))
    for document, said in ((two_switches(), True), (network(hosts, ()), False)):
        words = " ".join(texts(svg_of(document, sheet("ER1-SW1"), "client")))
        assert "Each device has a port of its own on its switch." in words
        assert (shared.strip() in words) is said


def test_a_link_shows_ports_speed_and_load_each_way_and_whether_it_holds() -> None:
    (one,) = spec(two_switches(verdict="fails"), "ER1-SW1", "ER2-SW1").links
    assert (one.near, one.near_port, one.far, one.far_port) == ("ER1-SW1", "U2", "ER2-SW1", "U1")
    assert one.speed == "10 Gbit/s"
    assert one.inwards == "20.044 Mbit/s (2 streams 19.744, control 0.300)"
    assert one.outwards == "10.172 Mbit/s (1 stream 9.872, control 0.300)"
    assert not one.holds
    document = two_switches(verdict="fails")
    assert "fails" in texts(svg_of(document, sheet("ER1-SW1", "ER2-SW1"), "client"))


def test_a_network_that_no_link_leads_out_of_is_isolated() -> None:
    assert spec(two_switches(), "ER1-SW1").isolation == "Isolated: no link leads to the owner's network."


def test_the_port_of_the_owners_network_is_named_and_drawn() -> None:
    document = two_switches(to_switch="", to_port="IT-7")
    shown = spec(document, "ER1-SW1", "ER2-SW1")
    assert shown.isolation.startswith("Joined to the owner's network at IT-7;")
    assert "owner's network" in texts(svg_of(document, sheet("ER1-SW1", "ER2-SW1"), "client"))


def test_every_switch_and_every_link_stands_on_one_sheet_of_many() -> None:
    tags = [f"ER{n}-SW1" for n in range(1, 10)]
    hosts = tuple(host(tag, "switch", "") for tag in tags)
    document = network(hosts, tuple(link(tag, "ER1-SW1") for tag in tags[1:]))
    specs = [spec(document, *tags[n : n + 3]) for n in range(0, 9, 3)]
    assert sorted(one.far for shown in specs for one in shown.links) == tags[1:]
    assert "6 further links on other sheets" in specs[0].boxes[0].lines
    assert [box.name for box in specs[1].boxes] == ["ER4-SW1", "ER5-SW1", "ER6-SW1", "ER1-SW1"]


@pytest.mark.parametrize("ends", [("A", "A", "A"), ("A", "B", "C")], ids=["a star", "a chain"])
def test_the_fullest_sheet_prints_legibly(ends: tuple[str, ...]) -> None:
    tags = ["ER11-SW11", "ER12-SW11", "ER13-SW11", "ER14-SW11"]
    near = [tags["ABC".index(letter)] for letter in ends]
    kinds = ("access point", "amplifier", "breakout", "charger", "mixer", "owner's device", "standby supply")
    hosts = [host(tag, "switch", "") for tag in tags]
    hosts += [
        host(f"{tag}-{n}", kind, f"{tag}/{n}", sent_bit_s=123.456 * MEGA, taken_bit_s=123.456 * MEGA)
        for tag in tags
        for n, kind in enumerate(kinds, 1)
    ]
    links = [link(far, to) for far, to in zip(tags[1:], near, strict=True)]
    document = network(tuple(hosts), (link(tags[0], "ER10-SW11"), *links))
    assert printed_pt(svg_of(document, sheet(*tags), "client")) >= 7


def test_its_words_tell_each_load_and_where_it_is_joined() -> None:
    words = alternative(spec(two_switches(), "ER1-SW1", "ER2-SW1"))
    assert "1 access point behind breakouts, VLAN 121, sent 9.840 Mbit/s" in words
    load = "20.044 Mbit/s (2 streams 19.744, control 0.300) towards ER1-SW1"
    assert load in words
    assert "10.172 Mbit/s (1 stream 9.872, control 0.300) away from it" in words
    assert words.endswith("Isolated: no link leads to the owner's network.")
