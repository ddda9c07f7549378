"""Rules about rooms whose sound may not leave them."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.ways_out import way_in_words
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule
from proposal.standards.sources import COMMON_PRACTICE


def sound_leaves(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room whose sound may not leave it and does, with the way that it takes."""
    kinds = {tag: kind.path for kind in design.kinds for tag in kind.rooms}
    for one in design.contained_sound:
        if one.way:
            yield Finding(
                rule="sound-leaves-room",
                severity="error",
                where=one.room,
                place=project.place(*kinds[one.room], "sound_stays"),
                message=f"The sound of {one.room} may not leave it ({one.reason}), and it does: "
                f"{way_in_words(one.start, one.way)}; {one.ends}.",
                source=COMMON_PRACTICE,
                remedy="Let the room's network stand alone (network: alone, output: breakout), and join it "
                "to nothing that stands elsewhere, keeps its sound or sends it away. What plays the sound in "
                "the room is equipment of the owner there (kind: other equipment, an analogue input) that "
                "serves an analogue destination.",
            )


CONTAINED_SOUND_RULES: tuple[Rule, ...] = (sound_leaves,)
