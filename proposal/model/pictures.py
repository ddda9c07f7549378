"""Whether a picture is what its name says and can stand in a page that asks nothing of the network."""

import re

from proposal.errors import Place, Problem
from proposal.model.messages import shown
from proposal.model.text_files import place_at, text_of

_SIGNATURES = {
    ".png": (b"\x89PNG\r\n\x1a\n", "a PNG picture"),
    ".jpg": (b"\xff\xd8\xff", "a JPEG picture"),
    ".jpeg": (b"\xff\xd8\xff", "a JPEG picture"),
}
# Scripts, entities and anything fetched from elsewhere; `#name` and embedded pictures stay inside the file.
_UNSAFE = re.compile(
    r"<script|<foreignObject|<!ENTITY|<\?xml-stylesheet|@import|javascript:|\son[a-z]+\s*=|"
    r"href\s*=\s*[\"'](?!#|data:image/(?:png|jpeg))[^\"']*|url\((?!\s*[\"']?#)[^)]*|"
    r"<(?:image|use|feImage)[^>]*\ssrc\s*=",
    re.IGNORECASE,
)


def wrong_picture(file: str, data: bytes, problems: list[Problem]) -> None:
    """Add what is wrong with a picture.

    file: path relative to the project folder; its ending tells the format.
    """
    ending = file[file.rfind(".") :].lower()
    if ending in _SIGNATURES:
        signature, name = _SIGNATURES[ending]
        if not data.startswith(signature):
            found = "an empty file" if not data else "something else"
            problems.append(Problem(Place(file), "", f"wanted {name}; found {found}"))
        return
    text = text_of(data, file, problems)
    if text is None:
        return
    if "<svg" not in text:
        found = "an empty file" if not text.strip() else "something else"
        problems.append(Problem(Place(file), "", f"wanted an SVG drawing; found {found}"))
    elif unsafe := _UNSAFE.search(text):
        message = "wanted a drawing without scripts and without anything from outside the file"
        place = place_at(text, unsafe.start(), file)
        problems.append(Problem(place, "", f"{message}; found {shown(unsafe[0].strip())}"))
