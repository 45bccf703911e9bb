"""From camera light to CIELAB, learnt from the card in the same photo.

Three steps: a grey curve per channel undoes the camera's tone curve and white balance; a degree-2 root polynomial
leads to XYZ, fitted by least squares of CIEDE2000; a Gaussian process over CIELAB takes what it leaves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import D50, FloatArray, de00_metric, delta_e_2000, lab_to_xyz, xyz_to_lab
from swatch.science.leaning import Leaning

DARKEST_LIGHT = 2e-4
"""Light below which a level says nothing more."""
CURVE_PULL = np.array([1e-4, 4.0, 16.0])
"""How strongly ln z = c0 + c1 ln x + c2 ln² x is held to c1 = 1, c2 = 0, in units of one neutral patch."""
RIDGE = 1.0
START_STEPS, STEPS = 2, 3
LENGTH = 30.0
"""Distance in CIELAB over which what the polynomial leaves is alike."""
STRAY, STRAY_REACH, MOST_STRAY = 0.0035, 1.5, 0.7
"""Stray light beyond what the card tells, as a share of white (rendered scenes have 0.003 of it and more); up to
how many times the blackest patch's Y it is reckoned with; the most taken off, as a share of the light read."""
_MINOR_CHROMA = 0.7
"""Chroma counts less than lightness in that distance."""


@dataclass(frozen=True, slots=True)
class GreyCurve:
    """Per channel, ln z = c0 + c1 ln x + c2 ln² x; ``terms`` is (3, 3), channel by term."""

    terms: FloatArray

    def __call__(self, light: FloatArray) -> FloatArray:
        """Straightened light z of camera light (..., 3)."""
        x = np.log(np.maximum(light, DARKEST_LIGHT))
        return np.asarray(np.exp(self.terms[:, 0] + x * (self.terms[:, 1] + x * self.terms[:, 2])))


@dataclass(frozen=True, slots=True)
class Correction:
    """Straightened light to CIELAB.

    ``matrix`` (3, 6); ``anchors`` and ``pulls`` are the Gaussian process on what it leaves, ``leaning`` what
    glazes do beyond the card's paints.
    """

    matrix: FloatArray
    anchors: FloatArray
    pulls: FloatArray
    leaning: Leaning | None = None

    def __call__(self, z: FloatArray) -> FloatArray:
        """CIELAB of straightened light (..., 3)."""
        lab = xyz_to_lab(root_terms(z) @ self.matrix.T)
        if len(self.anchors):
            lab = lab + closeness(lab, self.anchors) @ self.pulls
        return np.asarray(lab) if self.leaning is None else self.leaning(lab)


def fit_grey_curve(light: FloatArray, luminance: FloatArray, field: FloatArray) -> GreyCurve:
    """Fit the grey curve to the card's neutral patches.

    Parameters
    ----------
    light : (m, 3)
        Camera light of the neutral patches, 0 to 1.
    luminance : (m,)
        Their published Y, white 1.
    field : (m, 3)
        The scene's light on each patch over that at the card's centre.
    """
    # A patch counts by how well its lightness is known: an error of one L* is a larger share of a dark one.
    weight = np.cbrt(luminance) / np.cbrt(luminance).mean()
    prior = np.array([0.0, 1.0, 0.0])
    terms = np.empty((3, 3))
    for c in range(3):
        x = np.log(np.maximum(light[:, c], DARKEST_LIGHT))
        design = np.stack([np.ones_like(x), x, x * x], axis=1) * weight[:, None]
        pull = np.diag(CURVE_PULL * 0.01)
        wanted = weight * np.log(luminance * field[:, c])
        terms[c] = np.linalg.solve(design.T @ design + pull, design.T @ wanted + pull @ prior)
    return GreyCurve(terms)


def root_terms(z: FloatArray) -> FloatArray:
    """The six terms R, G, B, √RG, √GB, √RB of straightened light (..., 3).

    References
    ----------
    Finlayson, Mackiewicz & Hurlbert (2015), doi:10.1109/TIP.2015.2405336.
    """
    root = np.sqrt(np.maximum(z, 0.0))
    r, g, b = root[..., 0], root[..., 1], root[..., 2]
    return np.stack([z[..., 0], z[..., 1], z[..., 2], r * g, g * b, r * b], axis=-1)


def fit_correction(z: FloatArray, lab: FloatArray, *, gp_share: float = 0.5) -> Correction:
    """Fit the correction to the card's patches.

    Parameters
    ----------
    z : (n, 3)
        Straightened light of the patches.
    lab : (n, 3)
        Their published colours.
    gp_share : float
        Variance of the smooth remainder over that of a patch's own error; 0 leaves the Gaussian process out.
    """
    terms = root_terms(z)
    start = _solve(terms[:, :3], lab, np.zeros((3, 3)), 1e-6, START_STEPS)
    matrix = _solve(terms, lab, np.hstack([start, np.zeros((3, 3))]), RIDGE, STEPS)
    if gp_share <= 0:
        return Correction(matrix, np.empty((0, 3)), np.empty((0, 3)))
    read = xyz_to_lab(terms @ matrix.T)
    kernel = closeness(read, read) * gp_share
    pulls = gp_share * np.linalg.solve(kernel + np.eye(len(read)), lab - read)
    return Correction(matrix, read, pulls)


