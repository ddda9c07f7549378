"""Lettering: widths as published, lines that fit."""

import re
from pathlib import Path

import matplotlib
import pytest

from proposal.drawings.lettering import width_pt, wrapped, wrapped_list


@pytest.mark.independent
def test_widths_of_signs_are_those_of_the_published_metrics() -> None:
    # Adobe's metrics of Helvetica, as matplotlib ships them.
    path = Path(matplotlib.get_data_path()) / "fonts" / "pdfcorefonts" / "Helvetica.afm"
    metrics = re.findall(r"^C (\d+) ; WX (\d+) ;", path.read_text(encoding="latin-1"), re.MULTILINE)
    published = {int(code): int(width) for code, width in metrics}
    # Two signs stand elsewhere in the old encoding of that file: ' and ` are curly there.
    for code in {*range(32, 127)} - {ord("'"), ord("`")}:
        assert width_pt(chr(code), 1000) == published[code], chr(code)


def test_lines_break_where_they_must_and_are_cut_with_an_ellipsis() -> None:
    assert wrapped("one two", 1000, 2) == ("one two",)
    lines = wrapped("several words that will not fit on a single line of this width", 90, 2)
    assert len(lines) == 2
    assert lines[1].endswith("…")
    assert all(width_pt(line) <= 90 for line in lines)
    assert wrapped_list(("1 access point", "2 chargers"), 66, 3) == ("1 access point,", "2 chargers")
