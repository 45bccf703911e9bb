"""The hidden gallery: every component on a page of its own, in both schemes, on every surround."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.kiln_draws import draws_of
from swatch.screens import gallery_photo, gallery_samples
from swatch.screens.components.answer_list import AnswerList
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.chance_bar import ChanceBar
from swatch.screens.components.de_line import DeLine
from swatch.screens.components.how_sure import HowSure
from swatch.screens.components.kiln_draws import KilnDraws
from swatch.screens.components.photo_canvas import PhotoCanvas, Tool
from swatch.screens.components.section import SectionDetail, SectionSmall
from swatch.screens.components.swatch_grid import SwatchGrid
from swatch.screens.components.swatch_pair import PairWithWords, SwatchPair
from swatch.screens.frame import SurroundKeys
from swatch.screens.style import CAPTION, UNIT, look
from swatch.screens.widgets import Bench, button
from swatch.wording.text import _, say

SAMPLE_LAYERS = (
    "Halm Moss*2 > Mardle",
    "Ossel Blue > Kessel Amber*2",
    "Rill Wash (wiped) > Mardle*2",
    "Halm Moss*3 > Orrin Clear",
    "Ossel Blue > Sill Yellow > Orrin Clear",
    "Not fired yet*2",
    "",
)


def column(*rows: QWidget) -> QWidget:
    """Stand things under each other."""
    made = QWidget()
    stack = QVBoxLayout(made)
    stack.setContentsMargins(2 * UNIT, 2 * UNIT, 2 * UNIT, 2 * UNIT)
    stack.setSpacing(2 * UNIT)
    for row in rows:
        stack.addWidget(row, 0, Qt.AlignmentFlag.AlignLeft if isinstance(row, Bench) else Qt.AlignmentFlag(0))
    stack.addStretch(1)
    return made


def beside(*parts: QWidget) -> QWidget:
    """Stand things beside each other."""
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(2 * UNIT)
    for part in parts:
        row.addWidget(part, 0, Qt.AlignmentFlag.AlignTop)
    row.addStretch(1)
    return made


def quiet(text: str) -> QLabel:
    """A caption that takes the room it needs."""
    made = QLabel(text)
    made.setFont(look.font(CAPTION))
    made.setProperty("quiet", True)
    return made


def pair_page() -> QWidget:
    """Touching pairs."""
    first = gallery_samples.suggestions()[1].prediction.lab
    target, beyond = gallery_samples.TARGET, gallery_samples.BEYOND
    large = SwatchPair(target, first, size=QSize(264, 168))
    return column(
        quiet(say(_("X swaps, S changes the surround."))),
        PairWithWords(SwatchPair(target, first)),
        PairWithWords(SwatchPair(target, target)),
        PairWithWords(SwatchPair(gallery_samples.FIRED["Sill Yellow"], beyond)),
        PairWithWords(SwatchPair(target, None)),
        PairWithWords(large),
    )


def draws_page() -> QWidget:
    """What may come out of the kiln."""
    rows = []
    for suggestion in gallery_samples.suggestions():
        prediction = suggestion.prediction
        rows.append(
            beside(KilnDraws(prediction.lab, draws_of(prediction)), quiet(f"ΔE00 {suggestion.de00_expected:.1f}"))
        )
    measured = beside(KilnDraws(gallery_samples.TARGET), quiet(say(_("measured"))))
    unknown = beside(KilnDraws(None), quiet(say(_("not known"))))
    draws = draws_of(gallery_samples.suggestions()[3].prediction)
    real = beside(KilnDraws(gallery_samples.TARGET, draws, real=True), quiet(say(_("approved pieces"))))
    return column(measured, unknown, real, *rows)


def section_page() -> QWidget:
    """Layerings as sections."""
    sections = [gallery_samples.section(layers) for layers in SAMPLE_LAYERS]
    sections.append(replace(sections[0], body_lab=None))
    return column(*(beside(SectionSmall(section), SectionDetail(section)) for section in sections))


def how_sure_page() -> QWidget:
    """Doubt in words, on a line, and as a chance."""
    from swatch.desk.sureness import sureness_of

    rows: list[QWidget] = []
    for suggestion in gallery_samples.suggestions()[::3]:
        low, high = suggestion.de00_80
        line = DeLine(suggestion.de00_expected, low, high, suggestion.tolerance)
        block = HowSure(sureness_of(suggestion, gallery_samples.TARGET))
        block.setFixedWidth(320)
        rows.append(beside(block, line, ChanceBar(suggestion.chance_within, "84 pieces")))
    rows += [CautionLine(row.caution) for row in gallery_samples.rows()[:3]]
    return column(*rows)


def answers_page() -> QWidget:
    """The whole list."""
    made = AnswerList()
    made.set_title(say(_("Ten nearest, different from each other")))
    made.rows.show(gallery_samples.TARGET, gallery_samples.rows())
    return made


def photo_page() -> QWidget:
    """A photo with outlines."""
    canvas = PhotoCanvas()
    canvas.set_photo(gallery_photo.photo())
    canvas.set_outlines(gallery_photo.outlines())
    canvas.set_callout(gallery_photo.callout())
    canvas.choose("tile-8")
    canvas.outline_drawn.connect(
        lambda points: canvas.set_outlines(gallery_photo.with_new(canvas.outlines, points))
    )
    canvas.remove_asked.connect(lambda key: canvas.set_outlines([o for o in canvas.outlines if o.key != key]))
    canvas.acted.connect(lambda _key, _action: canvas.set_callout(None))
    made = QWidget()
    stack = QVBoxLayout(made)
    stack.setContentsMargins(0, 0, 0, 0)
    rectangle = button(say(_("Draw a rectangle")), lambda: canvas.set_tool(Tool.RECTANGLE))
    corners = button(say(_("Set four corners")), lambda: canvas.set_tool(Tool.CORNERS))
    whole = button(say(_("Whole photo")), canvas.fit)
    stack.addWidget(canvas, 1)
    stack.addWidget(beside(rectangle, corners, whole))
    stack.addWidget(quiet(say(_("Arrow keys nudge the chosen corner, Enter types it, C takes the next corner."))))
    return made


def tiles_page() -> QWidget:
    """A bench of tiles."""
    model = gallery_samples.tile_model(20_000)
    grid = SwatchGrid(model, cell_of=lambda held: held)
    grid.choose(7)
    return grid


def plane_page() -> QWidget:
    """The a*b* plane."""
    from swatch.screens.components.ab_plane import AbPlane

    plane = AbPlane()
    plane.show_plane(gallery_samples.plane(), 2)
    return column(beside(plane))


PAGES: tuple[tuple[str, Callable[[], QWidget]], ...] = (
    (_("Swatch pair"), pair_page),
    (_("Kiln draws"), draws_page),
    (_("Section"), section_page),
    (_("How sure"), how_sure_page),
    (_("Answers"), answers_page),
    (_("Photo"), photo_page),
    (_("Tiles"), tiles_page),
    (_("Plane"), plane_page),
)


class Gallery(QWidget):
    """Names at the left, the page at the right."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("panel")
        self.setWindowTitle(say(_("Swatch: components")))
        self.names, self.pages = QListWidget(), QStackedWidget()
        self.names.setFixedWidth(140)
        self.names.setAccessibleName(say(_("Components")))
        for name, make in PAGES:
            self.names.addItem(say(name))
            page = make()
            if make in (answers_page, photo_page, tiles_page):
                self.pages.addWidget(page)
                continue
            scroll = QScrollArea()
            scroll.setWidgetResizable(True)
            scroll.setWidget(page)
            self.pages.addWidget(scroll)
        self.names.currentRowChanged.connect(self.pages.setCurrentIndex)
        self.names.setCurrentRow(0)
        scheme = button(say(_("Light or dark")), lambda: look.wear(dark=not look.tokens.dark))
        swap = button(say(_("Swap")), look.swap)
        head = beside(SurroundKeys(), scheme, swap)
        body = QHBoxLayout()
        body.setSpacing(0)
        body.addWidget(self.names)
        body.addWidget(self.pages, 1)
        stack = QVBoxLayout(self)
        stack.addWidget(head)
        stack.addLayout(body, 1)
        stack.addWidget(quiet(screen_colours().footer()))


def open_gallery() -> int:
    """Show the gallery until it is closed; gives the exit status."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    if not isinstance(app, QApplication):
        raise RuntimeError("the gallery needs a program with windows")
    look.dress(app)
    gallery = Gallery()
    gallery.resize(1280, 800)
    gallery.show()
    return app.exec()
