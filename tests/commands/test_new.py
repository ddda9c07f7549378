"""`proposal new`: a starter project, and where none is written."""

import os
from pathlib import Path

from tests.calls import Call, files_under

ROOT = Path(__file__).resolve().parent.parent.parent
GOOD, WRONG = 0, 2


def test_new_writes_a_project_that_passes(run: Call) -> None:
    assert run("new", "my project") == (
        GOOD,
        "my project is ready: edit its files, then run  proposal build 'my project'\n",
        "",
    )
    assert files_under(Path("my project")) == files_under(ROOT / "shared" / "starter")
    status, out, _ = run("check", "my project")
    assert status == GOOD
    assert out.splitlines()[-1].startswith("0 errors, ")


def test_new_makes_the_folders_above(run: Call) -> None:
    assert run("new", "jobs/first").status == GOOD
    assert os.listdir("jobs") == ["first"]
    assert os.stat("jobs/first").st_mode & 0o777 == 0o755


def test_new_takes_no_folder_that_is_there(run: Call) -> None:
    Path("taken").mkdir()
    Path("file").write_text("mine", "utf-8")
    Path("link").symlink_to("gone")
    for name, found in (("taken", "a folder"), ("file", "a file"), ("link", "a link"), (".", "a folder")):
        instead = Path(name) / "proposal" if found == "a folder" else "proposal"
        assert run("new", name) == (
            WRONG,
            "",
            f"{name}: wanted a folder that does not exist yet, such as {instead}; found {found}\n",
        )
    assert files_under(Path.cwd()) == ["file", "link", "taken"]


def test_new_below_a_file_is_said_in_a_line(run: Call) -> None:
    Path("file").write_text("mine", "utf-8")
    status, out, err = run("new", "file/project")
    assert (status, out) == (WRONG, "")
    assert err.startswith("file/project: cannot be read or written: ")
    assert len(err.splitlines()) == 1
    assert files_under(Path.cwd()) == ["file"]
