"""Which signs the fonts of paper have, how wide they are, and what stands for those that they lack."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field

MISSING = "\ufffd"
"""Stands for a sign that no font has: the reader sees that something is missing."""
_UNKNOWN_EM = 0.6
_JOINERS = frozenset("\u200c\u200d")


@dataclass(slots=True)
class Fonts:
    """The signs that text can be set with.

    plain, bold: width of each sign in ems, by its number, as the first font that has it gives it.
    missing: signs that were asked for and that none has.
    """

    plain: Mapping[int, float]
    bold: Mapping[int, float]
    missing: set[str] = field(default_factory=set)

    def shown(self, text: str) -> str:
        """Return text of which every sign can be set; what cannot be seen is left out.

        text: as a page has it.
        """
        if text.isascii() and text.isprintable():
            return text
        return "".join(self._sign(sign) for sign in text)

    def width(self, text: str, *, bold: bool = False) -> float:
        """Return the width of text on one line, in ems.

        text: as `shown` returns it.  bold: whether it is set in bold.
        """
        widths = self.bold if bold else self.plain
        return sum(widths.get(ord(sign), _UNKNOWN_EM) for sign in text)

    def _sign(self, sign: str) -> str:
        if ord(sign) in self.plain and ord(sign) in self.bold and sign not in "\ufeff\u00ad":
            if sign in _JOINERS or unicodedata.category(sign) not in ("Cc", "Cf", "Cs", "Co", "Cn"):
                return sign
            return ""
        if sign.isspace():
            return " "
        if unicodedata.category(sign) in ("Cc", "Cf", "Cs"):
            return ""
        self.missing.add(sign)
        return MISSING
