"""One tile closely: its colours, sections, numbers with their doubt, sheen and faults."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from swatch.desk.fired import FiredColours
from swatch.desk.tile_cells import places
from swatch.desk.tile_views import TileView, ZoneView
from swatch.desk.tiles import Tiles
from swatch.science.colour_math import delta_e_2000
from swatch.screens.components.back_picture import BackPicture
from swatch.screens.components.painting import Painted, fill
from swatch.screens.components.section import SectionSmall
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
    Bench,
    Rule,
    Words,
    area,
    button,
    column,
    empty,
    heading,
    link,
    plain,
    quiet,
    row,
    scrolled,
    strong,
)
from swatch.terms.cone import Cone
from swatch.terms.evidence import FAULTS, Sheen, Stage
from swatch.wording.answers import lab_in_words
from swatch.wording.layering import cone_in_words, layering_in_words
from swatch.wording.surface import fault_in_words, sheen_in_words
from swatch.wording.text import say

WIDTH = 376


class TileSwatch(Painted):
    """The tile's zones, large, edge to edge."""

    def __init__(self) -> None:
        super().__init__()
        self._tile: TileView | None = None

    def show_tile(self, tile: TileView) -> None:
        """Show another tile."""
        self._tile = tile
        self.say_as(say("Colours of {tile}").format(tile=tile.tile), tile.spoken)
        self.update()

    def wanted_size(self) -> QSize:
        """As in the bench of the detail."""
        return QSize(150, 176)

    def paint(self, painter: QPainter) -> None:
        """All zones."""
        if self._tile is not None:
            wide, high = self.width(), self.height()
            for (left, top, w, h), zone in zip(places(len(self._tile.zones)), self._tile.zones, strict=True):
                x1, x2 = round(wide * left), round(wide * (left + w))
                y1, y2 = round(high * top), round(high * (top + h))
                fill(painter, QRect(x1, y1, x2 - x1, y2 - y1), zone.lab)


