"""What a photo of a load shows: whose pieces, from which firing, what lies beside the card, which shelves."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtCore import QObject

from swatch.desk.opening import OpenStudio
from swatch.desk.photo_shapes import Points
from swatch.terms.forms import Form
from swatch.terms.layering import fold_name
from swatch.terms.measured import PhotoRead
from swatch.terms.problems import StudioProblem
from swatch.work.load_entries import LoadEntry, LoadRecords

BUTTONS = ""
"""The subject where the photo shows witness buttons and not an edition's pieces."""


@dataclass(frozen=True)
class LoadPhoto:
    """One photo with what was read in it and what is written down of its pieces."""

    path: Path
    preview: Path | None = None
    read: PhotoRead | None = None
    problem: StudioProblem | None = None
    entries: tuple[LoadEntry, ...] = ()
    zones: dict[str, Points] = field(default_factory=dict)
    """Regions as they were nudged, by ``piece region``; empty: as proposed."""


class LoadSubject(QObject):
    """What is most likely meant, until it is said otherwise."""

    def __init__(self, studio: OpenStudio) -> None:
        super().__init__(studio)
        self._studio = studio
        self.subject, self.firing, self.approved, self.shelves = "", "", "", ""
        self._form: Form | None = None
        self._records: LoadRecords | None = None

    def subjects(self) -> tuple[str, ...]:
        """Editions, and last the witness buttons where any are known."""
        studio = self._studio.studio
        if studio is None:
            return ()
        names = tuple(dict.fromkeys(one.edition for one in studio.editions()))
        return (*names, BUTTONS) if studio.buttons() else names

    def firings(self) -> tuple[str, ...]:
        """Firings, the latest first."""
        found = sorted(self._studio.evidence.firings, key=lambda one: (one.date or "", one.name), reverse=True)
        return tuple(one.name for one in found)

    def records(self) -> LoadRecords:
        """What is known of the subject."""
        if self._records is None or (self._records.edition or BUTTONS) != self.subject:
            studio = self._studio.studio
            known = (studio.pieces(), studio.buttons()) if studio is not None else ((), ())
            self._records = LoadRecords(self.subject or None, *known)
        return self._records

    def settle(self) -> None:
        """Take for the subject what is most likely meant, as long as nothing says otherwise."""
        self._usual()

    def _usual(self) -> None:
        """The edition, firing, approved piece and shelves that are most likely meant."""
        subjects, firings = self.subjects(), self.firings()
        if self.subject not in subjects:
            self.subject = subjects[0] if subjects else BUTTONS
        if self.firing not in firings:
            self.firing = firings[0] if firings else ""
        records = self.records()
        approved = records.approved()
        self.approved = self.approved if self.approved in approved else approved[0] if approved else ""
        if not self.shelves:
            known = [one.shelf for one in records.pieces] + [one.shelf for one in records.buttons]
            self.shelves = ", ".join(dict.fromkeys(shelf for shelf in known if shelf))
        studio = self._studio.studio
        forms = studio.forms() if studio is not None else ()
        self._form = next((one for one in forms if fold_name(one.name) == fold_name(records.form)), None)

    def _shelf_names(self) -> tuple[str, ...]:
        return tuple(part for part in (" ".join(one.split()) for one in self.shelves.split(",")) if part)
