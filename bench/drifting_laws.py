"""Invented studios of a physics of its own, held back to judge with: nothing in the program was chosen by it.

``drift``: no fluxes at all. A coat hides by the area its grains cover and dyes by what light loses in it; the two
are mixed by the power rule of halftone prints (Yule & Nielsen 1951), so neither adds up as layers of K and S do.
Grains are drawn by their reflectance, with edges and valleys. Heat slides each material's whole spectrum along the
wavelengths and deepens or fades it, levelling off; glazes are matt below their cone and some again above it;
colour bleeds upward as a geometric mean. Thickness is more scattered than usual, by method.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bench.studios import NM, Studio
from bench.studios import make_studio as make_usual
from swatch.science import priors

DRIFT = "drift"
SCATTER = (0.22, 0.38)
"""Scatter of ln thickness, brushed and sprayed."""
_POWER = 1.8
"""Of the rule of mixing: 1 is area by area, more lets light wander."""


@dataclass
class _Grain:
    """What a material of this physics is beside its kind."""

    colour: np.ndarray  # reflectance of its grains at NM
    lost: np.ndarray  # absorbance of one coat
    covers: float  # of one coat: −ln of the area left open
    slides: float  # nm a cone, at first
    deepens: float
    turns: float  # cones over which heat levels off
    matt_below: float
    matt_above: float
    bleeds: float


def _step(x: np.ndarray | float) -> np.ndarray:
    return np.asarray(1.0 / (1.0 + np.exp(-x)))


def _colour(random: np.random.Generator, pale: float) -> np.ndarray:
    """An edge as of iron or cadmium colours, a valley as of cobalt or copper, or both."""
    low, high = random.uniform(0.03, 0.12), random.uniform(0.35, 0.85)
    edge = _step((NM - random.uniform(470, 640)) / random.uniform(12, 45))
    valley = np.exp(-(((NM - random.uniform(430, 650)) / random.uniform(35, 90)) ** 2))
    kind = random.integers(3)
    shape = (edge, 1.0 - valley, edge * (1.0 - 0.7 * valley))[kind]
    return np.clip((low + (high - low) * shape) ** (1.0 - pale), 0.02, 0.92)


def _grain(kind: int, random: np.random.Generator) -> _Grain:
    opaque = kind == priors.GLAZE and random.random() < 0.4
    covers = random.normal(0.4, 0.35) if kind == priors.UNDERGLAZE or opaque else random.normal(-3.0, 0.7)
    lost = -np.log(_colour(random, 0.55)) * np.exp(random.normal(-0.9, 0.6))
    if kind == priors.CLEAR:
        covers, lost = random.normal(-4.0, 0.5), 0.02 + 0.05 * np.exp(-(NM - 400) / 40)
    if kind == priors.UNDERGLAZE:
        lost = 0.3 * lost
    glassy = kind != priors.UNDERGLAZE
    return _Grain(
        _colour(random, 0.35 if opaque else 0.0),
        lost,
        float(np.exp(covers)),
        random.normal(0, 3.0),
        random.normal(0.0, 0.09 if glassy else 0.035),
        random.uniform(2.0, 6.0),
        random.normal(3.0, 1.0),
        random.uniform(7.0, 9.0) if random.random() < 0.25 else 30.0,
        float(np.exp(random.normal(-1.9 if glassy else -3.3, 0.5))),
    )


class DriftStudio(Studio):
    """Grains that hide and dye; see the module."""

    grains: list[_Grain]

    def raw_spectrum(self, m: int, stronger: float) -> np.ndarray:
        """Reflectance of a thick unfired layer."""
        return np.asarray(self.grains[m].colour ** stronger)

    def _heated(self, m: int, spectrum: np.ndarray, cone: float) -> np.ndarray:
        one = self.grains[m]
        hot = one.turns * np.tanh((cone - 6.0) / one.turns)
        slid = np.interp(NM - one.slides * hot, NM, spectrum)
        return np.asarray(slid ** np.exp(one.deepens * hot))

    def spectrum(self, layers: list[tuple[int, float]], body: int, cone: float) -> np.ndarray:
        """Reflectance of layers on a body at the cone truly reached."""
        seen = self.bodies[body] ** np.exp(0.2 * self.body_heat[body] * (cone - 6.0))
        before: tuple[np.ndarray, np.ndarray, float] | None = None
        for at, (m, coats) in enumerate(layers):
            one = self.grains[m]
            colour = self._heated(m, one.colour, cone)
            passed = self._heated(m, np.exp(-one.lost), cone)
            covers = one.covers
            if before is not None:
                hot = float(_step((cone - self.materials[m].rated[0] + 3.5) / 1.7))
                share = min(one.bleeds * hot * 1.6, 0.7)
                below, dyed, open_ = before
                colour = colour ** (1.0 - 0.5 * share) * below ** (0.5 * share)
                passed = passed * (dyed * below ** min(open_, 1.5)) ** (0.6 * share)
                new = self.reactions.get((layers[at - 1][0], m))
                if new:
                    passed = passed * np.exp(-0.25 * new[2] * np.exp(-0.5 * ((NM - new[0]) / new[1]) ** 2))
            before = (colour, passed, one.covers)
            thick = coats**0.9
            area = 1.0 - np.exp(-covers * thick)
            through = seen * passed ** (1.7 * thick)
            seen = (area * colour ** (1 / _POWER) + (1 - area) * through ** (1 / _POWER)) ** _POWER
        matt = 1.0
        if layers:
            top = self.grains[layers[-1][0]]
            glassy = self.materials[layers[-1][0]].kind != priors.UNDERGLAZE
            matt = (
                float(max(_step(top.matt_below - cone), _step((cone - top.matt_above) / 0.7))) if glassy else 0.8
            )
        inner = 0.5 - 0.3 * matt
        return 0.95 * (1 - inner) * seen / (1 - inner * seen) + 0.004 + 0.03 * matt


def make_studio(seed: int, law: str, materials: int = 25, misbehaving: bool = False) -> Studio:
    """An invented studio of this physics: kinds, cones, bodies and touching pairs as in the others."""
    usual = make_usual(seed + 90_000, law, materials, misbehaving)
    random = np.random.default_rng([seed, 77])
    made = DriftStudio(*(getattr(usual, name) for name in usual.__dataclass_fields__))
    made.grains = [_grain(one.kind, random) for one in usual.materials]
    return made
