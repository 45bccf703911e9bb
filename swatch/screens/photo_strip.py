"""The photos in hand below the one in view: how far each is, and whether it shows fronts or backs."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QImageReader, QPixmap
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from swatch.desk.measuring import Measuring
from swatch.screens.photo_facts import state_in_words
from swatch.screens.style import CAPTION, UNIT, look
from swatch.screens.widgets import Choice, column, labelled
from swatch.wording.text import say

THUMB = QSize(66, 44)


class PhotoStrip(QListWidget):
    """The photos in hand, each with how far it is."""

    def __init__(self, measuring: Measuring) -> None:
        super().__init__()
        self._measuring = measuring
        self.setFlow(QListWidget.Flow.LeftToRight)
        self.setWrapping(False)
        self.setIconSize(THUMB)
        self.setFixedHeight(64)
        self.setHorizontalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setAccessibleName(say("Photos in hand"))
        self.setFont(look.font(CAPTION))
        self.currentRowChanged.connect(self._chosen)
        measuring.photos_changed.connect(self.follow)

    def _chosen(self, number: int) -> None:
        if number >= 0 and number != self._measuring.shown:
            self._measuring.show_photo(number)

    def follow(self) -> None:
        """Show all photos and how far they are."""
        photos = self._measuring.photos
        self.setVisible(len(photos) > 1)
        self.blockSignals(True)
        while self.count() > len(photos):
            self.takeItem(self.count() - 1)
        while self.count() < len(photos):
            item = QListWidgetItem()
            item.setSizeHint(QSize(168, 52))
            self.addItem(item)
        for n, work in enumerate(photos):
            item = self.item(n)
            text = f"{n + 1}  {state_in_words(work)}"
            if item.text() != text:
                item.setText(text)
                item.setToolTip(work.path.name)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{work.path.name}, {state_in_words(work)}")
            if work.preview is not None and item.icon().isNull():
                item.setIcon(_thumbnail(str(work.preview)))
        self.setCurrentRow(self._measuring.shown)
        self.blockSignals(False)


def _thumbnail(file: str) -> QIcon:
    reader = QImageReader(file)
    size = reader.size()
    if size.isValid():
        reader.setScaledSize(size.scaled(THUMB * 2, Qt.AspectRatioMode.KeepAspectRatio))
    picture = QPixmap.fromImage(reader.read())
    icon = QIcon(picture)
    icon.addPixmap(picture, QIcon.Mode.Selected)  # else a chosen photo would be tinted
    return icon


class FrontsOrBacks(QWidget):
    """What the photo in view shows: tiles from the front, or those of another photo from behind."""

    def __init__(self, measuring: Measuring) -> None:
        super().__init__()
        self._measuring = measuring
        self.choice = Choice(say("This photo shows"))
        self.choice.setFixedWidth(176)
        self.choice.chosen.connect(measuring.these_are_backs_of)
        whole = column(spacing=UNIT)
        whole.setContentsMargins(UNIT, UNIT, 2 * UNIT, UNIT)
        whole.addLayout(labelled(say("This photo shows"), self.choice))
        whole.addStretch(1)
        self.setLayout(whole)
        measuring.photos_changed.connect(self.follow)
        measuring.photo_changed.connect(self.follow)
        self.follow()

    def follow(self) -> None:
        """Offer every other photo of fronts."""
        photos, work = self._measuring.photos, self._measuring.photo
        self.setVisible(len(photos) > 1)
        fronts = [(n, one) for n, one in enumerate(photos, 1) if one is not work and one.fronts is None]
        backs = [(say("backs of photo {n}").format(n=n), one.path) for n, one in fronts]
        self.choice.offer([(say("fronts"), None), *backs], work.fronts if work is not None else None)
