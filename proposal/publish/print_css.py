"""The style sheet of what is printed from a browser: sizes of paper, and what stands on every page of it."""

from collections.abc import Mapping

from proposal.quantities.messages import printable

PAPERS: Mapping[str, tuple[str, str, str]] = {
    "A4": ("A4", "A4 landscape", "A3 landscape"),
    "letter": ("letter", "letter landscape", "17in 11in"),
}
"""By the paper of a project: paper of words, of wide schedules, and of whole drawings."""


def print_css(title: str, revision: str, issued: str, paper: str) -> str:
    """Return the style sheet of printed pages.

    title: of the proposal; revision: its identity; issued: its date in words.  Each stands on every page.
    paper: A4 or letter.
    """
    words, wide, sheet = PAPERS[paper]
    of_revision = f"Revision {revision}, {issued}"
    boxes = {
        "top-left": _quoted(title),
        "top-right": _quoted(of_revision),
        "bottom-right": '"Page " counter(page) " of " counter(pages)',
    }
    told = "".join(f"  @{box} {{ content: {content}; {_TYPE} }}\n" for box, content in boxes.items())
    untold = "".join(f"  @{box} {{ content: none; }}\n" for box in boxes)
    return (
        f"@page {{\n  size: {words};\n  margin: 20mm 14mm 18mm;\n{told}}}\n"
        f"@page wide {{ size: {wide}; }}\n"
        f"@page widest {{ size: {sheet}; }}\n"
        # A drawing has its own frame and title block.
        f"@page sheet {{\n  size: {sheet};\n  margin: 0;\n{untold}}}\n"
    )


_TYPE = "font: 8pt Inter, sans-serif; color: #4b545e;"


def _quoted(words: str) -> str:
    """Return a text as CSS quotes it, whatever stands in it."""
    safe = (sign if sign.isalnum() or sign in " ,.-" else f"\\{ord(sign):x} " for sign in printable(words))
    return f'"{"".join(safe)}"'
