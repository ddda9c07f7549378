"""Rows for the network team of the sample document, made of its devices."""

from collections.abc import Sequence

from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.network import (
    NetworkHostRow,
    NetworkModelRow,
    NetworkQuestionRow,
    NetworkUseRow,
    VlanRow,
)
from proposal.document.rows.switch_links import SwitchLinkRow


def sample_vlans(hostile: str) -> tuple[VlanRow, ...]:
    return (
        VlanRow(
            name=hostile,
            vlan=120,
            purpose="audio and control",
            network="10.20.0.0/22",
            gateway="10.20.0.1",
            addressing="static",
            addresses_used=14,
            addresses_free=1007,
            querier="ER1-SW1",
            clock_leader="B001-MX1",
            clock_next="",
            groups=3,
            audio_bit_s=29_520_000.0,
        ),
    )


def sample_hosts(devices: Sequence[DeviceRow]) -> tuple[NetworkHostRow, ...]:
    return tuple(
        NetworkHostRow(
            device=row.tag,
            kind=row.kind,
            model=row.model,
            room=row.room,
            host=row.host,
            addresses=(row.address,),
            vlan=120,
            addressing="static",
            switch_port=row.switch_port,
            speed_bit_s=1e9,
            sent_groups=("239.192.0.1",) if row.kind == "access point" else (),
            taken_groups=("239.192.0.1",) if row.kind == "mixer" else (),
            sent_bit_s=9_840_000.0 if row.kind == "access point" else 0.0,
            taken_bit_s=9_840_000.0 if row.kind == "mixer" else 0.0,
            control_bit_s=200_000.0,
            protocols=("control: TCP 443, to the device",),
        )
        for row in devices
        if row.switch_port
    )


def sample_uses(hostile: str) -> tuple[NetworkUseRow, ...]:
    return (
        NetworkUseRow(
            use="audio",
            protocol="UDP 5004",
            way="both ways",
            group="one a stream",
            dscp=34,
            opening="Nothing between networks.",
            devices=9,
            kinds=("access point", "mixer"),
        ),
        NetworkUseRow(
            use=hostile,
            protocol=hostile,
            way="to the device",
            group="",
            dscp=0,
            opening=hostile,
            devices=14,
            kinds=(hostile,),
        ),
    )


def sample_models(devices: Sequence[DeviceRow], hostile: str) -> tuple[NetworkModelRow, ...]:
    models = sorted({(row.model, row.kind) for row in devices if row.switch_port})
    return tuple(
        NetworkModelRow(
            model=model,
            kind=kind,
            devices=sum(row.model == model for row in devices),
            found_by=hostile,
            updated_by=hostile,
            time_needed="none",
            names_needed="none",
            certificates="",
        )
        for model, kind in models
    )


def sample_questions(hostile: str) -> tuple[NetworkQuestionRow, ...]:
    return (
        NetworkQuestionRow(asked="network team", question=hostile, until_then="Nothing is planned."),
        NetworkQuestionRow(asked=hostile, question="Which certificates?", until_then=hostile),
    )


def sample_switch_links() -> tuple[SwitchLinkRow, ...]:
    return (
        SwitchLinkRow(
            identity="ER2-SW1/U1/ER1-RK1",
            from_switch="ER2-SW1",
            from_port="U1",
            to_switch="ER1-SW1",
            to_port="U1",
            verdict="holds",
            medium="fibre",
            module="HS-12P",
            length_m=31.5,
            reach_m=300.0,
            speed_bit_s=1e9,
            inwards_bit_s=20_044_000.0,
            outwards_bit_s=10_172_000.0,
            streams_in=2,
            streams_out=1,
            audio_in_bit_s=19_744_000.0,
            audio_out_bit_s=9_872_000.0,
            control_bit_s=300_000.0,
        ),
    )
