"""Show a project's site over HTTP while it is being written.

The site is made again when a watched file changes. While the input is broken the last good site stays, and
every page says what is wrong. What the pages need for that is added on the way to the browser, never to
the files.
"""

import html
import json
import os
import threading
from collections.abc import Callable, Iterator, Sequence
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from time import sleep
from urllib.parse import unquote, urlsplit

from proposal.errors import BuildError, Stopped, printable
from proposal.publish.failures import line_of
from proposal.publish.stop_signals import followed

_STATE_PATH = "/.proposal/state"
_MADE_BY_US = frozenset({"build", "published"})
_LONGEST_WAIT_S = 60.0
_BETWEEN_SAVES_S, _MOST_SAVES = 0.1, 20
_LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})

# The system's own table of types differs from machine to machine.
_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".gz": "application/gzip",
    ".html": "text/html; charset=utf-8",
    ".ics": "text/calendar; charset=utf-8",
    ".jpeg": "image/jpeg",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".xml": "application/xml",
    ".zip": "application/zip",
}

_SCRIPT = """<script>
(function (seen) {
  setInterval(function () {
    fetch("%(path)s", {cache: "no-store"}).then(function (answer) { return answer.json(); })
      .then(function (state) { if (state.generation !== seen) location.reload(); })
      .catch(function () { /* the preview has ended; the page stays */ });
  }, 700);
})(%(generation)d);
</script>
"""

_PROBLEM = """<div role="alert" style="position:sticky;top:0;z-index:9;max-height:40vh;overflow:auto;
padding:1rem 1.2rem;background:#fdf1f0;
color:#5f120d;border-bottom:3px solid #b3261e;font:15px/1.5 sans-serif">
<strong>%(title)s</strong>
<pre style="margin:.6rem 0 0;white-space:pre-wrap;overflow-wrap:anywhere;font:13px/1.5 monospace"
>%(problem)s</pre>
</div>
"""

