"""The sample document's channels, settings, muting and meeting day, with texts of an unkind author."""

from proposal.document.rows.charging import FurtherDay, MeetingDay, MuteRow, PackDay
from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow, LoudspeakerLineRow
from proposal.document.rows.sound import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow

SCRIPT = "<script>alert(1)</script>"
PIPES = "a | b | c"


def sample_day() -> MeetingDay:
    """Return a day on which one form lasts alone, one with swaps, one not, and one lacks slots."""
    alone = PackDay(
        form="bodypack",
        in_use=("M9",),
        spares=(),
        without_slot=(),
        verdict="alone",
        run_time_h=5.12,
        fresh_lowest=0.61,
        aged_lowest=0.512,
        lowest_at=990.0,
        empty_minutes=0.0,
        full_after_h=1.75,
        held_lowest=0.512,
        held_swaps=0,
        pool=0,
        pool_swaps=0,
        more_slots=0,
        longer_breaks_min=None,
        last_end=990.0,
        charge_w=None,
        charged_w=2.3,
        fresh=((540.0, 1.0), (990.0, 0.61), (1095.0, 1.0)),
        aged=((540.0, 1.0), (990.0, 0.512), (1095.0, 1.0)),
        slotless=(),
    )
    swaps = alone.model_copy(
        update={
            "form": "gooseneck",
            "in_use": tuple(f"M{number}" for number in range(1, 7)),
            "spares": ("MS1", "MS2"),
            "verdict": "with swaps",
            "aged_lowest": 0.113,
            "held_lowest": 0.274,
            "held_swaps": 9,
            "pool": 2,
            "pool_swaps": 9,
            "longer_breaks_min": 25,
            "last_end": 1015.0,
            "charge_w": 6.4,
            "aged": ((540.0, 1.0), (990.0, 0.113), (1095.0, 1.0)),
        }
    )
    short = alone.model_copy(
        update={
            "form": "handheld",
            "in_use": ("M7", "M8"),
            "spares": ("MS3",),
            "verdict": "too few spares",
            "aged_lowest": 0.0,
            "empty_minutes": 66.0,
            "full_after_h": None,
            "pool": 2,
            "pool_swaps": 5,
            "more_slots": 1,
            "aged": ((540.0, 1.0), (924.0, 0.0), (990.0, 0.0)),
        }
    )
    lost = alone.model_copy(
        update={
            "form": "boundary",
            "in_use": ("M10", "M11"),
            "without_slot": ("M11",),
            "verdict": "slots short",
            "aged_lowest": 0.0,
            "pool": None,
            "slotless": ((540.0, 0.1), (600.0, 0.0), (990.0, 0.0)),
        }
    )
    return MeetingDay(
        reserve=0.2,
        docked_share=0.5,
        in_use_share=1.0,
        night_h=16.5,
        sessions=((540.0, 990.0),),
        packs=(alone, swaps, short, lost),
    )


def sample_further_days() -> tuple[FurtherDay, ...]:
    """Return a further kind of day, on which one form takes more swaps and another does not last."""
    usual = sample_day()
    alone, swaps, *_ = usual.packs
    held = {name: getattr(usual, name) for name in ("reserve", "docked_share", "in_use_share")}
    packs = (
        alone.model_copy(
            update={"verdict": "too few spares", "aged_lowest": 0.03, "lowest_at": 1390.0, "pool": 3}
        ),
        swaps.model_copy(update={"held_swaps": 29, "pool_swaps": 31}),
    )
    return (
        FurtherDay(name=f"budget {SCRIPT}", night_h=9.25, sessions=((515.0, 1390.0),), packs=packs, **held),
    )


def sample_mutes() -> tuple[MuteRow, ...]:
    held = MuteRow(
        trigger="Switch held",
        microphones=("M1", "M2", "M3", "M7"),
        indicator="live",
        local_mix="live",
        far_end="live",
    )
    everything = MuteRow(
        trigger=f"Mute of all set {SCRIPT}",
        microphones=(),
        indicator="muted",
        local_mix="muted",
        far_end="muted",
    )
    return (held, everything)


