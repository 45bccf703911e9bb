"""What may come out of the kiln: a dozen colours drawn from a prediction, always the same ones."""

from __future__ import annotations

import hashlib
from functools import lru_cache

import numpy as np

from swatch.terms.answers import Prediction
from swatch.terms.colour import Covariance, Lab
from swatch.terms.layering import format_layers

N_DRAWS = 12


def draws_of(prediction: Prediction, n: int = N_DRAWS) -> tuple[Lab, ...]:
    """Draw `n` colours as they may be fired; seeded from the question, so that they never flicker."""
    question = prediction.question
    seed = f"{format_layers(question.layers)}|{question.body}|{question.cone}"
    return draws(prediction.lab, prediction.covariance, seed, n)


@lru_cache(maxsize=4096)
def draws(lab: Lab, covariance: Covariance, seed: str, n: int = N_DRAWS) -> tuple[Lab, ...]:
    """Draw `n` colours from a Gaussian, in random order.

    Parameters
    ----------
    lab : Lab
        Mean.
    covariance : Covariance
        Of one tile as measured. A matrix that rounding left slightly indefinite is taken as its nearest
        definite one.
    seed : str
        The same text gives the same draws: what is random about them is kept when the prediction moves a little.
    n : int

    Returns
    -------
    tuple of n Lab
        Lightness within 0 to 100.
    """
    number = int.from_bytes(hashlib.sha256(seed.encode()).digest()[:8], "big")
    normal = np.random.default_rng(number).standard_normal((n, 3))
    variances, axes = np.linalg.eigh(np.array(covariance.rows()))
    # The symmetric root turns smoothly with the matrix, where eigenvectors may swap.
    root = (axes * np.sqrt(np.clip(variances, 0.0, None))) @ axes.T
    colours = np.array(lab) + normal @ root
    colours[:, 0] = np.clip(colours[:, 0], 0.0, 100.0)
    return tuple(Lab(*row) for row in colours.tolist())
