"""Photos in hand with their zones, and everything about them that can be changed and taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from swatch.desk.opening import OpenStudio
from swatch.desk.photo_shapes import Points
from swatch.desk.photo_work import (
    PhotoWork,
    ZoneEntry,
    crossed_zones,
    known_zone,
    next_tile,
    next_zone,
    piece,
    step_zones,
    with_tap,
    with_wipe,
    without_tap,
)
from swatch.desk.planned import planned_zone
from swatch.desk.undoing import Step
from swatch.terms.boards import Board
from swatch.terms.evidence import Stage
from swatch.terms.layering import Layers
from swatch.terms.materials import Firing, Status
from swatch.terms.measured import Point
from swatch.wording.text import _, say


class PhotosInHand(QObject):
    """Photos in hand, one of them in view, one of its zones chosen."""

    photos_changed = Signal()
    """The strip: photos came, went, or are further."""
    photo_changed = Signal()
    """The photo in view: outlines, readings or entries are others now."""
    chosen_changed = Signal()

    def __init__(self, studio: OpenStudio) -> None:
        super().__init__(studio)
        self._studio = studio
        self.steps = QUndoStack(self)
        self.photos: list[PhotoWork] = []
        self.shown = 0
        self.chosen = ""
        self._last = ZoneEntry("", (), "", "")
        self._drawn = 0
        self._boards: tuple[Board, ...] = ()
        studio.changed.connect(self._read_boards)

    @property
    def photo(self) -> PhotoWork | None:
        """The photo in view."""
        return self.photos[self.shown] if self.shown < len(self.photos) else None

    def _at(self, path: Path) -> int | None:
        return next((n for n, work in enumerate(self.photos) if work.path == path), None)

    def _put(self, path: Path, **changes: Any) -> None:
        at = self._at(path)
        if at is None:
            return
        self.photos[at] = replace(self.photos[at], **changes)
        self.photos_changed.emit()
        if at == self.shown:
            self.photo_changed.emit()

    def _read_soon(self, path: Path) -> None:
        """The outlines of a photo have changed."""
        raise NotImplementedError

    def _entry(self, key: str, polygon: Points, tile: str, zone: str) -> ZoneEntry:
        """A zone with what the studio, or else the last zone, knows of it."""
        last = self._usual()
        entry = ZoneEntry(
            key, polygon, tile, zone, last.body, last.firing, last.cone, None, last.stage, last.method
        )
        known = known_zone(self._studio.evidence, tile, zone)
        if known is None:
            return self._as_planned(entry)
        return replace(
            entry,
            body=known.body or "",
            firing=known.firing or "",
            cone=known.cone,
            layers=known.layers,
            stage=known.stage,
            method=known.method or "",
        )

    def _as_planned(self, entry: ZoneEntry) -> ZoneEntry:
        """A zone with what was planned of it, where its tile is on a board."""
        planned = planned_zone(self.boards(), entry.tile, entry.zone)
        if planned is None:
            return entry
        board, zone = planned
        firing = next((one.name for one in self.firings() if one.name == board.name), entry.firing)
        cone = board.cone or entry.cone
        return replace(entry, body=board.body, firing=firing, cone=cone, layers=zone.layers, stage=Stage.FIRED)

    def boards(self) -> tuple[Board, ...]:
        """Boards of planned tiles, the latest first."""
        return self._boards

    def _read_boards(self) -> None:
        studio = self._studio.studio
        self._boards = studio.boards() if studio is not None else ()

    def _usual(self) -> ZoneEntry:
        """What was last written down; at the beginning the latest firing, and the body most used in it."""
        if self._last.body or self._last.firing:
            return self._last
        firings = self.firings()
        readings = [r for r in self._studio.evidence.readings if r.body]
        in_latest = [r for r in readings if firings and r.firing == firings[0].name] or readings
        bodies = [r.body for r in in_latest if r.body]
        body = max(set(bodies), key=bodies.count) if bodies else ""
        if not firings:
            return replace(self._last, body=body)
        return replace(self._last, body=body, firing=firings[0].name, cone=firings[0].cone_asked)

    # Changes that can be taken back

    def _change(self, name: str, change: Callable[[PhotoWork], PhotoWork], *, again: bool = False) -> None:
        work = self.photo
        if work is None:
            return
        before, after = work, change(work)
        if (after.zones, after.corners, after.neutral) == (before.zones, before.corners, before.neutral):
            return
        path = work.path

        def lay(work: PhotoWork) -> None:
            self._put(path, zones=work.zones, corners=work.corners, neutral=work.neutral)
            if again:
                self._read_soon(path)

        self.steps.push(Step(name, lambda: lay(after), lambda: lay(before)))

    def set_neutral(self, point: Point) -> None:
        """No card is in the photo: what lies at `point` is grey or white, and colours are told by it, roughly."""
        self._change(say(_("Neutral point")), lambda w: replace(w, neutral=point), again=True)

    def draw_zone(self, polygon: Points) -> None:
        """Add a zone that was outlined by hand: the next zone of the tile last drawn is offered as a new tile."""
        work = self.photo
        if work is None:
            return
        taken = {zone.tile for zone in work.zones} | {r.tile for r in self._studio.evidence.readings}
        self._drawn += 1
        entry = self._entry(f"drawn {self._drawn}", polygon, next_tile(taken), "A")
        name = say(_("Outline {zone}")).format(zone=entry.name)
        self._change(name, lambda w: replace(w, zones=(*w.zones, entry)), again=True)
        self.choose(entry.key)

    def move_zone(self, key: str, polygon: Points) -> None:
        """Put a zone's outline, or the card's corners, elsewhere."""
        if key == "card":
            one, two, three, four = polygon
            corners = (one, two, three, four)
            name = say(_("Move the card's corner"))
            self._change(name, lambda w: replace(w, corners=corners, neutral=None), again=True)
            return
        if key == "neutral":
            xs, ys = zip(*polygon, strict=True)
            self.set_neutral((sum(xs) / len(xs), sum(ys) / len(ys)))
            return
        work = self.photo
        entry = work.entry(key) if work is not None else None
        if entry is not None:
            moved = replace(entry, polygon=polygon)
            name = say(_("Move {zone}")).format(zone=entry.name)
            self._change(name, lambda w: w.with_zone(moved), again=True)

    def remove_zone(self, key: str) -> None:
        """Take a zone away."""
        work = self.photo
        entry = work.entry(key) if work is not None else None
        if entry is not None:
            name = say(_("Remove {zone}")).format(zone=entry.name)
            self._change(name, lambda w: replace(w, zones=tuple(z for z in w.zones if z.key != key)))

    def step_tile(self) -> None:
        """The chosen zone is a step tile: three zones with 3, 2 and 1 coats of its top layer."""
        self._part(say(_("Step tile {tile}")), step_zones)

    def crossed_tile(self) -> None:
        """The chosen zone is a crossed tile: nine zones, rows of the lower layer across columns of the upper.

        Four, where the sheet has parted it so.
        """
        n = 2 if self.entry is not None and self.parts_of(self.entry) == 4 else 3
        self._part(say(_("Crossed tile {tile}")), lambda entry: crossed_zones(entry, n))

    def _part(self, name: str, cut: Callable[[ZoneEntry], tuple[ZoneEntry, ...]]) -> None:
        entry = self.entry
        if entry is None:
            return
        parts = self._parts(entry)
        if parts:
            self._fill(name.format(tile=entry.tile), entry, parts, cut)
            return
        if len(entry.polygon) != 4:
            return
        zones = cut(entry)

        def change(work: PhotoWork) -> PhotoWork:
            at = [zone.key for zone in work.zones].index(entry.key)
            return replace(work, zones=(*work.zones[:at], *zones, *work.zones[at + 1 :]))

        self._change(name.format(tile=entry.tile), change, again=True)
        self.choose(zones[0].key)

    def _fill(
        self,
        name: str,
        entry: ZoneEntry,
        parts: tuple[ZoneEntry, ...],
        cut: Callable[[ZoneEntry], tuple[ZoneEntry, ...]],
    ) -> None:
        """A tile that is parted already, by the sheet's code: its zones take their layers where they lie."""
        there = {zone.zone: zone for zone in (entry, *parts)}
        square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
        told = [one for one in cut(replace(entry, polygon=square)) if one.zone in there]
        filled = [replace(there[one.zone], layers=one.layers) for one in told]
        if not filled:
            return

        def change(work: PhotoWork) -> PhotoWork:
            for one in filled:
                work = work.with_zone(one)
            return work

        self._last = filled[0]
        self._change(name, change)
        empty = [zone.key for zone in (self.photo.zones if self.photo else ()) if zone.layers is None]
        if empty:
            self.choose(empty[0])

    def write(self, name: str, **changes: Any) -> None:
        """Write something down of the chosen zone."""
        entry = self.entry
        if entry is not None:
            changed = replace(entry, **changes)
            if changed.layers is None and changes.keys() & {"tile", "zone"}:
                changed = self._as_planned(changed)
            self._last = changed
            # The parts of one tile are renamed together.
            parts = self._parts(entry) if "tile" in changes else ()
            renamed = [replace(one, tile=changed.tile) for one in parts]
            others = [self._as_planned(one) if one.layers is None else one for one in renamed]

            def change(work: PhotoWork) -> PhotoWork:
                for one in (*others, changed):
                    work = work.with_zone(one)
                return work

            self._change(f"{name}: {entry.name}", change)

    def _parts(self, entry: ZoneEntry) -> tuple[ZoneEntry, ...]:
        """The other zones of the photo that are of the same tile as outlined and as named."""
        zones = self.photo.zones if self.photo is not None else ()
        same = [z for z in zones if piece(z.key) == piece(entry.key) and z.tile == entry.tile]
        return tuple(z for z in same if z.key != entry.key)

    def parts_of(self, entry: ZoneEntry) -> int:
        """Into how many zones the tile of a zone is parted on the photo."""
        return 1 + len(self._parts(entry))

    def write_all(self, name: str, **changes: Any) -> None:
        """Write the same down of every zone of the photo: body, firing, cone."""
        self._last = replace(self._last, **changes)
        self._change(name, lambda w: replace(w, zones=tuple(replace(z, **changes) for z in w.zones)))

    def tap(self, material: str) -> None:
        """One more coat of a material on the chosen zone."""
        if self.entry is not None:
            self.write(material, layers=with_tap(self.entry.layers, material))

    def take_back(self) -> None:
        """One coat less on the chosen zone."""
        if self.entry is not None:
            self.write(say(_("One coat less")), layers=without_tap(self.entry.layers))

    def wipe(self) -> None:
        """The top layer of the chosen zone wiped back, or no longer."""
        if self.entry is not None:
            self.write(say(_("Wiped")), layers=with_wipe(self.entry.layers))

    def bare(self) -> None:
        """The chosen zone is bare body."""
        self.write(say(_("Bare body")), layers=())

    def set_layers(self, layers: Layers) -> None:
        """Layers as typed."""
        self.write(say(_("Layers")), layers=layers)

    def same_as_last(self) -> None:
        """The chosen zone is like the one before it."""
        work = self.photo
        if work is None or self.entry is None:
            return
        at = [zone.key for zone in work.zones].index(self.chosen)
        before = work.zones[at - 1] if at else self._last
        self.write(
            say(_("Same as the last")),
            layers=before.layers,
            body=before.body,
            firing=before.firing,
            cone=before.cone,
            stage=before.stage,
            method=before.method,
        )

    def same_tile(self) -> None:
        """The chosen zone belongs to the tile of the zone before it, as its next zone."""
        work = self.photo
        if work is None or self.entry is None:
            return
        at = [zone.key for zone in work.zones].index(self.chosen)
        if at:
            tile = work.zones[at - 1].tile
            zone = next_zone(z.zone for z in work.zones if z.tile == tile and z.key != self.chosen)
            self.write(say(_("Same tile")), tile=tile, zone=zone)

    # The chosen zone

    @property
    def entry(self) -> ZoneEntry | None:
        """The chosen zone."""
        return self.photo.entry(self.chosen) if self.photo is not None else None

    def choose(self, key: str) -> None:
        """Choose a zone of the photo in view."""
        if key != self.chosen:
            self.chosen = key
            self.chosen_changed.emit()

    def step(self, by: int) -> None:
        """Choose the next zone, or the one before."""
        work = self.photo
        if work is not None and work.zones:
            keys = [zone.key for zone in work.zones]
            at = keys.index(self.chosen) if self.chosen in keys else -1
            self.choose(keys[(at + by) % len(keys)])

    def jars(self) -> tuple[str, ...]:
        """Materials to tap: those in stock first."""
        materials = self._studio.evidence.materials
        in_stock = [m.name for m in materials if m.status is Status.IN_STOCK]
        return (*in_stock, *(m.name for m in materials if m.status is not Status.IN_STOCK))

    def bodies(self) -> tuple[str, ...]:
        """Bodies the studio knows."""
        return self._studio.bodies

    def firings(self) -> tuple[Firing, ...]:
        """Firings of the studio, the latest first."""
        return tuple(sorted(self._studio.evidence.firings, key=lambda f: (f.date or "", f.name), reverse=True))
