"""A small site of invented content that uses everything a page may hold."""

import datetime
from dataclasses import replace

from proposal.pages.author_prose import prose
from proposal.pages.markdown import Html, html_text, link, text
from proposal.pages.page_elements import facts, figure, status
from proposal.pages.tables import Cell, Column, View, table
from proposal.publish.site import SiteSource

HOSTILE = (
    "<script>window.leaked=1</script> [x](javascript:window.leaked=1) *a* `b` "
    '&lt;img src=x onerror="window.leaked=1"&gt; {: onclick="window.leaked=1"} '
    '</title><script>window.leaked=1</script><img src=x onerror="window.leaked=1">'
)

DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="1200" height="560" viewBox="0 0 1200 560">'
    '<rect width="1200" height="560" fill="#fff"/>'
    + "".join(
        f'<rect x="{60 + 280 * column}" y="{70 + 150 * row}" width="220" height="90" fill="#f5f6f7" '
        f'stroke="#1c2127"/><text x="{170 + 280 * column}" y="{120 + 150 * row}" text-anchor="middle" '
        f'font-family="Arimo, Arial, sans-serif" font-size="18">R{row + 1}0{column + 1}-AP1</text>'
        for row in range(3)
        for column in range(4)
    )
    + "</svg>"
).encode()

LOGO = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 48">'
    b'<rect width="48" height="48" fill="#7a1f3d"/>'
    b'<path d="M12 36V12l12 14 12-14v24" fill="none" stroke="#fff" stroke-width="4"/>'
    b'<text x="58" y="32" font-family="Arimo, Arial, sans-serif" font-size="22">Marrow</text></svg>'
)


def _cover() -> str:
    head = "Conference microphones for the new council house"
    return (
        "---\nhide:\n  - toc\n---\n\n"
        '<div class="cover">\n<p>Proposal for Marrow District Council</p>\n'
        f"<h1>{html_text(head)}</h1>\n<p>Revision B for tender, 2 March 2026, valid for 90 days</p>\n"
        "</div>\n\n"
        + facts(
            "The proposal in figures",
            [
                ("Rooms", "11"),
                ("Microphones", "126"),
                ("Access points", "22"),
                ("Cable", "3,412 m"),
                ("Longest channel", "97.4 m of 100 m"),
                ("Findings", status("pass")),
            ],
        )
        + "\n\n## In short\n\n"
        + prose(
            "Every seat in the council chamber gets a *wireless* microphone that can be lifted out of its "
            "place.\n\n- one system for all rooms\n- no cable to any table\n\n"
            "See [the rooms](rooms/chamber.md)."
        )
        + "\n"
    )


def _chamber() -> str:
    rows = [
        [
            f"R101-M{number}",
            "gooseneck" if number % 3 else "boundary",
            Cell(f"{number / 2:.1f} m", number / 2),
            "R101-AP1",
        ]
        for number in range(1, 31)
    ]
    return (
        f"# {text('Council chamber R101')}\n\n"
        f"{text('Thirty seats in a horseshoe, a public gallery, and a lectern.')}\n\n"
        + facts(
            "Room data",
            [("Type", "Chamber"), ("Seats", 30), ("Size", "14.2 m × 11.0 m"), ("Ceiling", "4.2 m")],
        )
        + "\n\n## Microphones\n\n"
        + table(
            "Microphones of the chamber",
            ["Tag", "Form", Column("Distance", numeric=True), "Access point"],
            rows,
            row_ids=[row[0] for row in rows],
            totals=[["Sum", "", "232.5 m", ""]],
        )
        + "\n\n## Signal flow\n\n"
        + figure(
            "../drawings/flow.svg",
            "Signal flow from twelve access points to the network",
            "Sheet 3. Signal flow of the chamber.",
            "Each of twelve access points stands in a box, four in a row.",
            size=(1200, 560),
        )
        + "\n\n!!! note\n    "
        + text("Gooseneck microphones take two charge slots each.")
        + "\n"
    )


def _cables() -> str:
    folded = Html('<details class="fold"><summary>tray T1…</summary>tray T1, conduit C1, up to ER1</details>')
    columns = [
        "Cable", "From", "To", "Type", "Jacket", Column("Route", views=("pull",)),
        Column("Permanent link", numeric=True, unit="m"),
        Column("Channel", numeric=True, unit="m", views=("check",)),
        Column("Limit", numeric=True, unit="m", views=("check",)),
        Column("Margin", numeric=True, unit="m", views=("check",)),
        Column("Result", views=("check",)),
    ]  # fmt: skip
    rows = [
        [
            f"R{100 + number}-AP1/N1/ER1-RK1", f"R{100 + number}-AP1 port N1", "ER1-RK1",
            "Category 6A", "low smoke", folded if number == 1 else f"tray T1, conduit C{number}",
            f"{31.5 + number * 1.5:.1f}", f"{36.5 + number * 1.5:.1f}", "100.0",
            f"{63.5 - number * 1.5:.1f}", status("pass" if number < 38 else "warning"),
        ]
        for number in range(1, 41)
    ]  # fmt: skip
    return "# Cable schedule\n\nOne line a cable.\n\n" + table(
        "Cables",
        columns,
        rows,
        row_ids=[str(row[0]) for row in rows],
        views=[View("check", "Checking"), View("pull", "Pulling")],
        opens="check",
    )


def _findings() -> str:
    words = ["error", "warning", "note", "accepted", "pass", "fail", "not tested"]
    return (
        "# Findings\n\n"
        + table(
            "Findings",
            ["Rule", "Verdict", "Where"],
            [[f"rule-{word}", status(word), HOSTILE] for word in words],
        )
        + "\n\n## What the client wrote\n\n"
        + prose(
            f"{HOSTILE}\n\n| a | b |\n|---|--:|\n| 1 | 2 |\n\n> Quoted. ![x](https://example.invalid/x.png)"
        )
        + f"\n\n## {text(HOSTILE)}\n\n{text(HOSTILE)} "
        + link("R101-AP1/N1/ER1-RK1", "cables.md#R101-AP1_N1_ER1-RK1")
        + "\n"
    )


def sample_site(**changes: object) -> SiteSource:
    source = SiteSource(
        title="Conference microphones for the new council house",
        short_title="Marrow council house",
        nav=(
            ("Proposal", "index.md"),
            ("Rooms", (("Council chamber", "rooms/chamber.md"),)),
            ("Schedules", (("Cable schedule", "cables.md"), ("Findings", "findings.md"))),
        ),
        pages={
            "index.md": _cover(),
            "rooms/chamber.md": _chamber(),
            "cables.md": _cables(),
            "findings.md": _findings(),
        },
        files={"drawings/flow.svg": DRAWING, "images/logo.svg": LOGO},
        colour="#7a1f3d",
        logo="images/logo.svg",
        revision="B",
        draft=True,
        purpose="for tender",
        date=datetime.date(2026, 3, 2),
        footer="Figures are planning estimates.",
    )
    return replace(source, **changes)  # type: ignore[arg-type]
