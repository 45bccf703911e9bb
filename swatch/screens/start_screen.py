"""Start mine: body, usual programme, jars; and the first board is planned."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QLineEdit, QPlainTextEdit, QVBoxLayout, QWidget

from swatch.desk.jar_list import jars_in_words
from swatch.desk.starting import Starting
from swatch.screens.place import Place
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
    Rule,
    area,
    button,
    column,
    heading,
    labelled,
    link,
    plain,
    quiet,
    restyle,
    row,
    scrolled,
    text_field,
)
from swatch.wording.layering import cone_in_words
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many
from swatch.wording.units import heat_unit

WIDTH = 920


class StartScreen(Place):
    """What a first board needs, on one page."""

    code = "start"
    shows_colour = False
    place_wanted = Signal(str)

    def __init__(self, starting: Starting) -> None:
        super().__init__()
        self._starting = starting
        self.body = text_field(say("Body"), say("White stoneware"))
        self.cone = text_field(say("Cone you usually fire to"), "6")
        self.peak = text_field(say("Peak"))
        self.rate = text_field(say("Climb over the last hour, per hour"))
        self._peak_words, self._rate_words = quiet(), quiet()
        self.hold = text_field(say("Hold at the peak, minutes"))
        self.jars = QPlainTextEdit()
        self.jars.setTabChangesFocus(True)
        self.jars.setAccessibleName(say("Jars, one a line"))
        self.jars.setPlaceholderText(say("Moss green, underglaze\nHoney amber, glaze\nWindow, clear"))
        self.understood = plain(wrap=True)
        self.plan = button(say("Plan my first board"), self._make, main=True)
        self.plan.setMinimumHeight(48)
        self.back = button(say("Back"), lambda: self.place_wanted.emit("welcome"))
        self.folder = quiet()
        self.elsewhere = link(say("Put it elsewhere…"), self._choose)
        self.said, self.bad = plain(wrap=True, size=15), quiet(wrap=True)
        across = row(spacing=4 * UNIT)
        across.addLayout(self._left(), 1)
        across.addLayout(self._right(), 1)
        inside = column(margins=4 * UNIT, spacing=2 * UNIT)
        inside.addWidget(heading(say("Three things, and your first board is planned")))
        inside.addLayout(across, 1)
        inside.addWidget(Rule())
        inside.addWidget(self.said)
        keys = row(spacing=UNIT)
        keys.addWidget(self.back)
        keys.addWidget(self.folder, 1)
        keys.addWidget(self.elsewhere)
        self.plan.setMinimumWidth(240)
        keys.addWidget(self.plan)
        inside.addLayout(keys)
        middle = area("raised", inside, WIDTH)
        beside = row(spacing=0)
        beside.addStretch(1)
        beside.addWidget(middle)
        beside.addStretch(1)
        ground = QWidget()
        ground.setLayout(beside)
        whole = column(margins=2 * UNIT)
        whole.addWidget(scrolled(ground))
        self.setLayout(whole)
        self._join()
        self._follow()

    def _left(self) -> QVBoxLayout:
        inside = column(spacing=UNIT)
        inside.addLayout(labelled(say("1  Body the tiles are made of"), self.body))
        inside.addSpacing(UNIT)
        inside.addLayout(labelled(say("2  Cone you usually fire to"), self.cone))
        inside.addWidget(quiet(say("or, where you fire by temperature:")))
        programme = row(spacing=UNIT)
        for words, field in ((self._peak_words, self.peak), (self._rate_words, self.rate)):
            programme.addLayout(labelled(words, field), 1)
        programme.addLayout(labelled(say("Hold, min"), self.hold), 1)
        inside.addLayout(programme)
        inside.addWidget(self.bad)
        inside.addStretch(1)
        return inside

    def _right(self) -> QVBoxLayout:
        inside = column(spacing=UNIT)
        inside.addLayout(labelled(say("3  Your jars, one a line; paste a list"), self.jars), 1)
        hint = say("Name, then what it is: underglaze, glaze, clear, slip or wash. A pasted list will do.")
        inside.addWidget(quiet(hint, wrap=True))
        inside.addWidget(self.understood)
        return inside

    def _join(self) -> None:
        starting = self._starting
        fields: tuple[tuple[QLineEdit, str], ...] = (
            (self.body, "body"),
            (self.cone, "cone"),
            (self.peak, "peak"),
            (self.rate, "rate"),
            (self.hold, "hold"),
        )
        for field, name in fields:
            field.textEdited.connect(lambda text, name=name: starting.say(**{name: text}))
        self.jars.textChanged.connect(lambda: starting.say(jars=self.jars.toPlainText()))
        starting.changed.connect(self._follow)

    def _choose(self) -> None:
        folder, _kind = QFileDialog.getSaveFileName(
            self, say("Folder for the new studio"), str(self._starting.said.folder)
        )
        if folder:
            self._starting.say(folder=Path(folder))

    def _make(self) -> None:
        self._starting.make()

    def _follow(self) -> None:
        starting = self._starting
        self._peak_words.say(say("Peak, {unit}").format(unit=heat_unit()))
        self._rate_words.say(say("Climb, {unit}/h").format(unit=heat_unit()))
        problem = starting.bad_cone()
        if bool(self.cone.property("bad")) != (problem is not None):
            self.cone.setProperty("bad", problem is not None)
            restyle(self.cone)
        firing = starting.firing()
        if problem is not None:
            self.bad.say(" ".join(problem_in_words(problem)))
        elif firing is not None and firing.cone_asked is not None and not starting.said.cone.strip():
            self.bad.say(say("That is about {cone}.").format(cone=cone_in_words(firing.cone_asked)))
        else:
            self.bad.say("")
        self.understood.say(jars_in_words(starting.jars))
        board = starting.board()
        self.plan.setEnabled(board is not None)
        wanting = {
            "body": say("Name the body first."),
            "programme": say("Say the cone, or the peak, of your usual firing."),
            "jars": say("List the jars."),
        }
        if board is None:
            self.said.say(wanting[starting.lacks()])
        else:
            jars = say_many("{n} jar", "{n} jars", len(starting.jars)).format(n=len(starting.jars))
            tiles = say_many("{n} step tile", "{n} step tiles", len(board.tiles)).format(n=len(board.tiles))
            text = say("{jars}: {tiles}. Each jar alone on {body}")
            said = text.format(jars=jars, tiles=tiles, body=board.body)
            under = board.tiles[-1].zones[0].layers
            if len(under) > 1:
                said += " " + say("and once over {under}.").format(under=under[0].material)
            else:
                said += say("; no underglaze is listed to lay them over.")
            self.said.say(said)
        self.folder.say(say("Kept in {folder}").format(folder=self._starting.said.folder))

    def heading(self) -> tuple[str, str]:
        """What happens here."""
        return say("Start mine"), say("A studio of your own, from the jars on your shelf.")

    def come(self) -> None:
        """From nothing, keyboard on the first field."""
        for field in (self.body, self.cone, self.peak, self.rate, self.hold):
            field.clear()
        self.jars.clear()
        self._starting.begin()
        self.body.setFocus()
