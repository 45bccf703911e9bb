"""What the learnt model says a look does with heat, thickness, another lot and another clay."""

from __future__ import annotations

import numpy as np

from swatch.science import predicting
from swatch.science.colour_math import FloatArray
from swatch.science.holding import Shifts
from swatch.science.shifts import StudioFit
from swatch.science.states import colours, state_at

STEP = 0.25
"""Cones, and ln thickness, to either side."""
LOT_STEP = 0.1
"""ln of absorption and of scattering."""


def no_shifts(d: int) -> Shifts:
    """Nothing is known of what the look does."""
    return Shifts(np.zeros(d), np.zeros(d), np.zeros((d, 0)), np.zeros((d, 0)))


def shifts_of(
    fit: StudioFit, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: int, cone: float
) -> Shifts:
    """Changes of the regions of one look.

    Parameters
    ----------
    fit : StudioFit
    material, coats, wiped : (r, l)
        Layers of each region from the body outward, −1 after the last.
    body : int
    cone : float

    Returns
    -------
    Shifts
        Columns of ``lot`` are more absorption and more scattering of each material of any region; ``body`` is a
        darker body. Zero where the model cannot answer for a region.
    """
    regions = len(material)
    refused, _ = predicting.refusals(fit, material, np.full(regions, body), np.full(regions, cone))
    used = [int(m) for m in np.unique(material[material >= 0])]

    def lab(
        cones: float, thicker: float = 0.0, astray: tuple[int, int] | None = None, darker: float = 0.0
    ) -> FloatArray:
        latents = fit.layout.latents(fit.z[None].copy())
        if darker:
            latents.body[..., body, 0] += darker
        off = np.zeros((1, len(fit.kind), 2))
        if astray is not None:
            off[0, astray[0], astray[1]] = LOT_STEP
        state = state_at(fit, latents, np.array([cones]), off)
        found = np.zeros((regions, 3))
        layers = (material >= 0).sum(axis=1)
        for count in np.unique(layers):
            rows = np.flatnonzero((layers == count) & (refused == 0))
            if len(rows):
                laid = coats[None, rows, :count] * np.exp(thicker)
                bodies = np.full(len(rows), body)
                found[rows] = colours(state, material[rows, :count], laid, wiped[rows, :count], bodies)[0][0]
        return found

    plain = lab(cone)
    heat = (lab(cone + STEP) - lab(cone - STEP)) / (2 * STEP)
    thickness = (lab(cone, STEP) - lab(cone, -STEP)) / (2 * STEP)
    lots = [(lab(cone, astray=(m, which)) - plain) / LOT_STEP for m in used for which in (0, 1)]
    darker = (lab(cone, darker=STEP) - plain) / STEP
    lot = np.stack([one.ravel() for one in lots], axis=1) if lots else np.zeros((3 * regions, 0))
    return Shifts(heat.ravel(), thickness.ravel(), lot, darker.reshape(-1, 1))
