"""Two parts of a firing's form: its log with the chart, and what was in it, shelf by shelf."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QVBoxLayout, QWidget

from swatch.desk.firings import Firings, LoadOf
from swatch.screens.components.log_chart import LogChart
from swatch.screens.style import UNIT
from swatch.screens.widgets import button, column, empty, labelled, plain, quiet, row, strong, text_field
from swatch.wording.firing_heat import heat_in_words
from swatch.wording.text import say, say_many


class LogSection(QWidget):
    """The log as a chart, and what it comes to."""

    def __init__(self, firings: Firings) -> None:
        super().__init__()
        self._firings = firings
        self.chart = LogChart()
        self.bring = button(say("Bring in its log…"), self._bring)
        self._lines: QVBoxLayout = column(spacing=2)
        inside = column(spacing=UNIT)
        inside.addWidget(strong(say("Log of the kiln")))
        inside.addWidget(self.chart)
        inside.addLayout(self._lines)
        inside.addWidget(self.bring, 0, Qt.AlignmentFlag.AlignLeft)
        self.setLayout(inside)

    def _bring(self) -> None:
        file, _kind = QFileDialog.getOpenFileName(self, say("Log of the kiln"), "", "CSV (*.csv)")
        if file:
            self._firings.bring_log(Path(file))

    def follow(self) -> None:
        """Show what is known of the chosen firing's heat."""
        view, heat = self._firings.chosen, self._firings.heat
        logged = view is not None and view.logged
        self.chart.setVisible(logged)
        self.chart.show_heat(heat)
        empty(self._lines)
        if heat is not None:
            for line in heat_in_words(heat):
                self._lines.addWidget(plain(line, wrap=True))
        elif logged:
            self._lines.addWidget(quiet(say("Reading…")))
        else:
            text = say("A CSV of minutes and °C or °F, as kiln controllers write it, tells the heat-work.")
            self._lines.addWidget(quiet(text, wrap=True))
        self.bring.setText(say("Bring in another log…") if logged else say("Bring in its log…"))
        self.bring.setAccessibleName(self.bring.text())


class LoadSection(QWidget):
    """What was in the firing; pieces without a shelf are put on the shelves in the order of unloading."""

    def __init__(self, firings: Firings, tiles_wanted: Callable[[str], object]) -> None:
        super().__init__()
        self._firings = firings
        self.tiles = button(say("See its tiles"), lambda: tiles_wanted(firings.chosen_name))
        self.shelves = text_field(say("Shelves in the order of unloading"), say("top, middle, bottom"))
        self.fill = button(say("Fill the shelves"), self._fill)
        self._lines: QVBoxLayout = column(spacing=2)
        self._unloading = QWidget()
        line = row(spacing=2 * UNIT)
        line.addLayout(labelled(say("Shelves in the order of unloading"), self.shelves), 1)
        line.addWidget(self.fill, 1, Qt.AlignmentFlag.AlignBottom)
        self._unloading.setLayout(line)
        inside = column(spacing=UNIT)
        inside.addWidget(strong(say("In this firing")))
        inside.addLayout(self._lines)
        inside.addWidget(self._unloading)
        inside.addWidget(self.tiles, 0, Qt.AlignmentFlag.AlignLeft)
        self.setLayout(inside)

    def _fill(self) -> None:
        view = self._firings.chosen
        for load in view.pieces if view is not None else ():
            if load.without_shelf:
                self._firings.fill_shelves(load.edition, self.shelves.text())

    def follow(self) -> None:
        """Show the chosen firing's tiles and pieces."""
        view = self._firings.chosen
        if view is None:
            return
        empty(self._lines)
        for load in view.pieces:
            self._lines.addWidget(plain(load_in_words(load), wrap=True, size=15))
        if not view.pieces and not view.tiles:
            self._lines.addWidget(quiet(say("Nothing measured yet.")))
        n = sum(len(load.without_shelf) for load in view.pieces)
        self._unloading.setVisible(n > 0)
        if not self.shelves.hasFocus() and not self.shelves.text():
            self.shelves.setText(", ".join(self._firings.shelves()))
        text = say_many("Put {n} piece on these shelves", "Put {n} pieces on these shelves", n).format(n=n)
        self.fill.setText(text)
        self.fill.setAccessibleName(text)
        self.tiles.setText(say_many("See its {n} tile", "See its {n} tiles", view.tiles).format(n=view.tiles))
        self.tiles.setAccessibleName(self.tiles.text())
        self.tiles.setVisible(view.tiles > 0)


def load_in_words(load: LoadOf) -> str:
    """Pieces of an edition, by shelf: ``6 pieces of Lintel bud vase: top L33, L36; middle L34``."""
    n = len(load.shelves)
    text = say_many("{n} piece of {edition}", "{n} pieces of {edition}", n).format(n=n, edition=load.edition)
    by_shelf: dict[str, list[str]] = {}
    for name, shelf in load.shelves:
        by_shelf.setdefault(shelf or say("no shelf"), []).append(name)
    parts = [f"{shelf} {', '.join(names)}" for shelf, names in by_shelf.items()]
    return f"{text}: {'; '.join(parts)}"
