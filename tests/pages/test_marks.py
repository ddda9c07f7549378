"""A mark is a sign and a word, so that nothing is told by colour alone."""

import html

import pytest

from proposal.pages.marks import mark_of, row_mark, verdict


@pytest.mark.parametrize(("sign", "shown"), [("new", "+"), ("changed", "Δ")])
def test_a_row_that_differs_has_a_sign_and_its_word(sign: str, shown: str) -> None:
    mark = row_mark(sign)
    assert f'<span aria-hidden="true">{shown}</span> {sign}' in mark


def test_a_coded_value_with_a_mark_says_the_word_of_the_table() -> None:
    assert "fällt durch" in mark_of("fails", "fällt durch")
    assert "status" in mark_of("fails", "fällt durch")


def test_a_coded_value_without_a_mark_is_its_word_alone_and_harmless() -> None:
    mark = mark_of("unheard of", "<b>word</b>")
    assert "<" not in mark
    assert html.unescape(mark) == "<b>word</b>"


def test_where_nothing_was_checked_there_is_no_verdict() -> None:
    assert verdict("") is None
    assert verdict("holds") == mark_of("holds", "holds")
