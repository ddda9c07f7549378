"""A reader finds all of the old or all of the new, whenever a run ends."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from proposal.errors import BuildError
from proposal.publish.swap import complete_swap, exclusive, replacing

NAMES = ("markdown", "mkdocs.yml", "site")


def fill(folder: Path, word: str) -> None:
    for name in ("markdown", "site"):
        (folder / name).mkdir()
        (folder / name / "page").write_text(word)
    (folder / "mkdocs.yml").write_text(word)


def words(folder: Path) -> set[str]:
    assert sorted(path.name for path in folder.iterdir()) == list(NAMES)
    return {path.read_text() for path in folder.rglob("*") if path.is_file()}


def test_the_new_takes_the_place_of_the_old(tmp_path: Path) -> None:
    for word in ("old", "new"):
        with replacing(tmp_path) as part:
            fill(part, word)
        assert words(tmp_path) == {word}


def test_what_the_new_does_not_have_stays(tmp_path: Path) -> None:
    (tmp_path / "cache").mkdir()
    with replacing(tmp_path) as part:
        fill(part, "new")
    assert (tmp_path / "cache").is_dir()


def test_a_failed_build_changes_nothing(tmp_path: Path) -> None:
    with replacing(tmp_path) as part:
        fill(part, "old")

    def fail() -> None:
        with replacing(tmp_path) as part:
            fill(part, "new")
            raise BuildError("no")

    with pytest.raises(BuildError):
        fail()
    assert words(tmp_path) == {"old"}


class Ended(BaseException):
    """The run ends here, as when the power goes."""


@pytest.mark.parametrize("step", range(1, 8))
def test_an_interrupted_swap_is_completed_by_the_next_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: int
) -> None:
    with replacing(tmp_path) as part:
        fill(part, "old")
    rename, renamed = Path.rename, 0

    def rename_until(path: Path, target: Path) -> Path:
        nonlocal renamed
        renamed += 1
        if renamed == step:
            raise Ended
        return rename(path, target)

    def run() -> None:
        with replacing(tmp_path) as part:
            fill(part, "new")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "rename", rename_until)
        with pytest.raises(Ended):
            run()
    committed = (tmp_path / ".next").exists()
    assert committed == (step > 1)
    (tmp_path / ".part").mkdir(exist_ok=True)  # what a run leaves that could not clean up
    with exclusive(tmp_path.parent), replacing(tmp_path) as part:
        assert {path.read_text() for path in (tmp_path / "site").rglob("page")} == {
            "new" if committed else "old"
        }
        fill(part, "newest")
    assert words(tmp_path) == {"newest"}


def test_completing_a_swap_is_harmless_where_there_is_none(tmp_path: Path) -> None:
    with replacing(tmp_path) as part:
        fill(part, "old")
    complete_swap(tmp_path)
    assert words(tmp_path) == {"old"}


def test_two_runs_do_not_build_in_one_place(tmp_path: Path) -> None:
    with exclusive(tmp_path), pytest.raises(BuildError) as refused, exclusive(tmp_path):
        pass
    assert str(refused.value) == (
        f"another run (process {os.getpid()}) is building in {tmp_path}; wait until it has finished"
    )
    with exclusive(tmp_path):
        pass


def test_a_lock_ends_with_its_process(tmp_path: Path) -> None:
    code = (
        "import sys, pathlib\nfrom proposal.publish.swap import exclusive\n"
        "with exclusive(pathlib.Path(sys.argv[1])):\n    print('held', flush=True)\n    sys.stdin.read()\n"
    )
    holder = subprocess.Popen(
        [sys.executable, "-c", code, str(tmp_path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    with pytest.raises(BuildError, match=f"process {holder.pid}"), exclusive(tmp_path):
        pass
    holder.kill()
    holder.communicate()
    with exclusive(tmp_path):
        pass
