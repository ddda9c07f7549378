"""Loss of a radio path in free space, after ITU-R P.525."""

import math

import numpy as np
from numpy.typing import NDArray

from proposal.standards.formula import array_form, formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

Floats = NDArray[np.float64]

ITU_P525 = Source("ITU-R P.525")


@formula(
    title="Loss in free space",
    equation="L = 32.45 + 20·log10(f/10^6) + 20·log10(d/1000)",
    source=ITU_P525,
    result=("L", "dB"),
    where={"frequency_hz": ("f", "frequency", "Hz"), "distance_m": ("d", "length of the path", "m")},
    valid={"frequency_hz": Range(3e8, 1e11), "distance_m": Range(0.1, 1e6)},
)
def free_space_loss_db(frequency_hz: float, distance_m: float) -> float:
    """Return the loss between isotropic antennas in free space [dB].

    frequency_hz: frequency [Hz]
    distance_m: length of the path, at least 0.1 m so that the far field is meant [m]

    Source: ITU-R P.525.
    """
    return 32.45 + 20 * math.log10(frequency_hz / 1e6) + 20 * math.log10(distance_m / 1000)


@array_form(free_space_loss_db)
def free_space_losses_db(frequency_hz: float, distance_m: Floats) -> Floats:
    """Return the loss between isotropic antennas in free space, for many paths at once [dB].

    frequency_hz: frequency [Hz]
    distance_m: length of each path [m], shape (paths,)

    Source: ITU-R P.525.
    """
    loss: Floats = 32.45 + 20 * math.log10(frequency_hz / 1e6) + 20 * np.log10(distance_m / 1000)
    return loss
