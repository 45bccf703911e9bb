"""Invented studios of two more physics, further from the program's own than those of `bench.studios`.

``rays`` follows rays, not fluxes: pigment hides, light fades on its way in and out, coats level off, neighbours
melt into a mixed layer, and heat turns one absorption into another. ``three`` adds a straight beam to the two
diffuse fluxes, spreads K and S both ways over a diffusion length that grows as Arrhenius says, lets opacifiers
dissolve with heat, and breaks in thick and thin patches.
"""

from __future__ import annotations

import numpy as np

from bench import studios
from bench.studios import NM, OTHER, Studio, _bump, _Material, _over
from swatch.science import heatwork, priors

RAYS, THREE = "rays", "three"
LAWS = (studios.HOME, OTHER, RAYS, THREE)
_PATCHES = ((0.5, 0.25), (1.0, 0.5), (1.5, 0.25))


def make_studio(seed: int, law: str, materials: int = 25, misbehaving: bool = False) -> Studio:
    """An invented studio of any of the four physics."""
    if law in (studios.HOME, OTHER):
        return studios.make_studio(seed, law, materials, misbehaving)
    made = studios.make_studio(seed + (50_000 if law == RAYS else 60_000), OTHER, materials, misbehaving)
    kind = RayStudio if law == RAYS else ThreeStudio
    return kind(law, *(getattr(made, name) for name in list(made.__dataclass_fields__)[1:]))


def _sigma(x: float) -> float:
    return float(1.0 / (1.0 + np.exp(-x)))


def _glassy(one: _Material) -> bool:
    return one.kind in (priors.GLAZE, priors.CLEAR)


class RayStudio(Studio):
    """Rays that are hidden and fade."""

    def spectrum(self, layers: list[tuple[int, float]], body: int, cone: float) -> np.ndarray:
        """Reflectance of layers on a body at the cone truly reached."""
        below = self.bodies[body] ** (1.0 + self.body_heat[body] * 0.2 * (cone - 6.0))
        parts = []
        for m, x in layers:
            thick = 2.2 * (1.0 - np.exp(-x / 1.9)) if _glassy(self.materials[m]) else x
            parts.append((self._fading(m, cone), self._hiding(m, cone), thick))
        for j in range(len(parts) - 1, 0, -1):
            upper, lower = self.materials[layers[j][0]], self.materials[layers[j - 1][0]]
            melt = min(0.15 + 1.2 * upper.attack, 0.6) * _sigma((cone - upper.rated[0] + 2.0) / 1.5)
            melt *= 1.0 if _glassy(lower) else 0.6
            (k1, s1, x1), (k2, s2, x2) = parts[j - 1], parts[j]
            taken = melt * min(x1, x2)
            new = self.reactions.get((layers[j - 1][0], layers[j][0]))
            between = 0.5 * (k1 + k2) + (0.4 * new[2] * _bump(new[0], new[1]) if new else 0.0)
            parts[j - 1 : j + 1] = [(k1, s1, x1 - 0.5 * taken), (between, 0.5 * (s1 + s2), taken), (k2, s2, x2)]
        for k, s, x in parts:
            open_ = np.exp(-0.8 * s * x)
            path = np.exp(-1.6 * k * x)
            own = s / (s + 1.8 * k + 1e-6)
            below = own * (1.0 - open_ * path) + open_ * open_ * path * path * below
        rough = self.materials[layers[-1][0]].rough if layers else 0.8
        inner = 0.45 - 0.15 * rough
        return 0.95 * (1.0 - inner) * below / (1.0 - inner * below) + 0.004 + 0.02 * rough

    def _fading(self, m: int, cone: float) -> np.ndarray:
        one = self.materials[m]
        k = np.full(len(NM), one.floor)
        for i, (centre, width, strength) in enumerate(one.bands):
            turned = _sigma((cone - one.burns[i]) / 0.8)
            k = k + strength * (1.0 - 0.85 * turned) * _bump(centre, width)
            k = k + 0.4 * strength * turned * _bump(centre - 70.0, 1.3 * width)
        return k * (1.0 + 0.12 * one.heat * (cone - 6.0))

    def _hiding(self, m: int, cone: float) -> np.ndarray:
        one = self.materials[m]
        s = one.scatter * (NM / 550.0) ** one.tilt
        # Dry below its cone, and crystals grow above it.
        dry = one.dull * max(0.0, (one.dull_cone + 1.5 - cone) / 3.0) if _glassy(one) else 0.0
        return s * (1.0 + 0.04 * (cone - 6.0) * (one.rough - 0.3)) + dry


