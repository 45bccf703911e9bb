"""Colours your jars can make: one band of lightness at a time, measured and predicted told apart."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from swatch.desk.jar_colours import ColoursInReach
from swatch.screens.components.band_plane import BandPlane
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.plain_list import PlainList, PlainRow
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
    Bench,
    Choice,
    area,
    button,
    column,
    empty,
    heading,
    plain,
    quiet,
    row,
    scrolled,
)
from swatch.terms.colours import JarColours, LightnessBand
from swatch.wording.colours import band_in_words, lightness_in_words, searched_in_words
from swatch.wording.layering import cone_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import say, say_many

BANDS, WORDS = 220, 300


class JarColoursPage(QWidget):
    """Bands at the left, the plane in the middle, what is said of it at the right."""

    def __init__(self, colours: ColoursInReach, done: Callable[[], object]) -> None:
        super().__init__()
        self._colours = colours
        self.cone = Choice(say("Cone of the colours"))
        self.food = QCheckBox(say("Only what may be named where food touches"))
        self.back = button(say("Back to the jars"), done)
        self.bands, self.plane = PlainList(say("Lightness")), BandPlane()
        self.title, self.said = heading(), plain(wrap=True, size=15)
        self._words: QVBoxLayout = column(spacing=UNIT)
        top = row(spacing=UNIT)
        top.setContentsMargins(3 * UNIT, UNIT, 2 * UNIT, UNIT)
        top.addWidget(self.back)
        top.addWidget(self.title, 1)
        top.addWidget(self.food)
        top.addWidget(quiet(say("Cone")).hug())
        top.addWidget(self.cone)
        self.cone.setMinimumWidth(120)
        self.bands.setFixedWidth(BANDS)
        bench = Bench()
        middle = column(margins=2 * UNIT)
        middle.addWidget(self.plane, 0, Qt.AlignmentFlag.AlignCenter)
        middle.addStretch(1)
        bench.setLayout(middle)
        words = column(margins=2 * UNIT, spacing=UNIT)
        words.addWidget(self.said)
        words.addWidget(quiet(say("Dashes: predicted. Lines and dots: your own tiles."), wrap=True))
        words.addLayout(self._words)
        words.addStretch(1)
        right = scrolled(area("raised", words))
        right.setFixedWidth(WORDS)
        line = row(spacing=0)
        line.addWidget(self.bands)
        line.addWidget(bench, 1)
        line.addWidget(right)
        whole = column(spacing=0)
        whole.addWidget(area("panel", top))
        whole.addLayout(line, 1)
        self.setLayout(whole)
        self.bands.currentRowChanged.connect(self._colours.look_at)
        self.cone.chosen.connect(colours.want_cone)
        self.food.clicked.connect(lambda: colours.want_food(self.food.isChecked()))
        colours.shown.connect(self.follow)
        self.follow()

    def follow(self) -> None:
        """Show the answer of now."""
        colours = self._colours
        request, answer = colours.request, colours.answer
        cones: list[tuple[str, object]] = [(cone_in_words(cone), cone) for cone in colours.cones()]
        self.cone.offer(cones, colours.cone)
        self.food.setChecked(bool(request and request.regions))
        self.title.say(say("Colours your jars can make on {body}").format(body=request.body if request else "–"))
        rows = [_row(band) for band in (answer.bands if answer is not None else ())]
        self.bands.show_rows(rows, rows[colours.number].name if rows else "")
        self.plane.show_band(colours.band, reach_of(answer))
        self._say()

    def _say(self) -> None:
        colours = self._colours
        empty(self._words)
        if colours.problem is not None:
            self.said.say(" ".join(filter(None, notice_in_words(colours.problem))))
        elif colours.answer is None or colours.band is None:
            self.said.say(say("Working it out…") if colours.looking else say("Nothing has been fired yet."))
        else:
            self.said.say(band_in_words(colours.band))
            self._words.addWidget(quiet(searched_in_words(colours.answer), wrap=True))
            for notice in colours.answer.cautions:
                self._words.addWidget(CautionLine(" ".join(filter(None, notice_in_words(notice)))))


def _row(band: LightnessBand) -> PlainRow:
    tiles = say_many("{n} own tile", "{n} own tiles", len(band.tiles)).format(n=len(band.tiles))
    made = say_many("{n} layering, {tiles}", "{n} layerings, {tiles}", band.layerings)
    return PlainRow(f"L* {lightness_in_words(band)}", made.format(n=f"{band.layerings:,}", tiles=tiles))


def reach_of(answer: JarColours | None) -> float:
    """How far a* and b* go in any band, to the next ten."""
    ends = [
        abs(end)
        for band in (answer.bands if answer is not None else ())
        for ring in (*band.predicted, *band.measured)
        for corner in ring
        for end in corner
    ]
    return 10.0 * -(-max(ends, default=50.0) // 10.0)
