"""What is dropped or pasted, and where it goes: photos of tiles, photos of a load, tables."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData

from swatch.wording.text import say, say_many

if TYPE_CHECKING:
    from swatch.screens.main_window import MainWindow

TABLE_ENDINGS = (".csv",)
OF_LOADS = ("editions", "load")
"""Places in which a photo is one of a load; everywhere else it is one of tiles."""


def files_in(mime: QMimeData) -> list[Path]:
    """Files of this computer in what is dropped or pasted."""
    return [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()]


def take(window: MainWindow, files: list[Path], place: str) -> None:
    """Open photos in the workspace that `place` calls for, and bring tables in."""
    tables = [file for file in files if file.suffix.casefold() in TABLE_ENDINGS]
    photos = [file for file in files if file.suffix.casefold() not in TABLE_ENDINGS]
    desks = window.desks
    if photos and place in OF_LOADS:
        desks.load_photos.add(photos, desks.editions.chosen_name if place == "editions" else None)
        window.show_place("load")
    elif photos:
        desks.measuring.add(photos)
        window.show_place("measure")
    if tables:
        desks.bringing.bring(tables)


def join_loads(window: MainWindow) -> None:
    """Once a load's photos are kept, show what has become of its edition."""
    window.desks.load_photos.kept.connect(lambda edition, n: _kept(window, edition, n))
    window.desks.edition_plan.reported.connect(
        lambda file: window.tell(say("The report was written to {file}.").format(file=file))
    )


def hand_over(window: MainWindow) -> None:
    """Take the photo in view for one of a load: it is put away as one of tiles."""
    desks = window.desks
    work = desks.measuring.photo
    if work is not None:
        desks.measuring.put_away()
        desks.load_photos.add([work.path])
        window.show_place("load")


def _kept(window: MainWindow, edition: str, n: int) -> None:
    if edition:
        window.desks.editions.choose(edition)
    window.show_place("editions")
    done = say_many("{n} reading kept.", "{n} readings kept.", n).format(n=n)
    window.tell(done, say("Undo takes them back. The loads are being checked."))
