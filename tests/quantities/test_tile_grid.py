"""Points in a grid of tiles: the way to the middle of a tile, and the nearest bar."""

import pytest

from proposal.quantities.tile_grid import to_bar_m, to_tile_middle_m

TILE = (0.6, 0.6)


@pytest.mark.parametrize(
    ("at", "way", "bar_m"),
    [
        # In the middle of the fourth tile eastwards and the third northwards.
        ((2.1, 1.5), (0.0, 0.0), 0.3),
        # Fourth tile: 1.8 to 2.4 m; third tile: 1.2 to 1.8 m.
        ((2.0, 1.75), (0.1, -0.25), 0.05),
        # On a line, and west of the origin, where lines go on.
        ((1.8, 1.5), (0.3, 0.0), 0.0),
        ((-0.2, 0.3), (-0.1, 0.0), 0.2),
    ],
)
def test_a_point_in_a_grid(at: tuple[float, float], way: tuple[float, float], bar_m: float) -> None:
    assert to_tile_middle_m(at, TILE) == pytest.approx(way, abs=1e-6)
    assert to_bar_m(at, TILE) == pytest.approx(bar_m, abs=1e-6)


def test_tiles_may_be_longer_than_wide() -> None:
    assert to_tile_middle_m((1.0, 1.0), (1.2, 0.6)) == pytest.approx((-0.4, -0.1))
    assert to_bar_m((1.0, 1.0), (1.2, 0.6)) == pytest.approx(0.2)
