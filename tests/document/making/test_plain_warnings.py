"""Warnings are told in plain words, those of one meaning together, and never by codes."""

import re
from dataclasses import replace
from pathlib import Path

from proposal.document.making.plain_warnings import plain_warnings
from proposal.document.making.plain_words import PLAIN
from proposal.errors import Place
from proposal.model.project import AcceptedFinding
from proposal.review.finding import Finding, Severity
from proposal.standards.sources import COMMON_PRACTICE

# What the house earns, pays and pads: no client reads what these find.
FOR_THE_HOUSE = {
    *("client-can-compute", "printed-rate", "service-unpriced", "bond-unpriced", "spread-without-lump"),
    "wage-below-rule",
}
REVIEW = Path(__file__).resolve().parents[3] / "proposal" / "review"


def finding(rule: str, where: str, severity: Severity = "warning") -> Finding:
    return Finding(
        rule=rule,
        severity=severity,
        where=where,
        place=Place("secret.yaml"),
        message="qzx",
        source=COMMON_PRACTICE,
        remedy="qzx",
    )


def test_rooms_that_a_finding_names_together_are_named_once() -> None:
    rooms = ("A1", "A1, A2", "radio")
    (one,) = plain_warnings([finding("radio-impossible", where, "error") for where in rooms])
    assert one.where == "A1 and A2"
    (alone,) = plain_warnings([finding("radio-not-settled", "radio")])
    assert alone.where == "radio"


def test_places_of_one_warning_stand_together_and_notes_are_left_out() -> None:
    (one,) = plain_warnings(
        [
            finding("link-near-limit", "A1"),
            finding("link-near-limit", "A2"),
            finding("no-spares", "A3", "note"),
        ]
    )
    assert one.where == "A1 and A2"
    assert one.what.startswith("2 cables, those of A1 and A2, are nearly as long as the standard allows.")


def test_a_single_cable_is_told_by_its_device() -> None:
    (one,) = plain_warnings([finding("link-near-limit", "A1-CH1/N1/ER1-RK1")])
    assert one.what.startswith("One cable, that of A1-CH1, is nearly as long as the standard allows.")


def test_neither_rule_nor_message_nor_file_is_told() -> None:
    rows = plain_warnings([finding("a-rule-of-tomorrow", "A1"), finding("inrush-high", "A2", "error")])
    told = " ".join(f"{row.what} {row.where}" for row in rows)
    assert not re.search(r"qzx|secret|rule-of|inrush-high", told)
    assert "still to be settled with you" in told


def test_what_the_designer_accepts_is_no_warning() -> None:
    accepted = AcceptedFinding.model_validate(
        {
            "rule": "no-spares",
            "where": "A1",
            "reason": "agreed",
            "accepted_by": "E. Estimator",
            "date": "2031-01-01",
        }
    )
    assert plain_warnings([replace(finding("no-spares", "A1"), accepted=accepted)]) == ()


def test_many_places_are_counted() -> None:
    (one,) = plain_warnings([finding("no-spares", f"A{n}") for n in range(1, 10)])
    assert one.where == "A1, A2, A3, A4, A5, A6 and 3 more"


def test_each_plain_sentence_belongs_to_a_rule_of_the_review() -> None:
    written = "".join(path.read_text("utf-8") for path in sorted(REVIEW.rglob("*.py")))
    assert [rule for rule in PLAIN if f'"{rule}"' not in written] == []


def test_each_warning_and_error_that_a_client_may_read_has_its_sentence() -> None:
    written = "".join(path.read_text("utf-8") for path in sorted(REVIEW.rglob("*.py")))
    found = dict(re.findall(r'rule="([a-z0-9-]+)",\s*severity="(\w+)"', written))
    graver = {rule for rule, severity in found.items() if severity != "note"}
    assert len(graver) > 100
    assert sorted(graver - PLAIN.keys() - FOR_THE_HOUSE) == []
