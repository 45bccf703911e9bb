"""Invented studios whose colours come from spectra, to see how well learning does where the truth is known.

Two physics. ``home`` is two-flux optics much as the program has it, in 31 bands, with effects it does not have.
``other`` breaks its laws on purpose: layers run into each other slice by slice, scattering moves with colour,
absorption bands shift and burn out one by one with temperature, coats add less and less, some pairs react to
new colours, surfaces differ in roughness.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from swatch.science import heatwork, priors
from swatch.science.studio_data import BRUSHED, SPRAYED, StudioData

NM = np.arange(400.0, 701.0, 10.0)
HOME, OTHER = "home", "other"


def _observer() -> np.ndarray:
    import colour

    shape = colour.SpectralShape(380, 780, 5)
    eye = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
    light = colour.SDS_ILLUMINANTS["D50"].copy().align(shape).values
    fine = np.arange(380, 781, 5)
    hats = np.array([np.interp(fine, NM, np.eye(len(NM))[i]) for i in range(len(NM))])
    weights = hats @ (eye * light[:, None])
    return weights / weights.sum(axis=0)


_WEIGHTS = _observer()


def to_lab(seen: np.ndarray) -> np.ndarray:
    """CIELAB, D50, of reflectances at `NM`."""
    share = seen @ _WEIGHTS
    f = np.where(share > (6 / 29) ** 3, np.cbrt(share), share * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], axis=-1)


def _bump(centre: float, width: float) -> np.ndarray:
    return np.exp(-0.5 * ((NM - centre) / width) ** 2)


@dataclass
class _Material:
    kind: int
    bands: list[tuple[float, float, float]]  # centre, width, strength
    floor: float
    scatter: float
    tilt: float
    heat: float
    shift: float
    burns: np.ndarray  # cone at which each band burns out
    dull_cone: float
    dull: float
    attack: float
    keeps: float
    rough: float
    rated: tuple[float, float]


@dataclass
class Studio:
    """The truth of one invented studio."""

    physics: str
    materials: list[_Material]
    bodies: list[np.ndarray]
    body_heat: list[float]
    reactions: dict[tuple[int, int], tuple[float, float, float]]
    shifted: dict[tuple[int, int], np.ndarray]
    main_cone: float
    other_cones: tuple[float, ...]

    def absorption(self, m: int, cone: float) -> np.ndarray:
        """K at a cone."""
        one = self.materials[m]
        t = (cone - 6.0) / 5.0
        k = np.full(len(NM), one.floor)
        for i, (centre, width, strength) in enumerate(one.bands):
            if self.physics == HOME:
                left = 1.0 - 0.8 / (1.0 + np.exp(-(cone - one.burns[0]) * 1.2))
                k = k + strength * _bump(centre, width) * left
            else:
                celsius = heatwork.celsius_of_cone(cone)
                end = heatwork.celsius_of_cone(min(one.burns[i], 14.0)) + 30.0 * max(one.burns[i] - 14.0, 0.0)
                left = np.exp(-((celsius / end) ** 18))
                k = k + strength * _bump(centre + one.shift * t, width * (1 + 0.05 * t)) * left
        return k * np.exp(one.heat * t)

    def scattering(self, m: int, cone: float) -> np.ndarray:
        """S at a cone."""
        one = self.materials[m]
        s = one.scatter * (NM / 550.0) ** one.tilt
        if one.kind in (priors.GLAZE, priors.CLEAR):
            steep = 1.3 if self.physics == HOME else 0.7
            s = s + one.dull / (1.0 + np.exp((cone - one.dull_cone) * steep))
        return s

    def raw_spectrum(self, m: int, stronger: float) -> np.ndarray:
        """Reflectance of a thick unfired layer, its pigment that much stronger than when fired."""
        one = self.materials[m]
        k = stronger * (sum(s * _bump(c, w) for c, w, s in one.bands) + one.floor)
        ratio = k / (one.scatter * (NM / 550) ** one.tilt)
        return 1 + ratio - np.sqrt(ratio * (ratio + 2))

    def spectrum(self, layers: list[tuple[int, float]], body: int, cone: float) -> np.ndarray:
        """Reflectance of layers (material, thickness in coats) on a body at the cone truly reached."""
        t = (cone - 6.0) / 5.0
        below = self.bodies[body] ** np.exp(self.body_heat[body] * t)
        ks = [self.absorption(m, cone) for m, _ in layers]
        ss = [self.scattering(m, cone) for m, _ in layers]
        thick = [c for _, c in layers]
        slices = (
            _home_slices(self, layers, ks, ss, thick, cone)
            if self.physics == HOME
            else _other_slices(self, layers, ks, ss, thick, cone)
        )
        for k, s, x in slices:
            below = _over(k, s, x, below)
        if not layers:
            inner, passed, glint = 0.25, 0.96, 0.005
        elif self.physics == HOME:
            one = self.materials[layers[-1][0]]
            melted = 1.0 / (1.0 + np.exp(-(cone - one.dull_cone)))
            glossy = one.kind in (priors.GLAZE, priors.CLEAR)
            inner, passed, glint = 0.28 + 0.27 * melted * glossy, 0.96, 0.005
        else:
            one = self.materials[layers[-1][0]]
            inner, passed, glint = 0.55 - 0.35 * one.rough, 0.96 - 0.03 * one.rough, 0.004 + 0.03 * one.rough
        return passed * (1 - inner) * below / (1 - inner * below) + glint


def _over(k: np.ndarray, s: np.ndarray, x: float, below: np.ndarray) -> np.ndarray:
    a = 1.0 + k / s
    b = np.sqrt(a * a - 1.0)
    coth = 1.0 / np.tanh(np.maximum(b * s * x, 1e-9))
    return (1.0 - below * (a - b * coth)) / (a - below + b * coth)


def _home_slices(studio, layers, ks, ss, thick, cone):
    ks = [k.copy() for k in ks]
    for j in range(1, len(layers)):
        upper, lower = studio.materials[layers[j][0]], studio.materials[layers[j - 1][0]]
        share = upper.attack * lower.keeps / (1.0 + np.exp(-(cone - upper.rated[0] + 5.0) / 2.0))
        moved = ks[j - 1] * min(share, 0.9)
        ks[j] = ks[j] + moved * (thick[j - 1] / thick[j]) ** 0.5
        ks[j - 1] = ks[j - 1] - moved
    for j in range(1, len(layers)):
        new = studio.reactions.get((layers[j - 1][0], layers[j][0]))
        if new:
            ks[j] = ks[j] + 0.3 * new[2] * _bump(new[0], new[1])
    return list(zip(ks, ss, thick, strict=True))


def _other_slices(studio, layers, ks, ss, thick, cone):
    """Profiles over depth: materials spread past their borders, further the hotter; coats add less and less."""
    thick = [x**0.85 for x in thick]
    for j in range(1, len(layers)):
        upper, lower = studio.materials[layers[j][0]], studio.materials[layers[j - 1][0]]
        if upper.kind in (priors.GLAZE, priors.CLEAR) and lower.kind in (priors.UNDERGLAZE, priors.SLIP):
            thick[j - 1] *= 1.0 - 0.5 * min(upper.attack * 2.0, 1.0) / (
                1.0 + np.exp(-(cone - upper.rated[0]) / 3.0)
            )
    edges = np.concatenate([[0.0], np.cumsum(thick)])
    count = 6 * max(len(layers), 1)
    depth = (np.arange(count) + 0.5) / count * edges[-1]
    slices = []
    if not layers:
        return slices
    share = np.zeros((len(layers), count))
    for j in range(len(layers)):
        reach = 0.12 + 0.5 * studio.materials[layers[min(j + 1, len(layers) - 1)][0]].attack
        reach *= np.exp(0.12 * (cone - 6.0))
        low = 1.0 / (1.0 + np.exp(-(depth - edges[j]) / (0.5 * reach)))
        high = 1.0 / (1.0 + np.exp(-(depth - edges[j + 1]) / (0.5 * reach)))
        share[j] = np.clip((low if j else 1.0) - (high if j < len(layers) - 1 else 0.0), 0.0, 1.0)
    share /= share.sum(axis=0)
    for i in range(count):
        k = sum(share[j, i] * ks[j] for j in range(len(layers)))
        s = sum(share[j, i] * ss[j] for j in range(len(layers)))
        for j in range(1, len(layers)):
            new = studio.reactions.get((layers[j - 1][0], layers[j][0]))
            if new:
                k = k + 4.0 * share[j, i] * share[j - 1, i] * new[2] * _bump(new[0], new[1])
        slices.append((k, s, edges[-1] / count))
    return slices


def _material(kind: int, physics: str, random: np.random.Generator) -> _Material:
    glassy = kind in (priors.GLAZE, priors.CLEAR)
    opaque = kind == priors.GLAZE and random.random() < 0.35
    scatter = {
        priors.UNDERGLAZE: np.exp(random.normal(0.7, 0.4)),
        priors.GLAZE: np.exp(random.normal(1.1, 0.5)) if opaque else np.exp(random.normal(-2.3, 0.6)),
        priors.CLEAR: np.exp(random.normal(-3.2, 0.4)),
    }[kind]
    bands = []
    for _ in range(random.integers(1, 4)):
        size = random.normal(0.6, 1.1) if kind == priors.UNDERGLAZE else random.normal(-0.9, 0.9)
        width = random.uniform(25, 80)
        bands.append((random.uniform(390, 680), width, float(np.exp(size) * (scatter if kind == 0 else 1.0))))
    if kind == priors.CLEAR:
        bands = [(400.0, 40.0, 0.03)]
    floor = {0: scatter * np.exp(random.normal(-2.8, 1.0)), 1: np.exp(random.normal(-3.3, 0.8)), 2: 0.01}[kind]
    tilt = -0.6 if physics == HOME else random.uniform(-1.8, 0.3)
    if physics == HOME:
        tilt += random.normal(0.0, 0.2)
    burns = np.where(
        random.random(len(bands)) < 0.3, random.uniform(2, 9, len(bands)), random.uniform(12, 20, len(bands))
    )
    return _Material(
        kind,
        bands,
        float(floor),
        float(scatter),
        tilt,
        random.normal(0, 0.3 if glassy else 0.1),
        random.normal(0, 10.0),
        burns,
        random.normal(3.2, 1.2),
        float(np.exp(random.normal(0.7, 0.5))),
        float(np.exp(random.normal(-1.7 if glassy else -3.2, 0.5))),
        float(np.exp(random.normal(0, 0.25))),
        random.beta(1.5, 3.0) if glassy else random.uniform(0.6, 1.0),
        (5.0, 6.0) if random.random() < 0.7 else (4.0, 8.0),
    )


def make_studio(seed: int, physics: str, materials: int = 25, misbehaving: bool = False) -> Studio:
    """An invented studio: about half underglazes, two fifths glazes, the rest clears."""
    random = np.random.default_rng([seed, physics == OTHER])
    clears = max(1, materials // 10)
    kinds = [priors.UNDERGLAZE] * (materials // 2) + [priors.CLEAR] * clears
    kinds += [priors.GLAZE] * (materials - len(kinds))
    made = [_material(kind, physics, random) for kind in kinds]
    white = 0.78 - 0.12 * np.exp(-(NM - 400) / 70)
    buff = 0.18 + 0.5 / (1 + np.exp(-(NM - 560) / 45))
    pairs = [(i, j) for i in range(materials) for j in range(materials) if i != j]
    some = [pairs[i] for i in random.choice(len(pairs), len(pairs) // 8, replace=False)]
    reactions = {
        p: (random.uniform(420, 660), random.uniform(25, 60), float(np.exp(random.normal(-1, 0.6)))) for p in some
    }
    shifted = {}
    if misbehaving:
        odd = [pairs[i] for i in random.choice(len(pairs), len(pairs) // 4, replace=False)]
        shifted = {p: random.normal(0, 5.0, 3) for p in odd}
    others = ((-3.0, 4.0), (4.0, 9.0), (-3.0, 9.0), (2.0, 8.0))[int(random.integers(4))]
    return Studio(physics, made, [white, buff], [random.normal(0.05, 0.05), 0.3], reactions, shifted, 6.0, others)


@dataclass
class Fired:
    """Tiles as fired and measured, in the shape `StudioData` wants, with the colour without measuring."""

    data: StudioData
    truth: np.ndarray


def raw_colour(studio: Studio, m: int, random: np.random.Generator) -> np.ndarray:
    """Raw colour: near the fired one for an underglaze, a stranger for the rest."""
    one = studio.materials[m]
    if one.kind != priors.UNDERGLAZE:
        return np.array([random.uniform(40, 90), random.normal(0, 20), random.normal(0, 20)])
    thick = studio.raw_spectrum(m, float(np.exp(random.normal(0, 0.2))))
    return to_lab(0.96 * 0.7 * thick / (1 - 0.3 * thick) + 0.01) + random.normal(0, 1.0, 3)


def random_layers(studio: Studio, random: np.random.Generator) -> list[tuple[int, int]]:
    m = len(studio.materials)
    count = random.choice([1, 2, 3], p=[0.2, 0.5, 0.3])
    picks = [int(i) for i in random.choice(m, count, replace=False)]
    # Underglaze mostly goes below glaze.
    if random.random() < 0.7:
        picks.sort(key=lambda i: studio.materials[i].kind != priors.UNDERGLAZE)
    left, layers = 4 - count, []
    for i in picks:
        extra = int(random.integers(0, left + 1))
        layers.append((i, 1 + extra))
        left -= extra
    return layers


def plan_tiles(
    studio: Studio, n: int, random: np.random.Generator
) -> list[tuple[list[tuple[int, int]], int, float]]:
    """What a studio would fire: each material alone, then layerings as they come to mind."""
    plan = []
    for m in range(len(studio.materials)):
        plan.append(([(m, int(random.integers(1, 4)))], int(random.random() < 0.3), studio.main_cone))
    while len(plan) < n:
        cone = studio.main_cone if random.random() < 0.6 else float(random.choice(studio.other_cones))
        plan.append((random_layers(studio, random), int(random.random() < 0.3), cone))
    return plan[:n]


def fire(
    studio: Studio,
    plan: list[tuple[list[tuple[int, int]], int, float]],
    random: np.random.Generator,
    *,
    sprayed: float = 0.0,
    scatter: tuple[float, float] = (0.15, 0.3),
    load: int = 20,
) -> Fired:
    """Fire a plan load by load (one cone a load), photograph each load in its session, measure."""
    order = sorted(range(len(plan)), key=lambda i: plan[i][2])
    n = len(plan)
    firing, cone_of_firing = np.zeros(n, int), []
    at = -1
    filled = 0
    for i in order:
        if at < 0 or plan[i][2] != cone_of_firing[at] or filled >= load:
            cone_of_firing.append(plan[i][2])
            at, filled = at + 1, 0
        firing[i], filled = at, filled + 1
    heat = random.normal(0, 0.35, len(cone_of_firing))
    offset = random.normal(0, 0.35, (len(cone_of_firing), 3))
    seen = random.normal(0, 0.8, (len(cone_of_firing), 3))
    shelf = random.integers(0, 3, n)
    shelf_heat = random.normal(0, 0.2, (len(cone_of_firing), 3))
    lab, truth = np.zeros((n, 3)), np.zeros((n, 3))
    material, coats = np.full((n, 3), -1), np.zeros((n, 3))
    method = np.full(n, BRUSHED)
    noise = np.array([0.5, 0.6, 0.7])
    for i, (layers, body, cone) in enumerate(plan):
        spray = random.random() < sprayed
        method[i] = SPRAYED if spray else BRUSHED
        reached = cone + heat[firing[i]] + shelf_heat[firing[i], shelf[i]] + random.normal(0, 0.15)
        wet = [(m, c * float(np.exp(random.normal(0, scatter[spray])))) for m, c in layers]
        colour = to_lab(studio.spectrum(wet, body, reached)) + random.standard_t(6, 3) * 0.5
        for lower, upper in itertools.pairwise(layers):
            colour = colour + studio.shifted.get((lower[0], upper[0]), 0.0)
        truth[i] = colour + offset[firing[i]]
        lab[i] = truth[i] + seen[firing[i]] + random.normal(0, noise)
        material[i, : len(layers)] = [m for m, _ in layers]
        coats[i, : len(layers)] = [c for _, c in layers]
    k = len(studio.materials)
    rng_raw = np.random.default_rng(7)
    data = StudioData(
        lab=lab,
        covariance=np.broadcast_to(np.diag(noise**2), (n, 3, 3)).copy(),
        material=material,
        coats=coats,
        wiped=np.zeros((n, 3), bool),
        body=np.array([b for _, b, _ in plan]),
        cone=np.full(n, np.nan),
        firing=firing,
        shelf=shelf,
        session=firing,
        method=method,
        stage=np.zeros(n, int),
        zone=np.full(n, -1),
        kind=np.array([one.kind for one in studio.materials]),
        raw_lab=np.array([raw_colour(studio, m, rng_raw) for m in range(k)]),
        rated=np.array([one.rated for one in studio.materials]),
        bodies=2,
        bare_body=np.array([0, 1]),
        bare_cone=np.array([studio.main_cone] * 2),
        bare_lab=np.array([to_lab(studio.spectrum([], b, studio.main_cone)) for b in (0, 1)])
        + random.normal(0, 0.7, (2, 3)),
        firing_cone=np.array(cone_of_firing),
        firing_reached=np.full(len(cone_of_firing), np.nan),
        firing_peak_c=np.full(len(cone_of_firing), np.nan),
        firing_rate=np.full(len(cone_of_firing), np.nan),
        firing_hold=np.full(len(cone_of_firing), np.nan),
    )
    return Fired(data, truth)


def new_questions(studio: Studio, data: StudioData, n: int, random: np.random.Generator, kind: str) -> list:
    """Plans never fired: ``new layering`` at the main cone, or ``another cone`` for some material in it."""
    known = {tuple(row[row >= 0]) for row in data.material}
    asked = data.cones_asked()
    fired_at = {(int(m), float(c)) for row, c in zip(data.material, asked) for m in row if m >= 0}
    fired = {m for m, _ in fired_at}
    plan = []
    for _ in range(5000 + 100 * n):
        if len(plan) == n:
            break
        layers = random_layers(studio, random)
        body = int(random.random() < 0.3)
        if not all(m in fired for m, _ in layers):
            continue
        if kind == "new layering":
            cone = studio.main_cone if random.random() < 0.6 else float(random.choice(studio.other_cones))
            new = tuple(m for m, _ in layers) not in known
            if new and all((m, cone) in fired_at for m, _ in layers):
                plan.append((layers, body, cone))
        else:
            cone = float(random.choice(studio.other_cones))
            if any((m, cone) not in fired_at for m, _ in layers):
                plan.append((layers, body, cone))
    return plan