def sample_channels() -> tuple[ChannelRow, ...]:
    linked = tuple(
        ChannelRow(
            microphone=f"B001-M{number}",
            room="B001",
            name=f"M{number} Councillor {number} {PIPES}",
            form="gooseneck",
            model="QG-1",
            access_point="B001-AP1",
            channel=number,
            stream=1,
            group="239.192.0.1",
            position=number,
            mixing="B001-MX1",
            input=str(number),
            berth=f"B001-CH1/{2 * number - 1}-{2 * number}",
            mute_group="chair" if number == 1 else "floor",
            switch="push to talk",
            return_audio="yes",
        )
        for number in (1, 2)
    )
    spare = ChannelRow(
        microphone="B001-MS1",
        room="B001",
        name="MS1 spare gooseneck",
        form="spare gooseneck",
        model="QG-1",
        berth="B001-CH1/7-8",
        switch="push to talk",
    )
    return (*linked, spare)


def sample_streams() -> tuple[StreamRow, ...]:
    return (
        StreamRow(
            number=1,
            name="B001-AP1 1",
            room="B001",
            sender="B001-AP1",
            carries="microphone channels 1 to 4",
            channels=4,
            group="239.192.0.1",
            receivers=("B001-MX1",),
            bandwidth_bit_s=5_232_000.0,
        ),
        StreamRow(
            number=2,
            name="B001-MX1 codec",
            room="B001",
            sender="B001-MX1",
            carries=f"mix for codec {SCRIPT}",
            channels=1,
            group="239.192.0.2",
            receivers=("codec",),
            bandwidth_bit_s=1_776_000.0,
        ),
    )


def sample_ends() -> tuple[AudioEndRow, ...]:
    return (
        AudioEndRow(
            device="B001-MX1",
            direction="output",
            port="O1",
            name=f"loudspeakers, zone {PIPES}",
            joined=("B001-AM1",),
            signal="analogue",
            channels=1,
        ),
        AudioEndRow(
            device="B001-MX1",
            direction="output",
            port="",
            name="mix for recorder",
            joined=("recorder",),
            signal="analogue",
            channels=1,
        ),
    )


def sample_lines(cable: str) -> tuple[LoudspeakerLineRow, ...]:
    """Return one line: 10 W on 100 V, and what a measurement may show.

    cable: model code.
    """
    return (
        LoudspeakerLineRow(
            room="B001",
            zone=PIPES,
            amplifier="B001-AM1",
            output="L1",
            line="100 V",
            wiring="parallel",
            loudspeakers=("B001-LS1",),
            load_w=10.0,
            usable_w=48.0,
            rated_w=60.0,
            lowest_ohm=4.0,
            cable=(cable,),
            gauge_awg=16,
            wiring_class="class 3",
            length_m=30.0,
            resistance_ohm=0.79,
            current_a=0.1,
            loss_db=0.01,
            limit_db=0.5,
            verdict="holds",
            impedance_ohm=1000.0,
            least_ohm=800.0,
            most_ohm=1200.0,
        ),
    )


def sample_line_loudspeakers(model: str) -> tuple[LineLoudspeakerRow, ...]:
    """Return the loudspeaker of that line.

    model: its model code.
    """
    return (
        LineLoudspeakerRow(
            loudspeaker="B001-LS1",
            room="B001",
            zone=PIPES,
            place=1,
            model=model,
            output="B001-AM1/L1",
            line="100 V",
            tap_w=10.0,
            chosen_by="level",
            needed_w=7.5,
            draws_w=10.0,
            terminals="L1, terminal block",
            cable_in="B001-LS1/L1/ER1-RK1",
            temperature_c=20.0,
            current_a=0.1,
            loss_db=0.01,
        ),
    )


def sample_settings() -> tuple[SettingRow, ...]:
    return (
        SettingRow(device="ER1-SW1", step=1, name="Host name", value="er1-sw1"),
        SettingRow(device="ER1-SW1", step=2, name="IGMP querier", value="on: the only one of the VLAN"),
        SettingRow(device="B001-AP1", step=1, name="Host name", value="b001-ap1"),
        SettingRow(device="B001-AP1", step=2, name="Channel 1", value=f"B001-M1 {SCRIPT}"),
    )


def sample_controls() -> tuple[ControlRow, ...]:
    return (
        ControlRow(
            device="B001-AP1",
            point="mute all",
            access="read and set",
            value=f"on or off {PIPES}",
            through="B001-AP1",
            address="10.20.30.2",
            port="TCP 443",
        ),
        ControlRow(device="B001-MS1", point="mute", access="read and set", value="on or off"),
    )
