"""Tests that came back: predicted beside fired, the target hit or not, and what to do next."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.came_back import CameBack
from swatch.screens.components.pair_list import PairHead, PairList
from swatch.screens.components.swatch_pair import PairWithWords, SwatchPair
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT
from swatch.screens.widgets import Rule, area, button, column, empty, plain, quiet, row, scrolled, strong
from swatch.wording.came_back import hit_in_words, learnt_in_words, miss_in_words, missing_in_words
from swatch.wording.layering import cone_in_words
from swatch.wording.text import say

SIDE = 432


class ResultsScreen(Place):
    """The pairs at the left, nearest to the target first; the verdict at the right."""

    code = "results"
    place_wanted = Signal(str)
    act_wanted = Signal(str, str)

    def __init__(self, back: CameBack) -> None:
        super().__init__()
        self._back = back
        self.head, self.list = PairHead(), PairList(back.rows)
        self.verdict = strong(wrap=True)
        self.best = PairWithWords(SwatchPair(names=(say("Target"), say("Nearest tile"))))
        self.learnt, self.missing = plain(wrap=True, size=15), quiet(wrap=True)
        self._each: QVBoxLayout = column(spacing=4)
        self.see = button(say("See the board"), lambda: self.act_wanted.emit("board", back.name))
        self.again = button(say("Look for it again"), self._again, main=True)
        left = column(spacing=0)
        left.addWidget(self.head)
        left.addWidget(self.list, 1)
        line = row(spacing=0)
        line.addLayout(left, 1)
        line.addWidget(self._side())
        self.setLayout(line)
        self.list.tile_wanted.connect(lambda tile: self.act_wanted.emit("tile", tile))
        back.changed.connect(self._show)
        self._show()

    def _side(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(self.verdict)
        inside.addWidget(self.best)
        inside.addWidget(Rule())
        inside.addWidget(strong(say("What was learnt")))
        inside.addWidget(self.learnt)
        inside.addWidget(self.missing)
        inside.addLayout(self._each)
        inside.addStretch(1)
        keys = row(margins=2 * UNIT, spacing=UNIT)
        keys.addWidget(self.see, 1)
        keys.addWidget(self.again, 1)
        whole = column(spacing=0)
        whole.addWidget(scrolled(area("raised", inside)), 1)
        whole.addWidget(area("raised", keys))
        return area("raised", whole, SIDE)

    def _again(self) -> None:
        if self._back.look_again():
            self.place_wanted.emit("match")

    @when_seen
    def _show(self) -> None:
        back, board = self._back, self._back.board
        backs = back.backs
        self.list.empty_text = "" if backs else say("Nothing of this board has come back yet.")
        self.list.viewport().update()
        target = board.target if board is not None else None
        nearest = backs[0] if backs else None
        self.best.setVisible(target is not None and nearest is not None)
        said = ""
        if target is not None and nearest is not None and nearest.off is not None:
            words = hit_in_words if back.hits else miss_in_words
            said = words(nearest.tile, nearest.off, target.tolerance)
            self.best.show_pair(target.lab, nearest.fired)
        self.verdict.say(said)
        self.learnt.say(learnt_in_words(sum(one.as_said for one in backs), len(backs)) if backs else "")
        left = sum(not any(zone.read for zone in tile.zones) for tile in board.tiles) if board is not None else 0
        self.missing.say(missing_in_words(left) if left else "")
        empty(self._each)
        for one in backs:
            if not one.as_said:
                text = say("{tile} came out {de:.1f} from what was said, beyond its doubt: look at its label.")
                self._each.addWidget(plain(text.format(tile=one.tile, de=one.away), wrap=True))
        self.again.setVisible(target is not None)
        self.headed.emit()

    def heading(self) -> tuple[str, str]:
        """Which board."""
        board = self._back.board
        if board is None:
            return say("Tests came back"), ""
        text = say("Board for firing {name}: {body}, {cone}.")
        return say("Tests came back"), text.format(
            name=board.name, body=board.body, cone=cone_in_words(board.cone)
        )

    def foot(self) -> str:
        """How to open a tile."""
        return say("Enter opens the tile. X swaps predicted and fired.")

    def come(self) -> None:
        """Keyboard on the pairs."""
        self.list.setFocus()
