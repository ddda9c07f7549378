"""Make the PDF of an edition, with the fonts that ship with the program and no others."""

import calendar
import datetime
import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path
from typing import Literal

from proposal.errors import BuildError
from proposal.paper.paper_edition import PaperSource, paper_data
from proposal.paper.signs import Fonts
from proposal.publish.cache import Cache
from proposal.resources import resource

_OWN = ("Arimo-Regular.ttf", "Arimo-Bold.ttf")
_FURTHER = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
_STANDARD: Literal["ua-1"] = "ua-1"


def paper_file(source: PaperSource, cache: Cache, say: Callable[[str], None] = lambda _: None) -> bytes:
    """Return the PDF of an edition, tagged (PDF/UA-1).

    source: what it is made of.
    cache: keeps what was made.
    say: told of signs that no font has.
    Raises BuildError where the typesetting program does not take it.
    """
    fonts = Fonts(*_widths())
    data = paper_data(source, fonts)
    if fonts.missing:
        signs = " ".join(sorted(fonts.missing)[:20])
        say(f"no font of the PDF has these signs, which stand as \ufffd there: {signs}")
    template = resource("templates") / "paper" / "proposal.typ"
    told = hashlib.sha256(template.read_bytes())
    told.update(f"{version('typst')} {version('matplotlib')} {_STANDARD}\0{data}".encode())
    return cache.get_or(told.hexdigest(), lambda: _typeset(template, data, source.date))


def _typeset(template: Path, data: str, date: str) -> bytes:
    # Imported here: a site alone is made without.
    import typst

    day = datetime.date.fromisoformat(date)
    try:
        made = typst.compile(
            str(template),
            root=str(template.parent),
            font_paths=typst.Fonts(
                include_system_fonts=False,
                include_embedded_fonts=False,
                font_paths=[str(folder) for folder in _folders()],
            ),
            sys_inputs={"data": data},
            format="pdf",
            pdf_standards=[_STANDARD],
            timestamp=calendar.timegm(day.timetuple()),
        )
    except typst.TypstError as error:
        said = "; ".join((str(error), *getattr(error, "hints", ())))
        raise BuildError(f"the PDF could not be made: {said}") from error
    return made


def _folders() -> tuple[Path, Path]:
    """Return where the fonts lie: those of the drawings, and those that come with the drawing library."""
    import matplotlib

    return resource("shared") / "site" / "fonts", Path(matplotlib.get_data_path()) / "fonts" / "ttf"


class _Widths(Mapping[int, float]):
    """The width of every sign that fonts have, in ems, each looked up when it is asked for."""

    def __init__(self, paths: Sequence[Path]) -> None:
        """Read which signs there are.

        paths: of the fonts; the first that has a sign sets it.
        """
        from matplotlib.ft2font import FT2Font

        fonts = [FT2Font(str(path)) for path in reversed(paths)]
        self._fonts = {code: font for font in fonts for code in font.get_charmap()}
        self._found: dict[int, float] = {}

    def __getitem__(self, code: int) -> float:
        if code not in self._found:
            from matplotlib.ft2font import LoadFlags

            font = self._fonts[code]
            # Without a scale, distances are in the font's own units.
            glyph = font.load_char(code, flags=LoadFlags.NO_SCALE)
            self._found[code] = glyph.horiAdvance / font.units_per_EM
        return self._found[code]

    def __contains__(self, code: object) -> bool:
        return code in self._fonts

    def __iter__(self) -> Iterator[int]:
        return iter(self._fonts)

    def __len__(self) -> int:
        return len(self._fonts)


@lru_cache(maxsize=1)
def _widths() -> tuple[_Widths, _Widths]:
    """Return the widths of signs, plain and bold."""
    own, further = _folders()
    plain, bold = (_Widths((own / _OWN[n], further / _FURTHER[n])) for n in (0, 1))
    return plain, bold
