"""The commands: what they print, how they end, and that a wrong call is said in a line."""

import csv
import json
import os
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from proposal import __version__, cli
from proposal.document.readers import READERS

ROOT = Path(__file__).resolve().parent.parent
PROJECTS = ROOT / "tests" / "projects"
PROGRAM = Path(sys.executable).with_name("proposal")
COMMANDS = ("new", "check", "build", "issue", "verify", "compare", "preview", "schema", "export")
GOOD, DESIGN_ERRORS, WRONG = 0, 1, 2


class Ended(NamedTuple):
    """How a command ended: exit status, what it printed, what it complained about."""

    status: int
    out: str
    err: str


Run = Callable[..., Ended]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Iterator[Run]:
    """Run a command as the shell would, in an empty folder, and return how it ended."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    monkeypatch.setenv("COLUMNS", "100")

    def call(*arguments: object) -> Ended:
        monkeypatch.setattr(sys, "argv", ["proposal", *map(str, arguments)])
        capsys.readouterr()
        status: object = 0
        try:
            cli.main()
        except SystemExit as ended:
            status = ended.code or 0
        printed = capsys.readouterr()
        assert isinstance(status, int)
        assert "Traceback" not in printed.err
        return Ended(status, printed.out, printed.err)

    return call


@pytest.fixture
def minimal(tmp_path: Path) -> Path:
    """A copy of the smallest good project."""
    return Path(shutil.copytree(PROJECTS / "minimal", tmp_path / "minimal"))


def files_under(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


# Help


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_a_command_describes_every_argument_and_option(command: str, run: Run) -> None:
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


def test_help_names_every_command_and_the_exit_statuses(run: Run) -> None:
    status, out, _ = run("--help")
    assert status == GOOD
    for command in COMMANDS:
        (line,) = [line for line in out.splitlines() if line.startswith(f"  {command} ")]
        assert line.endswith("."), line
    assert "Exit status: 0 good; 1 the design has error findings that nobody accepted; 2" in " ".join(
        out.split()
    )


def test_every_command_is_among_those_tested() -> None:
    assert sorted(command.callback.__name__ for command in cli.app.registered_commands) == sorted(COMMANDS)


def test_version_is_printed(run: Run) -> None:
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
def test_a_wrong_call_is_said_in_a_line(call: list[str], said: str, run: Run) -> None:
    status, out, err = run(*call)
    assert (status, out) == (WRONG, "")
    (line,) = [line for line in err.splitlines() if line.startswith("Error:")]
    assert said in line
    assert files_under(Path.cwd()) == []


def test_no_command_shows_the_help(run: Run) -> None:
    status, out, err = run()
    assert status == WRONG
    assert "Commands:" in out + err


@pytest.mark.parametrize("command", ["check", "build", "issue", "verify", "preview", "export"])
def test_a_missing_project_is_said_in_a_line(command: str, run: Run) -> None:
    assert run(command, "nowhere") == (
        WRONG,
        "",
        "nowhere: wanted a project folder; found nothing\n",
    )
    assert files_under(Path.cwd()) == []


@pytest.mark.parametrize("command", ["check", "build", "issue", "verify", "preview", "export"])
def test_a_file_instead_of_a_project_is_said_in_a_line(command: str, run: Run) -> None:
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
    command: str, told_by: str, run: Run, minimal: Path, monkeypatch: pytest.MonkeyPatch
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


def test_every_problem_of_the_input_is_a_line(run: Run, minimal: Path) -> None:
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


# new


def test_new_writes_a_project_that_passes(run: Run) -> None:
    assert run("new", "my project") == (
        GOOD,
        "my project is ready: edit its files, then run  proposal build 'my project'\n",
        "",
    )
    assert files_under(Path("my project")) == files_under(ROOT / "shared" / "starter")
    status, out, _ = run("check", "my project")
    assert status == GOOD
    assert out.splitlines()[-1].startswith("0 errors, ")


def test_new_makes_the_folders_above(run: Run) -> None:
    assert run("new", "jobs/first").status == GOOD
    assert os.listdir("jobs") == ["first"]
    assert os.stat("jobs/first").st_mode & 0o777 == 0o755


def test_new_takes_no_folder_that_is_there(run: Run) -> None:
    Path("taken").mkdir()
    Path("file").write_text("mine", "utf-8")
    Path("link").symlink_to("gone")
    for name, found in (("taken", "a folder"), ("file", "a file"), ("link", "a link"), (".", "a folder")):
        assert run("new", name) == (
            WRONG,
            "",
            f"{name}: wanted a folder that does not exist yet; found {found}\n",
        )
    assert files_under(Path.cwd()) == ["file", "link", "taken"]


def test_new_below_a_file_is_said_in_a_line(run: Run) -> None:
    Path("file").write_text("mine", "utf-8")
    status, out, err = run("new", "file/project")
    assert (status, out) == (WRONG, "")
    assert err.startswith("file/project: cannot be read or written: ")
    assert len(err.splitlines()) == 1
    assert files_under(Path.cwd()) == ["file"]


# check


def test_check_of_a_good_project_counts_its_findings(run: Run, minimal: Path) -> None:
    status, out, err = run("check", minimal)
    assert (status, err) == (GOOD, "")
    *findings, last = out.splitlines()
    counts = dict(zip(("error", "warning", "note"), (0, 0, 0), strict=True))
    for line in findings:
        counts[line.split(": ")[1]] += 1
    words = [f"{count} {kind}{'' if count == 1 else 's'}" for kind, count in counts.items()]
    assert last == f"{', '.join(words)}, 0 accepted"
    assert counts["error"] == 0


def test_check_writes_nothing(run: Run, minimal: Path) -> None:
    before = files_under(minimal)
    run("check", minimal)
    assert files_under(minimal) == before
    assert files_under(Path.cwd()) == []


def test_check_of_a_failing_project_ends_with_one(run: Run) -> None:
    status, out, err = run("check", PROJECTS / "failing")
    assert (status, err) == (DESIGN_ERRORS, "")
    assert ": error: link-too-long: " in out


def test_accepted_errors_do_not_count_as_errors(run: Run, tmp_path: Path) -> None:
    project = shutil.copytree(PROJECTS / "failing", tmp_path / "failing")
    _, out, _ = run("check", project)
    errors = {tuple(line.split(": ")[2:4]) for line in out.splitlines() if ": error: " in line}
    assert errors
    accepted = "".join(
        f'  N{n}: {{rule: {rule}, where: "{where}", reason: Agreed on site., '
        "accepted_by: A. Reviewer, date: 2031-02-03}\n"
        for n, (rule, where) in enumerate(sorted(errors))
    )
    brief = project / "project.yaml"
    assert "accepted_findings" not in brief.read_text("utf-8")
    brief.write_text(f"{brief.read_text('utf-8')}\naccepted_findings:\n{accepted}", "utf-8")
    status, out, _ = run("check", project)
    assert status == GOOD, out
    assert out.splitlines()[-1].startswith("0 errors, ")


# build


def test_build_of_a_failing_project_writes_the_sites_and_ends_with_one(run: Run, minimal: Path) -> None:
    project = minimal
    schedule = project / "rooms.csv"
    assert ",L0,1 m," in schedule.read_text("utf-8")
    schedule.write_text(schedule.read_text("utf-8").replace(",L0,1 m,", ",L0,900 m,"), "utf-8")
    status, out, err = run("build", project)
    assert (status, err) == (DESIGN_ERRORS, "")
    last = out.splitlines()[-1]
    assert last == f"Open {project.resolve()}/build/client/site/index.html"
    for reader in READERS:
        page = project / "build" / reader / "site" / "index.html"
        assert page.is_file()
        assert f"{reader} edition: {page.resolve()}" in out.splitlines()
    shown = (project / "build" / "reviewer" / "site" / "findings.html").read_text("utf-8")
    assert "link-too-long" in shown


def test_build_makes_the_editions_that_were_asked_for(run: Run, minimal: Path) -> None:
    status, out, _ = run("build", minimal, "--edition", "installer", "--edition", "reviewer")
    assert status == GOOD
    made = sorted(path.parent.name for path in (minimal / "build").glob("*/site"))
    assert made == ["installer", "reviewer"]
    assert out.splitlines()[-1] == f"Open {minimal.resolve()}/build/reviewer/site/index.html"
    front = (minimal / "build" / "index.html").read_text("utf-8")
    assert "Installer edition" in front
    assert "Client edition" not in front


def test_build_where_nothing_can_be_written_is_said_in_a_line(run: Run, minimal: Path) -> None:
    (minimal / "build").write_text("in the way", "utf-8")
    status, out, err = run("build", minimal, "--edition", "client")
    assert (status, out) == (WRONG, "")
    assert len(err.splitlines()) == 1
    assert "build" in err
    assert (minimal / "build").read_text("utf-8") == "in the way"


# schema


def test_every_schema_is_printed(run: Run) -> None:
    for kind in cli.SchemaKind:
        status, out, _ = run("schema", kind.value)
        assert status == GOOD
        schema = json.loads(out)
        assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema", kind
    assert run("schema").out == run("schema", "project").out


def test_schemas_are_written_into_a_folder(run: Run) -> None:
    status, out, _ = run("schema", "--write", "schemas")
    assert status == GOOD
    names = [f"{kind.value}.schema.json" for kind in cli.SchemaKind]
    assert files_under(Path("schemas")) == sorted(names)
    assert out == f"{len(names)} schemas written to schemas\n"
    for name in names:
        assert json.loads(Path("schemas", name).read_text("utf-8"))


def test_schemas_below_a_file_are_said_in_a_line(run: Run) -> None:
    Path("file").write_text("mine", "utf-8")
    status, out, err = run("schema", "--write", "file")
    assert (status, out) == (WRONG, "")
    assert err.startswith("file/project.schema.json: cannot be read or written: ")


# export


@pytest.mark.parametrize("reader", READERS)
def test_export_prints_the_document_of_the_edition(reader: str, run: Run, minimal: Path) -> None:
    status, out, err = run("export", minimal, "--edition", reader)
    assert (status, err) == (GOOD, "")
    document = json.loads(out)
    assert document["cover"]["name"] == "One meeting room"
    assert ("equipment_cost" in document) == (reader == "estimator")
    assert ("cables" in document) == (reader != "client")


def test_export_is_the_clients_unless_told_otherwise(run: Run, minimal: Path) -> None:
    assert run("export", minimal).out == run("export", minimal, "--edition", "client").out


def test_export_writes_what_it_would_print(run: Run, minimal: Path) -> None:
    printed = run("export", minimal, "--edition", "reviewer").out
    for name in ("document.json", "made/here/document.json"):
        assert run("export", minimal, "--edition", "reviewer", "--output", name) == (GOOD, "", "")
        assert Path(name).read_text("utf-8") == printed
        assert os.stat(name).st_mode & 0o777 == 0o644


def test_export_writes_a_file_for_each_schedule(run: Run, minimal: Path) -> None:
    status, out, err = run("export", minimal, "--edition", "installer", "--format", "csv", "--output", "made")
    assert (status, out, err) == (GOOD, "", "")
    names = files_under(Path("made"))
    assert {"cables.csv", "devices.csv", "equipment.csv", "labels.csv", "rooms.csv"} <= set(names)
    with Path("made/rooms.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert rows[0][:2] == ["Room", "Name"]
    assert rows[1][:2] == ["B001", "Meeting Room"]
    assert run("export", minimal, "--format", "csv", "--output", "clients").status == GOOD
    assert not {"cables.csv", "labels.csv"} & set(files_under(Path("clients")))


def test_export_writes_a_workbook_that_is_the_same_every_time(run: Run, minimal: Path) -> None:
    for name in ("one.xlsx", "two.xlsx"):
        assert run("export", minimal, "--format", "xlsx", "--output", name) == (GOOD, "", "")
    assert Path("one.xlsx").read_bytes() == Path("two.xlsx").read_bytes()
    with zipfile.ZipFile("one.xlsx") as book:
        assert book.testzip() is None
        assert "Meeting Room" in book.read("xl/sharedStrings.xml").decode("utf-8")


def test_export_onto_a_folder_or_below_a_file_is_said_in_a_line(run: Run, minimal: Path) -> None:
    Path("folder").mkdir()
    Path("file").write_text("mine", "utf-8")
    wanted = "wanted a new file, or a regular file to replace; found a folder"
    for name, said in (("folder", wanted), ("file/document.json", "cannot be read or written: ")):
        status, out, err = run("export", minimal, "--output", name)
        assert (status, out) == (WRONG, "")
        assert err.startswith(f"{name}: {said}")
        assert len(err.splitlines()) == 1
    assert files_under(Path.cwd()) == ["file", "folder"]


# Streams


def started(*arguments: object, **options: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(  # type: ignore[call-overload,no-any-return]
        [PROGRAM, *map(str, arguments)], check=False, stderr=subprocess.PIPE, **options
    )


def test_a_reader_that_goes_away_changes_nothing_else() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = started("check", PROJECTS / "failing", stdout=writing)
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
