"""How fast a colour follows the hand: from a change of a layering to the answer on the desk, and what it costs.

``python -m bench.what_if [--studio FOLDER]``. Without a folder the demo studio is built. A layering's coats
are changed forty times, each time once the last answer is there, as fast as a hand may; the wall clock is told
beside the processor's time of the same prediction in this process, since a busy machine stretches the first only.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication

from swatch.desk.desks import Desks
from swatch.desk.settings import Settings
from swatch.desk.what_if import Held, WhatIf
from swatch.terms.colour import Lab
from swatch.terms.layering import Layer
from swatch.terms.report import silent
from swatch.terms.trial import WhatIfRequest
from swatch.work import trial
from swatch.work.demo import build_demo

CHANGES = 40


def follow(desk: WhatIf, held: Held) -> list[float]:
    """Milliseconds from each change to its colour."""
    took: list[float] = []
    loop = QEventLoop()
    desk.answered.connect(loop.quit)
    desk.wake()
    desk.take(held)
    if not desk.fresh:
        loop.exec()
    for n in range(CHANGES):
        first = desk.held.layers[0]
        began = time.perf_counter()
        desk.lay(0, Layer(first.material, 1.0 + 0.5 * (n % 6) + (0.25 if n % 2 else 0.0)))
        while not desk.fresh:
            loop.exec()
        took.append(1000 * (time.perf_counter() - began))
    return took


def processor(folder: Path, held: Held) -> float:
    """Milliseconds of the processor that one such answer takes."""
    assert held.question is not None
    request = WhatIfRequest(held.question, held.target)
    trial.try_out(folder, request, silent)
    began = time.process_time()
    for _n in range(CHANGES):
        trial.try_out(folder, request, silent)
    return 1000 * (time.process_time() - began) / CHANGES


def main() -> None:
    """Measure and say it."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--studio", type=Path)
    asked = words.parse_args()
    with tempfile.TemporaryDirectory() as where:
        os.environ["SWATCH_CONFIG_DIR"] = where
        folder = asked.studio or build_demo(Path(where) / "demo", silent).folder
        _app = QApplication.instance() or QApplication([])
        desks = Desks(Settings())
        desks.studio.open(folder)
        names = desks.what_if.materials()
        layers = tuple(Layer(name) for name in names[:3])
        cone = desks.studio.counts.usual_cone
        held = Held(layers, desks.what_if.bodies()[0], cone, Lab(45.0, -10.0, 15.0))
        took = sorted(follow(desks.what_if, held))
        desks.close()
        cost = processor(folder, held)
    line = "from change to colour: median {:.0f} ms, nine of ten within {:.0f} ms; processor {:.1f} ms an answer"
    print(line.format(statistics.median(took), took[int(0.9 * len(took))], cost))


if __name__ == "__main__":
    main()
