"""The standing lines that come with the program, and lines of a project that name none of them."""

from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project, standing_wording
from tests.review.editing import edited


def test_the_matrix_has_the_rows_that_the_trade_expects() -> None:
    """The subjects named in public specifications and tender texts; words of our own."""
    about = " ".join(standing_wording().responsibilities.rows).lower()
    for subject in (
        *(
            "line-voltage",
            "standby power",
            "bonding",
            "conduit",
            "boxes",
            "sleeves",
            "cores",
            "fire-stopping",
        ),
        *("tray", "hooks", "permits", "data cable", "certification", "patching", "switches", "vlan"),
        *("quality of service", "addresses", "radio coordination", "internet and conferencing", "ceiling"),
        *("paint", "backing", "access panels", "cut-outs", "ventilation", "cooling", "noise", "acoustic"),
        *("loudspeaker supports", "seismic", "assistive listening", "fire alarm", "furnished by the owner"),
        *("lifts", "scaffold", "storage", "waste", "demolition", "training", "spare"),
    ):
        assert subject in about, subject


def test_wrong_names_are_told_with_their_place_all_at_once(tmp_path: Path) -> None:
    folder = edited(
        tmp_path / "project",
        "minimal",
        {
            "project.yaml": [
                (
                    "*end*",
                    "\nscope:\n"
                    "  exclusions:\n"
                    "    furnture: {left_out: yes}\n"
                    "    lamps: {when: [radio]}\n"
                    "responsibilities:\n"
                    "  rows:\n"
                    "    Permit: {left_out: yes}\n"
                    "    Permits: {furnish: CG}\n"
                    "    Blinds: {furnish: gc, when: [loudspeaker]}\n",
                )
            ]
        },
    )
    with pytest.raises(InputError) as caught:
        load_project(folder)
    first = str(caught.value)
    # What a model refuses is told before names are looked up.
    assert "responsibilities.rows.Blinds.furnish" in first
    assert "responsibilities.rows.Blinds.when" in first
    path = folder / "project.yaml"
    path.write_text(path.read_text().replace("    Blinds: {furnish: gc, when: [loudspeaker]}\n", ""))
    with pytest.raises(InputError) as caught:
        load_project(folder)
    said = str(caught.value)
    assert "scope.exclusions.furnture: wanted a standing line: " in said
    assert "(did you mean furniture?)" in said
    assert (
        "scope.exclusions.lamps: wanted a text for a line that is not among the standing ones; found none"
        in said
    )
    assert "(did you mean Permits?)" in said
    assert "responsibilities.rows.Permits.furnish: wanted letters of a party: " in said
    assert said.count("\n") == 3
    assert all(line.startswith("project.yaml:") for line in said.splitlines())
