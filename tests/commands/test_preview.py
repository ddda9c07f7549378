"""`proposal preview`: a file is broken and repaired while the pages are looked at."""

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from html import unescape
from http.client import HTTPConnection
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
PROGRAM = Path(sys.executable).with_name("proposal")
LONGEST_S = 90.0


class Shown:
    """A preview that runs, and what it answers."""

    def __init__(self, project: Path, process: subprocess.Popen[str], port: int) -> None:
        self.project, self.process, self._port = project, process, port

    def get(self, path: str) -> tuple[int, str]:
        connection = HTTPConnection("127.0.0.1", self._port, timeout=30)
        try:
            connection.request("GET", path)
            answer = connection.getresponse()
            return answer.status, answer.read().decode("utf-8")
        finally:
            connection.close()

    def until(self, wanted: Callable[[str], bool], path: str = "/index.html") -> str:
        """Return a page when it is as wanted; the test fails where that takes too long."""
        end = time.monotonic() + LONGEST_S
        while True:
            assert self.process.poll() is None, "the preview has ended"
            status, page = self.get(path)
            if status == 200 and wanted(page):
                return page
            assert time.monotonic() < end, f"never as wanted; last {status}: {page[:2000]}"
            time.sleep(0.2)

    def until_rest(self) -> None:
        """Wait until nothing is being computed any more."""
        self.until(lambda state: json.loads(state)["pending"] == "", "/.proposal/state")


@pytest.fixture
def preview(tmp_path: Path) -> Iterator[Shown]:
    project = shutil.copytree(ROOT / "tests" / "projects" / "minimal", tmp_path / "minimal")
    process = subprocess.Popen(
        [PROGRAM, "preview", project, "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
    )
    try:
        assert process.stdout is not None
        address = re.fullmatch(
            r"Serving http://127\.0\.0\.1:(\d+)/ \(stop with Ctrl\+C\)\n", process.stdout.readline()
        )
        assert address
        yield Shown(project, process, int(address[1]))
    finally:
        process.kill()
        process.communicate()


def replaced(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert text.count(old) == 1
    file.write_text(text.replace(old, new), "utf-8")


def alerts(page: str) -> list[str]:
    return [unescape(found) for found in re.findall(r'<div role="alert".*?<pre[^>]*>(.*?)</pre>', page, re.S)]


def test_a_broken_file_is_explained_over_the_last_good_page_until_it_is_repaired(preview: Shown) -> None:
    good = preview.until(lambda page: "One meeting room" in page)
    assert alerts(good) == []
    preview.until_rest()
    assert preview.get("/rooms/meeting.html")[0] == 200

    rooms = preview.project / "rooms.csv"
    replaced(rooms, "B001,Meeting Room,meeting,L0", "B001,Meeting Room,meeting,L7")
    broken = preview.until(lambda page: bool(alerts(page)))
    assert alerts(broken) == ["rooms.csv:2:27: storey: wanted a storey of building.yaml: L0; found L7"]
    assert "One meeting room" in broken
    assert json.loads(preview.get("/.proposal/state")[1])["broken"] is True

    replaced(preview.project / "project.yaml", "site: Example Hall", "site: Example Hall\ncolour: red")
    both = preview.until(lambda page: len("".join(alerts(page)).splitlines()) == 2)
    assert alerts(both)[0].splitlines()[0].startswith("project.yaml:5:1: wanted one of name, ")
    assert (
        alerts(both)[0].splitlines()[1]
        == "rooms.csv:2:27: storey: wanted a storey of building.yaml: L0; found L7"
    )

    replaced(preview.project / "project.yaml", "site: Example Hall\ncolour: red", "site: Another Hall")
    replaced(rooms, "Meeting Room,meeting,L7", "Reading Room,meeting,L0")
    repaired = preview.until(lambda page: not alerts(page))
    assert "Another Hall" in repaired
    assert "Example Hall" not in repaired
    assert "Reading Room" in preview.get("/rooms.html")[1]
    assert json.loads(preview.get("/.proposal/state")[1])["broken"] is False
    preview.until_rest()

    preview.process.send_signal(signal.SIGINT)
    said, _ = preview.process.communicate(timeout=30)
    assert preview.process.returncode == 0
    assert "Traceback" not in said
    assert said.splitlines()[0] == "built"
    assert said.splitlines()[-1] == "built"
    assert "rooms.csv:2:27: storey: wanted a storey of building.yaml: L0; found L7" in said.splitlines()
