"""Which assumptions move the price most, as the estimator reads it."""

from collections.abc import Sequence
from decimal import Decimal
from typing import ClassVar

from proposal.document.rows.alternates import Sensitivity, VariedRow
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, html_text, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import formatting

SENSITIVITY = "sensitivity.md"
MOST_SHOWN = 5
_WIDTH, _ROW, _SIDE = 640, 44, 90
NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SensitivityPage:
    """What moves the price.

    price: as the proposal has it.
    drawing: the five that move it most, as bars; None where nothing moves it.
    most: the same five as a table; others: what moves it less; still: what does not move it.
    fixed: what cannot be varied.
    """

    template: ClassVar[str] = "sensitivity.md.jinja"
    price: Html
    drawing: Html | None
    most: Html | None
    others: Html | None
    still: Html | None
    fixed: Html | None


def sensitivity_page(here: PageContext, sensitivity: Sensitivity) -> SensitivityPage:
    """Return the page of what moves the price.

    sensitivity: what was computed, the largest movement first.
    """
    moving = [row for row in sensitivity.rows if movement(row, sensitivity.price)]
    still = [row for row in sensitivity.rows if not movement(row, sensitivity.price)]
    most, others = moving[:MOST_SHOWN], moving[MOST_SHOWN:]
    return SensitivityPage(
        price=text(formatting.money(sensitivity.price, here.cover.currency, here.cover.locale)),
        drawing=_bars(here, most, sensitivity.price) if most else None,
        most=_moves(here, "The assumptions that move the price most", most) if most else None,
        others=_moves(here, "Assumptions that move the price less", others) if others else None,
        still=_moves(here, "Assumptions that do not move the price", still) if still else None,
        fixed=_fixed(here, sensitivity.fixed) if sensitivity.fixed else None,
    )


def movement(row: VariedRow, price: Decimal) -> Decimal:
    """Return the largest movement of the price that a row brings, without its sign."""
    moved = (one for one in (row.lower_price, row.upper_price) if one is not None)
    return max((abs(one - price) for one in moved), default=NOTHING)


def _moves(here: PageContext, caption: str, rows: Sequence[VariedRow]) -> Html:
    fields: list[Field[VariedRow]] = [
        *fields_of(here, VariedRow, "title", "subject", "value", "lower", "lower_change", "upper"),
        *fields_of(here, VariedRow, "upper_change", "lower_problem", "upper_problem"),
    ]
    return schedule(caption, fields, rows)


def _fixed(here: PageContext, rows: Sequence[VariedRow]) -> Html:
    fields: list[Field[VariedRow]] = [
        *fields_of(here, VariedRow, "title", "subject", "value", "lower_problem", "upper_problem"),
    ]
    return schedule("What cannot be varied", fields, rows)


def _bars(here: PageContext, rows: Sequence[VariedRow], price: Decimal) -> Html:
    """Return a drawing of how far each row moves the price down and up; a table beside it tells the same."""
    largest = max(movement(row, price) for row in rows)
    middle, reach = _WIDTH / 2, _WIDTH / 2 - _SIDE
    height = _ROW * len(rows) + 8
    parts = [
        f'<svg class="bars" role="img" viewBox="0 0 {_WIDTH} {height}" width="{_WIDTH}" height="{height}">',
        "<title>How far each of these assumptions moves the price; the table below has the figures.</title>",
    ]
    for n, row in enumerate(rows):
        top = n * _ROW
        parts.append(
            f'<text x="{middle:g}" y="{top + 14}" text-anchor="middle">{html_text(_bar_title(row))}</text>'
        )
        parts.append(f'<line x1="{middle:g}" y1="{top + 18}" x2="{middle:g}" y2="{top + 38}"/>')
        sides: dict[int, Decimal] = {}
        for moved in (row.lower_price, row.upper_price):
            if moved is not None and moved != price:
                sign = 1 if moved > price else -1
                sides[sign] = max(sides.get(sign, NOTHING), abs(moved - price))
        for sign, moved in sorted(sides.items()):
            width = round(float(moved / largest) * reach, 1)
            left = middle if sign > 0 else round(middle - width, 1)
            kind = "more" if sign > 0 else "less"
            parts.append(f'<rect class="{kind}" x="{left:g}" y="{top + 20}" width="{width:g}" height="16"/>')
            shown = formatting.money(moved, here.cover.currency, here.cover.locale)
            x, anchor = (left + width + 5, "start") if sign > 0 else (left - 5, "end")
            parts.append(
                f'<text x="{x:g}" y="{top + 32}" text-anchor="{anchor}">'
                f"{'+' if sign > 0 else '−'}{html_text(shown)}</text>"
            )
    return Html(
        "\n".join(
            [
                '<div class="bars-scroll" tabindex="0" role="region" aria-label="Drawing">',
                *parts,
                "</svg>",
                "</div>",
            ]
        )
    )


def _bar_title(row: VariedRow) -> str:
    title = row.title if len(row.title) <= 80 else row.title[:79].rstrip() + "…"
    return f"{title} ({row.subject})" if row.subject not in ("", "Project") else title
