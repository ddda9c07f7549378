"""The commands as one program: their help, wrong calls, and what becomes of their streams."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from proposal import __version__, cli
from tests.calls import Call, caller_in, files_under

ROOT = Path(__file__).resolve().parent.parent
PROJECTS = ROOT / "tests" / "projects"
PROGRAM = Path(sys.executable).with_name("proposal")
COMMANDS = ("new", "check", "build", "issue", "verify", "compare", "preview", "schema", "export", "import")
GOOD, DESIGN_ERRORS, WRONG = 0, 1, 2


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Call:
    """Run a command as the shell would, in an empty folder, and return how it ended."""
    return caller_in(tmp_path / "here", monkeypatch, capsys)


@pytest.fixture
def minimal(tmp_path: Path) -> Path:
    """A copy of the smallest good project."""
    return Path(shutil.copytree(PROJECTS / "minimal", tmp_path / "minimal"))


# Help


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_a_command_describes_every_argument_and_option(command: str, run: Call) -> None:
    status, out, _ = run(command, "--help")
    assert status == GOOD
    entries = out.partition("Arguments:")[2] or out.partition("Options:")[2]
    described = []
    for line in entries.splitlines():
        if line.startswith("  ") and not line.startswith("   "):
            described.append(line)
        elif line.startswith("   ") and described:
            described[-1] += " " + line.strip()
    assert described
    for entry in described:
        words = re.match(r"\s*(?:--\S+|[A-Z]+)(?: [A-Z]+)?\s*(?:<[^>]*>)?\s*(.*)", entry)
        assert words, entry
        assert len(words[1].partition("[default")[0].split()) >= 3, f"{entry} has no description"


def test_help_names_every_command_and_the_exit_statuses(run: Call) -> None:
    status, out, _ = run("--help")
    assert status == GOOD
    for command in COMMANDS:
        (line,) = [line for line in out.splitlines() if line.startswith(f"  {command} ")]
        assert line.endswith("."), line
    assert "Exit status: 0 good; 1 the design has error findings that nobody accepted; 2" in " ".join(
        out.split()
    )


def test_every_command_is_among_those_tested() -> None:
    assert sorted(
        command.name or command.callback.__name__ for command in cli.app.registered_commands
    ) == sorted(COMMANDS)


def test_version_is_printed(run: Call) -> None:
    assert run("--version") == (GOOD, f"{__version__}\n", "")


# Wrong calls


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (["chek", "x"], "No such command 'chek'"),
        (["check"], "Missing argument 'PROJECT'"),
        (["check", "a", "b"], "unexpected extra argument"),
        (["check", "--edition", "client", "a"], "No such option: --edition"),
        (["build", "a", "--edition", "nobody"], "Invalid value for '--edition'"),
        (["export", "a", "--edition"], "Option '--edition' requires an argument"),
        (["export", "a", "--format", "pdf"], "Invalid value for '--format'"),
        (["export", "a", "--format", "csv"], "wanted --output with where to write csv; found none"),
        (["export", "a", "--format", "xlsx"], "wanted --output with where to write xlsx; found none"),
        (["preview", "a", "--port", "70000"], "Invalid value for '--port'"),
        (["preview", "a", "--port", "http"], "Invalid value for '--port'"),
        (["schema", "nothing"], "Invalid value for 'KIND'"),
        (["new"], "Missing argument 'FOLDER'"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_wrong_call_is_said_in_a_line(call: list[str], said: str, run: Call) -> None:
    status, out, err = run(*call)
    assert (status, out) == (WRONG, "")
    (line,) = [line for line in err.splitlines() if line.startswith("Error:")]
    assert said in line
    assert files_under(Path.cwd()) == []


def test_no_command_shows_the_help(run: Call) -> None:
    status, out, err = run()
    assert status == WRONG
    assert "Commands:" in out + err


@pytest.mark.parametrize("command", ["check", "build", "issue", "verify", "preview", "export"])
def test_a_missing_project_is_said_in_a_line(command: str, run: Call) -> None:
    assert run(command, "nowhere") == (
        WRONG,
        "",
        "nowhere: wanted a project folder; found nothing\n",
    )
    assert files_under(Path.cwd()) == []


@pytest.mark.parametrize("command", ["check", "build", "issue", "verify", "preview", "export"])
def test_a_file_instead_of_a_project_is_said_in_a_line(command: str, run: Call) -> None:
    Path("project.yaml").write_text("name: x\n", "utf-8")
    assert run(command, "project.yaml") == (
        WRONG,
        "",
        "project.yaml: wanted a project folder; found a file\n",
    )
    assert files_under(Path.cwd()) == ["project.yaml"]


@pytest.mark.parametrize("command", ["check", "build", "issue", "export"])
@pytest.mark.parametrize("told_by", ["option", "variable"])
def test_a_library_that_is_not_there_is_said_in_a_line(
    command: str, told_by: str, run: Call, minimal: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    options = ["--library", "no such library"] if told_by == "option" else []
    if told_by == "variable":
        monkeypatch.setenv("PROPOSAL_LIBRARY", "no such library")
    before = files_under(minimal)
    assert run(command, minimal, *options) == (
        WRONG,
        "",
        "no such library: wanted a folder with library files (.yaml); found nothing\n",
    )
    assert files_under(minimal) == before


def test_every_problem_of_the_input_is_a_line(run: Call, minimal: Path) -> None:
    (minimal / "rooms.csv").write_text(
        "tag,name,room type,storey,x,y\nB001,Meeting Room,meeting,L9,1 m,1\n", "utf-8"
    )
    (minimal / "project.yaml").write_text(
        (minimal / "project.yaml").read_text("utf-8") + "colour: red\n", "utf-8"
    )
    status, out, err = run("build", minimal)
    assert (status, out) == (WRONG, "")
    assert len(err.splitlines()) == 3
    assert [line.partition(": ")[0] for line in err.splitlines()] == [
        "project.yaml:9:1",
        "rooms.csv:2:27",
        "rooms.csv:2:34",
    ]
    assert not (minimal / "build").exists()


# Streams


def started(*arguments: object, **options: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(  # type: ignore[call-overload,no-any-return]
        [PROGRAM, *map(str, arguments)], check=False, stderr=subprocess.PIPE, **options
    )


def test_a_reader_that_goes_away_changes_nothing_else(minimal: Path) -> None:
    building = minimal / "building.yaml"
    building.write_text(building.read_text("utf-8").replace("12.0 m", "200.0 m"), "utf-8")
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = started("check", minimal, stdout=writing)
    finally:
        os.close(writing)
    assert (done.returncode, done.stderr) == (DESIGN_ERRORS, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_output_that_finds_no_room_is_said_in_a_line() -> None:
    with open("/dev/full", "wb") as full:
        done = started("schema", stdout=full)
    assert done.returncode == WRONG
    assert len(done.stderr.splitlines()) == 1
    assert b"No space left" in done.stderr


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_a_terminal_of_another_encoding_is_no_obstacle(encoding: str, minimal: Path) -> None:
    done = started(
        "export",
        minimal,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONIOENCODING": encoding, "LC_ALL": "C", "PYTHONUTF8": "0"},
    )
    assert (done.returncode, done.stderr) == (GOOD, b"")
    assert json.loads(done.stdout.decode("utf-8"))["cover"]["name"] == "One meeting room"


def test_a_name_that_is_no_text_is_said_in_a_line(tmp_path: Path) -> None:
    done = started("check", os.fsdecode(b"no\xffwhere"), stdout=subprocess.PIPE, cwd=tmp_path)
    assert done.returncode == WRONG
    assert len(done.stderr.splitlines()) == 1
    assert done.stderr.endswith(b": wanted a project folder; found nothing\n")


def test_a_port_that_is_taken_is_said_in_a_line(minimal: Path) -> None:
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = started("preview", minimal, "--port", port, stdout=subprocess.PIPE, timeout=60)
    assert (done.returncode, done.stdout) == (WRONG, b"")
    (line,) = done.stderr.decode("utf-8").splitlines()
    assert line.startswith(f"the preview cannot listen on 127.0.0.1, port {port}: ")
