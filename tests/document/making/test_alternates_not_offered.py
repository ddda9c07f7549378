"""Alternates that cannot be chosen say why; of a group one has to be chosen, and deducts lower the price."""

import html
import json
import re
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.making.alternates_not_offered import NO_DEDUCTION, OVERTAKEN, lines_of_not_offered
from proposal.document.making.document import document_of
from proposal.document.making.plain_warnings import plain_words
from proposal.document.making.proposal import (
    alternate_document,
    combination,
    combinations_of,
    combined_and_why,
    each_once,
    proposal_of,
)
from proposal.document.whole_proposal import Proposal
from proposal.editions import Edition, edition_of_proposal
from proposal.model.loading import load_source
from proposal.pages.paths import ALTERNATES, SUMMARY
from proposal.pipeline import compute
from tests.pages.site import page_of
from tests.review.editing import edited

FILES = {
    # The network of the building takes the sound of its room away.
    "alternates/closed.yaml": """\
name: Closed sessions
description: What is said stays in the room.
changes: {room_types: {meeting: {network: rack, sound_stays: Claims are discussed}}}
""",
    # The room has this spare already.
    "alternates/spare.yaml": """\
name: A spare microphone
description: One lies ready.
changes: {room_types: {meeting: {spare_microphones: {boundary: 1}}}}
""",
    "alternates/without.yaml": """\
name: Without a spare
description: None lies ready.
deductive: yes
changes: {room_types: {meeting: {spare_microphones: {boundary: 0}}}}
""",
    "alternates/dearer.yaml": """\
name: Two spares
description: It is called a deduct and is none.
deductive: yes
changes: {room_types: {meeting: {spare_microphones: {boundary: 2}}}}
""",
}
GROUP = {
    "alternates/two.yaml": """\
name: Two spares
description: Two lie ready.
one_of: spare microphones
changes: {room_types: {meeting: {spare_microphones: {boundary: 2}}}}
""",
    "alternates/three.yaml": """\
name: Three spares
description: Three lie ready.
one_of: spare microphones
changes: {room_types: {meeting: {spare_microphones: {boundary: 3}}}}
""",
}


def proposal(folder: Path, files: dict[str, str]) -> Proposal:
    source = load_source(edited_with(folder, files))
    computed = compute(source.base)
    computing = each_once(computed)
    return proposal_of(
        source,
        document_of(computed),
        {key: alternate_document(source, key, computing) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.priced)],
        None,
    )


def edited_with(folder: Path, files: dict[str, str]) -> Path:
    made = edited(folder, "minimal", {})
    (made / "alternates").mkdir()
    for name, content in files.items():
        (made / name).write_text(content, encoding="utf-8")
    return made


def offers(edition: Edition) -> dict[str, dict[str, str]]:
    """Return what the form of the page of alternates tells of each choice."""
    page = page_of(edition, ALTERNATES)
    found = re.search(r'data-combinations="([^"]*)"', page)
    assert found is not None
    told: dict[str, dict[str, str]] = json.loads(html.unescape(found[1]))
    return told


@pytest.fixture(scope="module")
def refused(tmp_path_factory: pytest.TempPathFactory) -> Proposal:
    return proposal(tmp_path_factory.mktemp("refused") / "project", FILES)


@pytest.fixture(scope="module")
def grouped(tmp_path_factory: pytest.TempPathFactory) -> Proposal:
    return proposal(tmp_path_factory.mktemp("grouped") / "project", GROUP)


def test_what_cannot_be_chosen_says_why_in_words(refused: Proposal) -> None:
    why = {one.row.key: one.row.not_offered for one in refused.alternates}
    (closed,) = why.pop("closed")
    assert closed == "The sound of a room that has to stay there can be heard elsewhere: B001."
    assert why == {"spare": (OVERTAKEN,), "without": (), "dearer": (NO_DEDUCTION,)}


def test_who_checks_or_builds_is_told_what_the_client_is_not_offered(
    refused: Proposal, tmp_path: Path
) -> None:
    source = load_source(edited_with(tmp_path / "project", FILES))
    computing = each_once(compute(source.base))
    alone = {key: combined_and_why(source, (key,), computing).alone for key in source.open}
    assert alone == {one.row.key: one.row.not_offered for one in refused.alternates}
    assert list(lines_of_not_offered(source, {key: alone[key] for key in ("without", "dearer")})) == [
        f"alternates/dearer.yaml: note: “Two spares” is not offered to the client. {NO_DEDUCTION}"
    ]


def test_no_price_is_told_of_what_cannot_be_chosen(refused: Proposal) -> None:
    for row in refused.combinations:
        offered = set(row.chosen) <= {"without"}
        assert (row.price is not None) is offered
        assert (row.total is not None, row.cost is not None) == (offered, offered)
    client = edition_of_proposal(refused, "client")
    for one in client.alternates:
        assert (one.document.price is None) is (one.row.key != "without")
    told = offers(client)
    assert told["closed"] == {"not": "not possible: “Closed sessions” is not offered"}
    assert "price" in told["without"]


def test_the_summary_says_that_it_is_not_offered(refused: Proposal) -> None:
    page = html.unescape(page_of(edition_of_proposal(refused, "client"), SUMMARY))
    rows = [line for line in page.splitlines() if "alternates/" in line]
    assert [("not offered" in row) for row in rows] == [True, True, True, False]


def test_it_cannot_be_ticked(refused: Proposal) -> None:
    page = html.unescape(page_of(edition_of_proposal(refused, "client"), ALTERNATES))
    boxes = dict(re.findall(r'<input type="checkbox" autocomplete="off" value="(\w+)"( disabled)?>', page))
    assert boxes == {"closed": " disabled", "spare": " disabled", "dearer": " disabled", "without": ""}
    assert f"A spare microphone (not offered: {OVERTAKEN})" in page
    assert "Without a spare (deduct)" in page


