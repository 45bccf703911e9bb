"""How far predictions move when one firing's photos were taken in other light: `python -m bench.sessions`.

All of one session's colours are shifted by ΔE00 3, in a direction drawn for each studio. What predictions move is
given as a share of that, for layerings of that very session and for new layerings; well under half is wanted.
"""

from __future__ import annotations

import argparse

import numpy as np

from bench import studios
from swatch.science import shifts
from swatch.science.colour_math import de00_metric, delta_e_2000
from swatch.science.studio_data import StudioData
from swatch.terms.report import silent

SHIFT = 3.0


def in_other_light(data: StudioData, session: int, random: np.random.Generator) -> StudioData:
    """The same studio with one session's colours shifted alike, by ΔE00 3 at their middle."""
    on = data.session == session
    way = random.normal(size=3)
    way *= SHIFT / np.sqrt(way @ de00_metric(data.lab[on].mean(axis=0)) @ way)
    return data.with_readings({"lab": data.lab + on[:, None] * way})


def run(physics: str, tiles: int, count: int) -> None:
    """Print the share of the shift that predictions move by."""
    moved: dict[str, list[float]] = {"layerings of that session": [], "new layerings": []}
    for seed in range(count):
        studio = studios.make_studio(seed, physics, int(np.clip(tiles // 4, 4, 25)))
        random = np.random.default_rng([seed, tiles])
        data = studios.fire(studio, studios.plan_tiles(studio, tiles, random), random).data
        session = int(random.integers(data.session.max() + 1))
        on = np.flatnonzero(data.session == session)
        other = in_other_light(data, session, random)
        size = float(np.median(delta_e_2000(data.lab[on], other.lab[on])))
        plain, shifted = shifts.fit_once(data, silent), shifts.fit_once(other, silent)
        asked = studios.new_questions(studio, data, 60, random, "new layering")
        sets = {"layerings of that session": data.only(on)}
        if asked:
            sets["new layerings"] = studios.fire(studio, asked, random).data
        for name, some in sets.items():
            one = (some.material, some.coats, some.wiped, some.body, some.cones_asked())
            before, after = plain.predict(*one).mean, shifted.predict(*one).mean
            moved[name].append(float(np.nanmedian(delta_e_2000(before, after))) / size)
    for name, shares in moved.items():
        worst = np.max(shares)
        print(f"{physics:5} {tiles:4} tiles  {name:26} {np.mean(shares):.2f} of the shift, at worst {worst:.2f}")


if __name__ == "__main__":
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--physics", default="home,other")
    words.add_argument("--tiles", default="40,100")
    words.add_argument("--studios", type=int, default=6)
    said = words.parse_args()
    for law in said.physics.split(","):
        for number in said.tiles.split(","):
            run(law, int(number), said.studios)