class TileDetail(QWidget):
    """The raised column at the right of the tiles."""

    def __init__(self, tiles: Tiles) -> None:
        super().__init__()
        self._tiles = tiles
        self._zone: ZoneView | None = None
        self.title, self.layers, self.where = heading(), Words(), quiet()
        self.swatch = TileSwatch()
        self._sections: QVBoxLayout = column(spacing=UNIT)
        self._table = QGridLayout()
        self._table.setContentsMargins(0, 0, 0, 0)
        self._table.setVerticalSpacing(4)
        self._table.setHorizontalSpacing(2 * UNIT)
        self._surface: QVBoxLayout = column(spacing=4)
        self.back = BackPicture(QSize(104, 176))
        self.match = button(say("Match this colour"), self._match, main=True)
        self._body = area("raised", self._lay_out())
        whole = column(spacing=0)
        whole.addWidget(self._body)
        self.setLayout(whole)
        self.setFixedWidth(WIDTH)

    def _lay_out(self) -> QVBoxLayout:
        top = column(margins=2 * UNIT, spacing=4)
        top.addWidget(self.title)
        top.addWidget(self.layers)
        top.addWidget(self.where)
        bench = Bench()
        on_bench = row(spacing=2 * UNIT)
        on_bench.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        on_bench.addWidget(self.swatch)
        on_bench.addLayout(self._sections)
        on_bench.addStretch(1)
        on_bench.addWidget(self.back)
        bench.setLayout(on_bench)
        words = column(spacing=UNIT)
        words.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        words.addLayout(self._table)
        words.addWidget(Rule())
        words.addLayout(self._surface)
        words.addStretch(1)
        inside = area("raised", words)
        foot = column(margins=2 * UNIT, spacing=UNIT)
        foot.addWidget(self.match)
        whole = column(spacing=0)
        whole.addLayout(top)
        whole.addWidget(bench)
        whole.addWidget(scrolled(inside), 1)
        whole.addLayout(foot)
        return whole

    def show_tile(self, tile: TileView | None, fired: FiredColours) -> None:
        """Show another tile, or none."""
        self._body.setVisible(tile is not None)
        if tile is None:
            self._zone = None
            return
        zones = [zone.zone for zone in tile.zones]
        kept = self._zone.zone if self._zone is not None else ""
        self._zone = tile.zones[zones.index(kept)] if kept in zones else tile.zones[0]
        self.title.say(tile.tile)
        self.layers.say(tile.summary)
        self.where.say(_where(tile))
        self.swatch.show_tile(tile)
        self.show_back(tile)
        self._show_sections(tile, fired)
        self._show_numbers(tile)
        self._show_surface(tile)

    def show_back(self, tile: TileView) -> None:
        """Show the number that is pencilled on the back of a tile, where a photo of it was kept."""
        found = self._tiles.back_of(tile.tile) if tile.stage is not Stage.MAKER else None
        picture, photo = found or ("", "")
        self.back.show_back(tile.tile, picture, photo)

    def _show_sections(self, tile: TileView, fired: FiredColours) -> None:
        empty(self._sections)
        cone = tile.cone or Cone(6.0)
        for zone in tile.zones[:3]:
            drawn = SectionSmall()
            drawn.show_section(fired.section(zone.reading.layers, tile.body or say("body"), cone))
            self._sections.addWidget(drawn)
        self._sections.addStretch(1)

    def _show_numbers(self, tile: TileView) -> None:
        empty(self._table)
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        for at, text in enumerate((say("Zone"), say("L*"), say("a*"), say("b*"), say("known to, ΔE00"))):
            caption = quiet(text, wrap=True)
            caption.setMinimumWidth(56)
            bottom = Qt.AlignmentFlag.AlignBottom
            caption.setAlignment((Qt.AlignmentFlag.AlignRight if at else Qt.AlignmentFlag.AlignLeft) | bottom)
            self._table.addWidget(caption, 0, at)
        for line, zone in enumerate(tile.zones, 1):
            key = button(zone.zone, partial(self._choose_zone, zone.zone))
            key.setProperty("small", True)
            key.setCheckable(True)
            key.setChecked(zone is self._zone)
            key.setAccessibleName(
                say("Zone {zone}, {layers}").format(zone=zone.zone, layers=layering_in_words(zone.reading.layers))
            )
            key.setToolTip(f"{layering_in_words(zone.reading.layers)}\n{lab_in_words(zone.lab)}")
            key.setMinimumWidth(56)
            self._table.addWidget(key, line, 0, Qt.AlignmentFlag.AlignLeft)
            for at, value in enumerate((*zone.lab, zone.known_to), 1):
                figure = Words(f"{value:.1f}".replace("-", "−"))
                figure.setAlignment(right)
                self._table.addWidget(figure, line, at)
        for at in range(5):
            self._table.setColumnStretch(at, 1)

    def _show_surface(self, tile: TileView) -> None:
        empty(self._surface)
        zone = self._zone
        if zone is None:
            return
        reading = zone.reading
        title = say("Zone {zone}: {layers}").format(zone=zone.zone, layers=layering_in_words(reading.layers))
        self._surface.addWidget(strong(title))
        times = say("Read {n} times, taken together.").format(n=zone.readings) if zone.readings > 1 else ""
        made = " ".join(filter(None, [reading.method or "", times]))
        if made:
            self._surface.addWidget(plain(made, wrap=True))
        self._surface.addWidget(quiet(say("Sheen")))
        sheens = row(spacing=4)
        for sheen in Sheen:
            key = _toggle(sheen_in_words(sheen), reading.sheen is sheen)
            key.clicked.connect(partial(self._set_sheen, zone, None if reading.sheen is sheen else sheen))
            sheens.addWidget(key)
        self._surface.addLayout(sheens)
        self._surface.addWidget(quiet(say("Faults")))
        for part in (FAULTS[:3], FAULTS[3:]):
            line: QHBoxLayout = row(spacing=4)
            for fault in part:
                key = _toggle(fault_in_words(fault), fault in reading.faults)
                key.clicked.connect(partial(self._flip_fault, zone, fault))
                line.addWidget(key)
            self._surface.addLayout(line)

        self._show_readings(zone)

    def _show_readings(self, zone: ZoneView) -> None:
        rows = self._tiles.readings_of(zone.reading.tile, zone.zone)
        if not rows:
            return
        self._surface.addWidget(quiet(say("Readings")))
        for one in rows:
            line = row(spacing=UNIT)
            off = float(delta_e_2000(one.lab, zone.lab))
            session = one.session or say("brought in")
            text = say("{n}: {session}, {de:.1f} from the zone's colour")
            if len(rows) == 1:
                text = say("Read once: {session}")
            text = text.format(n=one.number, session=session, de=off)
            line.addWidget(plain(text), 1)
            if len(rows) == 1:  # set aside, it would leave a tile without a colour; a tile can be removed
                self._surface.addLayout(line)
                continue
            word = say("Take in again") if one.set_aside else say("Set aside")
            key = link(word, partial(self._tiles.set_aside, one.id, aside=not one.set_aside))
            key.setAccessibleName(say("{word}: reading {n}").format(word=word, n=one.number))
            line.addWidget(key)
            self._surface.addLayout(line)
        self._surface.addWidget(link(say("Remove this tile"), partial(self._tiles.remove, zone.reading.tile)))

    def _choose_zone(self, zone: str) -> None:
        tile = self._tiles.chosen
        if tile is not None:
            self._zone = next(one for one in tile.zones if one.zone == zone)
            self._show_numbers(tile)
            self._show_surface(tile)

    def _match(self) -> None:
        if self._zone is not None:
            self._tiles.match_wanted.emit(self._zone)

    def _set_sheen(self, zone: ZoneView, sheen: Sheen | None, _checked: bool = False) -> None:
        self._tiles.set_sheen(zone, sheen)

    def _flip_fault(self, zone: ZoneView, fault: str, _checked: bool = False) -> None:
        had = zone.reading.faults
        self._tiles.set_faults(zone, [f for f in FAULTS if (f in had) != (f == fault)])


def _where(tile: TileView) -> str:
    parts = [tile.body or say("body not entered")]
    if tile.firing:
        parts.append(say("firing {firing}").format(firing=tile.firing))
    parts.append(cone_in_words(tile.cone))
    reading = tile.zones[0].reading
    if reading.shelf:
        parts.append(say("shelf {shelf}").format(shelf=reading.shelf))
    return ", ".join(parts)


def _toggle(text: str, on: bool) -> QPushButton:
    made = button(text)
    made.setProperty("small", True)
    made.setCheckable(True)
    made.setChecked(on)
    return made
