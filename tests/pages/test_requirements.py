"""The statement of compliance: words, answers, verdicts and links, and the count on summaries."""

import html
import re
from collections.abc import Mapping

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.readers import Reader
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.pages.site import pages_for
from tests.review.editing import PROJECTS, edited

REQUIREMENTS = """\
R-1:
  document: Brief
  clause: "2.1"
  text: Everybody shall be heard <at once>.
  answers: [{count: microphones, room: B001, at_least: 1}]
R-2:
  document: Brief
  text: The price shall keep below one euro.
  answers: [{price: before tax, at_most: 1.00 EUR}]
R-3:
  document: Minutes
  text: There shall be tea.
R-4:
  document: Minutes
  text: People shall be trained.
  answers:
    - {check: radio}
    - {statement: complies, words: Two hours on site., by: A. Author, on: 2031-01-02}
"""


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> Document:
    folder = tmp_path_factory.mktemp("asked") / "project"
    return document_of(compute(load_project(edited(folder, "minimal", {"requirements.yaml": REQUIREMENTS}))))


def pages(document: Document, reader: Reader) -> Mapping[str, str]:
    return pages_for(document, reader).pages


def test_a_page_says_words_answers_and_verdicts(document: Document) -> None:
    page = html.unescape(pages(document, "client")["requirements.md"])
    assert "1 of 4 requirements met, 1 promised by us, 1 not met and 1 open." in page
    rows = re.findall(r"<tr.*?</tr>", page, re.DOTALL)
    (first,) = [row for row in rows if 'id="R-1"' in row]
    assert "Everybody shall be heard <at once>." in first
    assert re.search(r'href="rooms\.(md|html)[^"]*">Microphones', first)
    assert "(at least 1)" in first
    assert re.search(r'class="status good">.*</span> met</span>', first)
    (third,) = [row for row in rows if 'id="R-3"' in row]
    assert "not answered" in third
    (last,) = [row for row in rows if 'id="R-4"' in row]
    assert "Promised: Two hours on site." in last


@pytest.mark.parametrize("reader", ["client", "reviewer", "estimator", "installer"])
def test_every_summary_counts_what_is_met_and_leads_there(reader: Reader, document: Document) -> None:
    summary = pages(document, reader)["summary.md"]
    assert re.search(r'href="requirements\.(md|html)">1 of 4 requirements met', summary)


def test_sums_stand_in_editions_of_buyers_alone(document: Document) -> None:
    told = {
        reader: "€1.00" in html.unescape(pages(document, reader)["requirements.md"])
        for reader in ("client", "reviewer", "estimator", "installer")
    }
    assert told == {"client": True, "reviewer": False, "estimator": True, "installer": False}


def test_a_project_without_requirements_has_no_such_page() -> None:
    without = document_of(compute(load_project(PROJECTS / "minimal")))
    found = pages(without, "client")
    assert "requirements.md" not in found
    assert "requirements met" not in found["summary.md"]


@pytest.mark.parametrize("reader", ["client", "reviewer", "estimator", "installer"])
def test_it_stands_next_to_the_summary_for_every_reader(reader: Reader, document: Document) -> None:
    chapters = [title for title, _ in pages_for(document, reader).nav]
    asked = "What you asked for" if reader == "client" else "What the client asked for"
    assert chapters[:3] == ["Cover", "Summary", asked]
