"""Mixers, wired microphones, amplifiers, loudspeakers and assistive listening in the library."""

from typing import Annotated, Literal

from pydantic import Field

from proposal.model.assistive_listening import Carrier
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import (
    Count,
    Delay,
    OctaveBands,
    Positive,
    Region,
    Watts,
)
from proposal.model.microphone_positions import Pattern, WiredForm
from proposal.quantities.parsing import (
    Angle,
    Area,
    Current,
    Level,
    Power,
    Resistance,
    SoundLevel,
    Voltage,
)

Ohms = Annotated[Resistance, Field(gt=0, le=100_000)]

Coverage = Annotated[Angle, Field(gt=0, le=180)]

Tap = Annotated[Power, Field(gt=0, le=10_000)]


class Mixer(Device):
    """An automatic mixer with networked inputs."""

    kind: Literal["mixer"] = Field(default="mixer", description="Kind of entry.")
    inputs: Positive = Field(description="Networked microphone inputs.")
    line_inputs: Count = Field(default=0, description="Analogue inputs.")
    microphone_inputs: Count = Field(
        default=0,
        description="How many of the analogue inputs, from the first on, have gain and phantom power for a "
        "microphone.",
    )
    phantom_current: Annotated[Current, Field(ge=0, le=1)] = Field(
        default=0.0, description="Current that phantom power of 48 V gives each of them."
    )
    line_outputs: Count = Field(default=0, description="Analogue outputs.")
    networked_outputs: Count = Field(default=0, description="Networked outputs.")
    usb_channels: Count = Field(default=0, description="Channels each way over USB.")
    echo_cancellers: Count = Field(default=0, description="Inputs with echo cancelling.")
    gating: Literal["gated", "gain sharing", "both"] = Field(
        description="How it opens and closes microphones."
    )
    closed_level: Level = Field(description="Level of a closed input against an open one.")
    latency_with_echo_canceller: Delay | None = Field(
        default=None, description="Latency of an input with echo cancelling, where it differs."
    )
    mix_minus_zones: Count = Field(default=0, description="Loudspeaker zones with a mix of their own.")
    highest_level: Level = Field(description="Highest analogue level, referred to 0.775 V.")


class WiredMicrophone(Device):
    """A wired microphone to an input with gain and phantom power."""

    kind: Literal["wired_microphone"] = Field(default="wired_microphone", description="Kind of entry.")
    form: WiredForm = Field(description="Gooseneck, boundary, handheld or hanging.")
    pattern: Pattern = Field(description="Pickup pattern.")
    phantom: Annotated[Current, Field(ge=0, le=1)] = Field(
        default=0.0, description="Current that it takes from phantom power of 48 V; 0 where it needs none."
    )


class Amplifier(Device):
    """A loudspeaker amplifier."""

    kind: Literal["amplifier"] = Field(default="amplifier", description="Kind of entry.")
    channels: Positive = Field(description="Channels.")
    channel_power: Annotated[Power, Field(gt=0, le=100_000)] = Field(
        description="Rated power of one channel."
    )
    total_power: Annotated[Power, Field(gt=0, le=100_000)] = Field(
        description="Power of all channels at once."
    )
    line_voltages: tuple[Annotated[Voltage, Field(gt=0, le=1000)], ...] = Field(
        default=(), description="Constant voltages it drives, such as 70.7 V and 100 V."
    )
    lowest_impedance: Ohms | None = Field(
        default=None, description="Least load without a line transformer, if it can do without."
    )
    line_inputs: Count = Field(default=0, description="Analogue inputs.")
    sensitivity: Level = Field(description="Input level for rated power, referred to 0.775 V.")
    wiring_class: Literal["class 1", "class 2", "class 3"] = Field(
        description="Class of output wiring marked on it (NFPA 70 640.9(C))."
    )
    idle: Watts = Field(description="Mains power with no signal.")
    eighth_power: Annotated[Power, Field(gt=0, le=100_000)] = Field(
        description="Mains power at an eighth of rated power, as speech at its highest takes."
    )


class Loudspeaker(Device):
    """A loudspeaker for a ceiling or a wall."""

    kind: Literal["loudspeaker"] = Field(default="loudspeaker", description="Kind of entry.")
    sensitivity: Annotated[SoundLevel, Field(ge=30, le=150)] = Field(
        description="Level at 1 m for 1 W, on axis, in a free field."
    )
    band_sensitivity: OctaveBands[SoundLevel] = Field(
        description="Level at 1 m for 1 W, on axis, by octave band."
    )
    highest_level: SoundLevel = Field(description="Highest continuous level at 1 m.")
    rated_power: Annotated[Power, Field(gt=0, le=100_000)] = Field(
        description="Continuous power it can take."
    )
    impedance: Ohms = Field(description="Nominal impedance without a transformer.")
    taps_70_v: tuple[Tap, ...] = Field(default=(), description="Taps on a 70.7 V line, highest first.")
    taps_100_v: tuple[Tap, ...] = Field(default=(), description="Taps on a 100 V line, highest first.")
    coverage: Coverage = Field(description="Nominal coverage between the −6 dB points, mean of 1 to 4 kHz.")
    upright_coverage: Coverage | None = Field(
        default=None,
        description="Coverage from top to bottom, of a column that covers another angle from side to side.",
    )
    band_coverage: OctaveBands[Coverage] = Field(description="Coverage angle, by octave band.")
    directivity: OctaveBands[Level] = Field(
        description="Directivity index on axis, by octave band: ten times the logarithm of Q."
    )
    transformer_loss: Annotated[Level, Field(ge=0, le=20)] = Field(
        description="Loss of its line transformer: its taps give their power, and draw so much more."
    )
    safety_wire: bool = Field(default=True, description="Whether it has a point for a safety wire.")


class AssistiveDevice(Device):
    """A transmitter or receiver for assistive listening."""

    kind: Literal["assistive_device"] = Field(default="assistive_device", description="Kind of entry.")
    role: Literal["transmitter", "receiver", "neck loop", "receiver charger", "sign"] = Field(
        description="What it is for."
    )
    carrier: Carrier | None = Field(
        default=None,
        description="By what it sends or receives: infrared, radio or induction loop; left out, it goes with "
        "all.",
    )
    covers: Annotated[Area, Field(gt=0, le=100_000)] | None = Field(
        default=None, description="Floor area that a transmitter reaches."
    )
    hearing_aid_compatible: bool = Field(
        default=False, description="Whether it works with a hearing aid's telecoil."
    )
    slots: Count = Field(default=0, description="Receivers a charger holds.")
    regions: tuple[Region, ...] = Field(
        default=("europe", "north_america"), description="Regions it is made for."
    )
