"""A photo on the bench that can be zoomed and moved; what lies over it is its subclass's."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QImage, QNativeGestureEvent, QPainter, QPixmap, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from swatch.desk.photo_shapes import View, fitted
from swatch.screens.style import look
from swatch.terms.measured import Point


class PhotoView(QWidget):
    """The photo alone: the whole of it, until it is zoomed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(320, 240)
        self.photo = (0, 0)
        self.view = View()
        self.fits = True
        self.picture = QPixmap()
        self._scaled, self._scaled_for = QPixmap(), (0.0, 0.0)
        look.changed.connect(self.update)

    def show_picture(self, image: QImage, photo: tuple[int, int] | None = None) -> None:
        """Show another photo, the whole of it."""
        self.photo = photo or (image.width(), image.height())
        self.picture, self._scaled = QPixmap.fromImage(image), QPixmap()
        self.fit()

    def fit(self) -> None:
        """Show the whole photo."""
        self.fits = True
        self.set_view(fitted(self.photo, (self.width(), self.height())))

    def zoom(self, by: float, at: Point | None = None) -> None:
        """Zoom around a screen point, the middle where none is given; never smaller than the whole photo."""
        whole = fitted(self.photo, (self.width(), self.height()))
        view = self.view.zoomed(by, at or (self.width() / 2, self.height() / 2), whole.scale)
        self.fits = view.scale <= whole.scale * 1.001
        self.set_view(whole if self.fits else view)

    def pan(self, dx: float, dy: float) -> None:
        """Move the photo, as far as its edges allow."""
        self.set_view(self.view.panned(dx, dy))

    def set_view(self, view: View) -> None:
        """Let the photo lie otherwise."""
        self.view = view.kept_in(self.photo, (self.width(), self.height()))
        self.view_changed()
        self.update()

    def view_changed(self) -> None:
        """For what lies over the photo and must follow it."""

    def on_photo(self, at: QPointF) -> Point:
        """The photo point under a screen point, held inside the photo."""
        x, y = self.view.to_photo((at.x(), at.y()))
        return min(max(x, 0.0), float(self.photo[0])), min(max(y, 0.0), float(self.photo[1]))

    def paint_photo(self, painter: QPainter) -> None:
        """Draw the bench and the photo on it."""
        painter.fillRect(self.rect(), look.bench)
        if self.picture.isNull():
            return
        ratio = self.devicePixelRatioF()
        wide, high = self.photo[0] * self.view.scale, self.photo[1] * self.view.scale
        target = QRectF(self.view.left, self.view.top, wide, high)
        if wide * ratio > self.picture.width() or wide > 2 * self.width():
            # Larger than the picture, or mostly out of sight: only what is seen is drawn.
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, self.view.scale < 2)
            seen = target.intersected(QRectF(self.rect()))
            by = self.picture.width() / max(1.0, wide)
            source = QRectF((seen.left() - target.left()) * by, (seen.top() - target.top()) * by, 0, 0)
            source.setSize(seen.size() * by)
            painter.drawPixmap(seen, self.picture, source)
            return
        if self._scaled.isNull() or self._scaled_for != (self.view.scale, ratio):
            size = QSize(max(1, round(wide * ratio)), max(1, round(high * ratio)))
            smooth = Qt.TransformationMode.SmoothTransformation
            self._scaled = self.picture.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, smooth)
            self._scaled.setDevicePixelRatio(ratio)
            self._scaled_for = (self.view.scale, ratio)
        painter.drawPixmap(target.topLeft(), self._scaled)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Keep the whole photo in sight, unless it was zoomed."""
        super().resizeEvent(event)
        if self.fits:
            self.fit()
        else:
            self.set_view(self.view)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """A wheel zooms around the pointer; two fingers on a pad move the photo."""
        fingers = event.pixelDelta()
        if not fingers.isNull() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.pan(fingers.x(), fingers.y())
        else:
            self.zoom(1.0015 ** event.angleDelta().y(), (event.position().x(), event.position().y()))
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Two fingers drawn apart zoom."""
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1.0 + event.value(), (event.position().x(), event.position().y()))
            return True
        return super().event(event)
