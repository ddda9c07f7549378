"""What people must know of each type of cable and cord, worked out by hand from the library's figures."""

import pytest

from proposal.document.making.document import document_of
from proposal.model.equipment.materials import DataCable
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, project_of


@pytest.mark.independent
def test_a_cable_tells_its_bends_its_pull_and_what_a_tester_needs() -> None:
    computed = compute(project_of(EXAMPLE))
    rows = {row.type: row for row in document_of(computed).cable_types}
    used = {cable.model for cable in computed.design.cables} - {""}
    cords = {line.model for line in computed.estimate.lines if line.section == "patching"}
    assert set(rows) == used | cords
    data = next(model for model in used if isinstance(computed.project.library.entry(model), DataCable))
    entry = computed.project.library.entry(data)
    assert isinstance(entry, DataCable)
    row = rows[data]
    # TIA-568: four times the outside diameter at rest, eight times under tension is a common maker's figure.
    assert (entry.bend_diameters, entry.pulling_bend_diameters) == (4, 8)
    assert row.rest_radius_m == pytest.approx(4 * entry.outside_diameter)
    assert row.pull_radius_m == pytest.approx(8 * entry.outside_diameter)
    assert (row.cores, row.core) == (4, f"pair, {entry.gauge} AWG")
    assert (row.pull_n, row.propagation, row.colour) == (entry.highest_pull, entry.propagation, entry.colour)
    taken = [line for line in computed.estimate.lines if line.section == "labels"]
    (cable, *_) = (cable for cable in computed.design.cables if cable.model == data)
    (label,) = {line.model for line in taken if cable.identity in line.causes}
    size = computed.project.library.labels[label]
    assert (row.label, row.label_width_m, row.label_height_m) == (label, size.width, size.height)
    cord = rows[sorted(cords)[0]]
    assert cord.colour
    assert (cord.cores, cord.core, cord.jacket, cord.pull_n) == (None, "", "", None)


def test_reels_tell_what_they_come_as_and_what_each_weighs() -> None:
    computed = compute(project_of(EXAMPLE))
    for order in document_of(computed).reel_orders:
        sold = computed.project.library.entry(order.type).reels  # type: ignore[attr-defined]  # a cable
        for reel in order.reels:
            stock = sold[reel.stock.removesuffix(", spare")]
            assert (reel.container, reel.weight_kg) == (stock.container, stock.weight or None)


def test_racks_tell_which_way_air_goes_and_where_ports_are_and_trays_what_they_are() -> None:
    """Read off the library's files: switches blow to the side, with their ports in front."""
    computed = compute(project_of(EXAMPLE))
    document = document_of(computed)
    switches = [row for row in document.rack_places if row.kind == "switch"]
    assert {row.airflow for row in switches} == {"side to side"}
    for row in switches:
        entry = computed.project.library.switches[row.model]
        assert row.front_ports[0] == f"P1 to P{entry.poe_ports} with PoE"
        assert row.front_ports[-1] == f"U1 to U{entry.uplinks}"
        assert row.side_ports == ()
    assert {row.airflow for row in document.rack_places if row.kind == "patch panel"} == {""}
    trays = {row.tag: row.tray for row in document.pathways if row.kind == "tray"}
    forms = {tag: computed.project.library.trays[row.size].form for row in document.pathways
             for tag in [row.tag] if row.size in computed.project.library.trays}  # fmt: skip
    assert {tag: tray for tag, tray in trays.items() if tray} == forms
    assert forms
