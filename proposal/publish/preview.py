"""Show a project's site over HTTP while it is being written.

The site is made again when a watched file changes; pages that are looked at are made first, and shown before
the rest is. While the input is broken the last good site stays, and every page says what is wrong.
"""

import hashlib
import json
import os
import threading
from collections.abc import Callable, Iterator, Sequence
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from time import monotonic, sleep
from urllib.parse import parse_qs, unquote, urlsplit

from proposal.errors import BuildError, Stopped, printable
from proposal.publish.failures import line_of
from proposal.publish.pages_ahead import Contents, Overtaken, PagesAhead
from proposal.publish.preview_additions import STATE_PATH, page_of_its_own, with_additions
from proposal.publish.stop_signals import followed

_MADE_BY_US = frozenset({"build", "published"})
_LONGEST_WAIT_S = 60.0
_BETWEEN_SAVES_S, _MOST_SAVES = 0.1, 20
_BETWEEN_LOOKS_S = 0.2
_LOOKED_AT_S, _MOST_LOOKED_AT = 30.0, 4
"""How long ago a page was asked for that is still looked at, and how many of them are made first."""
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


class Preview:
    """What is shown: the site as last made, and what is wrong with the input now, if anything."""

    def __init__(
        self, folders: Sequence[Path], rebuild: Callable[["Making"], object], site: Callable[[], Path]
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
        self._at_work = threading.Lock()
        self._ahead: PagesAhead | None = None
        self._asked: dict[str, float] = {}
        self.problem = ""
        self.pending = ""

    def refresh(self) -> bool:
        """Make the site again if a watched file has changed since the last time; tell whether it had."""
        # Looked at before the build: what changes meanwhile is a change next time.
        found = dict(self._watched())
        if found == self._seen:
            return False
        while True:
            if self._seen is not None:
                found = self._settled(found)
            self._seen = found
            self._idle.clear()
            try:
                with self._at_work:
                    self._rebuild(Making(self))
                problem = ""
                self._ahead = None
                break
            except Overtaken:
                found = dict(self._watched())
            except Exception as error:  # not even a fault of the program ends the preview
                problem = line_of(error)
                break
            finally:
                self._idle.set()
        self.problem, self.pending = problem, ""
        return True

    def show_ahead(self, contents: Contents) -> None:
        """Show pages of the site before it is made, those that are looked at at once.

        contents: called while the site is made, and never twice at a time.
        """
        ahead = PagesAhead(contents)
        now = monotonic()
        looked_at = sorted(self._asked, key=lambda path: -self._asked[path])
        recent = [path for path in looked_at if now - self._asked[path] < _LOOKED_AT_S]
        self._asked = {path: self._asked[path] for path in recent}
        for path in recent[:_MOST_LOOKED_AT]:
            ahead.make(path)
        self._ahead, self.problem = ahead, ""

    def make_asked(self) -> None:
        """Make what browsers wait for of the pages that are shown before the site is made."""
        if self._ahead is not None:
            self._ahead.make_asked()

    def is_overtaken(self) -> bool:
        """Say whether a watched file has changed since the site began to be made."""
        return dict(self._watched()) != self._seen

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
            asked = urlsplit(target)
            path, query = unquote(asked.path), parse_qs(asked.query)
        except ValueError:  # no address at all
            path, query = "/..", {}
        if path == STATE_PATH:
            shown = query.get("page", ["/"])[0]
            state = {
                "page": self._told_apart(self._found(shown)[2]),
                "broken": bool(self.problem),
                "pending": self.pending,
            }
            return HTTPStatus.OK, _TYPES[".json"], json.dumps(state).encode("utf-8")
        status, suffix, content = self._found(path)
        if suffix == ".html":
            content = with_additions(content, self._told_apart(content), self.problem, self.pending)
        return status, _TYPES.get(suffix, "application/octet-stream"), content

    def _told_apart(self, content: bytes) -> str:
        """Return what tells the state of a page from others: what it says, and what is wrong."""
        return hashlib.sha256(content + self.problem.encode("utf-8", "backslashreplace")).hexdigest()

    def _found(self, path: str) -> tuple[HTTPStatus, str, bytes]:
        """Return status, suffix and content of what stands at a path, or of what stands for it."""
        content = self._content(path)
        end = monotonic() + _LONGEST_WAIT_S
        # The site may be on its way from one state to the next, or have arrived since it was looked for.
        arrived = False
        while content is None and not arrived and monotonic() < end:
            arrived = self._idle.is_set()
            self._idle.wait(_BETWEEN_LOOKS_S)
            content = self._content(path)
        suffix = ".html" if path.endswith("/") else Path(path).suffix.lower()
        if content is not None:
            return HTTPStatus.OK, suffix, content
        if self._content("/index.html") is None:
            said = "" if self.problem else "The site is being made."
            return HTTPStatus.SERVICE_UNAVAILABLE, ".html", page_of_its_own("Preview", said)
        content = self._content("/404.html") or page_of_its_own("No such page", "No such page.")
        return HTTPStatus.NOT_FOUND, ".html", content

    def _content(self, path: str) -> bytes | None:
        """Return what stands at a path: of the pages that are shown first, else of the site."""
        parts = [part for part in path.split("/") if part]
        if any(part in (".", "..") or "\\" in part or "\0" in part or ":" in part for part in parts):
            return None
        name = "/".join([*parts, "index.html"] if path.endswith("/") else parts)
        if name.endswith(".html"):
            self._asked[name] = monotonic()
        ahead = self._ahead
        if ahead is not None:
            content = self._from_ahead(ahead, name)
            if content is not None:
                return content
        return self._file(parts)

    def _from_ahead(self, ahead: PagesAhead, name: str) -> bytes | None:
        """Return a page that is shown before the site is made; it is made where the site is, in between."""
        waiting = ahead.asked(name)
        if self._at_work.acquire(blocking=False):
            try:
                ahead.make_asked()
            finally:
                self._at_work.release()
        while not waiting.wait(_BETWEEN_LOOKS_S):
            if self._idle.is_set() or self._ahead is not ahead:
                return None
        return ahead.made(name)

    def _file(self, parts: Sequence[str]) -> bytes | None:
        """Return a file of the site.

        parts: of its path, none of which leads upward.
        """
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


class Making:
    """What a preview offers while the site is made."""

    def __init__(self, preview: Preview) -> None:
        """Take the preview that the site is made for."""
        self._preview = preview
        self._looked = monotonic()
        self._pausing = False

    def show_ahead(self, contents: Contents) -> None:
        """Show pages of the site before it is made, as `Preview.show_ahead` does."""
        self._preview.show_ahead(contents)

    def say_pending(self, said: str) -> None:
        """Say on every page what is still being computed.

        said: in words; empty where nothing is.
        """
        self._preview.pending = said

    def pause(self) -> None:
        """Make what browsers wait for; raise Overtaken where a watched file has changed meanwhile."""
        if self._pausing:  # a page that is made in a pause is made as a whole
            return
        self._pausing = True
        try:
            self._preview.make_asked()
        finally:
            self._pausing = False
        now = monotonic()
        if now - self._looked > _BETWEEN_LOOKS_S:
            self._looked = now
            if self._preview.is_overtaken():
                raise Overtaken


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
    rebuild: Callable[[Making], object],
    site: Callable[[], Path],
    host: str = "127.0.0.1",
    port: int = 8000,
    *,
    ready: Callable[[str], None] | None = None,
    changed: Callable[[str], None] | None = None,
    stop: threading.Event | None = None,
    interval_s: float = _BETWEEN_LOOKS_S,
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
