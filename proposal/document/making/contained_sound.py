"""Rows about rooms whose sound may not leave them."""

from collections.abc import Sequence

from proposal.design.contained_sound import ContainedSound, way_in_words
from proposal.document.rows.contained_sound import ContainedSoundRow


def contained_sound_rows(found: Sequence[ContainedSound]) -> tuple[ContainedSoundRow, ...]:
    """Return the rooms whose sound may not leave them, with what was found of each."""
    return tuple(
        ContainedSoundRow(
            room=one.room,
            reason=one.reason,
            verdict="leaves" if one.way else "stays",
            states=one.states,
            may_reach=one.may_reach,
            may_pass=one.may_pass,
            unplugged=one.unplugged,
            encryption=one.encryption,
            reached=one.reached,
            way_out=f"{way_in_words(one.start, one.way)}; {one.ends}" if one.way else "",
        )
        for one in found
    )
