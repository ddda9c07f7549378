"""A command never ends with a traceback, nor in silence, whatever goes wrong around it or in it."""

import errno
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from proposal import cli

MINIMAL = Path(__file__).parent / "projects" / "minimal"
PROGRAM = Path(sys.executable).with_name("proposal")
GOOD, WRONG, FAILED = 0, 2, 3
# What each command does first that another part of the program does for it.
WORK = {
    "new": "proposal.publish.starter_project.new_project",
    "check": "proposal.pipeline.compute",
    "build": "proposal.publish.proposal_site.build_proposal",
    "issue": "proposal.publish.issuing.issue",
    "verify": "proposal.publish.verifying.verified",
    "preview": "proposal.publish.preview.serve",
    "schema": "proposal.model.schema.schema_of",
    "export": "proposal.publish.export_files.exported",
    "compare": "proposal.publish.compared_states.compared",
    "import": "proposal.publish.importing.price_list_import",
}
CALLS: dict[str, tuple[str, ...]] = {
    "new": ("new", "folder"),
    "compare": ("compare", "minimal", ".", "."),
    "schema": ("schema",),
    "import": ("import", "minimal/rooms.csv", "minimal", "--mapping", "minimal/project.yaml"),
    **{name: (name, "minimal") for name in ("check", "build", "issue", "verify", "preview", "export")},
}


class Ended(NamedTuple):
    """How a command ended: exit status, what it printed, what it complained about."""

    status: int
    out: str
    err: str


