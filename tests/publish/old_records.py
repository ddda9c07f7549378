"""A record of every earlier layout, as the program of its time wrote it, for `issued/A` of a project."""

import zipfile
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[1] / "records"


def record_of_layout(layout: int, project: Path) -> None:
    """Write the record of an earlier layout into a project, with the inputs it was made from."""
    record = project / "issued" / "A"
    with zipfile.ZipFile(FOLDER / f"layout_{layout}.zip") as kept:
        kept.extractall(record)
    if (record / "latest").exists():
        (record / "latest").rename(record.parent / "latest")
    packed = record / "record.zip"
    files = {path.relative_to(record).as_posix(): path.read_bytes() for path in record.rglob("inputs/**/*.*")}
    if packed.exists():
        with zipfile.ZipFile(packed) as inside:
            files = {name: inside.read(name) for name in inside.namelist()}
    for name, content in files.items():
        if name.startswith("inputs/"):
            place = project / name.removeprefix("inputs/")
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(content)
