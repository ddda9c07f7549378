"""While a project is written its site is shown, and what is wrong with it is said."""

import json
import os
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

import pytest

from proposal.errors import BuildError, InputError, Place, Problem
from proposal.publish.preview import Making, Preview, listen, serve

PROBLEM = "rooms.csv:14:22: storey: wanted one of L1, L2; found <L4>"
SHOWN = "rooms.csv:14:22: storey: wanted one of L1, L2; found &lt;L4&gt;"


class Project:
    """A project of one file, whose site repeats it, and which is broken where it says so."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.file = folder / "rooms.csv"
        self.site = folder / "build" / "client" / "site"
        self.builds = 0
        self._clock = 0
        self.write("first")

    def write(self, words: str, file: Path | None = None) -> None:
        self._clock += 1
        file = file or self.file
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(words)
        # Two edits within the clock's grain must still differ.
        os.utime(file, ns=(self._clock * 10**9, self._clock * 10**9))

    def rebuild(self, making: Making | None = None) -> None:
        self.builds += 1
        words = self.file.read_text()
        if "broken" in words:
            raise InputError(
                [Problem(Place("rooms.csv", 14, 22), "storey", "wanted one of L1, L2; found <L4>")]
            )
        if "defect" in words:
            raise ZeroDivisionError("division by zero")
        self.site.mkdir(parents=True, exist_ok=True)
        for name in ("index.html", "rooms.html"):
            (self.site / name).write_text(f"<html><body class='a'><p>{words}</p></body></html>")
        (self.site / "404.html").write_text("<html><body>not here</body></html>")
        (self.site / "drawing.svg").write_text("<svg/>")


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return Project(tmp_path / "project")


@contextmanager
def served(preview: Preview) -> Iterator[int]:
    server = listen(preview, "127.0.0.1", 0)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield server.server_address[1]
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def get(port: int, path: str = "/", host: str | None = None, method: str = "GET") -> tuple[int, str, str]:
    connection = HTTPConnection("127.0.0.1", port, timeout=30)
    connection.request(method, path, headers={} if host is None else {"Host": host})
    answer = connection.getresponse()
    body = answer.read().decode("utf-8")
    connection.close()
    return answer.status, answer.headers["Content-Type"] or "", body


def test_breaking_and_mending_a_file_is_seen_in_the_browser(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        status, kind, page = get(port)
        assert (status, kind) == (200, "text/html; charset=utf-8")
        assert "<p>first</p>" in page
        assert 'role="alert"' not in page

        project.write("broken")
        assert preview.refresh()
        for path in ("/", "/rooms.html"):
            status, _, page = get(port, path)
            assert status == 200
            assert SHOWN in page
            assert PROBLEM not in page
            assert "<p>first</p>" in page  # the last good state

        project.write("repaired")
        assert preview.refresh()
        _, _, page = get(port)
        assert "<p>repaired</p>" in page
        assert "rooms.csv:14:22" not in page


def test_several_saves_in_a_row_end_in_one_build(project: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    further = iter(["second", "third"])

    def saved_meanwhile(_: float) -> None:
        if (words := next(further, "")) != "":
            project.write(words)

    monkeypatch.setattr("proposal.publish.preview.sleep", saved_meanwhile)
    project.write("first of three")
    assert preview.refresh()
    assert project.builds == 2
    assert "third" in (project.site / "index.html").read_text()
    assert not preview.refresh()


def test_saves_without_an_end_are_built_all_the_same(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    monkeypatch.setattr("proposal.publish.preview.sleep", lambda _: project.write("again"))
    project.write("once")
    assert preview.refresh()
    assert project.builds == 2


def test_a_project_that_is_broken_from_the_start_says_so(project: Project) -> None:
    project.write("broken")
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        status, _, page = get(port, "/rooms.html")
        assert status == 503
        assert SHOWN in page
        project.write("repaired")
        preview.refresh()
        assert get(port, "/rooms.html")[0] == 200


def test_a_fault_of_the_program_does_not_end_the_preview(
    project: Project, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    project.write("defect")
    preview.refresh()
    (kept,) = tmp_path.glob("proposal-failure-*.txt")
    assert preview.problem == (
        "the program itself failed (ZeroDivisionError: division by zero); please report it, with the details "
        f"in {kept}"
    )
    assert "in rebuild" in kept.read_text("utf-8")
    project.write("repaired")
    preview.refresh()
    assert preview.problem == ""


def test_only_a_change_makes_the_site_again(project: Project, tmp_path: Path) -> None:
    shared = tmp_path / "shared"
    project.write("a", shared / "equipment" / "microphones.yaml")
    preview = Preview([project.folder, shared], project.rebuild, lambda: project.site)
    assert preview.refresh()
    assert not preview.refresh()  # what the build itself wrote is no change
    project.write("second", project.folder / ".git" / "index")
    project.write("second", project.folder / "rooms.csv~")
    project.write("second", project.folder / "published" / "A" / "index.html")
    assert not preview.refresh()
    project.write("b", shared / "equipment" / "microphones.yaml")
    assert preview.refresh()
    project.write("c", project.folder / "rooms" / "build" / "new.yaml")
    assert preview.refresh()
    (project.folder / "rooms" / "build" / "new.yaml").unlink()
    assert preview.refresh()
    assert project.builds == 4


def test_the_page_is_told_when_to_load_again(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        first = json.loads(get(port, "/.proposal/state")[2])
        project.write("broken")
        preview.refresh()
        second = json.loads(get(port, "/.proposal/state")[2])
        assert first["broken"] is False
        assert second["broken"] is True
        assert second["page"] != first["page"]
        assert f'}})("{second["page"]}");' in get(port)[2]


def test_nothing_of_the_preview_is_in_the_files(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        assert "/.proposal/state" in get(port)[2]
        assert "script" not in get(port, "/drawing.svg")[2]
    assert all("script" not in path.read_text() for path in project.site.iterdir())


def test_only_files_of_the_site_are_served(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        for path in (
            "/../../../rooms.csv",
            "/%2e%2e/%2e%2e/%2e%2e/rooms.csv",
            "/..%5c..%5crooms.csv",
            "/%00",
            "/none",
        ):
            status, _, page = get(port, path)
            assert status == 404, path
            assert "not here" in page


def test_no_link_is_followed_out_of_the_site(project: Project, tmp_path: Path) -> None:
    """Nor within it: a site is made of files, and a link is somebody else's."""
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    secret = tmp_path / "cost.html"
    secret.write_text("secret")
    (tmp_path / "index.html").write_text("secret")
    for name, target in (
        ("link.html", secret),
        ("relative.html", Path("../../../../cost.html")),
        ("folder", tmp_path),
        ("within.html", project.site / "rooms.html"),
        ("twice.html", project.site / "link.html"),
    ):
        (project.site / name).symlink_to(target)
    with served(preview) as port:
        for path in (
            "/link.html",
            "/relative.html",
            "/folder/",
            "/folder",
            "/folder/cost.html",
            "/within.html",
            "/twice.html",
        ):
            status, _, page = get(port, path)
            assert status == 404, path
            assert "secret" not in page
        assert get(port, "/rooms.html")[0] == 200


