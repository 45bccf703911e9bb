"""What glazes do beyond the card: a small leaning of colours, learnt beforehand from imagined cameras and lamps.

A card's patches are paints. A glaze of a patch's very colour has another spectrum, so a correction that brings
every patch home still reads glazes a little wrong, and wrong alike for one camera in one lamp. How the camera saw
the patches tells which camera and lamp it may be. What glazes then read wrong on average, over Lab, was learnt on
spectra, cameras and lamps drawn by chance (``bench/leanings.py``); nothing of it was fired or photographed.
"""

from __future__ import annotations

import functools
import json
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swatch.resources import resource
from swatch.science.card import Card
from swatch.science.colour_math import FloatArray

LEARNT_CARD = "rendition-24"
FURTHEST = 6.0
"""No colour is moved by more than this in L*, a* or b*."""
NOTHING_KNOWN, ALL_KNOWN = 4.0, 16.0
"""L* below the card's darkest patch, where a leaning says nothing any more, and from where it is taken whole."""
STRANGE = 2.5
"""How much less likely than an ordinary one a camera may be before its leaning is taken in part only."""
_DARK = 0.01
"""Straightened light that is added, since what is darker is hardly known."""


@dataclass(frozen=True, slots=True)
class Leaning:
    """How glazes lean in one photo: ``weights`` (20, 3) on `lab_terms`."""

    weights: FloatArray

    def __call__(self, lab: FloatArray) -> FloatArray:
        """Colours (..., 3) with the leaning taken out."""
        known = np.clip((lab[..., :1] - NOTHING_KNOWN) / (ALL_KNOWN - NOTHING_KNOWN), 0.0, 1.0)
        return np.asarray(lab + known * np.clip(lab_terms(lab) @ self.weights, -FURTHEST, FURTHEST))


@dataclass(frozen=True, slots=True)
class Leanings:
    """What was learnt.

    Light of the patches, as `patch_signs`, is taken to be ``mean`` (72,) and ``axes`` (k, 72) times scores with
    standard deviation 1, and a patch's own error ``noise``; ``weights`` is (k + 1, 20, 3), first without a score.
    """

    mean: FloatArray
    axes: FloatArray
    noise: float
    weights: FloatArray

    def scores(self, z: FloatArray, seen: NDArray[np.bool_]) -> tuple[FloatArray, float]:
        """Most likely scores (k,) of a camera, and how strange it is: about 1 for an ordinary one.

        Parameters
        ----------
        z : (24, 3)
            Straightened light of the patches.
        seen : (24,)
            Which patches can be used.
        """
        rows = np.repeat(seen, 3)
        off, axes = (patch_signs(z) - self.mean)[rows], self.axes[:, rows]
        normal = axes @ axes.T + self.noise**2 * np.eye(len(axes))
        scores = np.linalg.solve(normal, axes @ off)
        left = off - scores @ axes
        return scores, max(float((scores**2).mean()), float((left**2).mean()) / self.noise**2)

    def of(self, z: FloatArray, seen: NDArray[np.bool_]) -> Leaning:
        """The leaning of a photo's glazes; the stranger its camera, the less of it is taken."""
        scores, strange = self.scores(z, seen)
        share = min(1.0, STRANGE / strange)
        return Leaning(share * np.tensordot(np.concatenate([[1.0], scores]), self.weights, axes=1))


def patch_signs(z: FloatArray) -> FloatArray:
    """Straightened light of patches (..., 24, 3) on a scale on which errors are about alike: (..., 72)."""
    root = np.cbrt(np.maximum(z, 0.0) + _DARK)
    return np.asarray(root.reshape(*root.shape[:-2], -1))


def lab_terms(lab: FloatArray) -> FloatArray:
    """Powers of L*, a*, b* up to the third: (..., 20)."""
    parts = np.moveaxis(np.asarray(lab) / 50.0 - [1.0, 0.0, 0.0], -1, 0)
    one = np.ones_like(parts[0])
    lightness, a, b = ((one, part, part * part, part * part * part) for part in parts)
    powers = [lightness[i] * a[j] * b[k] for i in range(4) for j in range(4 - i) for k in range(4 - i - j)]
    return np.stack(powers, axis=-1)


def leaning_of(card: Card, z: FloatArray, seen: NDArray[np.bool_]) -> Leaning | None:
    """The leaning of a photo's glazes by how its card was seen; None for a card it was not learnt for."""
    if card.name != LEARNT_CARD:
        return None
    return learnt_leanings().of(z, seen)


@functools.cache
def learnt_leanings() -> Leanings:
    """What is shipped."""
    learnt = json.loads(resource("cards", "rendition-24-leanings.json").read_text("utf-8"))
    axes = np.array(learnt["axes"])
    return Leanings(
        np.array(learnt["mean"]),
        axes,
        float(learnt["noise"]),
        np.array(learnt["weights"]).reshape(len(axes) + 1, -1, 3),
    )
