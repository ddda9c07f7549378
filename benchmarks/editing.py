"""Copies of a project, and the change of one word that is measured."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, product
from pathlib import Path
from string import ascii_lowercase

from benchmarks.measuring import BenchmarkError

_MADE = ("build", "published")
_USE = re.compile(r"^use: ([A-Za-z]+)", re.MULTILINE)


def fresh_copy(project: Path, folder: Path) -> Path:
    """Copy what people wrote of a project, nothing that was built, over what stood in a folder."""
    shutil.rmtree(folder, ignore_errors=True)
    return Path(shutil.copytree(project, folder, ignore=shutil.ignore_patterns(*_MADE)))


@dataclass(frozen=True, slots=True)
class RoomTypeWord:
    """The first word of what a room type is used for, which its page shows.

    file: path of the room type in its project.
    """

    file: Path

    @property
    def page(self) -> str:
        """Return the path of the page that shows it, in the site of an edition."""
        return f"/rooms/{self.file.stem}.html"

    def change(self, project: Path, word: str) -> None:
        """Write another word into a copy of the project."""
        path = project / self.file
        path.write_text(_USE.sub(f"use: {word}", path.read_text("utf-8"), count=1), "utf-8")


def room_type_word(project: Path) -> RoomTypeWord:
    """Return the word of the first room type that tells its use in one line."""
    for path in sorted((project / "room_types").glob("*.yaml")):
        if _USE.search(path.read_text("utf-8")):
            return RoomTypeWord(path.relative_to(project))
    raise BenchmarkError(f"no room type of {project} tells its use in one line")


def new_words() -> Iterator[str]:
    """Yield words of letters alone that no page holds yet, none twice."""
    for length in count(2):
        for letters in product(ascii_lowercase, repeat=length):
            yield f"Changed{''.join(letters)}"