@pytest.mark.parametrize("linked", ["build", "build/client", "build/client/site"])
def test_a_site_that_is_a_link_is_not_served(linked: str, project: Project, tmp_path: Path) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    moved = tmp_path / "elsewhere"
    (project.folder / linked).rename(moved)
    (project.folder / linked).symlink_to(moved)
    with served(preview) as port:
        status, _, page = get(port, "/rooms.html")
    assert (status, "first" in page) == (503, False)


def test_a_pipe_in_the_site_is_no_page(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    os.mkfifo(project.site / "pipe.html")
    with served(preview) as port:
        assert get(port, "/pipe.html")[0] == 404


@pytest.mark.parametrize(
    "path",
    [
        "/../rooms.csv",
        "/..",
        "/rooms.html/../../../../rooms.csv",
        "/%2e%2e/%2E%2e/%2e%2E/rooms.csv",
        "/..%2f..%2f..%2frooms.csv",
        "/%252e%252e/%252e%252e/%252e%252e/rooms.csv",
        "/%c0%ae%c0%ae/%c0%ae%c0%ae/%c0%ae%c0%ae/rooms.csv",
        "/..;/..;/..;/rooms.csv",
        "//../../../rooms.csv",
        "/.%00./rooms.csv",
        "/..%5c..%5c..%5crooms.csv",
        "/C:/rooms.csv",
        "//[",
        "http://[/rooms.csv",
        "/" + "a" * 5000,
    ],
)
def test_no_spelling_of_a_path_leads_out_of_the_site(path: str, project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()
    status, _, page = preview.answer(path)
    assert status == 404
    assert b"not here" in page


@pytest.mark.parametrize("host", ["0.0.0.0", "", "::", "192.0.2.1", "elsewhere.invalid"])
def test_nobody_else_is_served(host: str, project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with pytest.raises(BuildError, match="on this machine alone"):
        listen(preview, host, 0)


def test_a_fault_while_a_page_is_answered_is_said(
    project: Project, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    preview = Preview([project.folder], project.rebuild, lambda: project.site)

    def fault(target: str) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(preview, "answer", fault)
    with served(preview) as port:
        status, _, page = get(port)
    (kept,) = tmp_path.glob("proposal-failure-*.txt")
    said = (
        "the program itself failed (ZeroDivisionError: division by zero); please report it, with the details "
        f"in {kept}"
    )
    assert (status, page) == (500, said)
    assert "in fault" in kept.read_text("utf-8")


def test_a_page_from_elsewhere_cannot_read_the_proposal_by_another_name(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        assert get(port, host=f"localhost:{port}")[0] == 200
        assert get(port, host="elsewhere.invalid")[0] == 403
        assert get(port, host="[")[0] == 403


def test_a_head_request_has_no_body(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port:
        preview.refresh()
        assert get(port, method="HEAD") == (200, "text/html; charset=utf-8", "")


def test_a_request_during_a_build_waits_for_the_file_that_is_missing_meanwhile(project: Project) -> None:
    middle, go_on = threading.Event(), threading.Event()

    def rebuild(_: Making) -> None:
        middle.set()
        assert go_on.wait(30)
        project.rebuild()

    preview = Preview([project.folder], rebuild, lambda: project.site)
    builder = threading.Thread(target=preview.refresh)
    builder.start()
    assert middle.wait(30)
    answers: list[bytes] = []
    reader = threading.Thread(target=lambda: answers.append(preview.answer("/rooms.html")[2]))
    reader.start()
    go_on.set()
    builder.join(30)
    reader.join(30)
    assert b"<p>first</p>" in answers[0]


def test_a_file_that_arrives_just_after_it_was_looked_for_is_found(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The build ends between the look at the folder and the look at whether it still works."""
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    look = preview._content
    looks: list[str] = []

    def content(path: str) -> bytes | None:
        found = look(path)
        if not looks:
            preview.refresh()
        looks.append(path)
        return found

    monkeypatch.setattr(preview, "_content", content)
    assert b"<p>first</p>" in preview.answer("/rooms.html")[2]
    assert len(looks) == 2


def test_serving_builds_shows_and_follows_changes_until_it_is_stopped(project: Project) -> None:
    stop, address = threading.Event(), []
    told = threading.Semaphore(0)
    problems: list[str] = []

    def changed(problem: str) -> None:
        problems.append(problem)
        told.release()

    thread = threading.Thread(
        target=lambda: serve(
            [project.folder], project.rebuild, lambda: project.site,
            port=0, ready=address.append, changed=changed, stop=stop, interval_s=0.01,
        )
    )  # fmt: skip
    thread.start()
    try:
        assert told.acquire(timeout=30)
        port = int(address[0].rstrip("/").rpartition(":")[2])
        assert "<p>first</p>" in get(port)[2]
        project.write("broken")
        while SHOWN not in get(port)[2]:
            assert told.acquire(timeout=30)
        project.write("repaired")
        while "<p>repaired</p>" not in get(port)[2]:
            assert told.acquire(timeout=30)
    finally:
        stop.set()
        thread.join(30)
    assert not thread.is_alive()
    assert problems[0] == ""
    assert PROBLEM in problems
    assert problems[-1] == ""
    with pytest.raises(ConnectionRefusedError):
        get(port)


def test_a_port_that_is_taken_is_said(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    with served(preview) as port, pytest.raises(BuildError, match=f"cannot listen on 127.0.0.1, port {port}"):
        listen(preview, "127.0.0.1", port)
    with pytest.raises(BuildError, match="port 99999"):
        listen(preview, "127.0.0.1", 99999)


def test_a_page_that_is_looked_at_is_shown_before_the_site_is_made(project: Project) -> None:
    """Another one is made when it is asked for, between two steps of the build."""
    seen: list[bytes] = []
    made: list[str] = []

    def contents(path: str) -> bytes | None:
        made.append(path)
        return f"<html><body>ahead of {path}</body></html>".encode() if path.endswith(".html") else None

    def rebuild(making: Making) -> None:
        if project.builds:
            making.show_ahead(contents)
            assert made == ["rooms.html"]
            seen.append(preview.answer("/rooms.html")[2])
            reader = threading.Thread(target=lambda: seen.append(preview.answer("/")[2]))
            reader.start()
            while reader.is_alive():
                making.pause()
            seen.append(preview.answer("/rooms.html")[2])
        project.rebuild()

    preview = Preview([project.folder], rebuild, lambda: project.site)
    preview.refresh()
    assert b"<p>first</p>" in preview.answer("/rooms.html")[2]
    project.write("second")
    preview.refresh()
    assert [b"ahead of rooms.html" in page for page in seen] == [True, False, True]
    assert b"ahead of index.html" in seen[1]
    assert made == ["rooms.html", "index.html"]
    for path in ("/rooms.html", "/"):  # the site is what is shown in the end
        page = preview.answer(path)[2]
        assert b"<p>second</p>" in page
        assert b"ahead" not in page


def test_what_cannot_be_shown_first_is_shown_as_it_was(project: Project) -> None:
    def contents(path: str) -> bytes | None:
        raise ZeroDivisionError

    def rebuild(making: Making) -> None:
        if project.builds:
            making.show_ahead(contents)
            assert b"<p>first</p>" in preview.answer("/rooms.html")[2]
        project.rebuild()

    preview = Preview([project.folder], rebuild, lambda: project.site)
    preview.refresh()
    preview.answer("/rooms.html")
    project.write("second")
    preview.refresh()
    assert (project.builds, preview.problem) == (2, "")


def test_a_save_overtakes_the_build_of_what_stood_there_before(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("proposal.publish.preview._BETWEEN_LOOKS_S", -1.0)
    begun: list[str] = []

    def rebuild(making: Making) -> None:
        begun.append(project.file.read_text())
        making.pause()  # nothing has changed so far
        if len(begun) == 1:
            project.write("second")
        making.pause()
        project.rebuild()

    preview = Preview([project.folder], rebuild, lambda: project.site)
    assert preview.refresh()
    assert begun == ["first", "second"]
    assert project.builds == 1
    assert not preview.refresh()
    assert b"<p>second</p>" in preview.answer("/")[2]


def test_pages_and_their_state_tell_what_is_still_being_computed(project: Project) -> None:
    states: list[dict[str, object]] = []

    def rebuild(making: Making) -> None:
        project.rebuild()
        states.append(json.loads(preview.answer("/.proposal/state")[2]))
        making.say_pending("What moves the price is <not> known yet.")
        states.append(json.loads(preview.answer("/.proposal/state")[2]))
        page = preview.answer("/")[2].decode("utf-8")
        assert re.search(r'<div role="status" id="proposal-pending" style=[^>]*>\s*What moves', page)
        assert "the price is &lt;not&gt; known yet." in page

    preview = Preview([project.folder], rebuild, lambda: project.site)
    preview.refresh()
    after = json.loads(preview.answer("/.proposal/state")[2])
    pending = [state["pending"] for state in (*states, after)]
    assert pending == ["", "What moves the price is <not> known yet.", ""]
    assert states[0]["page"] == states[1]["page"] == after["page"]  # that is no reason to load it again
    assert re.search(rb'id="proposal-pending" hidden [^>]*></div>', preview.answer("/")[2])


def test_the_state_of_a_page_changes_with_that_page_alone(project: Project) -> None:
    preview = Preview([project.folder], project.rebuild, lambda: project.site)
    preview.refresh()

    def state(page: str) -> object:
        return json.loads(preview.answer(f"/.proposal/state?page=%2F{page}")[2])["page"]

    before = [state("index.html"), state("rooms.html")]
    assert state("") == before[0]
    (project.site / "rooms.html").write_text("<html><body>another</body></html>")
    assert state("index.html") == before[0]
    assert state("rooms.html") != before[1]
