"""How long sound takes from microphones to those who listen."""

from typing import ClassVar

from proposal.document.rows.latency import LatencyRow
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class LatencyPage:
    """The delay of each kind of microphone at each listener, its parts, and the test on site.

    delays: against their limits.
    parts: what each part takes.
    ways: what sound passes.
    test: to be filled in on site.
    """

    template: ClassVar[str] = "latency.md.jinja"
    delays: Html
    parts: Html
    ways: Html
    test: Html


def latency_page(here: PageContext) -> LatencyPage:
    """Return the page of delays."""
    rows = here.document.latencies
    heads = 5 if any(row.returned_from for row in rows) else 4
    where: list[Field[LatencyRow]] = [
        *fields_of(here, LatencyRow, "spoken_in", "heard_in", "model", "returned_from", "listener"),
    ]
    delays: list[Field[LatencyRow]] = [
        *where,
        *fields_of(here, LatencyRow, "verdict", "total_s", "limit_s", "largest", "unknown", "states"),
    ]
    parts: list[Field[LatencyRow]] = [
        *where,
        *fields_of(here, LatencyRow, "microphone_s", "radio_s", "access_point_s", "network_s", "mixing_s"),
        *fields_of(here, LatencyRow, "amplifier_s", "total_s"),
    ]
    ways: list[Field[LatencyRow]] = [*where, *fields_of(here, LatencyRow, "rooms", "way")]
    test: list[Field[LatencyRow]] = [
        *where,
        *fields_of(here, LatencyRow, "total_s", "limit_s", "measured", "tested_by"),
    ]
    return LatencyPage(
        delays=schedule(
            "Delay against its limit", delays, rows, mark=here.mark("latencies"), row_heads=heads
        ),
        parts=schedule("What each part takes", parts, rows, row_heads=heads),
        ways=schedule("What sound passes", ways, rows, row_heads=heads),
        test=schedule("Delay measured on site", test, rows, row_heads=heads),
    )
