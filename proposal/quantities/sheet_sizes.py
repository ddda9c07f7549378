"""The sheets that a proposal is printed on, by the project's locale."""

from typing import NamedTuple

_MM_PT = 72 / 25.4


class Size(NamedTuple):
    """A sheet or an area of one, pt."""

    width: float
    height: float

    def turned(self) -> "Size":
        """Return it with width and height exchanged."""
        return Size(self.height, self.width)


class Sheets(NamedTuple):
    """The two sheets of a proposal, upright: for text, and for drawings and schedules of many columns.

    name: of the large one.
    """

    usual: Size
    large: Size
    name: str


_A4_A3 = Sheets(Size(210 * _MM_PT, 297 * _MM_PT), Size(297 * _MM_PT, 420 * _MM_PT), "A3")
_LETTER_ANSI_B = Sheets(Size(612, 792), Size(792, 1224), "ANSI B")

# Unicode CLDR, supplemental data, measurementData: territories whose paper size is US Letter.
_LETTER = frozenset({"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"})

MARGIN_PT = 18 * _MM_PT
"""Of pages of text, left and right, pt."""
SHEET_MARGIN_PT = 10 * _MM_PT
"""Of drawings, from the edge of the sheet to the frame, all round, pt."""


def sheets_for(locale: str, units: str) -> Sheets:
    """Return the sheets of a project.

    locale: as in `en_GB`.  units: `metric` or `us`, which decides where the locale names no territory.
    """
    territory = next((one for one in locale.split("_")[1:] if len(one) == 2 and one.isupper()), "")
    if territory in _LETTER or (not territory and units != "metric"):
        return _LETTER_ANSI_B
    return _A4_A3
