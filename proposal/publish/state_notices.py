"""What every page of a proposal says of its revision and of the state that it is in."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from proposal.publish.site import SiteSource


def notices(source: "SiteSource") -> tuple[tuple[str, str], ...]:
    """Return what stands at the head of every page: what is said loudly, and the rest of its sentence."""
    told: list[tuple[str, str]] = []
    if source.draft:
        told.append(("Draft", f"of revision {source.revision}, not issued. It may still change."))
    if source.with_errors:
        told.append(
            (
                "Issued with errors",
                "of the design review that are not resolved. The cover gives the reason.",
            )
        )
    if source.rebuilt:
        told.append(
            (
                "Made again",
                f"from the figures of the issued record, with {source.rebuilt}. Nothing was computed anew.",
            )
        )
    return tuple(told)


def state_in_words(source: "SiteSource") -> str:
    """Return what a revision is for and the state that it is in, as it stands at the foot of every page."""
    return ", ".join(
        words
        for words, holds in (
            (source.purpose, source.purpose),
            ("draft", source.draft),
            ("issued with errors that are not resolved", source.with_errors),
            ("made again with other versions", source.rebuilt),
        )
        if holds
    )
