"""How a place spells pages: words and measures of our own, never what people wrote."""

import html
from functools import cache

import pytest

from proposal.document.spelling import Spelling
from proposal.model.loading import standing_wording
from proposal.quantities import formatting
from proposal.quantities.customary import feet, feet_as_written, inches


@cache
def american(*kept: str) -> Spelling:
    return Spelling(standing_wording().words.of_locale("en_US"), kept, feet=True)


@pytest.mark.parametrize(
    ("here", "there"),
    [
        ("Storeys and analogue lines", "Stories and analog lines"),
        ("First fix, then second fix", "Rough-in, then trim-out"),
        ("an outlet of the mains", "an outlet of line power"),
        ("licence-exempt radio", "license-exempt radio"),
        # The number of an assumption is a name.
        ("mains-A1, programme-A2", "mains-A1, programme-A2"),
        # A word within another one stays.
        ("colourless programmed", "colourless programmed"),
        ("Terminal block, 3.81 mm", "Terminal block, 0.15 in"),
        ("a 152 m reel and a 305 m box", "a 500 ft reel and a 1,000 ft box"),
        ("a cord of 3 m", "a cord of 10 ft"),
        ("65 mm cones", "2 1/2 in cones"),
        ("Found 91.25 m (299 ft)", "Found 299 ft"),
    ],
)
def test_words_and_measures_are_those_of_the_place(here: str, there: str) -> None:
    assert american().plain(here) == there


def test_tags_links_and_attributes_stay() -> None:
    page = '## Storey { #storey-1 }\n[Storey](programme.md) <i title="colour">colour</i> 3&#46;81 mm'
    shown = '## Story { #storey-1 }\n[Story](programme.md) <i title="colour">color</i> 0.15 in'
    assert american().page(page, html.escape) == shown


def test_what_people_wrote_stays() -> None:
    spelling = american("Labour & Programme Hall", "Storey House")
    page = "Labour &amp; Programme Hall in the programme of Storey House, storey 2"
    assert spelling.page(page, html.escape) == (
        "Labour &amp; Programme Hall in the program of Storey House, story 2"
    )


def test_signs_that_hide_a_place_are_no_way_in() -> None:
    said = "\ue0000\ue001 colour \ue000"
    assert american("colour of ours").plain(said) == "\ue0000\ue001 color \ue000"


def test_nothing_changes_elsewhere() -> None:
    british = Spelling(standing_wording().words.of_locale("en_GB"))
    assert british.page("Storeys, 3 m", html.escape) == "Storeys, 3 m"


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (9.5, "9 ft 6 in"),
        (16.0, "16 ft"),
        (0.5, "6 in"),
        (11.99, "12 ft"),
        (217.4, "217 ft"),
        (-2.5, "-2 ft 6 in"),
    ],
)
def test_feet_have_inches_up_to_a_hundred(value: float, written: str) -> None:
    assert feet_as_written(value) == written


@pytest.mark.parametrize(
    ("value_m", "written"),
    [(66.2635, "217 ft 5 in"), (60.96, "200 ft"), (2.9, "9 ft 6 in"), (381.0, "1,250 ft")],
)
def test_what_is_cut_has_inches_however_long_it_is(value_m: float, written: str) -> None:
    """A foot is 0.3048 m: 217.4 ft are 217 ft and 4.8 in."""
    assert formatting.cut_length(value_m, "us_customary", "en_US") == written
    assert formatting.cut_length(value_m, "metric", "en_GB") == f"{value_m:.1f} m"


@pytest.mark.parametrize(
    ("value", "written"), [(0.15, "0.15"), (2.56, "2 1/2"), (3.94, "4"), (7.87, "7 7/8")]
)
def test_inches_have_eighths(value: float, written: str) -> None:
    assert inches(value) == written


@pytest.mark.parametrize(
    ("value", "written"), [(9.84, "10 ft"), (2.3, "2 ft 4 in"), (498.7, "500 ft"), (328.1, "328 ft")]
)
def test_what_is_bought_by_length_has_whole_feet(value: float, written: str) -> None:
    assert feet(value) == written


def test_a_path_of_the_files_keeps_its_words() -> None:
    spelling = Spelling({"spellings.labour": "labor"})
    assert spelling.plain("labour.rates of labour. Labour") == "labour.rates of labor. Labor"
    assert spelling.page("price.labour&#46;rates", str) == "price.labour&#46;rates"


def test_what_people_wrote_is_known_whichever_way_its_quotes_are_written() -> None:
    spelling = Spelling({"spellings.storey": "story"}, ["The firm's storey"])
    said = "The firm's storey, The firm&#39;s storey, The firm&#x27;s storey, a storey"
    assert spelling.page(said, str) == f"{said.removesuffix('a storey')}a story"
