"""A portable set in a place where it is used, in a room or outdoors: its devices and its radio there."""

from collections.abc import Sequence
from dataclasses import replace

from proposal.document.document import Document
from proposal.document.rows.portable_sets import PortableUseRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.place_of_a_set import SetPlace, of_links
from proposal.drawings.plan.plan_marks import marks_of
from proposal.drawings.plan.turning import turned
from proposal.drawings.room_plan import RoomPlanSpec, device_lines
from proposal.drawings.room_plan import alternative as plan_in_words
from proposal.drawings.sheet import strip_of
from proposal.editions import Edition
from proposal.quantities import formatting

Point = tuple[float, float]


def spec_of(edition: Edition, sheet: SheetRow) -> RoomPlanSpec:
    """Return what the plan of a portable set in a place shows to an edition's reader.

    sheet: whose subject is the tag of the set and the key of the place.
    """
    document = edition.document
    uses = uses_of(document, sheet.subject)
    one = uses[0]
    own = next(row for row in document.rooms if row.tag == one.set)
    kind = next(row for row in document.room_sheets if row.key == own.sheet)
    corner = (min(x for x, _ in one.outline), min(y for _, y in one.outline))
    where = {tag: (at, height_m) for tag, at, height_m in one.standing}
    devices = [
        row.model_copy(update={"at": where[row.tag][0], "height_m": where[row.tag][1]})
        for row in document.devices
        if row.tag in where
    ]

    def here(points: Sequence[Point]) -> tuple[Point, ...]:
        there = turned(points, kind.outline, one.outline)
        return tuple((round(x - corner[0], 4), round(y - corner[1], 4)) for x, y in there)

    states = formatting.listed([state for use in uses for state in use.states])
    needs = f" · needs {one.needs}" if one.needs else ""
    marks = f" ({', '.join(one.outlet_marks)})" if one.outlet_marks else ""
    outlet = f"outlet of the mains there{marks}" if one.outlet else "no outlet of the mains there"
    links, left_out = of_links(_links(document, uses))
    return RoomPlanSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        title=kind.title,
        rooms=((one.set, f"{own.name}, {one.place}"),),
        storeys=(one.storey,),
        outline=here(kind.outline),
        ceiling_height_m=kind.ceiling_height_m,
        ceiling_kind=kind.ceiling_kind,
        furniture=tuple((name, here(points)) for name, points in kind.furniture),
        doors=(),
        seats=tuple((tag, name, here((at,))[0]) for tag, name, at in kind.seats),
        levels=(),
        marks=marks_of(devices, corner),
        lines=device_lines(document, kind, [own], devices, corner),
        site=SetPlace(
            told=f"In the states {states}{needs} · {outlet}",
            where=_where(document, one),
            rooms=tuple(
                (row.tag, row.outline)
                for row in document.rooms
                if row.storey == one.storey and row.tag not in {use.set for use in document.portable_uses}
            ),
            stand=one.outline,
            links=links,
            left_out=left_out,
        ),
    )


def uses_of(document: Document, subject: str) -> list[PortableUseRow]:
    """Return the uses of a portable set in the place that a sheet is of.

    subject: tag of the set and key of the place.
    """
    return [row for row in document.portable_uses if f"{row.set} {row.key_of_place}" == subject]


def _links(document: Document, uses: Sequence[PortableUseRow]) -> tuple[tuple[str, str, str, str, str], ...]:
    """Return what each microphone uses on the air, states together in which it uses the same."""
    return tuple(
        (
            row.microphone,
            ", ".join(row.states),
            row.access_point,
            "" if row.carrier is None else str(row.carrier),
            "; ".join((", ".join(map(str, row.slots)), *row.further)),
        )
        for use in uses
        for row in document.portable_links
        if row.states == use.states and row.microphone.startswith(f"{use.set}-")
    )


def _where(document: Document, use: PortableUseRow) -> str:
    """Return where the set stands in words: in a room, or how far from the nearest one."""
    if use.room:
        return f"The set stands in {use.place}, storey {use.storey}."
    x, y = (sum(one) / len(use.outline) for one in zip(*use.outline, strict=True))
    near = min(
        (
            (max(x - east, west - x, 0.0), max(y - north, south - y, 0.0), tag)
            for tag, west, south, east, north in (
                (row.tag, *_reach(row.outline))
                for row in document.rooms
                if row.storey == use.storey and row.tag != use.set
            )
        ),
        key=lambda one: (one[0] ** 2 + one[1] ** 2, one[2]),
        default=None,
    )

    def length(value_m: float) -> str:
        return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)

    said = f"The set stands outdoors, in {use.place}, on the height of storey {use.storey}."
    if near is None:
        return said
    return f"{said} Its middle is {length((near[0] ** 2 + near[1] ** 2) ** 0.5)} from room {near[2]}."


def _reach(corners: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def alternative(spec: RoomPlanSpec) -> str:
    """Return what the plan shows in sentences."""
    site = spec.site
    if site is None:
        return plan_in_words(spec)
    said = plan_in_words(replace(spec, site=None)).split(". ", 1)[1]
    name = f"{spec.rooms[0][0]} {spec.rooms[0][1]}"
    sentences = [f"Plan of the portable set {name}, to scale, north up.", f"{site.told}.", site.where, said]
    sentences += [
        f"{microphone} uses access point {access_point}, carrier {carrier or 'none'}, slot pairs "
        f"{slots or 'none'} in {states}."
        for microphone, states, access_point, carrier, slots in site.links
    ]
    return " ".join(sentences)
