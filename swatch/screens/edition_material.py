"""Material to the last piece: what is needed, left, possible, until when; what was made, fired, good, sold."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QVBoxLayout

from swatch.desk.edition_plan import EditionPlan
from swatch.screens.components.painting import Painted
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import (
    Choice,
    button,
    column,
    empty,
    heading,
    labelled,
    plain,
    quiet,
    row,
    strong,
    whole_number,
)
from swatch.terms.editions import Tallied
from swatch.terms.material_plan import MaterialNeed, MaterialPlan
from swatch.wording.material_plan import (
    banner_in_words,
    bridge_tile_in_words,
    counts_in_words,
    edition_in_words,
    ends_in_words,
    need_in_words,
    pace_in_words,
    possible_in_words,
)
from swatch.wording.problems import notice_in_words
from swatch.wording.text import say

BAR = 480


class ShareLeft(Painted):
    """How much of what is needed is there: ink where it is short, grey where it is enough."""

    on_bench = False

    def __init__(self, need: MaterialNeed) -> None:
        super().__init__()
        high = need.need_g[1] if need.need_g is not None else 0.0
        self._share = 1.0 if not high else min(1.0, (need.left_g or 0.0) / high)
        self._short = need.short_g is not None and need.short_g[1] > 0
        text = say("{percent} % of what is needed is there").format(percent=round(100 * self._share))
        self.say_as(say("Left of {material}").format(material=need.material), text)

    def wanted_size(self) -> QSize:
        """One bar."""
        return QSize(BAR, 12)

    def paint(self, painter: QPainter) -> None:
        """The whole outlined, what is there filled."""
        whole = QRect(0, 1, BAR - 1, 9)
        filled = QRect(0, 1, round(BAR * self._share), 10)
        painter.fillRect(filled, look.colour("ink") if self._short else look.colour("edge"))
        painter.setPen(look.colour("edge"))
        painter.drawRect(whole)


class EditionMaterial(Seen):
    """The plan, material by material, and the counts it rests on."""

    def __init__(self, plan: EditionPlan) -> None:
        super().__init__()
        self._plan = plan
        self.title, self.counts = heading(), plain(wrap=True)
        self.many = whole_number(say("How many pieces"), 1, 9999)
        self.what = Choice(say("What was counted"))
        self.enter = button(say("Count them today"), self._count)
        words = {
            Tallied.MADE: say("made"),
            Tallied.FIRED: say("fired"),
            Tallied.GOOD: say("good"),
            Tallied.SOLD: say("sold"),
        }
        self.what.offer([(text, what) for what, text in words.items()], Tallied.FIRED)
        self.what.setMinimumWidth(120)
        self._rows: QVBoxLayout = column(spacing=2 * UNIT)
        line = row(spacing=UNIT)
        line.addLayout(labelled(say("Pieces"), self.many))
        line.addLayout(labelled(say("were"), self.what))
        line.addWidget(self.enter, 0, Qt.AlignmentFlag.AlignBottom)
        line.addStretch(1)
        inside = column(spacing=2 * UNIT)
        inside.addWidget(self.title)
        inside.addWidget(self.counts)
        inside.addLayout(line)
        inside.addLayout(self._rows)
        self.setLayout(inside)
        plan.shown.connect(self.follow)
        self.follow()

    def _count(self) -> None:
        what = self.what.currentData()
        self._plan.count(Tallied(what), self.many.value())

    @when_seen
    def follow(self) -> None:
        """Show the plan as it is known now."""
        self._plan.wake()
        plan = self._plan.plan
        empty(self._rows)
        if plan is None:
            self.title.say(say("Working out what is needed…") if self._plan.busy else "")
            self.counts.say("")
            return
        self.title.say(headline(plan))
        said = [edition_in_words(plan), counts_in_words(plan), pace_in_words(plan)]
        lines = "\n".join(line for line in said if line)
        self.counts.say(lines)
        for tile in plan.bridges:
            self._rows.addWidget(strong(banner_in_words(tile), wrap=True))
            self._rows.addWidget(plain(bridge_tile_in_words(tile), wrap=True))
        for need in plan.materials:
            self._rows.addLayout(_need(need))
        for notice in plan.notices:
            self._rows.addWidget(quiet(" ".join(notice_in_words(notice)), wrap=True))


def _need(need: MaterialNeed) -> QVBoxLayout:
    made = column(spacing=UNIT // 2)
    made.addWidget(strong(need.material))
    if need.need_g is not None and need.left_g is not None:
        made.addWidget(ShareLeft(need))
    for text in (need_in_words(need), possible_in_words(need), ends_in_words(need)):
        if text:
            made.addWidget(plain(text, wrap=True))
    for notice in need.notices:
        made.addWidget(quiet(" ".join(notice_in_words(notice)), wrap=True))
    return made


def headline(plan: MaterialPlan) -> str:
    """How many of the pieces still to make are possible, by the material that is scarcest."""
    known = [one.pieces_possible[0] for one in plan.materials if one.pieces_possible is not None]
    if not known or plan.planned is None:
        return say("Material to the last piece")
    if min(known) >= plan.pieces_to_make:
        return say("Material for all {n} pieces still to make").format(n=plan.pieces_to_make)
    return say("Material for {n} of the {left} pieces still to make").format(
        n=min(known), left=plan.pieces_to_make
    )