def test_an_error_that_somebody_accepts_refuses_nothing(tmp_path: Path) -> None:
    accepted = FILES["alternates/closed.yaml"].replace(
        "changes: {",
        "changes: {project: {accepted_findings: {one: {rule: sound-leaves-room, where: B001, "
        "reason: It comes later., accepted_by: D. Drafter, date: 2031-03-01}}}, ",
    )
    (one,) = proposal(tmp_path / "project", {"alternates/closed.yaml": accepted}).alternates
    assert one.row.not_offered == ()


def test_of_a_group_one_has_to_be_chosen_and_one_alone(grouped: Proposal) -> None:
    told = offers(edition_of_proposal(grouped, "client"))
    assert told[""] == {"not": "still to choose, spare microphones: one of “Three spares” and “Two spares”"}
    assert "not" not in told["two"]
    assert "not" not in told["three"]
    assert told["three two"] == {"not": "not possible: “Three spares” and “Two spares” exclude each other"}
    rows = {row.chosen: row for row in grouped.combinations}
    assert {chosen for chosen, row in rows.items() if row.to_choose} == {
        chosen for chosen in rows if not set(chosen) & {"two", "three"}
    }
    base, least = rows[()].price, min(rows["two",].price or 0, rows["three",].price or 0)
    page = html.unescape(page_of(edition_of_proposal(grouped, "client"), SUMMARY))
    assert f"as it stands, €{base:,.2f} before tax, holds none of them and cannot be ordered alone" in page
    assert f"with the least that can be chosen it is €{least:,.2f}." in page


TOGETHER = {
    "requirements.yaml": """\
R-1:
  document: Brief
  clause: "4"
  text: No more than three microphones lie on the table.
  answers: [{count: microphones, at_most: 3}]
""",
    "alternates/north.yaml": """\
name: A microphone to the north
description: For the clerk.
changes: {room_types: {meeting: {microphones: {M3: {form: boundary, pattern: cardioid, at: [3 m, 3 m]}}}}}
""",
    "alternates/south.yaml": """\
name: A microphone to the south
description: For the witness.
changes: {room_types: {meeting: {microphones: {M4: {form: boundary, pattern: cardioid, at: [3 m, 2 m]}}}}}
""",
    "alternates/spare.yaml": """\
name: Two spares
description: Two lie ready.
changes: {room_types: {meeting: {spare_microphones: {boundary: 2}}}}
""",
}


@pytest.fixture(scope="module")
def together(tmp_path_factory: pytest.TempPathFactory) -> Proposal:
    """Return two alternates that are each within what is asked for and together beyond it, and a third."""
    return proposal(tmp_path_factory.mktemp("together") / "project", TOGETHER)


def test_two_alternates_that_are_in_error_together_alone_are_not_offered_together(together: Proposal) -> None:
    assert [one.row.not_offered for one in together.alternates] == [(), (), ()]
    why = ("Something that you asked for is not met: R-1.",)
    wrong = {row.chosen: (row.impossible, row.not_offered) for row in together.combinations if not row.price}
    assert wrong == {
        ("north", "south"): (("north", "south"), why),
        ("north", "south", "spare"): (("north", "south"), why),
    }
    assert [row.cost for row in together.combinations if row.chosen in wrong] == [None, None]


def test_what_is_in_error_together_says_so_in_words_where_it_is_ticked(together: Proposal) -> None:
    client = edition_of_proposal(together, "client")
    said = (
        "not possible: “A microphone to the north” and “A microphone to the south” together. "
        "Something that you asked for is not met: R-1."
    )
    told = offers(client)
    assert {key: one["not"] for key, one in told.items() if "not" in one} == {
        "north south": said,
        "north south spare": said,
    }
    page = html.unescape(page_of(client, ALTERNATES))
    assert page.count("Something that you asked for is not met: R-1.") == 4


def test_the_house_is_told_how_an_alternate_gives_up_what_the_client_asks_for(tmp_path: Path) -> None:
    source = load_source(edited_with(tmp_path / "project", FILES))
    unknown = "The answer to one of your requests is not in the design: R-4."
    (line,) = lines_of_not_offered(source, {"without": (unknown,)})
    assert line.startswith("alternates/without.yaml: note: “Without a spare” is not offered to the client. ")
    assert line.endswith("write the tag of each such requirement under gives_up there.")
    assert plain_words("requirement-answer-unknown").rstrip(".") in unknown


PAID = """\

price:
  place: Hall
  taxes: {Hall: {name: VAT, goods: 10 %, services: 10 %}}
  payments:
    1: {name: On order, share: 40 %, event: order, days: 14}
    2: {name: On acceptance, share: 60 %, event: accepted}
  retention: 5 %
"""


def test_each_choice_has_the_payments_of_its_own_total(tmp_path: Path) -> None:
    made = edited_with(tmp_path / "project", GROUP)
    brief = made / "project.yaml"
    brief.write_text(brief.read_text(encoding="utf-8") + PAID, encoding="utf-8")
    source = load_source(made)
    rows = [combination(source, chosen) for chosen in combinations_of(source.priced)]
    priced = [row for row in rows if row.total is not None]
    assert len({row.total for row in priced}) > 1
    for row in priced:
        first, last, kept = row.payments
        assert row.total == first.due + last.due + kept.due
        # Of the price with tax, 40 % less the 5 % that is kept of it, to a cent or two of rounding.
        assert first.due == pytest.approx(row.total * Decimal("0.38"), abs=Decimal("0.02"))
