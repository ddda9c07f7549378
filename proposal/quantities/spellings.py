"""Words that a place spells or calls otherwise, in running text."""

import re
from collections.abc import Mapping

_POINT = r"(?:\.|&#46;)"
HYPHEN = "&#45;"
"""How a hyphen stands on pages, where each sign of ASCII is an entity."""


class Spellings:
    """A table of words by which texts are spelled anew, whole words alone, capitals kept."""

    def __init__(self, table: Mapping[str, str]) -> None:
        """Take the table.

        table: how a word is spelled, by the word in small letters; longer ones go before shorter ones.
        """
        self._table = table
        longest = sorted(table, key=lambda word: (-len(word), word))
        joined = "|".join(re.escape(word).replace(r"\-", f"(?:-|{HYPHEN})") for word in longest)
        # A word that begins a number, such as `mains-A1`, or stands in a path, such as `labour.rates`, is
        # a part of a name.
        named = rf"(?!(?:-|{HYPHEN})[A-Z][0-9])(?!{_POINT}\w)"
        before = r"(?<!\w)(?<!\w\.)(?<!&#46;)"
        self._pattern = re.compile(rf"{before}(?:{joined})(?!\w){named}", re.IGNORECASE) if longest else None

    def holds(self, said: str) -> bool:
        """Return whether a text has a word of the table.

        said: the text.
        """
        return self._pattern is not None and self._pattern.search(said) is not None

    def spelled(self, said: str) -> str:
        """Return a text as the place spells it.

        said: the text.
        """
        return said if self._pattern is None else self._pattern.sub(self._other, said)

    def _other(self, found: "re.Match[str]") -> str:
        word = self._table[found[0].lower().replace(HYPHEN, "-")]
        return word[0].upper() + word[1:] if found[0][0].isupper() else word
