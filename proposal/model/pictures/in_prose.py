"""Pictures that the author's own Markdown shows: each is a file in the project's `images/`."""

import re
from collections.abc import Collection
from urllib.parse import unquote, urlsplit

from proposal.errors import Problem
from proposal.model.reading.text_files import place_at
from proposal.quantities.messages import nearest, shown

FOLDER = "images/"

_PICTURE = re.compile(
    r"!\[(?:[^\[\]\\]|\\.)*\]\(\s*<?(?P<target>[^\s()<>]+)>?(?:\s+(?:\"[^\"]*\"|'[^']*'))?\s*\)"
)
_CODE = re.compile(r"(?P<fence>`+)(?!`).+?(?<!`)(?P=fence)(?!`)", re.DOTALL)


def wrong_pictures_in_prose(text: str, file: str, images: Collection[str], problems: list[Problem]) -> None:
    """Add a problem for each picture that a text shows and that is not in `images/`.

    text: Markdown; file: where it stands.
    images: names of the files in `images/`.
    A picture from elsewhere is none of these: it becomes its description, as no page asks the network.
    """
    # What is code is shown as it was typed. Blanks keep the places.
    prose = _CODE.sub(lambda code: " " * len(code[0]), text)
    for picture in _PICTURE.finditer(prose):
        target = picture["target"]
        try:
            parts = urlsplit(target)
        except ValueError:
            continue
        name = unquote(parts.path).removeprefix(FOLDER)
        if parts.scheme or parts.netloc or (parts.path.startswith(FOLDER) and name in images):
            continue
        near = nearest(name.rpartition("/")[2], images)
        meant = f" (did you mean {FOLDER}{near}?)" if near else ""
        message = f"wanted a picture in images/, written as images/name.png; found {shown(target)}{meant}"
        problems.append(Problem(place_at(text, picture.start("target"), file), "", message))
