"""How light leaves a fired tile of the demo studio: an invented world with laws of its own.

Every coat is cut into thin slices. Firing lets the slices' ingredients wander into one another, fades or deepens
their colour and clears their milkiness; the body gives iron to what lies on it. Then a slanting beam and the light
it scatters are followed through the slices, from the body up, and out through the surface. `true_lab` is what an
average next tile would be: nominal thickness, the cone asked for.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from demo_tiles.spectra import WAVELENGTHS, FloatArray, Lab, lab_of
from demo_tiles.studio import BODIES, COLOURANTS, MATERIALS

Layering = tuple[tuple[str, float], ...]
"""(material, coats) from the body outward."""

SLICES_PER_COAT = 6
SLANT = 1.13
"""Path of a beam that came in at 45°, inside the glass, per unit of depth."""
FORWARD = 0.62
"""Share of the light scattered out of the beam that goes on downward."""
LATER_COATS = (1.0, 0.95, 0.89, 0.85, 0.83)
"""A thirsty body takes a thicker first coat than the coats that follow."""
SURFACE = {"gloss": (0.56, 0.002), "satin": (0.50, 0.008), "matt": (0.42, 0.016), "bare": (0.22, 0.012)}
"""Light turned back inside at the surface, and skin reflection seen from everywhere."""

_NAMES = list(MATERIALS)
_IS_GLAZE = np.array([stuff.kind != "underglaze" for stuff in MATERIALS.values()])


def parse(text: str) -> Layering:
    """``Weirhouse blue*2 > Plainpane clear`` as (material, coats) from the body outward."""
    layers = []
    for part in filter(None, (part.strip() for part in text.split(">"))):
        name, _, coats = part.partition("*")
        layers.append((name.strip(), float(coats or 1)))
    return tuple(layers)


def surface_of(layers: Layering) -> str:
    """Sheen of the outermost layer: gloss, satin, matt, or bare where no glaze covers."""
    if not layers or MATERIALS[layers[-1][0]].kind == "underglaze":
        return "bare"
    return MATERIALS[layers[-1][0]].gloss


def body_reflectance(body: str, cone: float) -> FloatArray:
    """(36,) reflectance inside a body fired to `cone`."""
    stuff = BODIES[body]
    ratio = (1 - stuff.reflectance) ** 2 / (2 * stuff.reflectance) * np.exp(stuff.heat * (cone - 6.0))
    return 1 + ratio - np.sqrt(ratio**2 + 2 * ratio)


def _heated(cone: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Absorption and scattering (materials, 36), and mobility (materials,), of what `cone` made of each."""
    warmer = cone - 6.0
    absorption, scattering, mobility = [], [], []
    for stuff in MATERIALS.values():
        left = 1.0
        if stuff.fades_at is not None:
            left = (1 + np.exp((6.0 - stuff.fades_at) / 0.8)) / (1 + np.exp((cone - stuff.fades_at) / 0.8))
        absorption.append(stuff.absorption() * np.exp(stuff.heat * warmer) * left)
        haze = stuff.scatter * np.exp(stuff.clearing * warmer)
        if stuff.kind != "underglaze":
            haze += 0.5 * stuff.scatter * np.clip(5.2 - cone, 0, 3) ** 2  # not yet melted through
        scattering.append(haze * (WAVELENGTHS / 550.0) ** -stuff.red_scatter)
        mobility.append(stuff.mobility * np.exp(0.45 * warmer))
    return np.array(absorption), np.array(scattering), np.array(mobility)


def _slices(stacks: Sequence[Layering], thickness: Sequence[Sequence[float]]) -> tuple[FloatArray, FloatArray]:
    """Share of each material (n, slices, materials) and depth (n, slices) in coats, before firing."""
    counts = [sum(max(1, round(coats * SLICES_PER_COAT)) for _, coats in stack) for stack in stacks]
    share = np.zeros((len(stacks), max(counts, default=0), len(_NAMES)))
    depth = np.zeros(share.shape[:2])
    for n, (stack, factors) in enumerate(zip(stacks, thickness, strict=True)):
        at, coats_below = 0, 0.0
        for (name, coats), factor in zip(stack, factors, strict=True):
            count = max(1, round(coats * SLICES_PER_COAT))
            for k in range(count):
                rank = min(int(coats_below + k / count * coats), len(LATER_COATS) - 1)
                depth[n, at + k] = coats / count * LATER_COATS[rank] * factor
            share[n, at : at + count, _NAMES.index(name)] = 1.0
            at, coats_below = at + count, coats_below + coats
    return share, depth


