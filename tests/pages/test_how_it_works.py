from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.model.loading import load_project
from proposal.pages.acceptance_criteria import criteria_of
from proposal.pages.how_it_works import how_it_works
from proposal.pages.markdown import text
from proposal.pages.page_context import PageContext
from proposal.pipeline import compute
from tests.pages.site import browsed, pages_for
from tests.review.editing import edited
from tests.sample_document import sample_document
from tests.whole_projects import whole_computed

pytestmark = pytest.mark.pinned

EXAMPLE = Path(__file__).parents[2] / "example_project"
CHAMBER, MEETING = sample_document().room_sheets


def _words(sheet_number: int) -> dict[str, str]:
    sheet = sample_document().room_sheets[sheet_number]
    return {part.heading: " ".join(part.sentences) for part in how_it_works(sheet, ["ER1"])}


def test_the_way_of_the_sound_is_told_from_talker_to_listener() -> None:
    assert list(_words(0)) == [
        "Sources", "Radio", "Charging", "Network", "Processing", "Outputs", "Muting", "Far end",
    ]  # fmt: skip


def test_sources_name_every_form_and_the_spares() -> None:
    assert _words(0)["Sources"] == (
        "8 wireless microphones may be in use at once: 6 gooseneck and 2 handheld. "
        "Kept charged as spares: 1 gooseneck."
    )


def test_radio_and_charging_state_what_is_spare() -> None:
    assert "8 channels of access points are needed, 8 provided; none spare." in _words(0)["Radio"]
    assert "AP1 serves M1 to M4. AP2 serves M5 to M8." in _words(0)["Radio"]
    assert "4 charge slots needed, 8 provided; 4 spare." in _words(1)["Charging"]


def test_slots_that_differ_are_told_by_the_forms_that_they_take() -> None:
    """The training room of the example: of five slots of a charger three take goosenecks alone."""
    sheets = document_of(whole_computed(EXAMPLE)).room_sheets
    (training,) = [sheet for sheet in sheets if sheet.key == "training_room"]
    (row,) = [row for row in training.sizes if row.kind == "charger"]
    assert row.slots_by_form == ("3 × gooseneck", "2 × boundary or handheld or bodypack")
    told = {part.heading: " ".join(part.sentences) for part in how_it_works(training, ["ER1"])}
    assert f"of one {row.model}: 3 × gooseneck; 2 × boundary or handheld or bodypack." in told["Charging"]
    assert "Not every slot" not in _words(1)["Charging"]


def test_mute_groups_are_told_where_there_are_several() -> None:
    assert "Mute groups of microphones: chair: M1; floor: M2 to M8." in _words(0)["Muting"]
    assert "All microphones are one mute group." in _words(1)["Muting"]


def test_what_comes_back_and_who_hears_it_is_told() -> None:
    assert "It can be heard at microphones M1 to M6." in _words(0)["Far end"]
    assert _words(1)["Far end"] == "No sound is brought back into this system."


def test_a_room_on_its_own_switch_is_not_said_to_have_another() -> None:
    sheet = MEETING.model_copy(update={"own_switch": True})
    network = next(part for part in how_it_works(sheet, ["ER2"]) if part.heading == "Network")
    assert "no other is needed" in network.sentences[0]
    assert "ER2" not in network.sentences[0]


def _criteria(reader: str, sheet_number: int) -> dict[str, tuple[str, str, str]]:
    edition = edition_of(sample_document(), reader)  # type: ignore[arg-type]
    sheet = edition.document.room_sheets[sheet_number]
    return {
        row.criterion: tuple(  # type: ignore[misc]
            browsed(text(part)).text
            for part in (row.required, ", ".join(filter(None, (row.designed, row.at))), row.verdict)
        )
        for row in criteria_of(PageContext("rooms/x.md", edition, {}), sheet)
    }


def test_a_criterion_is_judged_by_the_cable_nearest_to_its_limit() -> None:
    required, designed, verdict = _criteria("reviewer", 1)["Data link nearest to its limit"]
    assert required == "at most 88.0 m at its temperature"
    assert designed == "91.3 m, B103-AP1/N1/ER2-RK1"
    assert verdict == "fails"
    assert _criteria("reviewer", 0)["Data link nearest to its limit"][2] == "holds"


def test_a_reader_who_sees_no_single_cable_gets_the_longest_run_which_is_tested() -> None:
    rows = _criteria("client", 1)
    assert "Data link nearest to its limit" not in rows
    assert rows["Longest data link"][1:] == ("91.3 m", "tested in commissioning")


def test_too_few_places_fail(tmp_path: Path) -> None:
    """One access point of three channels, fixed by hand for five microphones, and as it is chosen freely."""
    spots = "".join(f"  M{n}: {{form: boundary, pattern: cardioid, at: [{n} m, 2.5 m]}}\n" for n in (3, 4, 5))
    more = [("spare_microphones: {boundary: 1}\n", f"{spots}spare_microphones: {{boundary: 1}}\n")]
    found = {}
    for name, fixed in (("few", "rooms: {B001: {access_points: {K88607: 1}}}\n"), ("free", "rooms: {}\n")):
        folder = edited(tmp_path / name, "minimal", {"fixed.yaml": fixed, "room_types/meeting.yaml": more})
        edition = edition_of(document_of(compute(load_project(folder))), "client")
        (sheet,) = edition.document.room_sheets
        found[name] = criteria_of(PageContext("rooms/x.md", edition, {}), sheet)[0]
    few, free = found["few"], found["free"]
    assert (few.required, few.designed, few.verdict) == (
        "at least 5 channels",
        "3 channels, none spare",
        "fails",
    )
    assert (free.required, free.verdict) == ("at least 5 channels", "holds")


def test_a_document_with_nothing_in_it_still_makes_pages() -> None:
    document = sample_document()
    empty = document.model_copy(
        update=dict.fromkeys((name for name, value in document if isinstance(value, tuple)), ())
        | {"wording": {}, "finding_count": None, "price": None, "labour_hours": None}
    )
    site = pages_for(empty, "estimator")
    assert set(site.pages) == {
        "index.md", "summary.md", "rooms.md", "system.md", "drawings.md", "equipment.md", "devices.md",
        "cables.md", "assumptions.md", "cautions.md",
    }  # fmt: skip
