"""The sheets of kinds of room."""

from proposal.design.equipment.charger_choice import slots_by_form
from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.microphone_switches import switch_of
from proposal.design.equipment.placed_devices import signed_area_m2
from proposal.design.network.room_switch_loads import RoomSwitchLoad
from proposal.design.numbers.numbering import natural
from proposal.design.radio.radio_settings import microphone_height_m
from proposal.design.room_designs import RoomDesign
from proposal.design.rooms.room_kinds import RoomKind, only_room
from proposal.design.sound.flow import Flow
from proposal.document.making.composed_texts import words_of
from proposal.document.rows.room_contents import (
    CarriedRow,
    FlowEdge,
    FlowNode,
    MicrophoneRow,
    SizeRow,
)
from proposal.document.rows.rooms import RoomSheet
from proposal.model.equipment.devices import Charger, Microphone
from proposal.model.project import Project
from proposal.model.rooms import RoomType


def room_sheet(
    project: Project, kind: RoomKind, flow: Flow, first: RoomDesign, load: RoomSwitchLoad | None
) -> RoomSheet:
    """Return the sheet of one kind of room.

    flow: its signal flow.  first: the first room of the kind.
    load: of the busiest port of its own switch, None where it has none.
    """
    layout = kind.layout
    alone = only_room(project, kind)
    served = {
        code: edge.end
        for edge in flow.edges
        if edge.signal == "radio" and not edge.returning
        for code in flow.members.get(edge.start, ())
    }
    held = {device.code: device.location for device in first.devices if device.kind == "microphone"}
    return RoomSheet(
        key=kind.key,
        title=words_of(project).text("room_sheet.one_room", name=project.rooms[alone].name, room=alone)
        if alone
        else layout.name,
        use=layout.use,
        rooms=kind.rooms,
        outline=layout.outline,
        area_m2=abs(signed_area_m2(layout.outline)),
        ceiling_height_m=layout.ceiling.height,
        ceiling_kind=layout.ceiling.kind,
        assistive_listening=layout.assistive_listening,
        untouchable=tuple(sorted(layout.untouchable.items())),
        sound_stays=layout.sound_stays,
        nothing_planned=layout.nothing_planned,
        seats=tuple(
            (tag, seat.name, seat.at)
            for tag, seat in sorted(layout.seats.items(), key=lambda i: natural(i[0]))
        ),
        furniture=tuple((piece.name, piece.outline) for _, piece in sorted(layout.furniture.items())),
        doors=tuple(
            (tag, door.at, door.width)
            for tag, door in sorted(layout.doors.items(), key=lambda item: natural(item[0]))
        ),
        ceiling_tile_m=layout.ceiling.tile or (),
        microphones=tuple(
            MicrophoneRow(
                code=code,
                form=position.form,
                pattern=position.pattern,
                at=position.at,
                height_m=microphone_height_m(project, layout, position),
                seat=_seat(position.seat, layout.seats[position.seat].name if position.seat else ""),
                mounting=held.get(code, ""),
                return_audio=position.return_audio,
                switch=_switch(project, layout, code, kind.sizing.microphones[code]),
                mute_group=position.mute_group,
                access_point=served.get(code, ""),
                model=kind.sizing.microphones[code],
                accessories=kind.sizing.accessories[code],
            )
            for code, position in sorted(layout.microphones.items(), key=lambda item: natural(item[0]))
        ),
        spare_microphones=tuple((form, count) for form, (_, count) in kind.sizing.spares.items()),
        surfaces=tuple(sorted(layout.surfaces.items())),
        sessions=tuple(
            (name, session.start, session.end)
            for name, session in sorted(layout.sessions.items(), key=lambda item: (item[1].start, item[0]))
        ),
        system=kind.sizing.system,
        sizes=_sizes(project, kind),
        carried=_carried(kind),
        slots_needed=kind.sizing.slots,
        channels_needed=kind.sizing.channels,
        own_switch=bool(kind.sizing.own_switch),
        apart="" if layout.nothing_planned else first.apart,
        isolating_port=f"{first.host}/{first.isolating_port}" if first.isolating_port else "",
        switch_load_bit_s=load.load_bit_per_s if load else None,
        switch_speed_bit_s=load.speed_bit_per_s if load else None,
        output="" if layout.nothing_planned else layout.output,
        destinations=(),
        returns=(),
        flow_nodes=_nodes(flow),
        flow_edges=_edges(flow),
        internal_note=layout.internal_note,
    )


def _seat(tag: str, name: str) -> str:
    return f"{tag} ({name})" if name else tag


def _slots_by_form(entry: Charger) -> tuple[str, ...]:
    if len(entry.slot_groups) == 1:
        return ()
    return tuple(f"{one.count} × {' or '.join(one.forms)}" for one in entry.slot_groups)


def _sizes(project: Project, kind: RoomKind) -> tuple[SizeRow, ...]:
    rows = []
    forms = slots_by_form(kind.layout)
    for size in kind.sizing.sizes:
        for model, count in size.boxes:
            entry = project.library.entry(model)
            others = entry.slots - entry.slots_for(forms) if isinstance(entry, Charger) else 0
            rows.append(
                SizeRow(
                    kind=size.kind.replace("_", " "),
                    model=model,
                    description=entry.description,
                    quantity=count,
                    capacity=capacity(entry) - others,
                    other_slots=others,
                    slots_by_form=_slots_by_form(entry) if isinstance(entry, Charger) else (),
                    need=size.need,
                    spare=size.spare,
                    chosen_by="designer" if size.by_hand else "least cost",
                )
            )
    return tuple(rows)


def _carried(kind: RoomKind) -> tuple[CarriedRow, ...]:
    """Return what the mixers or breakouts of a kind of room take and send, where the room needs any of it."""
    size = kind.sizing.size("mixer") or kind.sizing.size("breakout")
    return tuple(
        CarriedRow(what=one.what, need=one.need, given=one.given)
        for one in (size.carried if size else ())
        if one.need
    )


def _nodes(flow: Flow) -> tuple[FlowNode, ...]:
    return tuple(
        FlowNode(code=node.code, kind=node.kind, title=node.title, lines=node.lines) for node in flow.nodes
    )


def _edges(flow: Flow) -> tuple[FlowEdge, ...]:
    return tuple(
        FlowEdge(
            start=edge.start,
            end=edge.end,
            signal=edge.signal,
            label=edge.label,
            returning=edge.returning,
            cable=edge.cable,
            start_port=edge.start_port,
            end_port=edge.end_port,
            connector=edge.connector,
        )
        for edge in flow.edges
    )


def _switch(project: Project, layout: RoomType, code: str, model: str) -> str:
    """Return what the switch of a microphone does, empty where no model is found for it."""
    entry = project.library.entry(model) if model else None
    return switch_of(layout, code, entry) if isinstance(entry, Microphone) else ""
