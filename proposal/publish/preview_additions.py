"""What a preview adds to a page on its way to the browser, never to the files.

A script that loads the page again when it has changed, and leaves the reader where they were; what is wrong
with the input; and what is still being computed.
"""

import html
import json

STATE_PATH = "/.proposal/state"

_SCRIPT = """<script>
(function (seen) {
  var key = "proposal preview " + location.pathname;
  var asked = %(path)s + "?page=" + encodeURIComponent(location.pathname);
  function folded() { return Array.from(document.querySelectorAll("details")); }
  function again() {
    sessionStorage.setItem(key, JSON.stringify({
      x: window.scrollX, y: window.scrollY, open: folded().map(function (one) { return one.open; })
    }));
    location.reload();
  }
  function where() {
    var kept = JSON.parse(sessionStorage.getItem(key) || "null");
    sessionStorage.removeItem(key);
    if (!kept) { return; }
    folded().forEach(function (one, n) { if (n in kept.open) { one.open = kept.open[n]; } });
    window.scrollTo(kept.x, kept.y);
  }
  function look() {
    fetch(asked, {cache: "no-store"}).then(function (answer) { return answer.json(); })
      .then(function (state) {
        var note = document.getElementById("proposal-pending");
        if (note.textContent !== state.pending) { note.textContent = state.pending; }
        note.hidden = !state.pending;
        if (state.page !== seen) { again(); } else { setTimeout(look, 300); }
      })
      .catch(function () { setTimeout(look, 1000); /* the preview has ended; the page stays */ });
  }
  if (document.readyState === "complete") { where(); } else { window.addEventListener("load", where); }
  setTimeout(look, 300);
})(%(seen)s);
</script>
"""

_PENDING = """<div role="status" id="proposal-pending"%(hidden)s style="position:fixed;bottom:0;left:0;
z-index:9;margin:0;padding:.5rem .9rem;background:#fff8e1;color:#3d2e00;border-top:2px solid #8a6100;
font:14px/1.4 sans-serif">%(pending)s</div>
"""

_PROBLEM = """<div role="alert" style="position:sticky;top:0;z-index:9;max-height:40vh;overflow:auto;
padding:1rem 1.2rem;background:#fdf1f0;
color:#5f120d;border-bottom:3px solid #b3261e;font:15px/1.5 sans-serif">
<strong>The project has a problem. What you see is its last good state.</strong>
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


def page_of_its_own(title: str, said: str) -> bytes:
    """Return a page that is none of the site.

    title: of the page.
    said: what it says, as plain text; nothing where it is empty.
    """
    body = f"<p>{html.escape(said)}</p>\n" if said else ""
    return (_PAGE % {"title": html.escape(title), "body": body}).encode("utf-8")


def with_additions(page: bytes, seen: str, problem: str, pending: str) -> bytes:
    """Return a page as the browser gets it.

    page: as the site has it.
    seen: what tells this state of the page from others.
    problem: what is wrong with the input, empty where nothing is.
    pending: what is still being computed, empty where nothing is.
    """
    note = _PENDING % {"hidden": "" if pending else " hidden", "pending": html.escape(pending)}
    script = _SCRIPT % {"path": json.dumps(STATE_PATH), "seen": json.dumps(seen)}
    added = (note + script).encode("utf-8")
    head, closing, tail = page.rpartition(b"</body>")
    page = head + added + closing + tail if closing else page + added
    if problem:
        banner = _PROBLEM % {"problem": html.escape(problem)}
        opening = page.find(b"<body")
        at = page.find(b">", opening) + 1 if opening >= 0 else 0
        page = page[:at] + b"\n" + banner.encode("utf-8") + page[at:]
    return page
