"""Heat-work from a log of temperature over time, and the cone it comes to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import heatwork
from swatch.science.optics import FloatArray

LOG_SD = 0.3
"""Doubt of a cone read off a log: a thermocouple 5 °C off is a quarter of a cone. Witness cones correct it."""

SOAK_WITHIN_C = 8.0
"""The soak lasts for as long as the kiln stays this near its peak."""

_GAS = 8.314462618
_FINEST_C = 1.0
_MOST_STEPS = 200


@dataclass(frozen=True, slots=True)
class HeatWork:
    """What a firing did to the ware up to the end of its soak.

    ``celsius_60`` is the peak of a climb at 60 °C/h without a hold that does the same; ``cone`` the cone that
    falls then, a position, with its standard deviation ``cone_sd``; ``peak_c`` and ``soak_ends_min`` as logged.
    """

    celsius_60: float
    cone: float
    cone_sd: float
    peak_c: float
    soak_ends_min: float


def heat_work(minutes: FloatArray, celsius: FloatArray) -> HeatWork:
    """Heat-work of a log: ∫ e^(−E/RT) dt up to the end of the soak, against the same of a climb at 60 °C/h.

    Cooling is left out: the published tables leave it out too, and counting it adds 0.2 to 1.5 cones.

    Parameters
    ----------
    minutes, celsius : (n,) float
        Minutes since the start, rising, and the temperature then; between two points it is taken as straight.

    Raises
    ------
    ValueError
        There are fewer than two points, or time goes back.
    """
    minutes, celsius = np.asarray(minutes, dtype=float), np.asarray(celsius, dtype=float)
    if len(minutes) < 2 or len(minutes) != len(celsius) or (np.diff(minutes) < 0).any():
        raise ValueError("a log is two points or more, in the order of time")
    end = soak_end(celsius)
    peak = float(celsius.max())
    done = work_of(minutes[: end + 1], celsius[: end + 1], peak)
    low, high = peak - 400.0, peak + 400.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if _climb_to(middle, peak) < done:
            low = middle
        else:
            high = middle
    same = 0.5 * (low + high)
    cone = float(np.interp(same, heatwork.CONE_CELSIUS_60, heatwork.CONE_POSITIONS))
    return HeatWork(same, cone, LOG_SD, peak, float(minutes[end]))


def work_along(minutes: FloatArray, celsius: FloatArray) -> FloatArray:
    """Share of a log's heat-work that is done at each of its points, 0 to 1; 1 from the end of the soak on."""
    minutes, celsius = np.asarray(minutes, dtype=float), np.asarray(celsius, dtype=float)
    end, peak = soak_end(celsius), float(celsius.max())
    steps = [work_of(minutes[i : i + 2], celsius[i : i + 2], peak) for i in range(end)]
    done = np.concatenate([[0.0], np.cumsum(steps)])
    share = np.ones(len(minutes))
    share[: end + 1] = done / max(float(done[-1]), 1e-300)
    return share


def soak_end(celsius: FloatArray) -> int:
    """Index of the last point of the soak: from the peak on, while the kiln stays near it."""
    peak = int(np.argmax(celsius))
    cooler = np.flatnonzero(celsius[peak:] < celsius[peak] - SOAK_WITHIN_C)
    return peak + int(cooler[0]) - 1 if len(cooler) else len(celsius) - 1


def work_of(minutes: FloatArray, celsius: FloatArray, peak_c: float) -> float:
    """∫ e^(−E/RT + E/RT_peak) dt in minutes over a log."""
    total = 0.0
    for i in range(len(minutes) - 1):
        count = 1 + min(int(abs(celsius[i + 1] - celsius[i]) / _FINEST_C), _MOST_STEPS)
        at = celsius[i] + (celsius[i + 1] - celsius[i]) * (np.arange(count) + 0.5) / count
        total += float(_speed(at, peak_c).mean()) * float(minutes[i + 1] - minutes[i])
    return total


def _speed(celsius: FloatArray, peak_c: float) -> FloatArray:
    per = heatwork.energy_at(peak_c) / _GAS
    kelvin = np.maximum(celsius + 273.15, 1.0)
    return np.asarray(np.exp(per / (peak_c + 273.15) - per / kelvin))


def _climb_to(celsius: float, peak_c: float) -> float:
    """The same of a climb at 60 °C/h, in closed form: (R T²/E)(1 − 2RT/E) e^(−E/RT) / rate."""
    kelvin = celsius + 273.15
    share = _GAS * kelvin / heatwork.energy_at(peak_c)
    degrees = kelvin * share * (1.0 - 2.0 * share)
    return float(degrees * _speed(np.array(celsius), peak_c) / heatwork.USUAL_RATE * 60.0)
