"""One answer in the list: number, touching swatches, section, words, ΔE00 on its line, chance and pieces."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolTip,
)

from swatch.desk.answer_rows import ROW_ROLE, AnswerRow, AnswerRows
from swatch.desk.colours_on_screen import cannot_show, screen_colours
from swatch.desk.sections import Section
from swatch.screens.components.caution_line import SIDE, paint_caution
from swatch.screens.components.chance_bar import WIDTH as CHANCE_WIDTH
from swatch.screens.components.chance_bar import paint_chance
from swatch.screens.components.de_line import WIDTH as DE_WIDTH
from swatch.screens.components.de_line import paint_de_line
from swatch.screens.components.kiln_draws import paint_draws
from swatch.screens.components.painting import fill, focus_frame, text_width, write
from swatch.screens.components.section import paint_section
from swatch.screens.style import BODY, UNIT, look
from swatch.terms.colour import Lab
from swatch.wording.answers import lab_in_words, short_names
from swatch.wording.text import _, say

ROW_HEIGHT = 64
NUMBER_WIDTH = 28
STRIP, MEAN, DRAWS, SECTION = 40, 48, 96, 52
BENCH_WIDTH = UNIT + STRIP + MEAN + DRAWS + UNIT + SECTION + UNIT
TEXT_LEFT = NUMBER_WIDTH + BENCH_WIDTH + 12
SMALLEST_WIDTH = TEXT_LEFT + 180 + 196


class OnBench(Protocol):
    """What is painted of a row of answers, and of a row of tiles to fire."""

    @property
    def rank(self) -> int: ...  # noqa: D102
    @property
    def name(self) -> str: ...  # noqa: D102
    @property
    def evidence(self) -> str: ...  # noqa: D102
    @property
    def caution(self) -> str: ...  # noqa: D102
    @property
    def lab(self) -> Lab: ...  # noqa: D102
    @property
    def draws(self) -> tuple[Lab, ...]: ...  # noqa: D102
    @property
    def section(self) -> Section: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Columns:
    """Where things stand across a row; only the words' column grows. Swapped, strip and draws change sides."""

    width: int
    swapped: bool

    def _x(self, offset: int, width: int) -> tuple[int, int]:
        left = NUMBER_WIDTH + UNIT
        return (left + STRIP + MEAN + DRAWS - offset - width if self.swapped else left + offset), width

    @property
    def bench(self) -> tuple[int, int]:
        """Left and width of the bench."""
        return NUMBER_WIDTH, BENCH_WIDTH

    @property
    def strip(self) -> tuple[int, int]:
        """The target's strip."""
        return self._x(0, STRIP)

    @property
    def mean(self) -> tuple[int, int]:
        """The prediction's mean: touches strip and draws."""
        return self._x(STRIP, MEAN)

    @property
    def draws(self) -> tuple[int, int]:
        """The draws from the kiln."""
        return self._x(STRIP + MEAN, DRAWS)

    @property
    def section(self) -> tuple[int, int]:
        """The section through the layers."""
        return NUMBER_WIDTH + UNIT + STRIP + MEAN + DRAWS + UNIT, SECTION

    @property
    def de(self) -> tuple[int, int]:
        """The scale of ΔE00."""
        return self.width - 180, DE_WIDTH

    @property
    def chance(self) -> tuple[int, int]:
        """Chance and pieces."""
        return self.width - 12 - CHANCE_WIDTH, CHANCE_WIDTH

    @property
    def words(self) -> tuple[int, int]:
        """Name, evidence, caution."""
        return TEXT_LEFT, self.de[0] - 12 - TEXT_LEFT


def columns(width: int) -> Columns:
    """The columns for a list as wide as this, as things lie now."""
    return Columns(width, look.swapped)


def across(span: tuple[int, int], top: int, height: int) -> QRect:
    """A column's part of a row."""
    return QRect(span[0], top, span[1], height)


