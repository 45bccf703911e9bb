"""The longest the event loop stands still while the window is used, on an invented studio of 20,000 tiles.

``python -m bench.event_loop [--tiles 20000] [--only opening,tiles]``. A turn of the loop is what happens between
two looks at what waits. Its length is the main thread's own time on the processor, so that a busy machine does not
count; the wall clock stands beside it. The ratio is to the longest turn of a bare PySide6 window that shows a list
of as many names, in the same run.
"""

from __future__ import annotations

import argparse
import csv
import os
import random
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from PySide6.QtCore import QAbstractEventDispatcher, QObject, QStringListModel, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QListView, QMainWindow

from swatch.desk.desks import Desks
from swatch.desk.settings import Settings
from swatch.library.studio import Studio
from swatch.resources import demo_tiles
from swatch.screens.ahead import Ahead
from swatch.screens.main_window import MainWindow
from swatch.screens.start import furnish, make_frame, warm_up
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Stage, ZoneReading
from swatch.terms.layering import Layer
from swatch.terms.materials import Firing, Kind, Material

ALLOWED_MS = 100.0
PATIENCE_S = 300.0
GIVEN = frozenset({"covariance", "body", "layers", "cone", "firing", "stage"})


class Turns(QObject):
    """Times every turn of the event loop: the thread's processor time and the wall clock."""

    def __init__(self) -> None:
        super().__init__()
        self.cpu, self.wall = 0.0, 0.0
        self._began: tuple[float, float] | None = None
        dispatcher = QAbstractEventDispatcher.instance()
        dispatcher.awake.connect(self._wake, Qt.ConnectionType.DirectConnection)
        dispatcher.aboutToBlock.connect(self._rest, Qt.ConnectionType.DirectConnection)

    def forget(self) -> None:
        """Begin again."""
        self.cpu, self.wall = 0.0, 0.0
        self._began = time.thread_time(), time.perf_counter()

    def _wake(self) -> None:
        self._close()
        self._began = time.thread_time(), time.perf_counter()

    def _rest(self) -> None:
        self._close()
        self._began = None

    def _close(self) -> None:
        if self._began is not None:
            self.cpu = max(self.cpu, time.thread_time() - self._began[0])
            self.wall = max(self.wall, time.perf_counter() - self._began[1])


class Trial:
    """Runs what a potter does inside the event loop and tells the longest turn."""

    def __init__(self) -> None:
        self.turns = Turns()

    def longest(
        self, do: Callable[[], object], done: Callable[[], bool], *, calm: int = 12
    ) -> tuple[float, float]:
        """Do it in one turn, turn until it is done and `calm` turns more; milliseconds (processor, wall)."""
        self.turns.forget()
        QTimer.singleShot(0, do)
        until = time.monotonic() + PATIENCE_S
        QTest.qWait(1)
        while not done():
            if time.monotonic() > until:
                raise TimeoutError("what was begun did not end")
            QTest.qWait(2)
        for _turn in range(calm):
            QTest.qWait(5)
        return self.turns.cpu * 1000, self.turns.wall * 1000


NAMES = [f"Stuff {k:02d}" for k in range(60)]
FIRINGS = [Firing(f"F-{k}", cone_asked=Cone(6.0)) for k in range(80)]


def invented_readings(tiles: int, seed: int = 1) -> list[ZoneReading]:
    """One zone a tile, up to three layers of sixty materials, eighty firings."""
    draw = random.Random(seed)
    readings = []
    for n in range(tiles):
        names = draw.sample(NAMES, draw.choice((1, 1, 2, 3)))
        layers = tuple(Layer(name, float(draw.randint(1, 3))) for name in names)
        lab = Lab(draw.uniform(20, 90), draw.uniform(-40, 40), draw.uniform(-40, 40))
        doubt = Covariance(0.3, 0.0, 0.0, 0.3, 0.0, 0.3)
        body, firing = draw.choice(("Buff", "Dark", "White")), draw.choice(FIRINGS).name
        readings.append(ZoneReading(f"T{n}", "A", lab, doubt, Stage.FIRED, 1, body, layers, Cone(6.0), firing))
    return readings


