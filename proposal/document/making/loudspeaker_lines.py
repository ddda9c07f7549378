"""Rows of loudspeaker lines, made from the design."""

from typing import TypedDict

from proposal.design.design import Design
from proposal.design.sound.loudspeaker_lines import LoudspeakerLine, LoudspeakerOnLine, loudspeakers_on
from proposal.document.making.by_name import ByName
from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow, LoudspeakerLineRow

_LINE = ByName(LoudspeakerLineRow, LoudspeakerLine, "amplifier")
_ON_LINE = ByName(LineLoudspeakerRow, LoudspeakerOnLine, "line", "terminals")


class LineParts(TypedDict):
    """The rows about loudspeaker lines."""

    loudspeaker_lines: tuple[LoudspeakerLineRow, ...]
    line_loudspeakers: tuple[LineLoudspeakerRow, ...]


def line_parts(design: Design) -> LineParts:
    """Return the fields of the document that hold loudspeaker lines and their loudspeakers, by name."""
    return {
        "loudspeaker_lines": tuple(_line(design, one) for one in design.loudspeaker_lines),
        "line_loudspeakers": tuple(
            _loudspeaker(one) for line in design.loudspeaker_lines for one in loudspeakers_on(line)
        ),
    }


def _line(design: Design, one: LoudspeakerLine) -> LoudspeakerLineRow:
    amplifier, transformers = one.amplifier, one.load.voltage_v is not None
    entries = design.project.library.loudspeaker_cables
    gauges = [entries[cable.model].gauge for cable in one.cables if cable.model in entries]
    return _LINE.of(
        one,
        amplifier=one.channel.amplifier if one.channel else "",
        output=one.channel.output if one.channel else "",
        line=one.load.line,
        wiring=one.joined.wiring,
        loudspeakers=one.tags,
        load_w=one.joined.load_w,
        lowest_ohm=amplifier.lowest_impedance if amplifier and not transformers else None,
        cable=tuple(sorted({cable.model for cable in one.cables if cable.model})),
        # Where the designer mixes gauges, the thinnest.
        gauge_awg=max(gauges, default=None),
        wiring_class=amplifier.wiring_class if amplifier else "",
        length_m=sum(cable.length_m for cable in one.cables),
        resistance_ohm=sum(one.run.stretches_ohm),
        current_a=one.run.currents_a[0],
        verdict="fails" if one.overloaded or not one.driven or one.loses_too_much else "holds",
        impedance_ohm=one.joined.impedance_ohm,
    )


def _loudspeaker(one: LoudspeakerOnLine) -> LineLoudspeakerRow:
    line, unit = one.line, one.unit
    return _ON_LINE.of(
        one,
        room=line.room,
        zone=line.zone,
        model=unit.model,
        output=line.identity if line.channel else "",
        line=line.load.line,
        tap_w=unit.tap_w,
        chosen_by="designer" if unit.written else "level",
        needed_w=unit.needed_w,
        draws_w=unit.draws_w,
        terminals=f"{one.terminals}, {one.connector}",
    )
