"""The colour that would come out, large: target, mean and draws touching; below it the nearest own tile."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from swatch.desk.kiln_draws import draws_of
from swatch.desk.what_if import WhatIf
from swatch.screens.components.kiln_draws import paint_draws
from swatch.screens.components.painting import Painted, fill, unknown, write
from swatch.screens.style import look
from swatch.terms.colour import Lab
from swatch.wording.answers import difference_in_words, lab_in_words
from swatch.wording.text import _, say

WIDTH, HEIGHT = 440, 300
HEAD, LOW = 28, 72


class WhatIfBench(Painted):
    """Three strips edge to edge, the middle one resting on the own tile that comes nearest."""

    def __init__(self) -> None:
        super().__init__()
        self._target: Lab | None = None
        self._mean: Lab | None = None
        self._draws: tuple[Lab, ...] = ()
        self._tile: Lab | None = None
        self._tile_name = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Expanding)

    def follow(self, desk: WhatIf) -> None:
        """Show the colour that is known now."""
        said, nearest = desk.said, desk.answer.nearest if desk.answer is not None else None
        self._target, self._mean = desk.held.target, said.lab if said is not None else None
        self._draws = draws_of(said) if said is not None else ()
        self._tile = nearest.lab if nearest is not None else None
        self._tile_name = f"{nearest.tile} {nearest.zone}".strip() if nearest is not None else ""
        self.say_as(say(_("What would come out")), self._said())
        self.setToolTip("")
        self.update()

    def _said(self) -> str:
        if self._mean is None:
            return say(_("Not known."))
        parts = [say(_("Mean: {lab}.")).format(lab=lab_in_words(self._mean))]
        if self._target is not None:
            parts.append(say(_("Against the target: {difference}")).format(
                difference=difference_in_words(self._mean, self._target)))  # fmt: skip
        if self._tile is not None:
            text = say(_("Nearest own tile {tile}, {lab}."))
            parts.append(text.format(tile=self._tile_name, lab=lab_in_words(self._tile)))
        return " ".join(parts)

    def wanted_size(self) -> QSize:
        """Large, since colour is judged here; it grows with the window."""
        return QSize(WIDTH, HEIGHT)

    def spans(self) -> tuple[QRect, QRect, QRect]:
        """Where target, mean and draws lie; without a target the mean takes its room. Swapped, sides change."""
        area = self.rect().adjusted(16, HEAD, -16, -LOW - 16)
        third = area.width() // 3
        target = QRect(area.left(), area.top(), third if self._target is not None else 0, area.height())
        mean = QRect(
            target.left() + target.width(), area.top(), area.width() - third - target.width(), area.height()
        )
        draws = QRect(mean.left() + mean.width(), area.top(), third, area.height())
        if not look.swapped:
            return target, mean, draws
        flip = area.left() + area.right() + 1
        target, mean, draws = (
            QRect(flip - one.left() - one.width(), one.top(), one.width(), one.height())
            for one in (target, mean, draws)
        )
        return target, mean, draws

    def paint(self, painter: QPainter) -> None:
        """All strips and their names."""
        target, mean, draws = self.spans()
        ink, middle = look.bench_ink, Qt.AlignmentFlag.AlignHCenter
        if self._mean is None:
            unknown(painter, self.rect().adjusted(16, HEAD, -16, -16), say(_("not known")))
            return
        if self._target is not None:
            fill(painter, target, self._target)
        fill(painter, mean, self._mean)
        paint_draws(painter, draws, self._draws, 3)
        names = [(mean, _("mean")), (draws, _("12 from the kiln"))]
        for span, name in ([(target, _("target"))] if self._target is not None else []) + names:
            write(painter, QRect(span.left(), 6, span.width(), 20), say(name), ink, align=middle)
        if self._tile is not None:
            below = QRect(mean.left(), mean.top() + mean.height(), mean.width(), LOW - 22)
            fill(painter, below, self._tile)
            name = say(_("nearest own tile: {tile}")).format(tile=self._tile_name)
            write(painter, QRect(below.left() - 60, self.height() - 36, below.width() + 120, 20), name, ink,
                  align=middle)  # fmt: skip

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """X swaps, S changes the surround."""
        if event.key() == Qt.Key.Key_X:
            look.swap()
        elif event.key() == Qt.Key.Key_S:
            look.next_surround()
        else:
            super().keyPressEvent(event)
