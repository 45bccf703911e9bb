"""The frame around every place: rail, header, message line, jobs line, foot."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QEnterEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QHBoxLayout, QLineEdit, QProgressBar, QWidget

from swatch.desk.jobs import Jobs
from swatch.screens.glyphs import icon, paint_glyph
from swatch.screens.style import BENCH, CAPTION, UNIT, Surround, look
from swatch.screens.widgets import Words, area, button, column, heading, link, plain, quiet, row, text_field
from swatch.wording.jobs import progress_in_words
from swatch.wording.text import say

RAIL = 80
HEADER = 56
FOOTER = 24
UNDO_WIDTH = 216
PATIENCE_MS = 500
"""Work that takes longer says how far it is and can be cancelled."""


class RailButton(QAbstractButton):
    """One place in the rail: glyph, word, and a count of what waits there."""

    def __init__(self, glyph: str, word: str) -> None:
        super().__init__()
        self._glyph, self._count, self._under = glyph, 0, False
        self.setText(word)
        self.setCheckable(True)
        self.setFixedSize(RAIL, 72)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._speak()
        look.changed.connect(self.update)

    def set_count(self, count: int) -> None:
        """How many things wait in this place."""
        self._count = count
        self._speak()
        self.update()

    def _speak(self) -> None:
        waiting = say("{place}, {count} waiting").format(place=self.text(), count=self._count)
        self.setAccessibleName(waiting if self._count else self.text())

    def sizeHint(self) -> QSize:  # noqa: N802
        """The rail's width."""
        return QSize(RAIL, 72)

    def enterEvent(self, event: QEnterEvent) -> None:  # noqa: N802
        """Show that it can be pressed."""
        self._under = True
        self.update()
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802
        """Be quiet again."""
        self._under = False
        self.update()
        super().leaveEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint glyph, word and count; the chosen place by ground, bar and weight, not by hue."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = look.colour("ink") if self.isChecked() or self._under else look.colour("quiet")
        if self.isChecked():
            painter.fillRect(self.rect(), look.colour("raised"))
            painter.fillRect(QRect(0, 0, 4, self.height()), look.colour("ink"))
        if not self.isEnabled():
            ink = look.colour("edge")
        paint_glyph(painter, self._glyph, QRectF(28, 12, 24, 24), ink)
        painter.setFont(look.font(CAPTION, strong=self.isChecked()))
        painter.setPen(ink)
        painter.drawText(QRect(0, 42, RAIL, 20), Qt.AlignmentFlag.AlignCenter, self.text())
        if self._count:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.colour("ink"))
            bubble = QRectF(48, 8, 20, 16)
            painter.drawRoundedRect(bubble, 8, 8)
            painter.setPen(look.colour("panel"))
            painter.setFont(look.font(CAPTION, strong=True))
            painter.drawText(bubble, Qt.AlignmentFlag.AlignCenter, str(self._count) if self._count < 100 else "99")
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(look.colour("accent_text"), 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(6, 3, -3, -3), 4, 4)
        painter.end()