NO_TEXT = os.fsdecode(b"no\xfftext")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a project, in which commands are called."""
    folder = tmp_path / "here"
    folder.mkdir()
    shutil.copytree(MINIMAL, folder / "minimal")
    (tmp_path / "temporary").mkdir()
    monkeypatch.setenv("TMPDIR", str(tmp_path / "temporary"))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def run(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., Ended]:
    """Call a command in this process, where it can be made to fail."""

    def call(*arguments: object) -> Ended:
        monkeypatch.setattr(sys, "argv", ["proposal", *map(str, arguments)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            cli.main()
        assert isinstance(ended.value.code, int)
        done = Ended(ended.value.code, *capsys.readouterr())
        assert "Traceback" not in done.err
        return done

    return call


def started(*arguments: object, **options: Any) -> Ended:
    """Call a command as a shell does."""
    done = subprocess.run(
        [PROGRAM, *map(str, arguments)],
        **{"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **options},
        timeout=120,
    )
    said = [(stream or b"").decode("utf-8") for stream in (done.stdout, done.stderr)]
    assert "Traceback" not in said[1]
    return Ended(done.returncode, *said)


def files_under(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_every_command_is_made_to_fail() -> None:
    commands = {command.name or command.callback.__name__ for command in cli.app.registered_commands}
    assert commands == {*WORK} == {*CALLS}


# The program itself


FAULTS = [
    ZeroDivisionError("division by zero"),
    RecursionError("maximum recursion depth exceeded"),
    MemoryError(),
    EOFError(),
    BrokenPipeError(errno.EPIPE, "Broken pipe"),
    FileNotFoundError("templates is missing from the installation of this program"),
    UnicodeEncodeError("utf-8", "\udcff", 0, 1, "surrogates not allowed"),
]


@pytest.mark.parametrize(
    ("command", "fault"),
    [
        *((command, FAULTS[0]) for command in sorted(WORK)),
        *(("check", fault) for fault in FAULTS[1:]),
        *(("export", fault) for fault in FAULTS[1:4]),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, Exception) else value,
)
def test_a_failure_of_the_program_is_a_line_that_names_its_details(
    command: str,
    fault: Exception,
    run: Callable[..., Ended],
    here: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise fault

    monkeypatch.setattr(WORK[command], fail)
    before = files_under(here)
    status, _, err = run(*CALLS[command])
    (kept,) = (tmp_path / "temporary").iterdir()
    assert status == FAILED
    (line,) = err.splitlines()
    assert line.startswith(f"the program itself failed ({type(fault).__name__}")
    assert line.endswith(f"; please report it, with the details in {kept}")
    details = kept.read_text("utf-8")
    assert f"command: proposal {' '.join(CALLS[command])}\n" in details
    assert "in fail\n    raise fault\n" in details
    assert files_under(here) == before


def test_a_failure_whose_details_cannot_be_kept_is_a_line(
    run: Callable[..., Ended], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("proposal.pipeline.compute", fail)
    monkeypatch.setattr("tempfile.tempdir", "/nowhere/at/all")
    status, _, err = run("check", "minimal")
    assert (status, len(err.splitlines())) == (FAILED, 1)
    assert "its details could not be kept (FileNotFoundError: " in err


def test_a_program_that_is_not_whole_is_a_line(here: Path, tmp_path: Path) -> None:
    """A library that is missing or broken is found when the commands are loaded."""
    (tmp_path / "typer.py").write_text("raise ImportError('this library is broken')\n")
    status, out, err = started("check", "minimal", env={**os.environ, "PYTHONPATH": str(tmp_path)})
    assert (status, out, len(err.splitlines())) == (FAILED, "", 1)
    assert err.startswith("the program itself failed (ImportError: this library is broken); ")


# What the system refuses


def no_room(*_: object, **__: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "some/file")


@pytest.mark.parametrize("command", sorted(WORK))
def test_a_full_disk_is_a_line(
    command: str, run: Callable[..., Ended], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(WORK[command], no_room)
    status, _, err = run(*CALLS[command])
    assert (status, err) == (WRONG, "some/file: cannot be read or written: No space left on device\n")
    assert os.listdir(tmp_path / "temporary") == []


@contextmanager
def few_bytes() -> Iterator[None]:
    """Let no file grow beyond a few kilobytes, as on a disk that is almost full."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (2_000, hard))
    try:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("PYTHONDONTWRITEBYTECODE", "1")  # Python would keep the beginnings of some
            yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize(
    ("call", "file"),
    [
        (("new", "folder"), "folder"),
        (("build", "minimal", "--edition", "client"), "minimal/build/client/.part/markdown/"),
        (("issue", "minimal"), "minimal/issued/.part/"),
        (("export", "minimal", "--output", "made.json"), "made.json"),
        (("export", "minimal", "--format", "csv", "--output", "made"), "made/"),
        (("export", "minimal", "--format", "xlsx", "--output", "made.xlsx"), "made.xlsx"),
        (("compare", "minimal", "minimal", "other", "--format", "json", "--output", "made"), "made"),
        (("schema", "--write", "made"), "made/"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_file_that_finds_no_room_is_named(
    call: tuple[str, ...], file: str, run: Callable[..., Ended], here: Path
) -> None:
    shutil.copytree(here / "minimal", here / "other")
    rooms = here / "other" / "rooms.csv"
    rooms.write_text(rooms.read_text("utf-8").replace("Meeting Room", "Reading Room"), "utf-8")
    before = files_under(here)
    with few_bytes():
        status, out, err = run(*call)
    assert (status, out) == (WRONG, "")
    (line,) = err.splitlines()
    named, _, why = line.partition(": ")
    assert named.removeprefix(f"{here}/").startswith(file)
    assert why == "cannot be read or written: File too large"
    left = [path for path in files_under(here) if path not in before]
    assert [path for path in left if not path.startswith("minimal/build")] == []
    assert [path for path in left if "/.part" in path or "/.next" in path] == []


@pytest.fixture
def unprivileged() -> Callable[[], AbstractContextManager[None]]:
    """While what this gives holds, permissions hold for this process, even where tests run as root."""
    if os.geteuid() != 0:
        return nullcontext
    if not sys.platform.startswith("linux"):
        pytest.skip("permissions do not hold for root")
    return without_roots_powers


@contextmanager
def without_roots_powers() -> Iterator[None]:
    """Let permissions of files hold for the thread that tests run in, though it is root's."""
    import ctypes

    library = ctypes.CDLL(None, use_errno=True)
    version, itself, override, search = 0x20080522, 0, 1, 2  # CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH
    header = (ctypes.c_uint32 * 2)(version, itself)
    held = (ctypes.c_uint32 * 6)()  # effective, permitted and inheritable, twice 32 capabilities
    assert library.capget(header, held) == 0
    fewer = (ctypes.c_uint32 * 6)(held[0] & ~(1 << override | 1 << search), *held[1:])
    assert library.capset(header, fewer) == 0
    try:
        yield
    finally:
        assert library.capset(header, held) == 0


@pytest.fixture
def closed(here: Path) -> Iterator[Path]:
    """A folder that nobody may write into, with a project in it."""
    folder = here / "closed"
    folder.mkdir()
    (here / "minimal").rename(folder / "minimal")
    for path in (folder, folder / "minimal"):
        path.chmod(0o555)
    yield folder
    for path in (folder, folder / "minimal"):
        path.chmod(0o755)


@pytest.mark.parametrize(
    ("call", "file"),
    [
        (("new", "closed/folder"), "closed/folder"),
        (("build", "closed/minimal", "--edition", "client"), "closed/minimal/build"),
        (("issue", "closed/minimal"), "closed/minimal/build"),
        (("verify", "closed/minimal", "--repair"), "closed/minimal/build"),
        (("export", "closed/minimal", "--output", "closed/made.json"), "closed/made.json"),
        (("schema", "--write", "closed/made"), "closed/made/project.schema.json"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_folder_that_may_not_be_written_is_named(
    call: tuple[str, ...],
    file: str,
    run: Callable[..., Ended],
    closed: Path,
    unprivileged: Callable[[], AbstractContextManager[None]],
) -> None:
    before = files_under(closed)
    with unprivileged():
        status, out, err = run(*call)
    assert (status, out) == (WRONG, "")
    assert err.removeprefix(f"{closed.parent}/") == f"{file}: cannot be read or written: Permission denied\n"
    assert files_under(closed) == before


def test_a_file_that_may_not_be_read_is_named(
    run: Callable[..., Ended], here: Path, unprivileged: Callable[[], AbstractContextManager[None]]
) -> None:
    (here / "minimal" / "rooms.csv").chmod(0)
    with unprivileged():
        status, out, err = run("check", "minimal")
    assert (status, out) == (WRONG, "")
    assert err == "rooms.csv: wanted a file that can be read; found an obstacle: Permission denied\n"


def few_handles() -> None:
    """Let a process open five files at once besides its streams: too few to start another program."""
    resource.setrlimit(resource.RLIMIT_NOFILE, (8, 8))


def test_too_few_file_handles_are_a_line(here: Path) -> None:
    status, _, err = started("build", "minimal", "--edition", "client", preexec_fn=few_handles)
    assert (status, len(err.splitlines())) == (WRONG, 1)
    assert err.startswith("the graph program /")
    assert err.endswith("graphviz-pure could not be run: Too many open files\n")
    assert not (here / "minimal" / "build" / "client").exists()


# Streams and arguments


@pytest.mark.parametrize("call", [("check", "minimal"), ("schema",), ("export", "minimal"), ("--help",)])
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_output_that_finds_no_room_is_a_line(call: tuple[str, ...], here: Path) -> None:
    with open("/dev/full", "wb") as full:
        status, _, err = started(*call, stdout=full)
    assert (status, len(err.splitlines())) == (WRONG, 1)
    assert "No space left on device" in err


def without(*handles: int) -> Callable[[], None]:
    def close() -> None:
        for handle in handles:
            os.close(handle)

    return close


@pytest.mark.parametrize("call", [("check", "minimal"), ("build", "minimal"), ("export", "minimal")])
def test_a_closed_output_is_said_before_anything_is_done(call: tuple[str, ...], here: Path) -> None:
    before = files_under(here)
    status, _, err = started(*call, preexec_fn=without(1))
    assert (status, err) == (WRONG, "standard output: wanted it open; found it closed\n")
    assert files_under(here) == before


def test_what_is_printed_never_gets_into_a_file_that_is_opened(here: Path) -> None:
    """Of a folder whose name is no text, which is a project like others."""
    (here / "minimal").rename(here / NO_TEXT)
    status, out, _ = started("build", NO_TEXT, "--edition", "client", preexec_fn=without(0, 2))
    assert (status, out.splitlines()[-1]) == (GOOD, f"Open {here}/no\\udcfftext/build/client/site/index.html")
    assert (here / NO_TEXT / "build" / ".proposal-lock").read_text() == ""
    status, out, err = started("check", "nowhere", preexec_fn=without(0, 2))
    assert (status, out, err) == (WRONG, "", "")


def test_help_whose_reader_goes_away_is_good() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        assert started("--help", stdout=writing) == (GOOD, "", "")
    finally:
        os.close(writing)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (("check", NO_TEXT), f"{NO_TEXT}: wanted a project folder; found nothing"),
        (("build", "minimal", "--revision", NO_TEXT), "wanted text in UTF-8; found other bytes"),
        (("issue", "minimal", "--purpose", NO_TEXT), "wanted text in UTF-8; found other bytes"),
        (("issue", "minimal", "--with-errors", NO_TEXT), "wanted text in UTF-8; found other bytes"),
        (("compare", "minimal", NO_TEXT), "found none of this name"),
        (("verify", "minimal", NO_TEXT), "wanted an issued revision"),
        (
            ("check", "minimal", "--library", NO_TEXT),
            "wanted a folder with library files (.yaml); found nothing",
        ),
        ((NO_TEXT,), "No such command"),
        (("check", "minimal", f"--{NO_TEXT}"), "No such option"),
    ],
    ids=lambda value: (
        " ".join(value[:3]).encode("ascii", "replace").decode() if isinstance(value, tuple) else ""
    ),
)
def test_arguments_that_are_no_text_are_said_in_a_line(
    call: tuple[str, ...], said: str, run: Callable[..., Ended], here: Path
) -> None:
    before = files_under(here)
    status, out, err = run(*call)
    assert (status, out) == (WRONG, "")
    assert said.encode("utf-8", "backslashreplace").decode("utf-8") in err.splitlines()[-1]
    assert files_under(here) == before


def test_an_argument_that_is_no_text_is_said_as_a_shell_hears_it(here: Path) -> None:
    status, out, err = started("check", NO_TEXT)
    assert (status, out) == (WRONG, "")
    assert err == "no\\udcfftext: wanted a project folder; found nothing\n"


def test_a_folder_whose_name_is_no_text_is_checked_like_others(here: Path) -> None:
    (here / "minimal").rename(here / NO_TEXT)
    assert started("check", NO_TEXT)[0::2] == (GOOD, "")


@pytest.mark.parametrize(
    ("call", "hint"),
    [
        (("check", ""), "PROJECT"),
        (("build", " "), "PROJECT"),
        (("new", ""), "FOLDER"),
        (("check", "minimal", "--library", ""), "--library"),
        (("export", "minimal", "--output", ""), "--output"),
        (("compare", "minimal", ".", "--output", ""), "--output"),
        (("schema", "--write", ""), "--write"),
        (("issue", "minimal", "--purpose", ""), "--purpose"),
        (("issue", "minimal", "--with-errors", ""), "--with-errors"),
        (("build", "minimal", "--revision", ""), "--revision"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_an_empty_argument_is_refused(
    call: tuple[str, ...], hint: str, run: Callable[..., Ended], here: Path
) -> None:
    """A variable that is not set must not stand for the folder where the program is called."""
    before = files_under(here)
    status, out, err = run(*call)
    assert (status, out) == (WRONG, "")
    assert f"Invalid value for '{hint}': wanted a " in err.splitlines()[-1]
    assert "; found an empty " in err.splitlines()[-1]
    assert files_under(here) == before


@pytest.mark.parametrize(
    ("states", "empty"),
    [((".", ""), ["AFTER"]), (("", "."), ["BEFORE"]), (("",), ["BEFORE"]), ((" ", ""), ["AFTER", "BEFORE"])],
    ids=repr,
)
def test_an_empty_name_is_no_state(
    states: tuple[str, ...], empty: list[str], run: Callable[..., Ended], here: Path
) -> None:
    status, out, err = run("compare", "minimal", *states)
    assert (status, out) == (WRONG, "")
    assert err == "".join(f"{place}: wanted a state; found an empty name\n" for place in empty)


@pytest.mark.parametrize(("project", "found"), [("nowhere", "nothing"), ("file", "a file")])
def test_a_project_that_is_none_is_said_whatever_is_compared(
    project: str, found: str, run: Callable[..., Ended], here: Path
) -> None:
    (here / "file").write_text("mine", "utf-8")
    for states in ((".",), ("A", "B"), ("git:trunk",), ("minimal", "minimal")):
        status, out, err = run("compare", project, *states)
        assert (status, out) == (WRONG, "")
        assert err == f"{project}: wanted a project folder; found {found}\n"


# Git


def git_that_says(here: Path, script: str) -> str:
    """Return a path of programs whose git is a script."""
    folder = here.parent / "programs"
    folder.mkdir()
    (folder / "git").write_text(f"#!/bin/sh\n{script}\n")
    (folder / "git").chmod(0o755)
    return f"{folder}:/usr/bin:/bin"


@pytest.mark.parametrize(
    ("script", "why"),
    [
        (None, "git is not installed"),
        ("echo 'fatal: detected dubious ownership' >&2; exit 128", "git says: detected dubious ownership"),
        ("exit 5", "git ended with 5"),
        ("kill -9 $$", "git ended with -9"),
    ],
    ids=["missing", "refuses", "fails", "killed"],
)
def test_why_git_gives_no_state_is_said(
    script: str | None, why: str, run: Callable[..., Ended], here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "" if script is None else git_that_says(here, script))
    for name in ("trunk", "git:trunk"):
        status, out, err = run("compare", "minimal", name)
        assert (status, out) == (WRONG, "")
        (line,) = err.splitlines()
        assert line.startswith(f"{name}: wanted ")
        assert line.endswith(f"; found none of this name ({why})")


def test_git_that_ends_in_the_middle_is_a_line(
    run: Callable[..., Ended], here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    commit = "a" * 40
    script = f"""
case "$*" in
  *rev-parse*prefix*) echo minimal/;;
  *rev-parse*) echo {commit};;
  *ls-tree*) printf '100644 blob {"b" * 40} 12\\tproject.yaml\\0';;
  *) exit 1;;
esac
"""
    monkeypatch.setenv("PATH", git_that_says(here, script))
    status, out, err = run("compare", "minimal", "git:trunk")
    assert (status, out, len(err.splitlines())) == (WRONG, "", 1)
    assert "git" in err
