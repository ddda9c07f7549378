"""Links of an invented building of any size, for plans of carriers and slots."""

from proposal.design.radio.propagation import Surroundings, WallLine
from proposal.design.radio.radio_neighbours import Link, interference
from proposal.design.radio.slot_graph import SlotGraph, slot_graph

ROOMS_A_STOREY, PITCH_M, STOREY_M = 12, 9.0, 4.0


def building(rooms: int, *, slab_db: float, wall_db: float, microphones: int = 10) -> SlotGraph:
    """Return what has to be planned where rooms with one access point each stand in rows above each other.

    Storeys are not in step with each other.
    """
    storeys = -(-rooms // ROOMS_A_STOREY)
    names = tuple(f"L{n}" for n in range(storeys))
    floors = tuple(n * STOREY_M for n in range(storeys))
    walls = tuple(
        WallLine(name, (column * PITCH_M, -1.0), (column * PITCH_M, 8.0), wall_db)
        for name in names
        for column in range(1, ROOMS_A_STOREY)
    )
    around = Surroundings(
        storeys=names, floors_m=floors, slab_db=(slab_db,) * storeys, further_db=4.0, walls=walls,
        frequency_hz=1.89e9, environment="office",
    )  # fmt: skip
    links = [link for room in range(rooms) for link in _room(room, floors, microphones)]
    graph, _ = slot_graph(interference(links, around), 10, {f"R{room}-AP1": 4 for room in range(rooms)})
    return graph


def _room(room: int, floors: tuple[float, ...], microphones: int) -> list[Link]:
    storey, column = divmod(room, ROOMS_A_STOREY)
    x, z = column * PITCH_M, floors[storey]
    return [
        Link(
            identity=f"R{room}-M{n + 1}",
            room=f"R{room}",
            access_point=f"R{room}-AP1",
            group=f"storey {storey}",
            microphone_at=(x + 1.0 + n % 5 * 1.6, 2.0 + n // 5 * 2.5, z + 0.8),
            access_point_at=(x + 4.5, 3.5, z + 2.7),
            microphone_dbm=23.0,
            access_point_dbm=25.0,
            access_point_gain_db=2.0,
            up_dbm=-38.0 - abs(n % 5 - 2) * 3,
            down_dbm=-36.0 - abs(n % 5 - 2) * 3,
            body_db=8.0,
            ratio_db=20.0,
            slot_pairs=3,
        )
        for n in range(microphones)
    ]
