"""Heat of firings from witness buttons: cast buttons with stripes of the studio's underglazes, half covered.

The kept reference button lies in every photo: it and the stripes that hardly change with heat take the camera out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray
from swatch.science.holding import CAMERA_OWN_SD, CAMERA_SD, READING

STRIPE_SD = 0.35
"""What one stripe differs from the next button's, in each direction, beside reading: hand and place."""
LEAST_CHANGE = 0.4
"""ΔE a cone below which stripes tell no heat; cones serve better there."""


@dataclass(frozen=True)
class HeatRead:
    """Heat against the origin, cones, and its variance."""

    cones: float
    variance: float


def heat_of_buttons(
    stripes: FloatArray,
    changes: FloatArray,
    buttons: int,
    reference: FloatArray | None,
    reference_readings: int = 1,
) -> HeatRead | None:
    """Heat that the buttons of one firing tell, by generalised least squares.

    Parameters
    ----------
    stripes : (q, 3) float
        Mean colour of each stripe over the firing's buttons, less its colour at the origin.
    changes : (q, 3) float
        What each stripe does for a cone more.
    buttons : int
        Buttons behind the means.
    reference : (3,) float or None
        The kept button's change from its own mean, in the same photo.
    reference_readings : int

    Returns
    -------
    HeatRead or None
        None where the stripes hardly change with heat.
    """
    if not len(changes) or float(np.abs(changes).max()) < LEAST_CHANGE:
        return None
    q = len(stripes)
    rows = q + (0 if reference is None else 1)
    way = np.zeros((rows, 3))
    way[:q] = changes
    y = np.zeros((rows, 3))
    y[:q] = stripes
    noise = np.full(rows, (READING + STRIPE_SD**2) / buttons)
    if reference is not None:
        y[q] = reference
        noise[q] = READING / reference_readings
    camera = np.kron(np.ones((rows, rows)), CAMERA_SD**2 * np.eye(3))
    v = camera + np.kron(np.diag(noise), np.eye(3)) + 0.1 * CAMERA_OWN_SD**2 * np.eye(3 * rows)
    inverse = np.linalg.inv(v)
    information = float(way.ravel() @ inverse @ way.ravel())
    return HeatRead(float(way.ravel() @ inverse @ y.ravel()) / information, 1.0 / information)
