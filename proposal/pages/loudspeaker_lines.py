"""Tables of loudspeaker lines for the page of their room: loads, the installer's sheet, the test sheet."""

from collections.abc import Sequence

from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow, LoudspeakerLineRow
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule


def lines_table(here: PageContext, title: str, rows: Sequence[LoudspeakerLineRow]) -> Html:
    """Return the loudspeaker lines of a room: load against channel, conductor and loss.

    title: of the room.
    """
    fields: list[Field[LoudspeakerLineRow]] = [
        *fields_of(here, LoudspeakerLineRow, "zone", "verdict", "amplifier", "output", "line", "load_w"),
        *fields_of(here, LoudspeakerLineRow, "usable_w", "cable", "gauge_awg", "loss_db", "limit_db"),
        *fields_of(here, LoudspeakerLineRow, "loudspeakers", "wiring", "wiring_class", "length_m"),
        *fields_of(here, LoudspeakerLineRow, "resistance_ohm", "current_a", "rated_w", "lowest_ohm", "room"),
    ]
    return schedule(f"Loudspeaker lines, {title}", fields, rows, mark=here.mark("loudspeaker_lines"))


def taps_table(here: PageContext, title: str, rows: Sequence[LineLoudspeakerRow]) -> Html:
    """Return the taps to set and terminals to connect at each loudspeaker of a room, in order of the lines.

    title: of the room.
    """
    fields: list[Field[LineLoudspeakerRow]] = [
        *fields_of(here, LineLoudspeakerRow, "loudspeaker", "tap_w", "line", "terminals", "cable_in"),
        *fields_of(here, LineLoudspeakerRow, "cable_out", "tap_set", "set_by", "output", "place", "zone"),
        *fields_of(here, LineLoudspeakerRow, "model", "chosen_by", "needed_w", "draws_w", "current_a"),
        *fields_of(here, LineLoudspeakerRow, "loss_db", "temperature_c", "room"),
    ]
    return schedule(f"Taps and terminals, {title}", fields, rows, mark=here.mark("line_loudspeakers"))


def line_tests_table(here: PageContext, title: str, rows: Sequence[LoudspeakerLineRow]) -> Html:
    """Return the test sheet of the loudspeaker lines of a room.

    title: of the room.
    """
    fields: list[Field[LoudspeakerLineRow]] = [
        *fields_of(here, LoudspeakerLineRow, "amplifier", "output", "zone", "impedance_ohm", "least_ohm"),
        *fields_of(here, LoudspeakerLineRow, "most_ohm", "measured", "tested"),
    ]
    return schedule(f"Test sheet of loudspeaker lines, {title}", fields, rows)
