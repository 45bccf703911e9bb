"""Shadows of several depths, shapes and edges over rendered scenes: is what they spoil told?

python -m bench.shadows --scenes 24   zones that lie in a shadow's reach, what they were off by, and what was said
"""

from __future__ import annotations

import argparse

import numpy as np

from bench.measure import chart, read
from swatch.science.colour_math import delta_e_2000

DEPTHS = (0.85, 0.75, 0.65, 0.55, 0.45, 0.30, 0.18)
EDGES = (0.002, 0.002, 0.02, 0.08)
"""Widths of the half shadow over the photo's longer side, the first two hard."""


def shadow_of(seed):
    """A shadow drawn from a seed: a half-plane or a blob that leaves `depth` of the light within it."""
    rng = np.random.default_rng([seed, 41])
    depth, edge = float(rng.choice(DEPTHS)), float(rng.choice(EDGES))
    turn, offset = rng.uniform(0, 2 * np.pi), rng.uniform(-0.1, 0.3)
    centre, radii = rng.uniform(-0.35, 0.35, 2), rng.uniform(0.1, 0.3, 2)
    blob = rng.random() < 0.5

    def left(x, y):
        if blob:
            inside = (1 - np.hypot((x - centre[0]) / radii[0], (y - centre[1]) / radii[1])) * radii.min()
        else:
            inside = x * np.cos(turn) + y * np.sin(turn) - offset
        return 1 - (1 - depth) / (1 + np.exp(-np.clip(inside / (edge / 4), -30, 30)))

    return left, {"depth": depth, "edge": edge, "blob": blob}


def main():
    """Print what was said of each scene, and the worst zone that nothing was said of; sum up."""
    from bench.scenes import render

    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--scenes", type=int, default=24)
    asked.add_argument("--first", type=int, default=5000)
    given = asked.parse_args()
    card = chart()
    unsaid, said = [], 0
    for seed in range(given.first, given.first + given.scenes):
        left, facts = shadow_of(seed)
        scene = render(seed, card, size=(1600, 1200), paper=seed % 5 != 4, shadow=left)
        found = read(scene, card)
        off = {zone.zone: float(delta_e_2000(zone.lab, scene.truth[zone.zone])) for zone in found.zones}
        unsaid += [off[zone.zone] / zone.u95_de00 for zone in found.zones if not zone.warnings]
        said += found.verdict.value != "good"
        codes = "+".join(sorted({notice.code for notice in found.warnings})) or "-"
        worst = max((off[zone.zone] for zone in found.zones if not zone.warnings), default=0.0)
        print(f"{seed} {facts}: {found.verdict.value} {codes}; {len(off)} read, worst not told {worst:.1f}")
    beyond = np.mean(np.array(unsaid) > 1)
    print(f"{said} of {given.scenes} photos told; of {len(unsaid)} zones not told, {beyond:.3f} beyond u95")


if __name__ == "__main__":
    main()