class SurroundKey(QAbstractButton):
    """One of the three grounds that can lie around the swatches."""

    def __init__(self, surround: Surround, word: str) -> None:
        super().__init__()
        self.surround = surround
        self.setCheckable(True)
        self.setFixedSize(28, 32)
        self.setAccessibleName(say("Surround: {ground}").format(ground=word))
        self.setToolTip(word)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        look.changed.connect(self.update)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """A small field of the ground, underlined where it is the one in use."""
        painter = QPainter(self)
        ground = {Surround.GREY: BENCH, Surround.WHITE: "#FFFFFF", Surround.BLACK: "#000000"}[self.surround]
        painter.setPen(look.colour("edge"))
        painter.setBrush(QColor(ground))
        painter.drawRect(QRect(3, 5, 21, 19))
        if self.isChecked():
            painter.fillRect(QRect(3, 28, 22, 2), look.colour("ink"))
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(look.colour("accent_text"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()


class SurroundKeys(QWidget):
    """Grey, white, black: the ground of the bench and nothing else."""

    def __init__(self) -> None:
        super().__init__()
        line = row(spacing=0)
        line.addWidget(quiet(say("Surround")).hug())
        line.addSpacing(UNIT)
        self._group = QButtonGroup(self)
        words = {Surround.GREY: say("mid grey"), Surround.WHITE: say("white"), Surround.BLACK: say("black")}
        self.keys = {which: SurroundKey(which, words[which]) for which in Surround}
        for which, key in self.keys.items():
            self._group.addButton(key)
            key.setChecked(which is look.surround)
            key.clicked.connect(lambda _checked=False, which=which: look.set_surround(which))
            line.addWidget(key)
        self.setLayout(line)
        look.changed.connect(self._follow)

    def _follow(self) -> None:
        """Show the ground in use. A method, so that the connection ends with the widget."""
        self.keys[look.surround].setChecked(True)


class Header(QWidget):
    """Title and what it stands on; surround, undo and search."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("header")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(HEADER)
        self.title, self.under = heading(), quiet()
        words = column(spacing=0)
        words.addStretch(1)
        words.addWidget(self.title)
        words.addWidget(self.under)
        words.addStretch(1)
        self.surround = SurroundKeys()
        self.undo = button("")
        self.undo.setProperty("small", True)
        self.undo.setFont(look.font(CAPTION))
        self.undo.setFixedWidth(UNDO_WIDTH)  # else the surround would wander with each change
        self.search: QLineEdit = text_field(say("Search"), say("Search  Ctrl+F"))
        self.search.setFixedWidth(168)
        self.search.setClearButtonEnabled(True)
        line: QHBoxLayout = row(spacing=2 * UNIT)
        line.setContentsMargins(3 * UNIT, 0, 2 * UNIT, 0)
        line.addLayout(words, 1)
        line.addWidget(self.surround)
        line.addWidget(self.undo)
        line.addWidget(self.search)
        self.setLayout(line)
        self._ink()
        look.changed.connect(self._ink)

    def _ink(self) -> None:
        self.undo.setIcon(icon("undo", look.colour("ink"), 16))

    def say_undo(self, name: str) -> None:
        """Name what Undo would take back."""
        whole = say("Undo “{name}”").format(name=name) if name else say("Undo")
        shown = self.undo.fontMetrics().elidedText(whole, Qt.TextElideMode.ElideRight, UNDO_WIDTH - 56)
        self.undo.setText(shown.replace("&", "&&"))
        self.undo.setToolTip(whole if shown != whole else "")
        self.undo.setAccessibleName(whole)
        self.undo.setEnabled(bool(name))


class MessageLine(QWidget):
    """What went wrong and the next step, in place, until it is put away."""

    def __init__(self) -> None:
        super().__init__()
        self._passing = False
        self.setObjectName("message")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.happened = Words(size=15, strong=True, wrap=True)
        self.next_step = plain(wrap=True)
        words = column(spacing=0)
        words.addWidget(self.happened)
        words.addWidget(self.next_step)
        self.away = button(say("Put away"), self.hide)
        self.away.setProperty("small", True)
        line = row(spacing=2 * UNIT)
        line.setContentsMargins(3 * UNIT, UNIT, 2 * UNIT, UNIT)
        line.addLayout(words, 1)
        line.addWidget(self.away, 0, Qt.AlignmentFlag.AlignVCenter)
        self.setLayout(line)
        self.hide()

    def tell(self, happened: str, next_step: str, *, passing: bool = False) -> None:
        """Show one message in place of the one before; a passing one goes when another place is opened."""
        self._passing = passing
        self.happened.say(happened)
        self.next_step.say(next_step)
        self.next_step.setVisible(bool(next_step))
        self.show()

    def pass_on(self) -> None:
        """Another place is opened."""
        if self._passing:
            self.hide()


class JobsLine(QWidget):
    """How far long work is, and the way to cancel it; seen only when work takes over half a second."""

    cancelled = Signal()

    def __init__(self, jobs: Jobs) -> None:
        super().__init__()
        self._jobs = jobs
        self.setObjectName("jobs")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(40)
        self.words = plain()
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(240)
        self.bar.setAccessibleName(say("How far the work is"))
        self.cancel = link(say("Cancel"), self._cancel)
        line = row(spacing=2 * UNIT)
        line.setContentsMargins(3 * UNIT, 0, 2 * UNIT, 0)
        line.addWidget(self.words, 1)
        line.addWidget(self.bar)
        line.addWidget(self.cancel)
        self.setLayout(line)
        self.hide()
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(PATIENCE_MS)
        self._patience.timeout.connect(self._show)
        jobs.changed.connect(self._follow)

    def _follow(self) -> None:
        running = self._jobs.running
        if not running:
            self._patience.stop()
            self.hide()
            return
        if self.isVisible():
            self._show()
        elif not self._patience.isActive():
            self._patience.start()

    def _show(self) -> None:
        running = self._jobs.running
        if not running:
            return
        job = running[0]
        done, total, what = job.progress
        self.words.say(progress_in_words(job.name, done, total, what, more=len(running) - 1))
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.show()

    def _cancel(self) -> None:
        self._jobs.stop_all()
        self.cancelled.emit()


class Foot(QWidget):
    """The line at the foot: how colours are shown here, and what the place adds."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("footer")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(FOOTER)
        self.left, self.right = quiet(), quiet()
        self.right.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        line = row(spacing=2 * UNIT)
        line.setContentsMargins(2 * UNIT, 0, 2 * UNIT, 0)
        line.addWidget(self.left, 1)
        line.addWidget(self.right, 1)
        self.setLayout(line)


def rail(buttons: list[RailButton], helping: QWidget) -> QWidget:
    """The rail with its places and the way to help."""
    inside = column(spacing=0)
    inside.setContentsMargins(0, UNIT, 0, UNIT)
    for one in buttons:
        inside.addWidget(one)
    inside.addStretch(1)
    inside.addWidget(helping, 0, Qt.AlignmentFlag.AlignHCenter)
    return area("rail", inside, RAIL)
