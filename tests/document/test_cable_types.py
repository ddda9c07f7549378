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
    cords = {cord.model for cable in computed.design.cables for cord in cable.cords}
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
