"""Heat-work: from what a controller was told to the cone it reaches.

Cones follow an Arrhenius integral of temperature over time: its energy is fitted by how the published tables
differ between 60 and 150 °C/h.
"""

from __future__ import annotations

import numpy as np

from swatch.science.optics import FloatArray

CONE_POSITIONS: FloatArray = np.arange(-21.0, 15.0)
# fmt: off
CONE_CELSIUS_60: FloatArray = np.array([
    586, 600, 626, 678, 715, 738, 772, 791, 807, 837, 861, 875, 903, 920, 942, 976, 998, 1031, 1063, 1086, 1102,
    1119, 1137, 1142, 1152, 1162, 1186, 1222, 1239, 1249, 1260, 1285, 1294, 1306, 1331, 1365,
], dtype=float)
# fmt: on
"""Self-supporting cones 022 … 14 at 60 °C/h; from memory of published tables, which differ by a few degrees."""

USUAL_RATE = 60.0
ENERGY_HOT = 800e3
ENERGY_COOL = 400e3
"""Activation energy in J/mol for cones from 010 up, and for the cooler ones."""

_GAS = 8.314462618
_COOL_BELOW = -9.0


def energy_at(celsius: float) -> float:
    """Activation energy in J/mol of a firing that peaks at ``celsius``."""
    edge = float(np.interp(_COOL_BELOW, CONE_POSITIONS, CONE_CELSIUS_60))
    return ENERGY_HOT if celsius >= edge else ENERGY_COOL


def equivalent_celsius(peak_c: float, rate_c_per_h: float, hold_min: float) -> float:
    """Peak that does the same heat-work when climbed to at 60 °C/h without a hold.

    The heat-work of a climb at rate r to T is ∫ e^(−E/RT) dt ≈ (R T²/E) e^(−E/RT) / r; a hold adds its length
    times e^(−E/RT). Cooling is left out, as the published tables leave it out.
    """
    if not (rate_c_per_h > 0 and hold_min >= 0):
        raise ValueError("a programme climbs, and holds for no less than nothing")
    kelvin = peak_c + 273.15
    energy = energy_at(peak_c)
    scale = _GAS * kelvin**2 / energy
    # Around the peak e^(−E/RT) doubles every few degrees, so work is counted in degrees of a 60 °C/h climb.
    gain = USUAL_RATE / rate_c_per_h + USUAL_RATE * hold_min / 60.0 / scale
    return peak_c + scale * float(np.log(gain))


def cone_of_programme(peak_c: float, rate_c_per_h: float, hold_min: float) -> float:
    """Cone position that a programme of peak, last climbing rate and hold reaches.

    Expect it to be right within about 0.3 cone: a thermocouple 5 °C off is a quarter of a cone.
    """
    return float(np.interp(equivalent_celsius(peak_c, rate_c_per_h, hold_min), CONE_CELSIUS_60, CONE_POSITIONS))


def celsius_of_cone(position: float, rate_c_per_h: float = USUAL_RATE) -> float:
    """Temperature at which a cone falls when climbed to at a steady rate without a hold."""
    at_60 = float(np.interp(position, CONE_POSITIONS, CONE_CELSIUS_60))
    low, high = at_60 - 60.0, at_60 + 90.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if equivalent_celsius(middle, rate_c_per_h, 0.0) < at_60:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
