"""Editions: what is made again and again, in which layers, and the pieces that define the look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QObject, Signal

from swatch.desk.fired import FiredColours
from swatch.desk.opening import OpenStudio
from swatch.terms.editions import EditionRegion, PieceReading, RegionKind, Role
from swatch.terms.layering import fold_name
from swatch.terms.materials import Status

FIELDS = frozenset({"planned", "yield_share", "body", "cone", "region_kind", "area_dm2", "layers"})


@dataclass(frozen=True, slots=True)
class EditionView:
    """One edition with its regions and measured pieces."""

    name: str
    regions: tuple[EditionRegion, ...]
    pieces: tuple[PieceReading, ...]
    short_of: tuple[str, ...]

    @property
    def approved(self) -> int:
        """How many pieces define the look."""
        return len({piece.piece for piece in self.pieces if piece.role is Role.APPROVED})

    @property
    def planned(self) -> int | None:
        """Pieces planned."""
        return next((region.planned for region in self.regions if region.planned is not None), None)


_ORDER = (RegionKind.OUTSIDE, RegionKind.LIP, RegionKind.INSIDE, RegionKind.FOOT, None)


def _from_outside(region: EditionRegion) -> int:
    """Regions from the outside in, as a piece is seen; those of one kind in the records' order."""
    return _ORDER.index(region.region_kind)


class Editions(QObject):
    """The editions of the studio, one of them chosen, and one of its regions."""

    shown = Signal()
    chosen_changed = Signal()

    def __init__(self, studio: OpenStudio) -> None:
        super().__init__(studio)
        self._studio = studio
        self._all: tuple[EditionView, ...] = ()
        self.fired = FiredColours()
        self.chosen_name = ""
        self.region_name = ""
        studio.opened.connect(self._other_studio)
        studio.when_changed(self._records_changed)

    @property
    def all(self) -> Sequence[EditionView]:
        """Every edition by name."""
        return self._all

    @property
    def chosen(self) -> EditionView | None:
        """The edition looked at closely."""
        return next((view for view in self._all if view.name == self.chosen_name), None)

    @property
    def region(self) -> EditionRegion | None:
        """The region looked at closely."""
        view = self.chosen
        if view is None:
            return None
        found = next((region for region in view.regions if region.region == self.region_name), None)
        return found or (view.regions[0] if view.regions else None)

    def choose(self, name: str) -> None:
        """Look at one edition closely."""
        if name != self.chosen_name:
            self.chosen_name, self.region_name = name, ""
            self.chosen_changed.emit()

    def choose_region(self, name: str) -> None:
        """Look at one region closely."""
        self.region_name = name
        self.chosen_changed.emit()

    def add(self, edition: str, region: str) -> None:
        """Add an edition with its first region, or another region to one."""
        edition, region = " ".join(edition.split()), " ".join(region.split())
        if edition and region:
            value = EditionRegion(edition, region, region_kind=RegionKind.OUTSIDE)
            if (
                self._studio.do(lambda studio: studio.put_editions([value], frozenset({"region_kind"})))
                is not None
            ):
                self.chosen_name, self.region_name = edition, region
                self.chosen_changed.emit()

    def write(self, **changes: Any) -> None:
        """Write something down of the chosen region."""
        region = self.region
        if region is not None and any(getattr(region, name) != value for name, value in changes.items()):
            value = replace(region, **changes)
            self._studio.do(lambda studio: studio.put_editions([value], frozenset(changes)))

    def bodies(self) -> tuple[str, ...]:
        """Bodies the studio knows."""
        evidence = self._studio.evidence
        return tuple(sorted({b.body for b in evidence.bodies} | {r.body for r in evidence.readings if r.body}))

    def _other_studio(self) -> None:
        self.chosen_name = self.region_name = ""

    def _records_changed(self) -> None:
        studio = self._studio.studio
        evidence = self._studio.evidence
        self.fired = self._studio.fired
        gone = {fold_name(m.name): m.name for m in evidence.materials if m.status is not Status.IN_STOCK}
        regions = studio.editions() if studio is not None else ()
        pieces = studio.pieces() if studio is not None else ()
        names = dict.fromkeys(region.edition for region in regions)
        self._all = tuple(
            EditionView(
                name,
                mine := tuple(sorted((one for one in regions if one.edition == name), key=_from_outside)),
                tuple(piece for piece in pieces if piece.edition == name),
                tuple(
                    dict.fromkeys(
                        gone[fold_name(layer.material)]
                        for region in mine
                        for layer in region.layers
                        if fold_name(layer.material) in gone
                    )
                ),
            )
            for name in names
        )
        if self.chosen is None:
            self.chosen_name = self._all[0].name if self._all else ""
        self.shown.emit()
        self.chosen_changed.emit()
