"""What all drawings by matplotlib have in common: the field of a sheet, finished SVG."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from proposal.drawings.colours import INK, MUTED
from proposal.drawings.lettering import plain
from proposal.drawings.sheet import TitleBlock

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MM_INCH = 1 / 25.4
SMALLEST_PT = 7.0
_LONG_NUMBER = re.compile(r"-?\d+\.\d{4,}(?![\w.])")
_SETTINGS: dict[str, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "proposal",
    # What the library measures texts with: wider than the face that sheets are shown in.
    "font.family": "DejaVu Sans",
    "font.size": 8.0,
    "text.parse_math": False,
    "axes.edgecolor": MUTED,
    "axes.labelcolor": INK,
    "text.color": INK,
    "lines.scale_dashes": False,
    # Where a title stands is not searched for: nothing stands above our axes.
    "axes.titley": 1.0,
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


def field(strip: TitleBlock) -> "Figure":
    """Return an empty figure of the size of the field of a sheet.

    strip: what the title block says, and the paper. Call within `settings()`.
    """
    from matplotlib.figure import Figure

    width, height = strip.paper.field_mm
    figure = Figure(figsize=(width * MM_INCH, height * MM_INCH))
    figure.patch.set_visible(False)
    return figure


def whole_field(figure: "Figure", strip: TitleBlock) -> "Axes":
    """Return axes over the whole field, in mm on paper.

    figure: as `field` returns it.  strip: what the title block says, and the paper.
    """
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    width, height = strip.paper.field_mm
    axes.set(xlim=(0, width), ylim=(0, height))
    axes.set_axis_off()
    return axes


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
    text = re.sub(r"font-family: [^;\"]*; ?", "", text)
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
