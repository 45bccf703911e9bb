"""Where an edition's variation comes from, and what each shelf of the kiln does."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QPainter

from swatch.desk.checking import Checking
from swatch.screens.components.painting import Painted, write
from swatch.screens.components.share_bars import Share, ShareBars
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import column, plain, quiet, strong
from swatch.terms.holding import CheckAnswer, KilnPlace, Spread
from swatch.wording.holding import direction_in_words
from swatch.wording.numbers import number_in_words
from swatch.wording.text import _, say, say_many

SHELF_ROW = 56


def shares_of(variance: Spread) -> list[Share]:
    """The parts of the variation, largest first."""
    parts = [
        (_("between firings"), variance.between_firings),
        (_("between shelves of a firing"), variance.between_shelves),
        (_("between pieces of a shelf: hand and clay"), variance.within),
        (_("measuring"), variance.measuring),
    ]
    known = [(say(words), value) for words, value in parts if value is not None]
    total = sum(value for _words, value in known)
    if total <= 0:
        return []
    return [Share(words, value / total) for words, value in sorted(known, key=lambda one: -one[1])]


def shelf_in_words(place: KilnPlace) -> str:
    """How the pieces of one shelf differ from the others of their loads."""
    if place.de00 < 0.5:
        text = say("as the others of its loads")
    else:
        where = direction_in_words(place.change) or say("another colour")
        text = say("{where}, {de00} ΔE00 from the mean of its loads").format(
            where=where, de00=number_in_words(place.de00)
        )
    if place.heat_cones is not None:
        cones = f"{place.heat_cones:+.2f}".replace("-", "−")
        text += say("; {cones} cones").format(cones=cones)
    return text


class KilnMap(Painted):
    """The shelves as they lie in the kiln, as far as their names tell it."""

    on_bench = False

    def __init__(self) -> None:
        super().__init__()
        self._places: Sequence[KilnPlace] = ()

    def show_places(self, places: Sequence[KilnPlace]) -> None:
        """Show other shelves."""
        self._places = sorted(places, key=_height)
        told = "; ".join(f"{one.shelf}: {shelf_in_words(one)}" for one in self._places)
        self.say_as(say("Map of the kiln"), told)
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """A row a shelf."""
        return QSize(720, SHELF_ROW * max(len(self._places), 1) + 8)

    def paint(self, painter: QPainter) -> None:
        """Shelf boards with what stands on them."""
        ink, quiet_ink = look.colour("ink"), look.colour("quiet")
        for k, one in enumerate(self._places):
            top = k * SHELF_ROW
            painter.fillRect(QRect(0, top + SHELF_ROW - 4, 160, 4), look.colour("edge"))
            write(painter, QRect(8, top + 8, 144, 20), one.shelf, ink, size=15, strong=True)
            n = say_many("{n} piece", "{n} pieces", one.pieces).format(n=one.pieces)
            write(painter, QRect(8, top + 28, 144, 20), n, quiet_ink)
            write(painter, QRect(184, top + 16, 528, 24), shelf_in_words(one), ink, size=15)


_NAMED_HEIGHTS = {"top": 0, "upper": 1, "middle": 2, "lower": 3, "bottom": 4}


def _height(place: KilnPlace) -> tuple[int, str]:
    """Shelves named by height lie so; others by their name."""
    return _NAMED_HEIGHTS.get(place.shelf.casefold(), 2), place.shelf


class EditionKiln(Seen):
    """The parts of the variation as bars, then the shelves."""

    def __init__(self, checking: Checking) -> None:
        super().__init__()
        self._checking = checking
        self.shares = ShareBars(say("Where the variation comes from"))
        self.map = KilnMap()
        self.sentence = plain(wrap=True)
        self.heat = quiet(wrap=True)
        self._map_title = strong(say("The kiln, shelf by shelf"))
        inside = column(spacing=2 * UNIT)
        inside.addWidget(strong(say("Where the variation comes from")))
        inside.addWidget(self.sentence)
        inside.addWidget(self.shares)
        inside.addWidget(self._map_title)
        inside.addWidget(self.map)
        inside.addWidget(self.heat)
        inside.addStretch(1)
        self.setLayout(inside)
        checking.shown.connect(self.follow)
        self.follow()

    @when_seen
    def follow(self) -> None:
        """Show what the desk knows now."""
        answer = self._checking.answer
        shares = shares_of(answer.variance) if answer is not None else []
        self.shares.show_shares(shares)
        self.sentence.say(sentence_of(answer, shares))
        places = answer.kiln_map if answer is not None else ()
        self.map.show_places(places)
        for one in (self.map, self._map_title):
            one.setVisible(bool(places))
        text = ""
        if answer is not None and answer.kiln_sd_cones is not None:
            text = say(
                "From firing to firing the heat ordinarily varies by {cones} cones (one standard deviation)."
            )
            text = text.format(cones=number_in_words(answer.kiln_sd_cones, 2))
        self.heat.say(text)


def sentence_of(answer: CheckAnswer | None, shares: Sequence[Share]) -> str:
    """What the bars come to."""
    if answer is None or not shares:
        return say("Known once pieces of several firings are measured, two from each shelf.")
    return say("Most of the variation is {part}.").format(part=shares[0].words)
