"""Texts that were rewritten are told by what they say now and no longer."""

from proposal.differences.rewritten_texts import sentences_of


def test_a_text_is_taken_apart_into_sentences_without_markup() -> None:
    text = """## Warranty

We warrant the *whole* system for 24 months. It covers
work too.

- **Radio.** Every room, as in [the plan](radio.html), is covered
- cooling of the rooms

1. One &#38; two
"""
    assert sentences_of(text) == (
        "Warranty",
        "We warrant the whole system for 24 months.",
        "It covers work too.",
        "Radio. Every room, as in the plan, is covered",
        "cooling of the rooms",
        "One & two",
    )
