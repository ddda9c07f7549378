"""Rows of the links between switches."""

from proposal.design.design import Design
from proposal.document.rows.switch_links import SwitchLinkRow


def switch_link_rows(design: Design) -> tuple[SwitchLinkRow, ...]:
    """Return a row for each link between switches, in order of the farther switch."""
    return tuple(
        SwitchLinkRow(
            identity=link.identity,
            from_switch=link.join.start,
            from_port=link.join.start_port,
            to_switch=link.join.end,
            to_port=link.join.end_port,
            verdict="holds" if link.medium and load.holds else "fails",
            medium=link.medium,
            module=link.module,
            length_m=link.length_m,
            reach_m=link.reach_m,
            speed_bit_s=link.speed_bit_per_s,
            inwards_bit_s=load.inwards.result,
            outwards_bit_s=load.outwards.result,
            audio_in_bit_s=load.audio_in_bit_per_s,
            audio_out_bit_s=load.audio_out_bit_per_s,
            control_bit_s=load.control_bit_per_s,
            streams_in=len(load.streams_in),
            streams_out=len(load.streams_out),
        )
        for link, load in zip(design.switch_links, design.uplink_loads, strict=True)
    )
