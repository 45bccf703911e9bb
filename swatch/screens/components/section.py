"""A layering drawn as a section through the glaze: body below, layers upward, thickness by coats."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygon
from PySide6.QtWidgets import QWidget

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.sections import Section, SectionLayer, section_in_words
from swatch.screens.components.painting import Painted, text_width, unknown, write
from swatch.screens.style import UNIT, Surround, look
from swatch.terms.colour import Lab
from swatch.wording.answers import coats_in_words
from swatch.wording.text import _, say

COAT, DETAIL_COAT = 9, 14
BODY, SMALLEST_BODY = 28, 18
STEP = 6
"""How far each layer ends short of the one below, so that the order reads even in equal colours."""
TOOTH, TEETH = 3, 4


def paint_section(painter: QPainter, rect: QRect, section: Section, coat: int = COAT) -> list[QRect]:
    """Draw a section into `rect`, standing on its lower edge.

    Returns
    -------
    list of QRect
        Where the body and each layer lie, from the body outward.
    """
    heights = [max(4, round(coat * layer.coats)) for layer in section.layers]
    room = rect.height() - SMALLEST_BODY
    if sum(heights) > room:
        heights = [max(3, h * room // sum(heights)) for h in heights]
    body_height = max(SMALLEST_BODY, min(BODY, rect.height() - sum(heights)))
    body = QRect(rect.left(), rect.bottom() + 1 - body_height, rect.width(), body_height)
    _paint_body(painter, body, section.body_lab)
    places, top, below = [body], body.top(), section.body_lab
    short = 0
    gaps: list[QRect] = []
    for i, (layer, height) in enumerate(zip(section.layers, heights, strict=True)):
        short += STEP if i or len(section.layers) < 3 else STEP - 2
        place = QRect(rect.left(), top - height, max(8, rect.width() - short), height)
        colour = _layer_colour(layer, below)
        for gap in gaps:
            _lay(painter, gap, colour)
        gaps = []
        if layer.wiped:
            gaps = _paint_wiped(painter, place, colour)
        else:
            _lay(painter, place, colour)
            if layer.clear:
                painter.fillRect(QRect(place.left(), place.top(), place.width(), 2), _glint())
            _paint_ticks(painter, place, layer)
        places.append(place)
        top = place.top()
        below = layer.lab if layer.lab is not None and not layer.clear else below
    return places


def _glint() -> QColor:
    """The shine on a clear layer: white, and grey where the bench itself is white."""
    return QColor("#777777") if look.surround is Surround.WHITE else QColor("#FFFFFF")


def _lay(painter: QPainter, place: QRect, colour: QColor | None) -> None:
    if colour is None:
        unknown(painter, place, "")
    else:
        painter.fillRect(place, colour)


def _layer_colour(layer: SectionLayer, below: Lab | None) -> QColor | None:
    if layer.clear and below is not None:
        return screen_colours().shown(Lab(below.L + 0.3 * (100 - below.L), 0.8 * below.a, 0.8 * below.b)).colour
    return screen_colours().shown(layer.lab).colour if layer.lab is not None else None


def _paint_body(painter: QPainter, place: QRect, lab: Lab | None) -> None:
    """The body ends below in a torn edge: there is more of it than is drawn."""
    if lab is None:
        unknown(painter, place)
        return
    foot = place.bottom() + 1
    points = [place.topLeft(), QPoint(place.right() + 1, place.top())]
    for k in range(2 * TEETH, -1, -1):
        x = place.left() + place.width() * k // (2 * TEETH)
        points.append(QPoint(x, foot - (0 if k % 2 else TOOTH)))
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(screen_colours().shown(lab).colour)
    painter.drawPolygon(QPolygon(points))
    painter.restore()
    # The smoothed polygon leaves a soft upper edge at broken scales; layers must touch the body without a line.
    painter.fillRect(place.adjusted(0, 0, 0, -TOOTH), screen_colours().shown(lab).colour)


def _paint_wiped(painter: QPainter, place: QRect, colour: QColor | None) -> list[QRect]:
    """A wiped wash stays as islands; the gaps between are filled by whatever lies over it."""
    parts = 2 * max(2, place.width() // 14) - 1
    edges = [place.left() + place.width() * k // parts for k in range(parts + 1)]
    gaps = []
    for k in range(parts):
        piece = QRect(edges[k], place.top(), edges[k + 1] - edges[k], place.height())
        if k % 2:
            gaps.append(piece)
        else:
            _lay(painter, piece, colour)
    return gaps


def _paint_ticks(painter: QPainter, place: QRect, layer: SectionLayer) -> None:
    """One tick at the right end between coats, dark or light as the colour allows."""
    coats = int(layer.coats)
    if coats < 2:
        return
    light = layer.lab is None or layer.lab.L > 45
    ink = QColor(0, 0, 0, 150) if light else QColor(255, 255, 255, 170)
    for k in range(1, coats):
        y = place.top() + place.height() * k // coats
        painter.fillRect(QRect(place.right() + 1 - 5, y, 5, 1), ink)


class SectionSmall(Painted):
    """A section as it stands in a row, on the bench."""

    def __init__(self, section: Section | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.show_section(section)

    def show_section(self, section: Section | None) -> None:
        """Draw another layering."""
        self.section = section
        self.say_as(say(_("Section")), section_in_words(section) if section else say(_("No layers yet.")))
        self.update()

    def wanted_size(self) -> QSize:
        """52 × 48 with bench around."""
        return QSize(52 + 2 * UNIT, 48 + 2 * UNIT)

    def paint(self, painter: QPainter) -> None:
        """The section."""
        if self.section:
            paint_section(painter, self.rect().adjusted(UNIT, UNIT, -UNIT, -UNIT), self.section)


class SectionDetail(Painted):
    """A section with its names beside it, each on its layer's height; only the drawing lies on the bench."""

    on_bench = False
    BENCH_WIDTH = 96

    def __init__(self, section: Section | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.show_section(section)

    def show_section(self, section: Section | None) -> None:
        """Draw another layering."""
        self.section = section
        self.say_as(say(_("Section")), section_in_words(section) if section else say(_("No layers yet.")))
        self.updateGeometry()
        self.update()

    def _labels(self) -> list[tuple[str, str]]:
        if self.section is None:
            return []
        wiped = say(_(", wiped"))
        return [
            (self.section.body, say(_("body"))),
            *(
                (layer.name, coats_in_words(layer.coats) + (wiped if layer.wiped else ""))
                for layer in self.section.layers
            ),
        ]

    def wanted_size(self) -> QSize:
        """Room for every name on a line of its own."""
        labels = self._labels()
        words = max((text_width(a, strong=True) + UNIT + text_width(b) for a, b in labels), default=0)
        layers = self.section.layers if self.section else ()
        thick = sum(round(DETAIL_COAT * layer.coats) for layer in layers)
        return QSize(self.BENCH_WIDTH + 12 + words, max(88, min(thick, 160) + BODY + 24, 18 * len(labels) + 16))

    def paint(self, painter: QPainter) -> None:
        """Bench, section, and lines to the names."""
        bench = QRect(0, 0, self.BENCH_WIDTH, self.height())
        painter.fillRect(bench, look.bench)
        if self.section is None:
            return
        places = paint_section(painter, bench.adjusted(UNIT, UNIT, -UNIT, -UNIT), self.section, DETAIL_COAT)
        lines = _spread([place.center().y() for place in places], 18, self.height() - 9)
        for place, y, (name, rest) in zip(places, lines, self._labels(), strict=True):
            painter.setPen(QPen(look.colour("edge"), 1))
            painter.drawLine(self.BENCH_WIDTH, place.center().y(), self.BENCH_WIDTH + 8, y)
            left = self.BENCH_WIDTH + 12
            line = QRect(left, y - 9, self.width() - left, 18)
            write(painter, line, name, look.colour("ink"), strong=True)
            done = text_width(name, strong=True) + UNIT
            write(painter, line.adjusted(done, 0, 0, 0), rest, look.colour("ink"))


def _spread(heights: list[int], least: int, lowest: int) -> list[int]:
    """Move lines apart, upward from the lowest, so that none is written over another."""
    out: list[int] = []
    for y in heights:
        out.append(min(y, lowest) if not out else min(y, out[-1] - least))
    # Pushed over the top: move all down again by what is missing.
    missing = max(0, 9 - min(out, default=9))
    return [y + missing for y in out]