def _wander(share: FloatArray, depth: FloatArray, mobility: FloatArray) -> FloatArray:
    """Shares after firing: one implicit step of diffusion, nothing lost through the top or into the body."""
    count = depth.shape[1]
    if count < 2:
        return share
    loose = share @ mobility
    there = (depth[:, :-1] > 0) & (depth[:, 1:] > 0)
    both = 2 * loose[:, :-1] * loose[:, 1:] / np.maximum(loose[:, :-1] + loose[:, 1:], 1e-12)
    apart = 0.5 * (depth[:, :-1] + depth[:, 1:])
    flow = np.where(there, both / np.maximum(apart, 1e-9), 0.0)
    system = np.zeros((len(depth), count, count))
    index = np.arange(count)
    held = np.where(depth > 0, depth, 1.0)
    system[:, index, index] = held
    system[:, index[:-1], index[:-1]] += flow
    system[:, index[1:], index[1:]] += flow
    system[:, index[:-1], index[1:]] -= flow
    system[:, index[1:], index[:-1]] -= flow
    return np.linalg.solve(system, held[..., None] * share)


def reflectances(
    stacks: Sequence[Layering],
    body: str,
    cone: float,
    thickness: Sequence[Sequence[float]] | None = None,
    surfaces: Sequence[str] | None = None,
) -> FloatArray:
    """Reflectance (n, 36) without mirror reflection of layerings on one body, fired to one cone.

    Parameters
    ----------
    stacks : n layerings
    body, cone
        Body's name; cone as a position in the series, what the spot really reached.
    thickness : n sequences of one factor for each layer, 1 where absent
    surfaces : n names of `SURFACE`, that of the outermost layer where absent
    """
    if thickness is None:
        thickness = [[1.0] * len(stack) for stack in stacks]
    if surfaces is None:
        surfaces = [surface_of(stack) for stack in stacks]
    absorption, scattering, mobility = _heated(cone)
    share, depth = _slices(stacks, thickness)
    share = _wander(share, depth, mobility)
    glaze = share[..., _IS_GLAZE].sum(axis=-1, keepdims=True)
    taken_up = np.array([stuff.dissolved for stuff in MATERIALS.values()])
    strength = np.where(_IS_GLAZE, 1.0, 1.0 - (1.0 - taken_up) * glaze)
    K = (share * strength) @ absorption
    # What dissolves in glaze no longer scatters.
    S = (share * np.where(_IS_GLAZE, 1.0, 1.0 - 0.7 * glaze)) @ scattering
    middle = np.cumsum(depth, axis=1) - 0.5 * depth
    iron = BODIES[body].iron * np.exp(-middle / 0.6 + 0.3 * (cone - 6.0))[..., None] * glaze
    K = K + iron * COLOURANTS["amber iron"]

    inside = np.repeat(body_reflectance(body, cone)[None], len(stacks), axis=0)
    beam, spread = inside.copy(), inside
    for j in range(depth.shape[1]):
        beam, spread = _add_slice(beam, spread, K[:, j], S[:, j], depth[:, j, None])
    back = np.array([SURFACE[name][0] for name in surfaces])[:, None]
    skin = np.array([SURFACE[name][1] for name in surfaces])[:, None]
    return 0.95 * (1 - back) * beam / (1 - back * spread) + skin


def _add_slice(
    beam: FloatArray, spread: FloatArray, K: FloatArray, S: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Lay one slice over what reflects `beam` of a slanting beam and `spread` of scattered light."""
    straight = np.exp(-(K + S) * SLANT * depth)
    scattered = (1 - straight) * S / (K + S + 1e-12)
    # Scattered light runs a longer way: absorption counts twice, back-scattering somewhat less than all of it.
    k, s = 2 * K * depth, 1.5 * (1 - FORWARD) * 2 * S * depth
    a = 1 + k / np.maximum(s, 1e-9)
    b = np.sqrt(a * a - 1)
    x = np.minimum(b * s, 40.0)
    thin = s < 1e-8
    below = np.where(thin, 1.0, a * np.sinh(x) + b * np.cosh(x))
    r = np.where(thin, 0.0, np.sinh(x) / below)
    t = np.where(thin, np.exp(-k), b / below)
    up = (straight * beam + scattered * FORWARD * spread) / (1 - spread * r)
    return scattered * (1 - FORWARD) + t * up, r + t * t * spread / (1 - r * spread)


def raw_reflectance(material: str) -> FloatArray:
    """(36,) reflectance of a thick dry smear of the raw material."""
    stuff = MATERIALS[material]
    ratio = stuff.raw_absorption() / stuff.raw_scatter
    inside = 1 + ratio - np.sqrt(ratio**2 + 2 * ratio)
    return 0.97 * (1 - 0.2) * inside / (1 - 0.2 * inside) + 0.01


def true_lab(layers: str | Sequence[tuple[str, float]], body: str, cone: str | float) -> Lab:
    """Lab of the expected next tile: nominal thickness, the cone exactly reached, no offsets.

    Parameters
    ----------
    layers : str or sequence of (material, coats)
        From the body outward; empty for the bare body.
    body : str
    cone : str or float
        ``"6"``, ``"5.5"`` or a position in the series; the demo knows cones 4 to 8.
    """
    stack = parse(layers) if isinstance(layers, str) else tuple((name, float(coats)) for name, coats in layers)
    return Lab(*(float(v) for v in lab_of(reflectances([stack], body, float(cone)))[0]))
