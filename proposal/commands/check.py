"""Find what is wrong with a design and its price: `proposal check`."""

from pathlib import Path
from typing import Annotated, Any

import typer

from proposal.commands.arguments import LibraryFolder, ProjectFolder
from proposal.commands.computing import read_and_compute
from proposal.commands.printing import number_clashes, print_clashes, print_findings, progress
from proposal.running import DESIGN_ERRORS, GOOD, say


def check(
    folder: ProjectFolder,
    price: Annotated[
        bool,
        typer.Option(
            "--price",
            help="Compute the price too, with every combination of alternates, and say what is wrong with it "
            "and what a client could work out of all prices together.",
        ),
    ] = False,
    library: LibraryFolder = None,
) -> None:
    """Read a project, compute its design and print the findings.

    A finding is printed as file:line:column, severity, rule, where, and what would fix it. Findings of the
    price, which are for the house alone, take longer: --price prints them too, as build and issue always do.
    Nothing is written. Exit status 1 where an error finding stands that nobody accepted.
    """
    from proposal.review.finding import open_errors

    source, computed = read_and_compute(folder, library)
    of_the_price, not_offered = _findings_of_the_price(folder, source, computed) if price else ((), ())
    print_clashes(number_clashes(folder))
    for line in not_offered:
        say(line)
    if source.open and not price:
        say(_not_computed([source.base.alternates[key].name for key in source.open]))
    print_findings(computed, of_the_price)
    raise typer.Exit(DESIGN_ERRORS if open_errors((*computed.findings, *of_the_price)) else GOOD)


def _not_computed(names: list[str]) -> str:
    """Return a line that names the open alternates that nobody computed."""
    from proposal.quantities.formatting import listed

    many = len(names) > 1
    return (
        f"alternates: note: {listed([f'“{name}”' for name in names])} {'are' if many else 'is'} not computed "
        f"here. `proposal check --price` computes {'each' if many else 'it'}, and says which the client is "
        "not offered, and why."
    )


def _findings_of_the_price(
    folder: Path, source: Any, computed: Any
) -> tuple[tuple[Any, ...], tuple[str, ...]]:
    """Return the findings about the price, its alternates and all prices issued, for the house alone.

    Beside them a line for each alternate that the client is not offered.
    """
    from proposal.document.making.alternates_not_offered import lines_of_not_offered
    from proposal.document.making.proposal import combinations_of, combined_and_why, each_once
    from proposal.publish.prices_in_records import received_before

    others, computing = list(received_before(folder)), each_once(computed)
    alone = {}
    with progress() as tell:
        for chosen in combinations_of(source.priced)[1:]:
            tell(f"price of {len(chosen)} alternates together")
            one = combined_and_why(source, chosen, computing)
            others += [] if one.received is None else [one.received]
            if len(chosen) == 1:
                alone[chosen[0]] = one.alone
    found = tuple(computed.house_findings(computed.disclosed(others)))
    return found, tuple(lines_of_not_offered(source, alone))
