"""The back of a tile as photographed, with the number that is pencilled on it; a press turns it upright."""

from __future__ import annotations

from html import escape
from pathlib import Path

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent, QPainter, QTransform
from PySide6.QtWidgets import QWidget

from swatch.screens.components.painting import Painted
from swatch.wording.text import _, say

ROOM = QSize(152, 152)


class BackPicture(Painted):
    """A picture that fits into some room; hidden where there is none."""

    turned = Signal()

    def __init__(self, room: QSize = ROOM, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._room, self._file, self._quarters = room, "", 0
        self._image = QImage()
        self.hide()

    def show_back(self, tile: str, file: str, photo: str = "") -> None:
        """Show a tile's back from a file that was made of it; no file: nothing. `photo` is where it comes from."""
        if file != self._file:
            self._file = file
            self._image = QImage(file) if file else QImage()
            self._fit()
        name = say(_("Back of {tile}")).format(tile=tile)
        self.setAccessibleName(name)
        source = say(_("From {photo}.")).format(photo=photo) + " " if photo else ""
        self.setAccessibleDescription(source + say(_("Press to turn the picture.")))
        self.setToolTip(
            f'<p>{escape(name)}. {escape(source)}</p><img src="{escape(Path(file).as_posix())}">' if file else ""
        )
        self.setVisible(not self._image.isNull())

    def turn(self) -> None:
        """Turn the picture by a quarter; the next ones too, since all were laid down alike."""
        self._quarters = (self._quarters + 1) % 4
        self._fit()
        self.turned.emit()

    def wanted_size(self) -> QSize:
        """The picture's own shape within its room."""
        size = self._image.size()
        if self._quarters % 2:
            size.transpose()
        return self._room if size.isEmpty() else size.scaled(self._room, Qt.AspectRatioMode.KeepAspectRatio)

    def paint(self, painter: QPainter) -> None:
        """The picture, as fine as the screen is."""
        if self._image.isNull():
            return
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, True)
        upright = self._image.transformed(QTransform().rotate(90.0 * self._quarters))
        fine = self.size() * self.devicePixelRatioF()
        upright = upright.scaled(
            fine, Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation
        )
        painter.drawImage(QRect(0, 0, self.width(), self.height()), upright)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """A press turns it."""
        if event.button() is Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self.turn()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Space and Enter do as a press does."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.turn()
        else:
            super().keyPressEvent(event)

    def _fit(self) -> None:
        self.updateGeometry()
        self.resize(self.wanted_size())
        self.update()
