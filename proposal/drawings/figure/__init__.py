"""What all drawings by matplotlib have in common: an A3 sheet, its title strip, finished SVG."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import INK, MUTED
from proposal.drawings.lettering import plain
from proposal.drawings.sheet import TitleBlock

if TYPE_CHECKING:
    from matplotlib.figure import Figure

MM_INCH = 1 / 25.4
SHEET_MM = (400.0, 277.0)
STRIP_MM = (150.0, 26.0)
SMALLEST_PT = 7.0
_LONG_NUMBER = re.compile(r"-?\d+\.\d{4,}(?![\w.])")
_SETTINGS: dict[str, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "proposal",
    "font.family": "DejaVu Sans",
    "font.size": 8.0,
    "text.parse_math": False,
    "axes.edgecolor": MUTED,
    "axes.labelcolor": INK,
    "text.color": INK,
}


@contextmanager
def settings() -> Iterator[None]:
    """Draw with our settings, whatever a user's own configuration of matplotlib says."""
    import matplotlib as mpl

    with mpl.rc_context():
        mpl.rcdefaults()
        parameters: Any = mpl.rcParams
        parameters.update(_SETTINGS)
        yield


def sheet(strip: TitleBlock) -> "Figure":
    """Return an A3 sheet within its margins, with the title strip in its lower right corner.

    strip: what the title strip says. Call within `settings()`.
    """
    from matplotlib.figure import Figure

    figure = Figure(figsize=(SHEET_MM[0] * MM_INCH, SHEET_MM[1] * MM_INCH))
    width, height = STRIP_MM[0] / SHEET_MM[0], STRIP_MM[1] / SHEET_MM[1]
    axes = figure.add_axes((1 - width - 0.004, 0.006, width, height))
    axes.set(xlim=(0, STRIP_MM[0]), ylim=(0, STRIP_MM[1]), xticks=[], yticks=[])
    part = f"  ·  {strip.part}" if strip.part else ""
    axes.text(3, 20, plain(strip.project), fontsize=7.5, color=MUTED, va="center")
    axes.text(3, 12, plain(strip.title), fontsize=11, weight="bold", va="center")
    axes.text(3, 5, plain(f"{strip.revision} · {strip.purpose}"), fontsize=7.5, color=MUTED, va="center")
    axes.text(
        STRIP_MM[0] - 3,
        20,
        plain(f"Sheet {strip.number}{part}"),
        fontsize=9,
        weight="bold",
        va="center",
        ha="right",
    )
    return figure


def finished(figure: "Figure", title: str, description: str, prefix: str) -> bytes:
    """Return a figure as SVG: named for readers who cannot see it, ids its own, nothing that tells of a run.

    title, description: its text alternative.
    prefix: makes its ids unlike those of any other drawing on a page.
    Call within `settings()`.
    """
    content = io.BytesIO()
    nothing = dict.fromkeys(("Date", "Creator", "Format", "Type"))
    figure.savefig(content, format="svg", metadata=nothing)
    text = content.getvalue().decode("utf-8")
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>\s*", "", text, flags=re.DOTALL)
    # A thousandth of a point is finer than any printer; more digits only make the file larger.
    text = re.sub(r"<(?!svg)[^>]*>", lambda tag: _LONG_NUMBER.sub(_rounded, tag[0]), text)
    text = re.sub(r'\bid="([^"]*)"', rf'id="{prefix}-\1"', text)
    text = re.sub(r'href="#([^"]*)"', rf'href="#{prefix}-\1"', text)
    text = re.sub(r"url\(#([^)]*)\)", rf"url(#{prefix}-\1)", text)
    head = (
        f'<title id="{prefix}-title">{_escaped(title)}</title>\n'
        f'<desc id="{prefix}-desc">{_escaped(description)}</desc>\n'
    )
    end = text.index(">") + 1
    opening = text[: end - 1] + f' role="img" aria-labelledby="{prefix}-title {prefix}-desc">\n'
    return (opening + head + text[end:].lstrip()).encode("utf-8")


def id_part(key: str) -> str:
    """Return a key or name as an id may hold it; different ones never give the same."""
    return "".join(sign if sign.isascii() and sign.isalnum() else f".{ord(sign):x}." for sign in key)


def _rounded(number: re.Match[str]) -> str:
    return f"{float(number[0]):.3f}".rstrip("0").rstrip(".")


def _escaped(text: str) -> str:
    return plain(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def smallest_text_pt(svg: str) -> float:
    """Return the size of a sheet's smallest text as printed on A3, pt.

    svg: a sheet made by `sheet`, whose user units are points at full size.
    """
    sizes = [float(size) for size in re.findall(r"font(?:-size)?:[^;\"]*?([0-9.]+)px", svg)]
    return min(sizes)
