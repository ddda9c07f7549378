"""What clients say: each block of the page fits its file in the project that `proposal new` writes."""

import re
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from proposal.model.loading import load_project
from proposal.resources import resource

PAGE = Path(__file__).parents[1] / "docs" / "sentences.md"
BLOCK = re.compile(r"In `([\w/.]+)`[^`]*?:\n\n```yaml\n(.*?)```", re.DOTALL)
BLOCKS = BLOCK.findall(PAGE.read_text("utf-8"))


def merged(under: Any, over: Any) -> Any:
    if not (isinstance(under, dict) and isinstance(over, dict)):
        return over
    return {**under, **{key: merged(under.get(key), value) for key, value in over.items()}}


def test_every_block_is_read() -> None:
    assert len(BLOCKS) == PAGE.read_text("utf-8").count("```yaml") == 19


@pytest.mark.parametrize(("file", "block"), BLOCKS)
def test_a_block_fits_the_file_it_is_for(file: str, block: str, tmp_path: Path) -> None:
    project = tmp_path / "project"
    shutil.copytree(resource("shared") / "starter", project)
    path = project / file
    # Scalars stay texts, as the program reads them.
    written = merged(*(yaml.load(text, yaml.BaseLoader) for text in (path.read_text("utf-8"), block)))
    path.write_text(yaml.safe_dump(written, allow_unicode=True), "utf-8")
    load_project(project)
