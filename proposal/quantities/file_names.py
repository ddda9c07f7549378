"""Names of files made of names that people write."""

import re
import unicodedata


def file_name(text: str, otherwise: str) -> str:
    """Return a name of small letters, digits and hyphens, such as `anytown-wholesale`.

    otherwise: name where nothing of the text is left.
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or otherwise