def closeness(lab: FloatArray, anchors: FloatArray) -> FloatArray:
    """Gaussian closeness of colours (..., 3) to anchors (m, 3): (..., m), 1 where they coincide."""
    scale = np.array([1.0, _MINOR_CHROMA, _MINOR_CHROMA]) / LENGTH
    apart = (lab[..., None, :] - anchors) * scale
    return np.asarray(np.exp(-0.5 * (apart**2).sum(axis=-1)))


def _solve(terms: FloatArray, lab: FloatArray, prior: FloatArray, ridge: float, steps: int) -> FloatArray:
    """Gauss–Newton on ΔE00 with a ridge towards `prior` (3, k)."""
    k = terms.shape[1]
    matrix = prior.copy()
    # The first step is linear about the published colours, so it needs no start.
    read_xyz = lab_to_xyz(lab)
    for step in range(steps):
        read = xyz_to_lab(read_xyz)
        half = np.linalg.cholesky(de00_metric(0.5 * (read + lab)))
        to_lab = np.swapaxes(half, -1, -2) @ _lab_slope(read_xyz)
        design = np.einsum("nij,nk->nijk", to_lab, terms).reshape(-1, 3 * k)
        # Residual of the linear model, in units of ΔE00: what XYZ should be, beyond where the slope was taken.
        if step == 0:
            wanted = np.einsum("nij,nj->ni", to_lab, read_xyz).ravel()
        else:
            left = np.einsum("nji,nj->ni", half, lab - read).ravel()
            wanted = left + design @ matrix.ravel()
        normal = design.T @ design + ridge * np.eye(3 * k)
        matrix = np.linalg.solve(normal, design.T @ wanted + ridge * prior.ravel()).reshape(3, k)
        read_xyz = terms @ matrix.T
    return matrix


def _lab_slope(xyz: FloatArray) -> FloatArray:
    """Derivative of CIELAB by XYZ: (n, 3, 3)."""
    t = xyz / D50
    near = (6 / 29) ** 3
    slope = np.where(t > near, np.cbrt(np.maximum(t, near)) ** -2 / 3.0, 1.0 / (3.0 * (6 / 29) ** 2)) / D50
    out = np.zeros((len(xyz), 3, 3))
    out[:, 0, 1] = 116 * slope[:, 1]
    out[:, 1, 0], out[:, 1, 1] = 500 * slope[:, 0], -500 * slope[:, 1]
    out[:, 2, 1], out[:, 2, 2] = 200 * slope[:, 1], -200 * slope[:, 2]
    return out


@dataclass(frozen=True, slots=True)
class Calibration:
    """The whole way from camera light to CIELAB."""

    curve: GreyCurve
    correction: Correction

    def lab(self, light: FloatArray, field: FloatArray | float = 1.0) -> FloatArray:
        """CIELAB of camera light (..., 3) where the scene's light is `field` of that at the chart's centre."""
        return self.correction(self.curve(light) / field)


def stray_light(lab: FloatArray, card_lab: FloatArray) -> float:
    """Light to take off a zone darker than the card's blackest patch, as a share of white.

    Light strays in every lens, and it only adds. The card's patches tell it down to their own lightness; below
    that the colour would come out too light, by 2 to 4 L* at L* 10 on rendered scenes.

    Parameters
    ----------
    lab : (3,)
        The zone's colour as read.
    card_lab : (n, 3)
        The card's.
    """
    darkest = STRAY_REACH * float(lab_to_xyz(card_lab)[:, 1].min())
    return STRAY * max(0.0, 1.0 - float(lab_to_xyz(lab)[1]) / darkest)


def less_stray(z: FloatArray, stray: float) -> FloatArray:
    """Straightened light (..., 3) without stray light, of which never more is taken off than `MOST_STRAY`."""
    return np.asarray(np.maximum(z - stray, (1.0 - MOST_STRAY) * z))


def calibrate(light: FloatArray, lab: FloatArray, neutrals: NDArray[np.bool_], field: FloatArray) -> Calibration:
    """Fit curve and correction to patches: `light` and `field` (n, 3), `lab` (n, 3), `neutrals` (n,)."""
    curve = fit_grey_curve(light[neutrals], lab_to_xyz(lab[neutrals])[:, 1], field[neutrals])
    return Calibration(curve, fit_correction(curve(light) / field, lab))


def left_out(light: FloatArray, lab: FloatArray, neutrals: NDArray[np.bool_], field: FloatArray) -> FloatArray:
    """CIELAB of each patch as read by a calibration that never saw it: (n, 3)."""
    out = np.empty_like(lab)
    everyone = np.arange(len(lab))
    for k in everyone:
        others = everyone != k
        made = calibrate(light[others], lab[others], neutrals[others], field[others])
        out[k] = made.lab(light[k], field[k])
    return out


def left_out_de00(read: FloatArray, lab: FloatArray) -> FloatArray:
    """ΔE00 of left-out readings."""
    return delta_e_2000(read, lab)
