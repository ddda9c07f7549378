"""The power budgets of switches as bars against their limits."""

from collections.abc import Sequence

from proposal.document.rows.power import SwitchRow
from proposal.pages.markdown import Html, html_text
from proposal.pages.page_context import PageContext

MOST_BARS = 12
_WIDTH, _ROW, _SIDE = 720, 74, 8


def fullest_first(switches: Sequence[SwitchRow]) -> tuple[SwitchRow, ...]:
    """Return the switches that power something, those with the greatest share of their budget first.

    switches: of the document; at most a drawing's number of them come back.
    """
    powering = [row for row in switches if row.allocated_w > 0]
    # Without any budget, whatever is allocated is beyond every share.
    ordered = sorted(
        powering, key=lambda row: (row.budget_w > 0, -row.allocated_w / (row.budget_w or 1.0), row.tag)
    )
    return tuple(ordered[:MOST_BARS])


def budget_bars(here: PageContext, switches: Sequence[SwitchRow]) -> Html:
    """Return the drawing: what is drawn and allocated at each switch, its budget, and its worst port.

    here: the page.
    switches: some that power something; the first stands on top.
    """
    most_w = max(max(row.budget_w, row.allocated_w, row.drawn_w) for row in switches)
    scale = (_WIDTH - 2 * _SIDE) / most_w
    height = _ROW * len(switches) + 4
    drawn = [part for n, row in enumerate(switches) for part in _bar(here, row, n * _ROW, scale)]
    told = "; ".join(f"{row.tag}: {_amounts(here, row)}, {_worst(here, row)}" for row in switches)
    return Html(
        "\n".join(
            (
                '<div class="bars-scroll" tabindex="0" role="region" aria-label="Drawing of power budgets">',
                f'<svg class="bars" role="img" viewBox="0 0 {_WIDTH} {height}" width="{_WIDTH}" '
                f'height="{height}">',
                f"<title>{html_text(f'Power budgets of switches. {told}.')}</title>",
                *drawn,
                "</svg>",
                "</div>",
            )
        )
    )


def _bar(here: PageContext, row: SwitchRow, top: int, scale: float) -> Sequence[str]:
    """Return the lines of text and the bars of one switch."""
    verdict = here.values.words.value(row.verdict)
    budget, usable = (round(_SIDE + watts * scale, 1) for watts in (row.budget_w, row.usable_w))
    aside, drawn = (round(watts * scale, 1) for watts in (row.allocated_w, row.drawn_w))
    told = html_text(f"{row.tag}, {verdict}: {_amounts(here, row)}")
    return (
        f'<text x="{_SIDE}" y="{top + 14}">{told}</text>',
        f'<rect class="aside" x="{_SIDE}" y="{top + 20}" width="{aside:g}" height="24"/>',
        f'<rect class="less" x="{_SIDE}" y="{top + 26}" width="{drawn:g}" height="12"/>',
        f'<line class="usable" x1="{usable:g}" y1="{top + 18}" x2="{usable:g}" y2="{top + 46}"/>',
        f'<line class="limit" x1="{budget:g}" y1="{top + 18}" x2="{budget:g}" y2="{top + 46}"/>',
        f'<text x="{_SIDE}" y="{top + 60}">{html_text(_worst(here, row))}</text>',
    )


def _amounts(here: PageContext, row: SwitchRow) -> str:
    drawn, aside, usable, budget = (
        here.quantity(watts, "power") for watts in (row.drawn_w, row.allocated_w, row.usable_w, row.budget_w)
    )
    return f"{drawn} drawn, {aside} allocated, limits {usable} with headroom and {budget} in all"


def _worst(here: PageContext, row: SwitchRow) -> str:
    if not row.worst_port:
        return "no worst port"
    if row.worst_spare_v is None:
        return f"worst port {row.worst_port}: its cable carries nothing"
    return (
        f"worst port {row.worst_port}: {here.quantity(row.worst_spare_v, 'voltage')} to spare at the device"
    )
