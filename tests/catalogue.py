"""Equipment for tests: entries of the shipped catalogue by what they are, and a small one with round numbers.

No test presumes a model code, a maker or a capacity of the shipped catalogue: it looks up entries by their
properties, counts by brute force over all of them, or takes the small catalogue, whose figures are nobody's.
"""

from decimal import Decimal
from functools import cache
from typing import Any

from proposal.model.equipment.devices import (
    AccessPoint,
    Breakout,
    BuiltInSwitch,
    Charger,
    Microphone,
    SlotGroup,
)
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.library import Library
from proposal.model.equipment.parts import PoeInput, Radio, RadioRegion
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.loading import load_project
from proposal.model.microphone_positions import Form, Pattern
from proposal.model.project import Project
from proposal.quantities.money import Money
from proposal.resources import resource

ROUND = "Round"
FORMS: tuple[Form, ...] = ("handheld", "bodypack", "boundary", "gooseneck")
PATTERNS: tuple[Pattern, ...] = ("omnidirectional", "cardioid", "supercardioid")
SMALL_AP, LARGE_AP = "T-A5", "T-A20"
SMALL_CHARGER, CHARGER = "T-C2", "T-C10"
BREAKOUT, BREAKOUT_WITH_SWITCH, BREAKOUT_THAT_MIXES = "T-B10", "T-B10S", "T-B10X"
SMALL_MIXER, MIXER = "T-X10", "T-X25"
ENERGY_WH, IN_USE_W, IDLE_W, DOCKED_W, CHARGE_W, KEPT, AGED = 10.0, 1.0, 0.5, 0.1, 4.0, 0.9, 0.8
SLOT_W, SHARED_W = 5.0, 20.0

POWERS = (23.0, 20.0, 17.0, 14.0, 8.0)
RADIO = Radio(
    regions={
        "europe": RadioRegion(carriers=10, powers=POWERS),
        "north_america": RadioRegion(carriers=5, powers=POWERS[1:]),
    },
    slot_pairs=3,
    one_carrier=True,
    in_a_row=True,
    sensitivity=-83.0,
    carrier_to_interference=10.0,
    synchronisation="follows",
)


def model_of(library: Library, kind: str, **wanted: Any) -> str:
    """Return the code of the least-cost entry of a kind with some properties; the first code among equals.

    wanted: value by name of field or property; `least_` before a name wants at least that much.
    """
    found = [
        (entry.cost.amount, code)
        for code, entry in library.of_kind(kind).items()
        if all(_has(entry, name, value) for name, value in wanted.items())
    ]
    assert found, f"the catalogue has no {kind} with {wanted}"
    return min(found)[1]


def _has(entry: Entry, name: str, value: Any) -> bool:
    if name.startswith("least_"):
        return bool(getattr(entry, name.removeprefix("least_")) >= value)
    return bool(getattr(entry, name) == value)


def microphone(form: Form, pattern: Pattern = "cardioid") -> str:
    """Return the code of a microphone of the small catalogue."""
    return f"T-{form}-{pattern}"


def with_round_catalogue(project: Project) -> Project:
    """Return a project whose microphone system can only be that of the small catalogue.

    Access points have 5 and 20 channels. Breakouts have 10 outputs and cost 500, with a switch 600, with a
    mix 900. Mixers have 10 and 25 networked inputs and outputs, 2 and 6 analogue ones each way, and 2
    channels each way over USB; they cost 1000 and 2200. A charger has 10 slots, five for boundary
    microphones and goosenecks and five for the others; a small one has 2, for any form.
    """
    return project.model_copy(update={"library": _small(project.library)})


def _small(library: Library) -> Library:
    microphones = {
        microphone(form, pattern): _microphone(library, form, pattern)
        for form in FORMS
        for pattern in PATTERNS
    }
    access_points = {
        SMALL_AP: _access_point(library, SMALL_AP, 5, "500", 2, 2),
        LARGE_AP: _access_point(library, LARGE_AP, 20, "1500", 6, 4),
    }
    chargers = {
        SMALL_CHARGER: _charger(library, SMALL_CHARGER, [(2, FORMS)], "100", shared=10.0),
        CHARGER: _charger(library, CHARGER, [(5, FORMS[2:]), (5, FORMS[:2])], "400", shared=SHARED_W),
    }
    mixers = {
        SMALL_MIXER: _mixer(library, SMALL_MIXER, 10, 2, "1000"),
        MIXER: _mixer(library, MIXER, 25, 6, "2200"),
    }
    breakouts = {
        BREAKOUT_THAT_MIXES: _breakout(library, BREAKOUT_THAT_MIXES, "900", None, mixes=True),
        BREAKOUT: _breakout(library, BREAKOUT, "500", None),
        BREAKOUT_WITH_SWITCH: _breakout(
            library,
            BREAKOUT_WITH_SWITCH,
            "600",
            BuiltInSwitch(
                ports=5, poe_ports=2, poe_class=4, poe_type=2, budget=40.0, isolating_ports=1, speed=1e9
            ),
        ),
    }
    return library.model_copy(
        update={
            "microphones": microphones,
            "access_points": access_points,
            "chargers": chargers,
            "breakouts": breakouts,
            "mixers": mixers,
            "accessories": {},
        }
    )


