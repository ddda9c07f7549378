"""A record of every earlier layout, as the program of its time wrote it, for `issued/A` of a project."""

import zipfile
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[1] / "records"


def record_of_layout(layout: int, project: Path) -> None:
    """Write the record of an earlier layout into a project, with the inputs it was made from."""
    record = project / "issued" / "A"
    with zipfile.ZipFile(FOLDER / f"layout_{layout}.zip") as kept:
        kept.extractall(record)
        for name in kept.namelist():
            if name.startswith("inputs/"):
                place = project / name.removeprefix("inputs/")
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(kept.read(name))
