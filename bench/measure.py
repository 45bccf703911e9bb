"""How quickly and how truly photos are read.

python -m bench.measure               time for 12 zones in 12 megapixels over that of cv2.imdecode, in one run
python -m bench.measure --scenes 24   errors on rendered scenes with known truth, and what is refused or warned of
"""

from __future__ import annotations

import argparse
import multiprocessing
import resource
import time
from concurrent.futures import ProcessPoolExecutor

import cv2
import numpy as np

from swatch.formats.keyword_text import read_card
from swatch.resources import resource as shipped
from swatch.science.card import Card
from swatch.science.colour_math import delta_e_2000
from swatch.science.measuring import decode, measure
from swatch.terms.measured import ZoneShape

RUNS = 9
GROUPS = ("daylight", "warm", "fluorescent")
SPOILT = ("mixed", "clipped", "local", "half", "rgb-lamp")


def chart():
    """The shipped 24-patch chart."""
    table = read_card(shipped("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    return Card(table.name, table.rows, table.columns, np.array(table.lab))


def _drawn(seed, more):
    from bench.scenes import render

    return render(seed, chart(), **more)


def drawn_elsewhere(seed, **more):
    """Render a scene in another process, so that its memory is not counted here."""
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as other:
        return other.submit(_drawn, seed, more).result()


def read(scene, card):
    """Read a scene as a photo is read."""
    zones = [ZoneShape(name, tuple(outline)) for name, outline in scene.zones.items()]
    return measure(decode(scene.jpeg, "bench.jpg"), card, zones, photo="bench.jpg")


def _best(*works):
    """Shortest time of each, one after the other in turn, so that a busy machine slows all alike."""
    times = []
    for _ in range(RUNS):
        times.append([])
        for work in works:
            start = time.perf_counter()
            work()
            times[-1].append(time.perf_counter() - start)
    return np.min(times, axis=0)


def speed():
    """Print the ratio of reading a photo to decoding it."""
    card = chart()
    scene = drawn_elsewhere(5, size=(4000, 3000))
    coded = np.frombuffer(scene.jpeg, np.uint8)
    cv2.setNumThreads(1)
    bare, whole = _best(lambda: cv2.imdecode(coded, cv2.IMREAD_COLOR), lambda: read(scene, card))
    assert len(read(scene, card).zones) == len(scene.zones)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"12-megapixel photo, 12 zones ÷ cv2.imdecode of it: {whole / bare:.1f} ({whole:.2f} s ÷ {bare:.3f} s)")
    print(f"peak memory of the whole process: {peak:.0f} MB")


def _line(name, off, u95, d2):
    off, u95, d2 = np.array(off), np.array(u95), np.array(d2)
    print(
        f"{name:12} {len(off):4} zones: median {np.median(off):.2f}, p95 {np.quantile(off, 0.95):.2f}, "
        f"within u95 {np.mean(off <= u95):.3f}, within the 95 % region {np.mean(d2 <= 7.815):.3f}, "
        f"mean u95 {u95.mean():.2f}"
    )


def truth(count, first, dark=False):
    """Print errors of zones without warnings on `count` sound scenes, and verdicts on a few spoilt ones."""
    from bench.scenes import render

    card = chart()
    kept = {group: ([], [], [], []) for group in GROUPS}
    verdicts, zones = [], 0
    for k in range(count):
        group = GROUPS[k % 3]
        scene = render(first + k, card, size=(1600, 1200), group=group, paper=k % 5 != 4, dark=dark)
        found = read(scene, card)
        verdicts.append(found.verdict.value)
        zones += len(scene.zones)
        for zone in found.zones:
            if zone.warnings:
                continue
            away = np.array(zone.lab) - scene.truth[zone.zone]
            kept[group][0].append(float(delta_e_2000(zone.lab, scene.truth[zone.zone])))
            kept[group][1].append(zone.u95_de00)
            kept[group][3].append(scene.truth[zone.zone][0])
            kept[group][2].append(float(away @ np.linalg.solve(zone.covariance.rows(), away)))
    for group in GROUPS:
        _line(group, *kept[group][:3])
    every = [[value for group in GROUPS for value in kept[group][k]] for k in range(3)]
    lightnesses = [lightness for group in GROUPS for lightness in kept[group][3]]
    _line("all", *every)
    below = [k for k, lightness in enumerate(lightnesses) if lightness < 20]
    if below:
        _line("below L* 20", *([column[k] for k in below] for column in every))
    print(f"zones without warnings: {len(every[0])} of {zones}")
    print("sound scenes:", {name: verdicts.count(name) for name in ("good", "usable", "refused")})
    for spoilt in () if dark else SPOILT:
        found = [
            read(render(first + 500 + k, card, size=(1600, 1200), spoilt=spoilt), card) for k in range(count // 6)
        ]
        said = [f"{one.verdict.value}:{'+'.join(notice.code for notice in one.warnings) or '-'}" for one in found]
        print(f"{spoilt}: {said}")


def main():
    """Run what is asked for."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--scenes", type=int, default=0, help="how many sound scenes to render and read")
    asked.add_argument("--first", type=int, default=7000, help="seed of the first")
    asked.add_argument("--dark", action="store_true", help="nearly black tiles")
    given = asked.parse_args()
    if given.scenes:
        truth(given.scenes, given.first, given.dark)
    else:
        speed()


if __name__ == "__main__":
    main()
