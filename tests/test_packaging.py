"""What ships: the wheel holds all that the program needs and nothing else, with the licences of others."""

import os
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

import pytest

ROOT = Path(__file__).resolve().parent.parent
NOT_OURS = {".git", ".venv", ".hypothesis", "dist", "site"}  # of the folders at the root


def tracked() -> Iterator[Path]:
    """Yield every file of the project that is kept, by git where there is one."""
    if (ROOT / ".git").exists() and shutil.which("git"):
        listed = subprocess.run(
            ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"],
            cwd=ROOT,
            capture_output=True,
            check=True,
        ).stdout.decode("utf-8")
        yield from (path for name in listed.split("\0") if name and (path := ROOT / name).is_file())
        return
    for place, folders, files in os.walk(ROOT):
        inside = Path(place).relative_to(ROOT).parts
        folders[:] = [
            name
            for name in folders
            if not (not inside and name in NOT_OURS)
            and not name.endswith(("_cache", "__pycache__"))
            and inside != ("example_project", "build")
        ]
        yield from (
            Path(place, name)
            for name in files
            if not (inside == ("example_project", "build") and name != "README.md")
        )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, bytes]:
    """Return the files of the wheel by name, built from a copy of what is kept."""
    copy = tmp_path_factory.mktemp("source")
    for path in tracked():
        target = copy / path.relative_to(ROOT)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(path, target)
    made = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", made],
        cwd=copy,
        check=True,
        capture_output=True,
    )
    (file,) = made.glob("*.whl")
    with zipfile.ZipFile(file) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_the_wheel_holds_everything_the_program_reads(wheel: Mapping[str, bytes]) -> None:
    for folder in ("templates", "shared"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.is_file() and path.name != ".gitkeep":
                name = f"proposal/_data/{path.relative_to(ROOT).as_posix()}"
                assert wheel.get(name) == path.read_bytes(), name
    assert wheel["proposal/_data/mkdocs.yml"] == (ROOT / "mkdocs.yml").read_bytes()
    shared = {PurePosixPath(name).parts[3] for name in wheel if name.startswith("proposal/_data/shared/")}
    assert {"equipment", "materials", "wording", "site", "starter", "schema"} <= shared
    for path in sorted((ROOT / "proposal").rglob("*.py")):
        assert path.relative_to(ROOT).as_posix() in wheel


def test_the_wheel_holds_nothing_else(wheel: Mapping[str, bytes]) -> None:
    tops = {PurePosixPath(name).parts[0] for name in wheel}
    assert {top.partition("-")[0] for top in tops} == {"proposal", "conference_proposal"}
    assert [name for name in wheel if PurePosixPath(name).name.startswith(("test_", "conftest"))] == []
    assert [name for name in wheel if "tests" in PurePosixPath(name).parts] == []
    assert [name for name in wheel if "example_project" in name or "__pycache__" in name] == []


def test_licences_ship_with_what_they_are_about(wheel: Mapping[str, bytes]) -> None:
    assert any(re.fullmatch(r"conference_proposal-.*\.dist-info/licenses/LICENSE", name) for name in wheel)
    assert "MIT License" in (ROOT / "LICENSE").read_text("utf-8")
    told = (ROOT / "shared" / "site" / "LICENSES.md").read_text("utf-8")
    fonts = [path for path in tracked() if path.suffix in (".woff2", ".ttf")]
    assert fonts
    for path in fonts:
        family = re.split(r"[-_]", path.stem)[0].lower()
        beside = path.parent / f"LICENSE-{family}.txt"
        in_every_site = ROOT / "shared" / "site" / "theme" / "assets" / "licences" / f"{family}.txt"
        assert beside.is_file() or in_every_site.is_file(), path
        assert family in told.lower(), f"{family} is not in LICENSES.md"
    for path in tracked():
        if path.name.endswith(".min.js"):
            assert list(path.parent.glob("LICENSE*")), path


def test_texts_end_their_lines_alike() -> None:
    suffixes = {".py", ".md", ".yaml", ".yml", ".toml", ".jinja", ".css", ".json"}
    for path in tracked():
        if path.suffix in suffixes and "bad_input" not in path.parts:
            content = path.read_bytes()
            assert b"\r" not in content, path
            assert not content or content.endswith(b"\n"), path