def make_studio(folder: Path, tiles: int, seed: int = 1) -> Path:
    """Write them as a studio."""
    with Studio.create(folder) as studio:
        studio.put_materials([Material(name, Kind.GLAZE) for name in NAMES], frozenset({"kind"}))
        studio.put_firings(FIRINGS, frozenset({"cone_asked"}))
        studio.put_readings(invented_readings(tiles, seed), GIVEN)
    return folder


def write_tiles(path: Path, n: int) -> Path:
    """A table of tiles not in the studio."""
    draw = random.Random(2)
    with path.open("w", newline="", encoding="utf-8") as out:
        rows = csv.writer(out)
        rows.writerow(["tile", "zone", "L", "a", "b", "u", "stage", "body", "layers", "cone", "firing"])
        for k in range(n):
            lab = (f"{draw.uniform(20, 90):.2f}", f"{draw.uniform(-40, 40):.2f}", f"{draw.uniform(-40, 40):.2f}")
            rows.writerow(
                [f"N{k}", "A", *lab, "0.8", "fired", "Buff", f"Stuff {k % 60:02d}*2", "6", f"F-{k % 80}"]
            )
    return path


def bare(trial: Trial, n: int) -> float:
    """The longest turn of a plain window with a list of as many names, in milliseconds."""
    window = QMainWindow()

    def show() -> None:
        view = QListView()
        view.setUniformItemSizes(True)
        view.setModel(QStringListModel([f"T{k}" for k in range(n)], view))
        window.setCentralWidget(view)
        window.resize(1280, 800)
        window.show()

    made = trial.longest(show, window.isVisible)[0]
    window.close()
    window.deleteLater()
    return made


