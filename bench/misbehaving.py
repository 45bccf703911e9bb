"""Studios that misbehave: some materials hardly used, some tiles under another tile's name."""

from __future__ import annotations

import numpy as np

from bench.studios import Studio, plan_tiles, random_layers
from swatch.science.studio_data import StudioData

Plan = list[tuple[list[tuple[int, int]], int, float]]


def patchy_plan(studio: Studio, n: int, random: np.random.Generator) -> Plan:
    """What a studio with favourites fires: a third of its materials turn up in most of its layerings."""
    materials = len(studio.materials)
    liking = np.where(random.random(materials) < 1 / 3, 1.0, 0.15)
    plan = plan_tiles(studio, materials, random)
    for _ in range(200 * n):
        if len(plan) >= n:
            break
        layers, body, cone = plan_tiles(studio, materials + 1, random)[-1]
        if random.random() < float(np.mean([liking[m] for m, _ in layers])):
            plan.append((layers, body, cone))
    return plan


def mislabel(
    studio: Studio, data: StudioData, share: float, random: np.random.Generator
) -> tuple[StudioData, list[int]]:
    """The same tiles with some under the layers of another: those rows too."""
    wrong = np.flatnonzero(random.random(len(data.lab)) < share)
    material, coats = data.material.copy(), data.coats.copy()
    for row in wrong:
        told = random_layers(studio, random)
        material[row], coats[row] = -1, 0
        material[row, : len(told)] = [m for m, _ in told]
        coats[row, : len(told)] = [c for _, c in told]
    return data.with_readings({"material": material, "coats": coats}), wrong.tolist()
