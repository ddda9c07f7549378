"""Rules about what a proposal has to hold before it is more than a draft for comment."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed, written_place
from proposal.standards.sources import COMMON_PRACTICE

WHOLE = "project"
"""What a finding about the whole proposal names as its place."""
LATENCY = ("project", "rules", "latency", "in_room")
"""Where the limit of delay stands."""
WARRANTY = "warranty"
"""Name of the author's prose about the warranty, wording/warranty.md."""


def _for_comment(project: Project) -> bool:
    """Return whether a revision is for comment alone, so that nobody orders by it."""
    return "comment" in project.brief.revision.purpose.casefold()


def invented_models(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where what can be ordered holds models whose figures are invented."""
    models = {device.model for device in design.devices if device.model}
    invented = sorted(model for model in models if "(invented)" in project.library.entry(model).maker)
    if invented and not _for_comment(project):
        shown = ", ".join(invented[:5])
        more = f" and {len(invented) - 5} more" if len(invented) > 5 else ""
        yield Finding(
            rule="invented-models",
            severity="warning",
            where=WHOLE,
            place=project.place("project", "revision", "purpose"),
            message=f"The revision is issued {project.brief.revision.purpose} and contains "
            f"{counted(len(invented), 'invented model')}: {shown}{more}.",
            source=COMMON_PRACTICE,
            remedy="Write the models that are really offered into a library, or accept this with a reason.",
        )


def no_warranty(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where what can be ordered says nothing of a warranty."""
    stated = project.brief.terms.warranty_months is not None or WARRANTY in project.wording
    if not stated and not _for_comment(project):
        yield Finding(
            rule="no-warranty",
            severity="warning",
            where=WHOLE,
            place=written_place(project, ("project", "terms"), ("project", "revision", "purpose")),
            message="No warranty is stated.",
            source=COMMON_PRACTICE,
            remedy="Write terms.warranty_months, or wording/warranty.md.",
        )


def warranty_beyond_makers(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note where the whole is warranted for longer than the makers of what is bought warrant it."""
    months = project.brief.terms.warranty_months
    entries = {
        model: project.library.entry(model)
        for model in {device.model for device in design.devices if device.model}
    }
    shorter = {
        model: entry.warranty_months
        for model, entry in entries.items()
        if months is not None and 0 < entry.warranty_months < months
    }
    if months is None or not shorter or _for_comment(project):
        return
    least = min(shorter.values())
    yield Finding(
        rule="warranty-beyond-makers",
        severity="note",
        where=WHOLE,
        place=project.place("project", "terms", "warranty_months"),
        message="The work is warranted for longer than makers warrant what is bought: "
        f"{listed(sorted(shorter))}.",
        value=float(least),
        limit=float(months),
        unit="months",
        source=COMMON_PRACTICE,
        remedy=f"Have the makers warrant them for {months} months, price the risk of the "
        f"{months - least} months between (`price.surcharges`), or write that "
        "equipment has its makers' warranty (wording/warranty.md).",
    )


def no_latency_limit(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where people hear loudspeakers and nobody has said how late sound may come."""
    heard = any(kind.layout.loudspeakers for kind in design.kinds)
    assumed = any(one.path == LATENCY for one in project.assumptions)
    if heard and assumed and not _for_comment(project):
        yield Finding(
            rule="no-latency-limit",
            severity="warning",
            where=WHOLE,
            place=written_place(project, ("project", "rules"), ("project", "revision", "purpose")),
            message="No limit is stated for the delay of sound from loudspeakers; the usual one is assumed.",
            source=COMMON_PRACTICE,
            remedy="Agree on a limit with the client, such as 20 ms, and write it (rules.latency.in_room).",
        )


BEFORE_ISSUE_RULES: tuple[Rule, ...] = (
    invented_models,
    no_warranty,
    warranty_beyond_makers,
    no_latency_limit,
)
