"""Which signs the fonts of paper have, how wide they are, and what stands for those that they lack."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import field
from functools import lru_cache

from proposal.field_classes import dataclass

MISSING = "\ufffd"
"""Stands for a sign that no font has: the reader sees that something is missing."""
_BREAK = "\u200b"
_LONGEST_WORD = 24
"""Signs of a word that stand on one line in the largest text of a page."""
_UNKNOWN_EM = 0.6
_JOINERS = frozenset("\u200c\u200d")


def broken(text: str, most: int) -> str:
    """Return text in which a longer word may be broken, after a sign or a stroke where one stands.

    most: signs of a word that stay together.
    """
    return _word(most).sub(lambda word: _pieces(most).sub(f"\\g<0>{_BREAK}", word[0]), text)


@lru_cache(maxsize=64)
def _word(most: int) -> re.Pattern[str]:
    return re.compile(rf"[^\s{_BREAK}]{{{most + 1},}}")


@lru_cache(maxsize=64)
def _pieces(most: int) -> re.Pattern[str]:
    return re.compile(rf"[^-/_.,:;=&?+]{{0,{most - 1}}}[-/_.,:;=&?+](?=.)|[^-/_.,:;=&?+]{{{most}}}(?=.)")


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
        if not (text.isascii() and text.isprintable()):
            text = "".join(self._sign(sign) for sign in text)
        return broken(text, _LONGEST_WORD) if len(text) > _LONGEST_WORD else text

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
