"""What issued records hold, read without the program."""

import hashlib
import zipfile
from pathlib import Path


def digest_of_record(project: Path, revision: str) -> str:
    """Return the digest as anybody can make it: of a list of the record's files, each with its own."""
    record = project / "issued" / revision
    with zipfile.ZipFile(record / "record.zip") as packed:
        files = {name: packed.read(name) for name in packed.namelist() if not name.startswith("kept/")}
    files["register.json"] = (record / "register.json").read_bytes()
    listed = "".join(f"{hashlib.sha256(files[name]).hexdigest()}  {name}\n" for name in sorted(files))
    return hashlib.sha256(listed.encode()).hexdigest()