def _money(amount: str) -> Money:
    return Money(amount=Decimal(amount), currency="EUR")


def _microphone(library: Library, form: Form, pattern: Pattern) -> Microphone:
    like = next(iter(library.microphones.values()))
    battery = like.battery.model_copy(
        update={
            "energy": ENERGY_WH,
            "run_time": ENERGY_WH / IN_USE_W * 3600,
            "in_use": IN_USE_W,
            "idle": IDLE_W,
            "docked": DOCKED_W,
            "off": 0.0,
            "charge_power": CHARGE_W,
            "taper_from": 0.8,
            "taper_share": 0.5,
            "charge_efficiency": KEPT,
            "aged_share": AGED,
        }
    )
    return like.model_copy(
        update={
            "model": microphone(form, pattern),
            "system": ROUND,
            "form": form,
            "pattern": pattern,
            "cost": _money("300"),
            "list_price": _money("500"),
            "battery": battery,
            "radio": RADIO,
            "hears_return": form in ("boundary", "gooseneck"),
            "mute_switch": "push to talk" if form == "gooseneck" else "toggle",
        }
    )


def _access_point(
    library: Library, model: str, channels: int, cost: str, transceivers: int, poe_class: int
) -> AccessPoint:
    like = next(iter(library.access_points.values()))
    radio = RADIO.model_copy(
        update={"transceivers": transceivers, "always_on_bearers": 1, "antenna_gain": 2.0, "group_size": 64}
    )
    radio = radio.model_copy(update={"synchronisation": "network", "latency": 0.01})
    assert like.network is not None
    network = like.network.model_copy(update={"sent_channels": channels, "received_channels": channels})
    poe = PoeInput(device_class=poe_class, type=2 if poe_class > 3 else 1, typical=5.0, maximum=6.0)
    return like.model_copy(
        update={
            "model": model,
            "system": ROUND,
            "channels": channels,
            "cost": _money(cost),
            "radio": radio,
            "poe": poe,
            "network": network,
            "mains": None,
            "least_spacing": 3.0,
            "needs_screened_cable": True,
            "termination": "plug",
        }
    )


def _charger(
    library: Library, model: str, groups: list[tuple[int, tuple[Form, ...]]], cost: str, shared: float
) -> Charger:
    like = next(one for one in library.chargers.values() if one.pairs and one.mains)
    return like.model_copy(
        update={
            "model": model,
            "system": ROUND,
            "slot_groups": tuple(SlotGroup(count=count, forms=forms) for count, forms in groups),
            "slot_power": SLOT_W,
            "shared_power": shared,
            "cost": _money(cost),
        }
    )


def _mixer(library: Library, model: str, inputs: int, lines: int, cost: str) -> Mixer:
    like = next(one for one in library.mixers.values() if one.ports_carrying("USB"))
    assert like.network is not None
    ports = {
        letters: one.model_copy(update={"count": lines}) if one.signal.startswith("analogue") else one
        for letters, one in like.ports.items()
    }
    return like.model_copy(
        update={
            "model": model,
            "inputs": inputs,
            "networked_outputs": inputs,
            "line_inputs": lines,
            "line_outputs": lines,
            "usb_channels": 2,
            "ports": ports,
            "network": like.network.model_copy(
                update={"sent_channels": inputs, "received_channels": inputs, "whole_streams": False}
            ),
            "cost": _money(cost),
        }
    )


def _breakout(
    library: Library, model: str, cost: str, switch: BuiltInSwitch | None, *, mixes: bool = False
) -> Breakout:
    like = next(
        one for one in library.breakouts.values() if (one.switch is None) == (switch is None) and one.mains
    )
    assert like.network is not None
    ports = {
        letters: one.model_copy(update={"count": 10}) if one.signal.startswith("analogue") else one
        for letters, one in like.ports.items()
    }
    return like.model_copy(
        update={
            "model": model,
            "channels": 10,
            "return_inputs": 10,
            "mixes": mixes,
            "network": like.network.model_copy(update={"sent_channels": 10, "received_channels": 10}),
            "ports": ports,
            "switch": switch,
            "cost": _money(cost),
        }
    )


@cache
def shipped() -> Library:
    """Return the library that comes with the program."""
    return load_project(resource("shared") / "starter").library