class ThreeStudio(Studio):
    """A straight beam and two diffuse fluxes through layers that have spread into each other."""

    def spectrum(self, layers: list[tuple[int, float]], body: int, cone: float) -> np.ndarray:
        """Reflectance of layers on a body at the cone truly reached."""
        if not layers:
            return self._patch(layers, body, cone, 1.0)
        top = self.materials[layers[-1][0]]
        if not _glassy(top) or top.rough < 0.3:
            return self._patch(layers, body, cone, 1.0)
        return sum(share * self._patch(layers, body, cone, x) for x, share in _PATCHES)

    def _patch(self, layers: list[tuple[int, float]], body: int, cone: float, factor: float) -> np.ndarray:
        diffuse = self.bodies[body] ** np.exp(self.body_heat[body] * (cone - 6.0) / 5.0)
        beam = diffuse.copy()
        if layers:
            count = 8 * len(layers)
            thick = np.array([x for _, x in layers]) ** 0.95
            thick[-1] *= factor
            edges = np.concatenate([[0.0], np.cumsum(thick)])
            depth = (np.arange(count) + 0.5) / count * edges[-1]
            kelvin = heatwork.celsius_of_cone(cone) + 273.15
            length = 0.35 * np.exp(-0.5 * 250e3 / 8.314 * (1.0 / kelvin - 1.0 / 1495.0))
            reach = np.array([length * (0.4 + 4.0 * self.materials[m].attack) for m, _ in layers])
            share = np.zeros((len(layers), count))
            for j in range(len(layers)):
                low = _rise((depth - edges[j]) / max(reach[j], reach[j - 1])) if j else 1.0
                last = j == len(layers) - 1
                high = 0.0 if last else _rise((depth - edges[j + 1]) / max(reach[j], reach[j + 1]))
                share[j] = np.clip(low - high, 1e-6, 1.0)
            share /= share.sum(axis=0)
            ks = np.array([self.absorption(m, cone) for m, _ in layers])
            ss = np.array([self._crystals(m, cone) for m, _ in layers])
            step = edges[-1] / count
            for i in range(count):
                k, s = share[:, i] @ ks, share[:, i] @ ss
                for j in range(1, len(layers)):
                    new = self.reactions.get((layers[j - 1][0], layers[j][0]))
                    if new:
                        k = k + 3.0 * share[j, i] * share[j - 1, i] * new[2] * _bump(new[0], new[1])
                # Thick grains throw light forward: more of the beam is scattered on than back.
                ahead, back, lost = 1.2 * s, 0.6 * s, 0.5 * k + 1.8 * s
                gained = beam + step * (back + ahead * diffuse + s * beam * diffuse)
                beam = gained / (1.0 + step * (lost + k + s))
                diffuse = _over(k, s, step, diffuse)
        rough = self.materials[layers[-1][0]].rough if layers else 1.0
        mixed = rough * diffuse + (1.0 - rough) * beam
        inner = 0.5 - 0.25 * rough
        return (0.96 - 0.02 * rough) * (1.0 - inner) * mixed / (1.0 - inner * diffuse) + 0.003 + 0.025 * rough

    def _crystals(self, m: int, cone: float) -> np.ndarray:
        one = self.materials[m]
        s = one.scatter * (NM / 550.0) ** one.tilt
        if _glassy(one):
            s = s * (0.35 + 0.65 * _sigma((one.rated[1] + 2.5 - cone) / 1.2))
            s = s + one.dull * np.exp(-(((cone - one.dull_cone + 4.0) / 2.5) ** 2))
        return s


def _rise(x: np.ndarray) -> np.ndarray:
    return 0.5 * (1.0 + np.tanh(1.2 * x))
