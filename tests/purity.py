"""Run the pure steps of the program under watch and print what they touched and what came out, as JSON.

Called by test_pipeline.py in a process of its own: `python -m tests.purity PROJECT FAULT…`. The steps run
once to import what they import and read what libraries read at first use; then again, watched, and after
them the faults, which are Python statements that touch something. Clocks are watched where faults are given.
`python -m tests.purity --once PROJECT` runs them once, and prints what came out alone.
"""

import hashlib
import json
import sys
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

from proposal.design.solving.objective import cover
from proposal.document.making.document import document_of
from proposal.document.making.proposal import alternate_document, combination, combinations_of, proposal_of
from proposal.document.making.sensitivity import cases_of, price_of, sensitivity_of
from proposal.document.readers import READERS
from proposal.document.whole_proposal import Proposal
from proposal.drawings.drawing import Drawing as Drawn
from proposal.drawings.kinds import drawing_of
from proposal.editions import edition_of_proposal
from proposal.exports.document_json import document_json
from proposal.model.loading import load_source
from proposal.model.source import ProjectSource
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.site_pages import Drawing, pages_of
from proposal.pipeline import compute
from proposal.publish.edition_site import templates
from tests.long_form import LONG

TOUCHING = ("open", "os.", "shutil.", "glob.", "pathlib.", "tempfile.", "socket.", "subprocess.", "pty.")
CLOCKS = frozenset({"time", "time_ns", "monotonic", "monotonic_ns", "perf_counter", "now", "utcnow", "today"})
CLOCK_MODULES = frozenset({"time", "datetime", None})

# The editions that show least and most of what can be shown.
PAGED = ("client", "estimator")


def proposal_with_alternates(source: ProjectSource) -> Proposal:
    """Return a whole proposal, a few of its assumptions varied."""
    computed = compute(source.base)
    cases = cases_of(source.base)[:: 12 if LONG else 36]
    return proposal_of(
        source,
        document_of(computed),
        {key: alternate_document(source, key) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.open)],
        sensitivity_of(
            computed.price.whole.price,
            [
                (case, price_of(source, computed, case, "lower"), price_of(source, computed, case, "upper"))
                for case in cases
            ],
        ),
    )


def outputs(source: ProjectSource, pages: Any) -> dict[str, str]:
    """Return a digest of everything the pure steps make, by what it is."""
    made: dict[str, bytes] = {}
    drawn_before: dict[str, bytes] = {}
    proposal = proposal_with_alternates(source)
    for reader in READERS:
        edition = edition_of_proposal(proposal, reader)
        made[f"{reader}.json"] = document_json(edition)
        drawings = {}
        for sheet in sheets_of(edition.document):
            drawing = drawing_of(edition, sheet)
            name = drawing.fingerprint
            if name not in drawn_before:
                drawn_before[name] = drawn(drawing)
            made[f"{reader} {sheet.number}"] = drawn_before[name]
            drawings[sheet.number] = Drawing(
                number=sheet.number,
                file=f"{sheet.number}.svg",
                title=sheet.title,
                alternative=sheet.title,
                description=drawing.alternative,
                size=(1587, 1123),
            )
        if reader in PAGED:
            site = pages_of(edition, drawings, pages)
            made[f"{reader} pages"] = repr((site.nav, sorted(site.pages.items()))).encode()
    return {name: hashlib.sha256(content).hexdigest() for name, content in made.items()}


def drawn(drawing: Drawn) -> bytes:
    """Return a drawing as far as it is made without the layout program."""
    taken: list[str] = []

    def lay_out(source: str) -> str:
        taken.append(source)
        raise StopIteration

    try:
        return drawing.render(lay_out)
    except StopIteration:
        return taken[0].encode()


class Watch:
    """What was touched while it was on: files, processes and the network by audit events, clocks by calls."""

    def __init__(self) -> None:
        self.on = False
        self.touched: list[str] = []

    def audit(self, event: str, arguments: tuple[Any, ...]) -> None:
        if self.on and event.startswith(TOUCHING) and not importing(sys._getframe(1)):
            self.touched.append(f"{event} {arguments!r}"[:200])

    def profile(self, frame: FrameType, event: str, argument: Any) -> None:
        if event == "c_call" and argument.__name__ in CLOCKS and argument.__module__ in CLOCK_MODULES:
            code: CodeType = frame.f_code
            self.touched.append(f"clock {argument.__name__} in {code.co_filename}:{frame.f_lineno}")


def importing(frame: FrameType | None) -> bool:
    """Return whether a module is being imported."""
    while frame is not None:
        if "importlib" in frame.f_code.co_filename:
            return True
        frame = frame.f_back
    return False


def main(folder: Path, faults: list[str]) -> None:
    source, pages = load_source(folder), templates()
    first = outputs(source, pages)
    # What was chosen is remembered; the solver is to run once more.
    cover.cache_clear()
    watch = Watch()
    sys.addaudithook(watch.audit)
    watch.on = True
    if faults:
        sys.setprofile(watch.profile)
    second = outputs(source, pages)
    touched = list(watch.touched)
    for fault in faults:
        exec(fault)
    sys.setprofile(None)
    watch.on = False
    seen = watch.touched[len(touched) :]
    print(json.dumps({"touched": touched, "faults": seen, "first": first, "second": second}))


def main_once(folder: Path) -> None:
    print(json.dumps({"first": outputs(load_source(folder), templates())}))


if __name__ == "__main__":
    if sys.argv[1] == "--once":
        main_once(Path(sys.argv[2]))
    else:
        main(Path(sys.argv[1]), sys.argv[2:])
