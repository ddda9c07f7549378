"""Text that could come alive on a page, and what a browser makes of it."""

from html.parser import HTMLParser
from pathlib import Path

import yaml
from hypothesis import strategies as st
from markdown import Markdown

ROOT = Path(__file__).resolve().parents[2]

# Pieces that Markdown, its extensions or a browser could take as their own.
HOSTILE = [
    "<script>leak()</script>",
    "<img src=x onerror=leak()>",
    "</div>",
    "</table>",
    "<!--",
    "-->",
    "<![CDATA[",
    "&lt;b&gt;",
    "&#60;b&#62;",
    "[a](javascript:leak())",
    "[a](&#106;avascript:leak())",
    "[a](JAVA\tSCRIPT:leak())",
    "[a](data:text/html,x)",
    "[a](vbscript:x)",
    "[a](//elsewhere.invalid/)",
    "![a](https://elsewhere.invalid/x.png)",
    "![a](data:image/svg+xml,x)",
    "<javascript:leak()>",
    "<https://elsewhere.invalid/>",
    "<a@b.invalid>",
    "[r]: javascript:leak()",
    "[r]",
    "{: onclick=leak() }",
    "{ onclick=leak() }",
    "# ",
    "- ",
    "1. ",
    "> ",
    "    ",
    "```",
    "~~~",
    "`",
    "``",
    "***",
    "---",
    "===",
    "|",
    "\\",
    "*",
    "_",
    "!!! note",
    "wzxhzdk:0",
    "klzzwxh:0001",
    "\x02wzxhzdk:0\x03",
    "\x00",
    "\u2028",
    "\r",
    "\n",
    "\n\n",
    "\ud800",
    "\u202e",
    "é",
    "Ω",
    "a",
    "javascript:",
]
pieces = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=6))
typed = st.lists(pieces, max_size=8).map("".join)


class Page(HTMLParser):
    """What a browser would make of a page: its elements, in order, and its words."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data

    def handle_comment(self, data: str) -> None:
        self.elements.append(("comment", {}))

    def handle_decl(self, decl: str) -> None:
        self.elements.append(("declaration", {}))

    def unknown_decl(self, data: str) -> None:
        self.elements.append(("declaration", {}))

    def handle_pi(self, data: str) -> None:
        self.elements.append(("instruction", {}))

    @property
    def tags(self) -> list[str]:
        return [tag for tag, _ in self.elements]


def rendered(markdown: str) -> Page:
    """Return a page as the site builder makes it, with the same extensions."""
    extensions: list[str] = []
    settings_of: dict[str, dict[str, object]] = {}
    for entry in yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))["markdown_extensions"]:
        if isinstance(entry, dict):
            settings_of.update(entry)
            extensions += entry
        else:
            extensions.append(entry)
    return Page(Markdown(extensions=extensions, extension_configs=settings_of).convert(markdown))