class Use:
    """The window on the large studio, and everything done with it."""

    def __init__(self, trial: Trial, room: Path, tiles: int) -> None:
        self.trial, self.room, self.tiles = trial, room, tiles
        settings = Settings()
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        self.window: MainWindow = make_frame(app, settings)
        self.window.show()
        warm_up().join()
        self.desks: Desks = furnish(self.window, settings)
        self.ahead: list[bool] = []
        Ahead(self.window).done.connect(lambda: self.ahead.append(True))
        self.large = self.small = Path()
        self.found: list[tuple[str, float, float]] = []

    def say(self, what: str, do: Callable[[], object], done: Callable[[], bool] = lambda: True) -> None:
        """Measure one thing and print it."""
        cpu, wall = self.trial.longest(do, done)
        self.found.append((what, cpu, wall))
        print(f"  {what}: {cpu:.0f} ms (wall {wall:.0f})", flush=True)

    def _loaded(self, folder: Path, n: int) -> Callable[[], bool]:
        return lambda: self.desks.studio.folder == folder and len(self.desks.tiles.all) == n

    def opening(self) -> None:
        """Open the large studio."""
        self.say(
            f"opening a studio of {self.tiles} tiles",
            lambda: self.desks.studio.open(self.large),
            self._loaded(self.large, self.tiles),
        )
        self.say("the places made ahead, while nothing is done", lambda: None, lambda: bool(self.ahead))

    def places(self) -> None:
        """First opening of each place."""
        for code in ("tiles", "materials", "match", "editions", "firings", "measure", "next"):
            self.say(f"first opening of {code}", lambda code=code: self.window.show_place(code))

    def typing(self) -> None:
        """Type a search, letter by letter, and jump through the bench."""
        self.window.show_place("tiles")
        bar = self.window.now.grid.verticalScrollBar()
        self.say("a far jump on the bench", lambda: bar.setValue(bar.maximum() // 2))
        for text in ("s", "st", "stuff 0", "stuff 01 dark", ""):
            self.say(f"search typed: {text!r}", lambda text=text: self.window.now.search(text))
        self.say("one filter", lambda: self.desks.tiles.filter(body="Buff"))
        self.say("filters cleared", self.desks.tiles.clear_filters)

    def changing(self) -> None:
        """One small change in the large studio, and its undo."""
        from swatch.terms.evidence import Sheen

        tiles = self.desks.tiles
        self.say("a tile looked at closely", lambda: tiles.choose("T77"), lambda: tiles.chosen is not None)
        self.say("another tile", lambda: tiles.choose("T78"), lambda: True)
        tiles.choose("T77")
        QTest.qWait(100)

        def shines(sheen: Sheen | None) -> Callable[[], bool]:
            return lambda: tiles.chosen is not None and tiles.chosen.zones[0].reading.sheen is sheen

        self.say(
            "a sheen written down", lambda: tiles.set_sheen(tiles.chosen.zones[0], Sheen.MATT), shines(Sheen.MATT)
        )
        self.say("undo of it", self.desks.undoing.undo, shines(None))

    def importing(self) -> None:
        """Bring 1,000 tiles in and take them back."""
        table = write_tiles(self.room / "tiles.csv", 1000)
        with_them = self._loaded(self.large, self.tiles + 1000)
        self.say("1,000 tiles imported", lambda: self.desks.bringing.bring([table]), with_them)
        self.say("undo of it", self.desks.undoing.undo, self._loaded(self.large, self.tiles))

    def photo(self) -> None:
        """Read a photo and keep it."""
        self.desks.studio.open(self.small)
        QTest.qWait(300)
        photo = self.room / "dropped.jpg"
        shutil.copy(demo_tiles() / "f12_layers.jpg", photo)
        shutil.copy(demo_tiles() / "f12_layers.zones.json", self.room / "dropped.zones.json")
        measuring = self.desks.measuring

        def read() -> bool:
            work = measuring.photo
            return work is not None and work.read is not None and work.preview is not None

        kept: list[int] = []
        measuring.kept.connect(kept.append)
        self.say("a photo dropped and measured", lambda: self.window.take_files([photo]), read)
        self.say("its readings kept", measuring.keep, lambda: bool(kept))

    def answering(self) -> None:
        """Fit 300 tiles and answer."""
        self.desks.studio.open(self.small)
        QTest.qWait(300)
        self.window.show_place("match")
        matching = self.desks.matching

        def ask() -> None:
            matching.want_colour(Lab(50.0, 10.0, 20.0), "bench", body="Buff", cone=Cone(6.0))

        self.say("a fit runs, its answer arrives", ask, lambda: bool(matching.suggestions))
        self.say(
            "a second answer",
            lambda: matching.want("lighter", target=Lab(60.0, 8.0, 15.0)),
            lambda: bool(matching.suggestions) and matching.target == Lab(60.0, 8.0, 15.0),
        )


STEPS = ("opening", "places", "typing", "changing", "importing", "answering", "photo")


def main() -> int:
    """Print every step's longest turn, the longest of all and its ratio to a bare window's."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--tiles", type=int, default=20_000)
    words.add_argument("--large", type=Path, help="a studio made by an earlier run, to be used again")
    words.add_argument("--only", default=",".join(STEPS))
    asked = words.parse_args()
    app = QApplication([])
    with tempfile.TemporaryDirectory() as where:
        room = Path(where)
        os.environ["SWATCH_CONFIG_DIR"] = str(room / "config")
        trial = Trial()
        usual = bare(trial, asked.tiles)
        use = Use(trial, room, asked.tiles)
        use.small = make_studio(room / "small", 300, seed=3)
        if asked.large is not None and asked.large.exists():
            shutil.copytree(asked.large, room / "large")
            use.large = room / "large"
        else:
            use.large = make_studio(room / "large", asked.tiles)
            if asked.large is not None:
                shutil.copytree(use.large, asked.large)
        for step in STEPS:
            if step in asked.only.split(","):
                getattr(use, step)()
        use.desks.close()
        use.window.close()
        what, cpu, _wall = max(use.found, key=lambda one: one[1])
        print(
            f"longest turn of the event loop ÷ a bare window listing {asked.tiles} names: "
            f"{cpu / usual:.1f} "
            f"({cpu:.0f} ms, {what}, ÷ {usual:.0f} ms); {cpu / ALLOWED_MS:.2f} of the {ALLOWED_MS:.0f} ms allowed"
        )
    app.quit()
    return 0


if __name__ == "__main__":
    sys.exit(main())
