"""A row that goes on in the next line where it is full, so that no button is narrower than its words."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class Flow(QLayout):
    """Lays widgets side by side at the width they ask for; those hidden take no room."""

    def __init__(self, parent: QWidget | None = None, *, spacing: int = 8) -> None:
        super().__init__(parent)
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(spacing)
        self._held: list[QLayoutItem] = []

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802
        """Take one more in at the end."""
        self._held.append(item)
        self.invalidate()

    def count(self) -> int:
        """How many there are."""
        return len(self._held)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """One of them."""
        return self._held[index] if 0 <= index < len(self._held) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Let one go."""
        return self._held.pop(index) if 0 <= index < len(self._held) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802
        """It asks for no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802
        """How high all lines are at this width."""
        left, top, right, bottom = self._margins()
        places = self._places(max(0, width - left - right))
        return top + bottom + max((place.bottom() + 1 for _item, place in places), default=0)

    def sizeHint(self) -> QSize:  # noqa: N802
        """All in one line."""
        left, top, right, bottom = self._margins()
        sizes = [item.sizeHint() for item in self._seen()]
        wide = sum(size.width() for size in sizes) + self.spacing() * max(0, len(sizes) - 1)
        return QSize(wide + left + right, max((size.height() for size in sizes), default=0) + top + bottom)

    def minimumSize(self) -> QSize:  # noqa: N802
        """The widest alone in its line."""
        left, top, right, bottom = self._margins()
        sizes = [item.sizeHint() for item in self._seen()]
        wide = max((size.width() for size in sizes), default=0)
        high = max((size.height() for size in sizes), default=0)
        return QSize(wide + left + right, high + top + bottom)

    def setGeometry(self, rect: QRect) -> None:  # noqa: N802
        """Put everything in its place."""
        super().setGeometry(rect)
        left, top, right, _bottom = self._margins()
        for item, place in self._places(rect.width() - left - right):
            item.setGeometry(place.translated(rect.topLeft() + QPoint(left, top)))

    def _margins(self) -> tuple[int, int, int, int]:
        margins = self.contentsMargins()
        return margins.left(), margins.top(), margins.right(), margins.bottom()

    def _seen(self) -> list[QLayoutItem]:
        return [item for item in self._held if not item.isEmpty()]

    def _places(self, width: int) -> list[tuple[QLayoutItem, QRect]]:
        out: list[tuple[QLayoutItem, QRect]] = []
        x = y = high = 0
        for item in self._seen():
            size = item.sizeHint()
            if x and x + size.width() > width:
                x, y, high = 0, y + high + self.spacing(), 0
            out.append((item, QRect(QPoint(x, y), size)))
            x, high = x + size.width() + self.spacing(), max(high, size.height())
        return out
