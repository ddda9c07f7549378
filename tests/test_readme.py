"""What the README says can be done can be done."""

import re
import shlex
import struct
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.calls import caller
from tests.test_cli import COMMANDS

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text("utf-8")
BUILD = "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/proposal build example_project"
TEST = "python3 -m venv .venv && .venv/bin/pip install '.[test]' && .venv/bin/pytest"
SHELL_LINES = [
    line for block in re.findall(r"```sh\n(.*?)```", README, re.DOTALL) for line in block.splitlines() if line
]
# Made by the reader on the way.
MADE = {
    "my_project",
    "build/",
    "published/",
    "library/",
    "library/labour/",
    "wording/",
    "images/",
    "room_types/",
}


def program(*arguments: str) -> str:
    done = subprocess.run(
        [Path(sys.executable).with_name("proposal"), *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_two_commands_stand_alone_on_their_lines() -> None:
    assert SHELL_LINES[:2] == [BUILD, TEST]


def test_the_first_paragraph_tells_the_job() -> None:
    title, first = README.split("\n\n")[:2]
    assert title.startswith("# ")
    for word in (
        "client's brief",
        "wireless conference-microphone system",
        "proposal",
        "reviewer",
        "estimator",
    ):
        assert word in first.replace("\n", " ")


def test_what_the_commands_want_is_there() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert settings["scripts"] == {"proposal": "proposal.__main__:main"}
    assert "pytest" in {re.split(r"[<>=]", one)[0] for one in settings["optional-dependencies"]["test"]}
    assert settings["requires-python"] == ">=3.11"
    assert "Python 3.11 or newer" in README
    assert (ROOT / "example_project" / "project.yaml").is_file()
    assert (ROOT / ".ci" / "run").stat().st_mode & 0o111


def test_every_command_is_named_and_every_named_command_exists() -> None:
    named = set(re.findall(r"(?:\.venv/bin/|`)proposal ([a-z]+)", README))
    assert named == set(COMMANDS)
    listed = set(re.findall(r"^  ([a-z]+) {2,}\S", program("--help").partition("Commands:")[2], re.MULTILINE))
    assert listed == named


def test_every_option_that_is_named_exists(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    call = caller(monkeypatch, capsys)
    helps = {command: call(command, "--help").out for command in COMMANDS}
    for line in re.findall(r"`(\.venv/bin/proposal [^`]+)`", README) + SHELL_LINES[2:]:
        _, command, *rest = shlex.split(line)
        for option in rest:
            if option.startswith("--"):
                assert option in helps[command], line
    helped = "".join(helps.values())
    for option in re.findall(r"`(--[a-z]+)[ `]", README):
        assert option in helped, option


@pytest.mark.parametrize("name", ["check", "export", "schema"])
def test_commands_of_the_tour_work(name: str) -> None:
    lines = [line for line in re.findall(r"`\.venv/bin/(proposal [^`]+)`", README) if line.split()[1] == name]
    assert lines
    for line in lines:
        assert program(*shlex.split(line)[1:]).strip()


def test_every_file_that_is_named_exists() -> None:
    named = set(re.findall(r"`([\w.]+/[\w./-]*|[A-Z]+(?:\.md)?|[\w]+\.(?:yaml|csv|md))`", README)) - MADE
    assert len(named) > 8
    for name in named:
        if re.fullmatch(r"[A-Z]+", name) and name != "LICENSE":
            continue
        assert (ROOT / name).exists() or (ROOT / "example_project" / name).exists(), name
    for name in MADE & {"wording/", "images/", "room_types/"}:
        assert (ROOT / "example_project" / name).is_dir()


def test_six_pictures_are_shown_and_none_is_left_over() -> None:
    shown = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", README)
    assert len(shown) == 6
    files = sorted(path.relative_to(ROOT).as_posix() for path in (ROOT / "docs" / "screens").glob("*.png"))
    assert sorted(path for _, path in shown) == files
    for words, path in shown:
        assert len(words.split()) > 6, f"{path} is not described"
        content = (ROOT / path).read_bytes()
        assert len(content) < 200_000, path
        assert content.startswith(b"\x89PNG\r\n\x1a\n"), path
        assert struct.unpack(">II", content[16:24]) == (1440, 900), path


def test_the_script_that_makes_the_pictures_makes_these() -> None:
    script = (ROOT / "docs" / "screens" / "make.py").read_text("utf-8")
    pictures = sorted(path.name for path in (ROOT / "docs" / "screens").glob("*.png"))
    assert sorted(re.findall(r'\("([\w-]+\.png)"', script)) == pictures


@pytest.mark.parametrize("name", ["DEVELOPERS.md", "CHANGELOG.md"])
def test_every_file_that_contributors_are_sent_to_exists(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    named = set(re.findall(r"`((?:proposal|tests|templates|shared|docs|benchmarks|\.ci)/[\w./-]*)`", text))
    named |= set(re.findall(r"(?:tests|docs)/[\w/]+\.py", text))
    for path in sorted(named):
        assert (ROOT / path).exists(), path
    if name == "DEVELOPERS.md":
        assert len(named) > 20


def test_names_of_the_nomenclature_are_used_in_the_program() -> None:
    table = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("| Name | Meaning | Unit |")[2]
    names = {
        name
        for line in table.partition("\n\n")[0].splitlines()
        for name in re.findall(r"`([a-z_0-9]+)`", line.split("|")[1] if line.startswith("|") else "")
    }
    code = "\n".join(path.read_text("utf-8") for path in (ROOT / "proposal").rglob("*.py"))
    assert len(names) > 20
    assert [name for name in sorted(names) if not re.search(rf"\b{name}\b", code)] == []


def test_the_changelog_tells_of_this_version() -> None:
    from proposal import __version__

    assert f"\n## {__version__}" in (ROOT / "CHANGELOG.md").read_text("utf-8")
