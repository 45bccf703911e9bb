"""Time of reading 12 zones in a 12-megapixel photo, over that of decoding it with cv2.imdecode, in one run.

python bench/measure.py
"""

from __future__ import annotations

import resource
import sys
import time
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.scenes import render
from swatch.formats.keyword_text import read_card
from swatch.resources import resource as shipped
from swatch.science.card import Card
from swatch.science.measuring import decode, measure
from swatch.terms.measured import ZoneShape

RUNS = 5


def _best(work):
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main():
    table = read_card(shipped("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    card = Card(table.name, table.rows, table.columns, np.array(table.lab))
    scene = render(5, card, size=(4000, 3000))
    zones = [ZoneShape(name, tuple(outline)) for name, outline in scene.zones.items()]
    coded = np.frombuffer(scene.jpeg, np.uint8)

    def read():
        return measure(decode(scene.jpeg, "bench.jpg"), card, zones, photo="bench.jpg")

    cv2.setNumThreads(1)
    bare = _best(lambda: cv2.imdecode(coded, cv2.IMREAD_COLOR))
    whole = _best(read)
    assert len(read().zones) == len(zones)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"12-megapixel photo, 12 zones ÷ cv2.imdecode of it: {whole / bare:.1f} ({whole:.2f} s ÷ {bare:.3f} s)")
    print(f"peak memory of the run, the scene's own rendering included: {peak:.0f} MB", file=sys.stderr)


if __name__ == "__main__":
    main()
