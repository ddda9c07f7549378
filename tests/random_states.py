"""States drawn by a seed for a building that is written: joined rooms, portable sets, kinds of day."""

import random
from pathlib import Path

import yaml

CART = Path(__file__).resolve().parent / "projects" / "portable" / "room_types" / "cart.yaml"
SESSIONS = (
    {"morning": {"start": "09:00", "end": "12:00"}, "afternoon": {"start": "13:00", "end": "16:00"}},
    {"morning": {"start": "08:30", "end": "13:00"}, "late": {"start": "14:00", "end": "21:30"}},
    {"evening": {"start": "18:00", "end": "20:00"}},
)
SET, OUTDOORS = "P1", "courtyard"


def write_states(folder: Path, chance: random.Random) -> None:
    """Write two to four states into a building, with or without operable wall, portable set and kinds of day.

    folder: of the project.
    """
    rows = (folder / "rooms.csv").read_text(encoding="utf-8").splitlines()
    tags = [row.partition(",")[0] for row in rows[1:] if row]
    days = False
    for path in sorted((folder / "room_types").iterdir()):
        kind = yaml.safe_load(path.read_text(encoding="utf-8"))
        kind["sessions"] = SESSIONS[0]
        if budget := chance.random() < 0.7:
            kind["days"] = {"budget": chance.choice(SESSIONS)}
        days = days or budget
        path.write_text(yaml.safe_dump(kind, allow_unicode=True), encoding="utf-8")
    building = yaml.safe_load((folder / "building.yaml").read_text(encoding="utf-8"))
    places = []
    if chance.random() < 0.5:
        cart = yaml.load(CART.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        cart["destinations"] = {"far-end": {"name": "conferencing codec", "signal": "analogue"}}
        (folder / "room_types" / "cart.yaml").write_text(yaml.safe_dump(cart), encoding="utf-8")
        rows.append(f"{SET},Cart,cart,L0,70 m,1 m")
        (folder / "rooms.csv").write_text("\n".join([*[row for row in rows if row], ""]), encoding="utf-8")
        building["portable_sets"] = {SET: {"charger": chance.choice(("with the set", "where it is kept"))}}
        places = [chance.choice(tags), OUTDOORS]
        building["portable_places"] = {
            places[0]: {"at": ["1 m", "1 m"], "outlet": True},
            OUTDOORS: {"name": "Courtyard", "storey": "L0", "at": ["5 m", "-30 m"], "outlet": True},
        }
    building["states"] = states = {"divided": {}}
    used = chance.sample(places, len(places))
    for number in range(1, chance.randint(1, 3) + 1):
        state = states.setdefault(f"s{number}", {})
        if len(tags) > 1 and chance.random() < 0.7:
            state["join"] = [sorted(chance.sample(tags, chance.randint(2, len(tags))))]
        if days and chance.random() < 0.5:
            state["day"] = "budget"
        if used:
            state["portable"] = {SET: used.pop()}
    joining = [name for name, state in states.items() if "join" in state]
    if joining and chance.random() < 0.5:
        wall = {"storey": "L0", "along": [["-1 m", "14.5 m"], ["36 m", "14.5 m"]], "loss": "40 dB"}
        building["radio"] = {"walls": {"W1": {**wall, "open_in": joining}}}
    (folder / "building.yaml").write_text(yaml.safe_dump(building, allow_unicode=True), encoding="utf-8")
