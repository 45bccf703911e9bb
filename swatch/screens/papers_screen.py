"""What is printed, seen before: a board with its list and its photo sheets; saved as PDF or sent to a printer."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QMarginsF, QSizeF, Qt, QUrl
from PySide6.QtGui import QDesktopServices, QPageLayout, QPageSize, QPainter, QResizeEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QCheckBox, QFileDialog, QVBoxLayout, QWidget

from swatch.desk.printing import SHEET, Printing
from swatch.formats.drawing import PrintPage
from swatch.screens.components.paper import MM_PER_INCH, PageView, paint_page, screen_dots_per_mm
from swatch.screens.place import Place
from swatch.screens.style import CAPTION, UNIT, look
from swatch.screens.widgets import (
    Choice,
    Rule,
    area,
    button,
    column,
    empty,
    labelled,
    plain,
    quiet,
    row,
    scrolled,
    strong,
    whole_number,
)
from swatch.terms.sheet import Paper, Size
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many

SIDE = 336
TILE_SIDES = (20, 200)


class PapersScreen(Place):
    """The pages at the left, what and how at the right."""

    code = "papers"
    shows_colour = False

    def __init__(self, printing: Printing) -> None:
        super().__init__()
        self._printing = printing
        self.views: list[PageView] = []
        self.what, self.paper = Choice(say("What is printed")), Choice(say("Paper"))
        self.wide = whole_number(say("Width of a tile"), *TILE_SIDES, suffix=" mm")
        self.high = whole_number(say("Height of a tile"), *TILE_SIDES, suffix=" mm")
        self.true_size = QCheckBox(say("Show at actual size"))
        self.true_size.setFont(look.font(CAPTION))
        self.save = button(say("Save as PDF…"), self._save, main=True)
        self.print = button(say("Print…"), self._print)
        self.count, self.said = strong(), plain(wrap=True)
        self._pages: QVBoxLayout = column(margins=2 * UNIT, spacing=2 * UNIT)
        ground = QWidget()
        ground.setLayout(self._pages)
        self._scroll = scrolled(ground)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._scroll.setAccessibleName(say("Pages as they are printed"))
        line = row(spacing=0)
        line.addWidget(self._scroll, 1)
        line.addWidget(self._side())
        self.setLayout(line)
        self.what.chosen.connect(lambda what: printing.choose(what=str(what)))
        self.paper.chosen.connect(lambda paper: printing.choose(paper=Paper(paper)))
        for field in (self.wide, self.high):
            field.valueChanged.connect(lambda _value: self._sized())
        self.true_size.toggled.connect(lambda _on: self._show_pages())
        printing.changed.connect(self._show)
        printing.written.connect(self._written)
        self._show()

    def _side(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addLayout(labelled(say("What"), self.what))
        inside.addLayout(labelled(say("Paper"), self.paper))
        tile = row(spacing=UNIT)
        tile.addLayout(labelled(say("Width of a tile"), self.wide), 1)
        tile.addLayout(labelled(say("Height of a tile"), self.high), 1)
        inside.addLayout(tile)
        inside.addWidget(self.true_size)
        inside.addWidget(Rule())
        inside.addWidget(self.count)
        inside.addWidget(self.said)
        inside.addStretch(1)
        hint = say("Print at 100 %, never “fit to page”. Then measure the bar: it must be 100 mm long.")
        inside.addWidget(quiet(hint, wrap=True))
        inside.addWidget(self.print)
        inside.addWidget(self.save)
        return area("raised", inside, SIDE)

    # What is shown

    def _show(self) -> None:
        printing = self._printing
        boards = [
            (say("Board for firing {name}, list and sheets").format(name=one.name), one.name)
            for one in printing.boards()
        ]
        self.what.offer([*boards, (say("Photo sheet alone"), SHEET)], printing.what)
        self.paper.offer([(str(paper), str(paper)) for paper in Paper], str(printing.paper))
        for field, side in ((self.wide, printing.tile.wide), (self.high, printing.tile.high)):
            field.blockSignals(True)
            field.setValue(round(side))
            field.blockSignals(False)
        n = len(printing.pages)
        drawing = say("Waiting for other work…") if printing.waiting else say("Drawing…")
        self.count.say(drawing if printing.drawing else say_many("{n} page", "{n} pages", n).format(n=n))
        board = printing.board
        if printing.problem is not None:
            self.said.say(" ".join(problem_in_words(printing.problem)))
        elif board is not None:
            text = say(
                "{n} tiles, {first} to {last}, are planned and on record: photograph them on these sheets, the "
                "first of the list in slot 1 and so on, and their layers are known."
            )
            tiles = board.tiles
            self.said.say(text.format(n=len(tiles), first=tiles[0].tile, last=tiles[-1].tile) if tiles else "")
        else:
            self.said.say(say("One sheet, as many tiles as fit on it."))
        for one in (self.save, self.print):
            one.setEnabled(bool(printing.pages) and not printing.drawing)
        if not printing.drawing:
            self._show_pages()
        self.headed.emit()

    def _show_pages(self) -> None:
        pages = self._printing.pages
        if len(self.views) != len(pages):
            empty(self._pages)
            self.views = [PageView(say("Page {n}").format(n=n + 1)) for n in range(len(pages))]
            for view in self.views:
                self._pages.addWidget(view, 0, Qt.AlignmentFlag.AlignHCenter)
            self._pages.addStretch(1)
        for view, page in zip(self.views, pages, strict=True):
            view.show_page(page, self._scale(page))

    def _scale(self, page: PrintPage) -> float:
        """At actual size, or so that the page's width fills the room."""
        if self.true_size.isChecked():
            return screen_dots_per_mm(self)
        room = self._scroll.viewport().width() - 4 * UNIT
        return max(0.5, min(room, 720) / page.size.wide)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Fill the room anew."""
        super().resizeEvent(event)
        self._show_pages()

    def _sized(self) -> None:
        self._printing.choose(tile=Size(float(self.wide.value()), float(self.high.value())))

    # Out of the program

    def _save(self) -> None:
        name = f"{self._printing.title}.pdf"
        file, _kind = QFileDialog.getSaveFileName(self, say("Save as PDF"), name, "PDF (*.pdf)")
        if file:
            self._printing.write(Path(file if file.lower().endswith(".pdf") else f"{file}.pdf"))

    def _written(self, out: Path) -> None:
        self.count.say(say("Saved as {file}.").format(file=out.name))
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(out)))

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        set_page(printer, self._printing.pages[0])
        if QPrintDialog(printer, self).exec():
            print_pages(printer, self._printing.pages)

    def heading(self) -> tuple[str, str]:
        """What is printed."""
        return say("Print"), self._printing.title

    def foot(self) -> str:
        """Each page carries its check."""
        return say("Each page has a bar of 100 mm to measure.")

    def come(self) -> None:
        """Draw what was chosen."""
        if not self._printing.pages:
            self._printing.draw()
        self.save.setFocus()


def set_page(printer: QPrinter, page: PrintPage) -> None:
    """Have a printer lay a page out edge to edge, so that a millimetre is one."""
    size = page.size
    lying = size.wide > size.high
    sheet = QSizeF(min(size.wide, size.high), max(size.wide, size.high))
    way = QPageLayout.Orientation.Landscape if lying else QPageLayout.Orientation.Portrait
    paper = QPageSize(sheet, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.FuzzyMatch)
    printer.setPageLayout(QPageLayout(paper, way, QMarginsF(0, 0, 0, 0)))
    printer.setFullPage(True)


def print_pages(printer: QPrinter, pages: Sequence[PrintPage]) -> None:
    """Send pages to a printer, or to the file it writes, true to scale."""
    painter = QPainter()
    for number, page in enumerate(pages):
        set_page(printer, page)
        if number == 0:
            if not painter.begin(printer):
                return
        else:
            printer.newPage()
        paint_page(painter, page, printer.resolution() / MM_PER_INCH)
    painter.end()