class AnswerDelegate(QStyledItemDelegate):
    """Paints the rows of `AnswerRows`; the view under it has painted the bench."""

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:  # noqa: N802
        """64 high, as wide as the view."""
        return QSize(SMALLEST_WIDTH, ROW_HEIGHT)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """One row."""
        row, place = index.data(ROW_ROLE), _rect(option)
        state: Any = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        at = columns(place.width())
        painter.save()
        painter.setClipRect(place)
        if chosen:
            paint_chosen(painter, place)
        _paint_number(painter, place, row.rank, chosen=chosen)
        paint_bench(painter, place, at, row, _target(index))
        paint_words(painter, across(at.words, place.top(), ROW_HEIGHT), row)
        de = across(at.de, place.top(), ROW_HEIGHT)
        paint_de_line(painter, de, row.expected, row.low, row.high, row.tolerance)
        paint_chance(painter, across(at.chance, place.top(), ROW_HEIGHT), row.chance, row.pieces)
        left = NUMBER_WIDTH + BENCH_WIDTH
        if not chosen:
            painter.fillRect(QRect(left, place.bottom(), place.width() - left, 1), look.colour("line"))
        if state & QStyle.StateFlag.State_HasFocus:
            focus_frame(painter, QRect(left + 2, place.top() + 2, place.width() - left - 4, ROW_HEIGHT - 4))
        painter.restore()

    def helpEvent(  # noqa: N802
        self,
        event: QHelpEvent,
        view: QAbstractItemView,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> bool:
        """Say what a resting pointer is on: a colour in numbers, or words that did not fit."""
        row = index.data(ROW_ROLE) if index.isValid() else None
        if event.type() != QEvent.Type.ToolTip or not isinstance(row, AnswerRow):
            return super().helpEvent(event, view, option, index)
        text = help_text(row, _target(index), columns(_rect(option).width()), event.pos().x())
        QToolTip.showText(event.globalPos(), text, view)
        return True


def help_text(row: AnswerRow, target: Lab | None, at: Columns, x: int) -> str:
    """What is said of the part of a row at `x`."""

    def within(span: tuple[int, int]) -> bool:
        return span[0] <= x < span[0] + span[1]

    if within(at.strip) and target is not None:
        return _colour_text(say(_("Target")), target)
    if within(at.mean) or within(at.draws):
        return f"{_colour_text(say(_('Mean')), row.lab)}\n{row.difference}"
    if within(at.words):
        room = at.words[1]
        small = [row.evidence, row.caution]
        cut = text_width(row.name, BODY, strong=True) > room or any(
            text_width(t) > room - SIDE - UNIT for t in small
        )
        return "\n".join(filter(None, (row.name, row.evidence, row.caution))) if cut else ""
    return ""


def _colour_text(name: str, lab: Lab) -> str:
    more = "" if screen_colours().shown(lab).in_gamut else f"\n{cannot_show()}"
    return f"{name}: {lab_in_words(lab)}{more}"


def _rect(option: QStyleOptionViewItem) -> QRect:
    place: QRect = option.rect
    return place


def _target(index: QModelIndex | QPersistentModelIndex) -> Lab | None:
    model = index.model()
    return model.target if isinstance(model, AnswerRows) else None


def paint_chosen(painter: QPainter, place: QRect) -> None:
    """The row turns to the raised grey, up to the bench; nothing is drawn on the bench itself."""
    raised = look.colour("raised")
    painter.fillRect(QRect(place.left(), place.top(), NUMBER_WIDTH, place.height()), raised)
    left = NUMBER_WIDTH + BENCH_WIDTH
    painter.fillRect(QRect(left, place.top(), place.width() - left, place.height()), raised)


def _paint_number(painter: QPainter, place: QRect, rank: int, *, chosen: bool) -> None:
    box = QRect(place.left() + 2, place.center().y() - 11, NUMBER_WIDTH - 4, 24)
    centre = Qt.AlignmentFlag.AlignHCenter
    if not chosen:
        write(painter, box, str(rank), look.colour("ink"), size=BODY, align=centre)
        return
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("ink"))
    painter.drawRoundedRect(box, 4, 4)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    write(painter, box, str(rank), look.colour("panel"), size=BODY, strong=True, align=centre)


def paint_bench(painter: QPainter, place: QRect, at: Columns, row: OnBench, target: Lab | None) -> None:
    """Target, mean, draws and section, on the bench."""
    top, inner = place.top(), place.top() + 4
    painter.fillRect(across(at.bench, top, ROW_HEIGHT), look.bench)
    if target is not None:
        # The strip goes on through every row; only the first row's notch says what the screen cannot show.
        fill(painter, across(at.strip, top, ROW_HEIGHT), target, notch=12 if row.rank == 1 else 0)
    fill(painter, across(at.mean, inner, 56), row.lab)
    if row.draws:
        paint_draws(painter, across(at.draws, inner, 56), row.draws)
    else:
        fill(painter, across(at.draws, inner, 56), row.lab, notch=0)
    paint_section(painter, across(at.section, top + 8, 48), row.section)


def paint_words(painter: QPainter, place: QRect, row: OnBench) -> None:
    """Name, what it rests on, what to mind."""
    line = QRect(place.left(), place.top() + 6, place.width(), 20)
    fits = text_width(row.name, BODY, strong=True) <= place.width()
    name = row.name if fits else short_names(row.name)
    write(painter, line, name, look.colour("ink"), size=BODY, strong=True)
    write(painter, line.translated(0, 20), row.evidence, look.colour("quiet"))
    paint_caution(painter, line.translated(0, 36), row.caution)
