"""Whether a picture is what its name says and can stand in a page that asks nothing of the network."""

from proposal.errors import Place, Problem
from proposal.model.pictures.bitmap import kind_of, wrong_bitmap
from proposal.model.pictures.svg_references import wrong_references
from proposal.model.pictures.svg_rules import Kept, kept_of
from proposal.model.pictures.svg_text import svg_text
from proposal.model.pictures.svg_tree import read_svg
from proposal.model.reading.text_files import text_of

_BITMAPS = {".png": "a PNG picture", ".jpg": "a JPEG picture", ".jpeg": "a JPEG picture"}


def wrong_picture(file: str, data: bytes, problems: list[Problem]) -> None:
    """Add what is wrong with a picture.

    data: content of the file.
    problems: gets what is wrong.
    file: path relative to the project folder; its ending tells the format.
    """
    wanted = _BITMAPS.get(file[file.rfind(".") :].lower())
    if wanted is None:
        _drawing(file, data, problems)
    elif (found := kind_of(data)) != wanted:
        problems.append(Problem(Place(file), "", f"wanted {wanted}; found {found}"))
    elif message := wrong_bitmap(data):
        problems.append(Problem(Place(file), "", message))


def published_picture(file: str, data: bytes) -> bytes:
    """Return the bytes of a picture as readers get them.

    data: content of the file.
    file: as `wrong_picture` takes it, which found nothing wrong.
    A drawing loses what no browser draws, such as the notes of the program it was made with, which may tell
    names and folders; one that holds nothing of the kind stays as it is.
    """
    if file[file.rfind(".") :].lower() in _BITMAPS:
        return data
    problems: list[Problem] = []
    kept = _drawing(file, data, problems)
    assert kept is not None, problems
    return data if kept.whole else svg_text(kept.root).encode("utf-8")


def _drawing(file: str, data: bytes, problems: list[Problem]) -> Kept | None:
    """Return what of a drawing is published, or None after adding what is wrong with it."""
    text = text_of(data, file, problems)
    if text is None:
        return None
    if not text.strip():
        problems.append(Problem(Place(file), "", "wanted an SVG drawing; found an empty file"))
        return None
    if not text.lstrip().startswith("<"):
        problems.append(Problem(Place(file), "", f"wanted an SVG drawing; found {kind_of(data)}"))
        return None
    tree = read_svg(text, file, problems)
    kept = None if tree is None else kept_of(tree, problems)
    if tree is None or kept is None:
        return None
    before = len(problems)
    wrong_references(tree, kept, problems)
    return kept if len(problems) == before else None