_PAGE = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>%(title)s</title></head>
<body style="margin:0">
%(body)s</body>
</html>
"""


class Preview:
    """What is shown: the site as last made, and what is wrong with the input now, if anything."""

    def __init__(
        self, folders: Sequence[Path], rebuild: Callable[[], object], site: Callable[[], Path]
    ) -> None:
        """Watch folders for changes.

        folders: of the project, of the shared data and of a library; what a build writes into a project
        is left out.
        rebuild: makes the site again, or raises InputError or BuildError and leaves the former site.
        site: the folder of the site, below one of the folders. No link is followed in it or on the way to
        it from there.
        """
        self._folders = tuple(folders)
        self._rebuild = rebuild
        self._site = site
        self._seen: dict[Path, tuple[int, int]] | None = None
        self._idle = threading.Event()
        self._idle.set()
        self.problem = ""
        self.generation = 0

    def refresh(self) -> bool:
        """Make the site again if a watched file has changed since the last time; tell whether it had."""
        # Looked at before the build: what changes meanwhile is a change next time.
        found = dict(self._watched())
        if found == self._seen:
            return False
        if self._seen is not None:
            found = self._settled(found)
        self._seen = found
        self._idle.clear()
        try:
            self._rebuild()
            problem = ""
        except Exception as error:  # not even a fault of the program ends the preview
            problem = line_of(error)
        finally:
            self._idle.set()
        self.problem = problem
        self.generation += 1
        return True

    def _settled(self, found: dict[Path, tuple[int, int]]) -> dict[Path, tuple[int, int]]:
        """Return the watched files once nobody has saved one for a moment: several saves are one build.

        found: the files as they were just now.
        """
        for _ in range(_MOST_SAVES):
            sleep(_BETWEEN_SAVES_S)
            before, found = found, dict(self._watched())
            if found == before:
                break
        return found

    def _watched(self) -> Iterator[tuple[Path, tuple[int, int]]]:
        for top in self._folders:
            for place, folders, files in os.walk(top):
                at_top = Path(place) == top
                folders[:] = [
                    name
                    for name in sorted(folders)
                    if not (name.startswith((".", "__")) or (at_top and name in _MADE_BY_US))
                ]
                for name in sorted(files):
                    if name.startswith(".") or name.endswith("~"):
                        continue
                    path = Path(place, name)
                    try:
                        found = path.stat()
                    except OSError:  # gone meanwhile
                        continue
                    yield path, (found.st_mtime_ns, found.st_size)

    def answer(self, target: str) -> tuple[HTTPStatus, str, bytes]:
        """Return status, type and body of the answer to a request for a path.

        target: the path asked for.
        """
        try:
            path = unquote(urlsplit(target).path)
        except ValueError:  # no address at all
            path = "/.."
        if path == _STATE_PATH:
            state = {"generation": self.generation, "broken": bool(self.problem)}
            return HTTPStatus.OK, _TYPES[".json"], json.dumps(state).encode("utf-8")
        content = self._file(path)
        if content is None and not self._idle.is_set():
            # The site may be on its way from one state to the next.
            self._idle.wait(_LONGEST_WAIT_S)
            content = self._file(path)
        status = HTTPStatus.OK
        suffix = ".html" if path.endswith("/") else Path(path).suffix.lower()
        if content is None:
            status, suffix, content = HTTPStatus.NOT_FOUND, ".html", self._file("/404.html")
            if self._file("/index.html") is None:
                status, content = HTTPStatus.SERVICE_UNAVAILABLE, self._nothing()
            elif content is None:
                content = (_PAGE % {"title": "No such page", "body": "<p>No such page.</p>\n"}).encode(
                    "utf-8"
                )
        if suffix == ".html":
            content = self._dressed(content)
        return status, _TYPES.get(suffix, "application/octet-stream"), content

    def _file(self, path: str) -> bytes | None:
        parts = [part for part in path.split("/") if part]
        if any(part in (".", "..") or "\\" in part or "\0" in part or ":" in part for part in parts):
            return None
        file = self._real_site().joinpath(*parts)
        try:
            if file.is_dir():
                file /= "index.html"
            # Where a link stands on the way, the path that it leads to is another.
            whole = os.path.normcase(os.path.realpath(file)) == os.path.normcase(file)
            return file.read_bytes() if whole and file.is_file() else None
        except OSError:
            return None

    def _real_site(self) -> Path:
        """Return the folder of the site, whatever links lead to the watched folder that it lies in."""
        site = self._site()
        for top in self._folders:
            if site.is_relative_to(top):
                return Path(os.path.realpath(top)) / site.relative_to(top)
        return Path(os.path.realpath(site))

    def _nothing(self) -> bytes:
        body = "" if self.problem else "<p>The site is being made.</p>\n"
        return (_PAGE % {"title": "Preview", "body": body}).encode("utf-8")

    def _dressed(self, page: bytes) -> bytes:
        script = (_SCRIPT % {"path": _STATE_PATH, "generation": self.generation}).encode("utf-8")
        head, closing, tail = page.rpartition(b"</body>")
        page = head + script + closing + tail if closing else page + script
        if self.problem:
            title = "The project has a problem. What you see is its last good state."
            banner = _PROBLEM % {"title": title, "problem": html.escape(self.problem)}
            opening = page.find(b"<body")
            at = page.find(b">", opening) + 1 if opening >= 0 else 0
            page = page[:at] + b"\n" + banner.encode("utf-8") + page[at:]
        return page


def listen(preview: Preview, host: str, port: int) -> ThreadingHTTPServer:
    """Return a server that shows a preview, listening but not yet serving.

    host: a name of this machine that no other one can reach.
    port: 0 chooses a free one.
    Raises BuildError where the port is taken, or the host is another.
    """
    if host not in _LOOPBACK:
        raise BuildError(f"the preview is served on this machine alone; found {printable(host)}")

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:  # the library's name
            """Answer a request for a page."""
            self._answer(with_body=True)

        def do_HEAD(self) -> None:  # the library's name
            """Answer a question about a page."""
            self._answer(with_body=False)

        def _answer(self, *, with_body: bool) -> None:
            if not self._asked_here():
                # A page from elsewhere must not read a proposal by giving this machine another name.
                self.send_error(HTTPStatus.FORBIDDEN)
                return
            try:
                status, kind, body = preview.answer(self.path)
            except Exception as error:  # it is said where it is seen
                status, kind = HTTPStatus.INTERNAL_SERVER_ERROR, _TYPES[".txt"]
                body = line_of(error).encode("utf-8", "backslashreplace")
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
            self.send_header("Cache-Control", "no-store")
            self.end_headers()
            if with_body:
                self.wfile.write(body)

        def _asked_here(self) -> bool:
            asked = self.headers.get("Host", "")
            try:
                return urlsplit(f"//{asked}").hostname in _LOOPBACK
            except ValueError:
                return False

        def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the library's name
            """Say nothing about single requests."""

    class Server(ThreadingHTTPServer):
        daemon_threads = True

        def handle_error(self, request: object, client_address: object) -> None:
            """Say nothing where a browser goes away in the middle of an answer."""

    try:
        return Server((host, port), Handler)
    except (OSError, OverflowError) as error:
        raise BuildError(f"the preview cannot listen on {host}, port {port}: {error}") from error


def serve(
    folders: Sequence[Path],
    rebuild: Callable[[], object],
    site: Callable[[], Path],
    host: str = "127.0.0.1",
    port: int = 8000,
    *,
    ready: Callable[[str], None] | None = None,
    changed: Callable[[str], None] | None = None,
    stop: threading.Event | None = None,
    interval_s: float = 0.5,
) -> None:
    """Show a site and make it again whenever a watched file changes, until a signal or `stop` ends it.

    folders, rebuild, site: as `Preview` takes them.  host, port: as `listen` takes them.
    ready: told the address when it can be opened.  changed: told after every build what is wrong, "" if
    nothing is.  stop: ends the preview when set.  interval_s: time between looks at the files [s].
    Raises BuildError where `listen` does.
    """
    preview = Preview(folders, rebuild, site)
    ended = stop or threading.Event()
    server = listen(preview, host, port)
    thread = threading.Thread(target=server.serve_forever, name="preview", daemon=True)
    thread.start()
    try:
        if ready is not None:
            ready(f"http://{host}:{server.server_address[1]}/")
        while not ended.is_set():
            if preview.refresh() and changed is not None:
                changed(preview.problem)
            ended.wait(interval_s)
    except (KeyboardInterrupt, Stopped):
        followed()  # this is how a preview ends
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
