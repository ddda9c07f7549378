"""Rules about mounts: every device that hangs has one that carries it."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.mounts import mounted
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, written_place
from proposal.standards.sources import EDITABLE_DEFAULT

_WORDS = {"ceiling": "on a ceiling", "wall": "on a wall", "under table": "under a table"}


def without_mount(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each device that needs a mount for which the library has none."""
    for device, place, model in mounted(project, design.devices, design.entries):
        if model:
            continue
        yield Finding(
            rule="no-mount",
            severity="warning",
            where=device.tag,
            place=written_place(project, ("fixed", "devices", device.tag), ("rooms", device.room)),
            message=f"The library has no mount that carries {device.model} {_WORDS[place]}: none is counted "
            "or priced.",
            source=EDITABLE_DEFAULT,
            remedy="Add a mount to the project's or the company's library, or write `fixings_included` where "
            "the device brings its own.",
        )


MOUNT_RULES: tuple[Rule, ...] = (without_mount,)
