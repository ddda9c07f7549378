"""Look whether what was issued is unaltered: `proposal verify`."""

from typing import Annotated

import typer

from proposal.commands.arguments import ProjectFolder, given_text
from proposal.commands.printing import counted, progress
from proposal.running import GOOD, say

ALTERED = 1
"""Exit status where a file is not as it was issued."""


def verify(
    folder: ProjectFolder,
    revision: Annotated[
        str | None, typer.Argument(metavar="REVISION", help="The revision to verify; all of them by default.")
    ] = None,
    repair: Annotated[
        bool,
        typer.Option(
            "--repair",
            help="Make missing or altered files in PROJECT/published and PROJECT/issued/latest again from "
            "the records.",
        ),
    ] = False,
    expect: Annotated[
        str | None,
        typer.Option(
            "--expect",
            metavar="DIGEST",
            parser=given_text,
            help="Hold the record of the revision, or of the last one, against the digest on its cover.",
        ),
    ] = None,
) -> None:
    """Find what is no longer as it was issued.

    Every file in PROJECT/issued and PROJECT/published that was changed, added or lost is named. Exit status
    1 where there is one. A project without PROJECT/published, as git hands it out, is not altered by that.

    This finds accidents, not forgery: who can write to the project can write its digests anew. A digest from
    elsewhere, such as the cover that the client was sent, tells with --expect whether the record still holds
    the inputs, library, numbers and proposal of then. Nothing is written without --repair, and no record
    ever.
    """
    from proposal.publish.expected_digest import held_against
    from proposal.publish.repairing import repair as repair_published
    from proposal.publish.verifying import verified

    held = None if expect is None else held_against(folder, revision, expect)
    if repair:
        with progress() as tell:
            for done in repair_published(folder, revision, tell):
                say(done)
    found = verified(folder, revision)
    for alteration in found.alterations:
        say(str(alteration))
    if not found.records:
        say("no revision is issued yet")
    elif not found.published:
        say("published/ is not here; --repair makes it from the records")
    for remedy in found.remedies:
        say(remedy)
    count = counted(len(found.records), "issued revision")
    say(f"{count}, {counted(len(found.alterations), 'file')} not as issued")
    if held is not None:
        say(str(held))
    elif found.records:
        say("accidents are found, not forgery: who can write to the project can write its digests anew")
    raise typer.Exit(ALTERED if found.alterations or (held is not None and not held.agrees) else GOOD)
