"""Writing down what a zone is: tile, body, firing, and its layers by tapping jars in order."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QBoxLayout, QLineEdit, QPushButton, QScrollArea, QVBoxLayout

from swatch.desk.measuring import Measuring
from swatch.desk.photo_work import PhotoWork
from swatch.screens.components.back_picture import BackPicture
from swatch.screens.flow import Flow
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import CAPTION, HALF, UNIT, look
from swatch.screens.widgets import (
    Choice,
    Words,
    area,
    button,
    column,
    labelled,
    quiet,
    restyle,
    row,
    scrolled,
    strong,
    text_field,
)
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.evidence import Stage
from swatch.terms.layering import format_layers, parse_layers
from swatch.terms.problems import StudioProblem
from swatch.wording.lacks import lack_in_words
from swatch.wording.layering import cone_figure, layering_in_words
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say

JAR_HEIGHT = 36


class JarShelf(Seen):
    """The studio's jars: tap them in order, again for another coat."""

    def __init__(self, measuring: Measuring) -> None:
        super().__init__()
        self._measuring = measuring
        self.jars: dict[str, QPushButton] = {}
        self.layers = strong()
        self.back = button(say("One coat less"), measuring.take_back)
        self.wiped = button(say("Wiped back"), measuring.wipe)
        self.bare = button(say("Bare body"), measuring.bare)
        self.same = button(say("Same as the last"), measuring.same_as_last)
        self.step = button(
            say("Step tile"), measuring.step_tile, tip=say("Three zones: 3, 2 and 1 coats, from the top")
        )
        self.crossed = button(
            say("Crossed tile"),
            measuring.crossed_tile,
            tip=say("Nine zones: the lower layer 3, 2, 1 coats from the top, the upper 1, 2, 3 from the left"),
        )
        self.next = button(say("Next zone"), lambda: measuring.step(1))
        top = Flow(spacing=UNIT)
        for one in (self.back, self.wiped, self.bare, self.step, self.crossed, self.same, self.next):
            one.setProperty("small", True)
            one.setFont(look.font(CAPTION))
            top.addWidget(one)
        self._shelf = Flow(spacing=HALF)
        self._scroll: QScrollArea = scrolled(area("panel", self._shelf))
        self._scroll.setMinimumHeight(2 * JAR_HEIGHT + HALF)
        self._scroll.setMaximumHeight(3 * (JAR_HEIGHT + HALF))
        whole = column(spacing=UNIT)
        whole.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        whole.addWidget(self.layers)
        whole.addLayout(top)
        whole.addWidget(self._scroll)
        self.setLayout(whole)
        measuring.photo_changed.connect(self.follow)
        measuring.chosen_changed.connect(self.follow)
        self.stock()
        self.follow()

    @when_seen
    def stock(self) -> None:
        """Put the jars on the shelf that the studio has now."""
        names = self._measuring.jars()
        if list(self.jars) == list(names):
            return
        for jar in self.jars.values():
            self._shelf.removeWidget(jar)
            jar.deleteLater()
        self.jars = {}
        for name in names:
            jar = button(name.replace("&", "&&"), partial(self._measuring.tap, name))
            jar.setProperty("jar", True)
            jar.setProperty("small", True)
            jar.setAccessibleName(say("One coat of {material}").format(material=name))
            jar.setFont(look.font(CAPTION))
            self._shelf.addWidget(jar)
            self.jars[name] = jar

    @when_seen
    def follow(self) -> None:
        """Say what lies on the chosen zone."""
        entry = self._measuring.entry
        for one in (
            *self.jars.values(),
            self.back,
            self.wiped,
            self.bare,
            self.step,
            self.crossed,
            self.same,
            self.next,
        ):
            one.setEnabled(entry is not None)
        if entry is None:
            self.layers.say(say("Choose a zone, or drag a rectangle over one."))
            return
        self.back.setEnabled(bool(entry.layers))
        self.wiped.setEnabled(bool(entry.layers))
        parted = self._measuring.parts_of(entry)
        self.step.setEnabled(bool(entry.layers) and (len(entry.polygon) == 4 if parted == 1 else parted == 3))
        self.crossed.setEnabled(
            len(entry.layers or ()) > 1 and (len(entry.polygon) == 4 if parted == 1 else parted in (4, 9))
        )
        if entry.layers is None:
            self.layers.say(say("{zone}: tap jars in order, again for another coat").format(zone=entry.name))
        else:
            layers = layering_in_words(entry.layers)
            self.layers.say(say("{zone}: {layers}").format(zone=entry.name, layers=layers))


class ZoneForm(Seen):
    """The chosen zone's names and where it was fired."""

    def __init__(self, measuring: Measuring) -> None:
        super().__init__()
        self._measuring = measuring
        self.tile, self.zone = text_field(say("Tile")), text_field(say("Zone"))
        self.zone.setFixedWidth(56)
        self.body = Choice(say("Body"), editable=True)
        self.firing = Choice(say("Firing"), editable=True)
        self.cone = text_field(say("Cone asked"))
        self.cone.setFixedWidth(56)
        self.layers = text_field(say("Layers from the body outward, typed"), "Iron slip*2 > Clear")
        self.stage = Choice(say("Stage"))
        self.back = BackPicture()
        self.same_tile = button(say("Same tile as before"), measuring.same_tile)
        self.for_all = button(say("Body and firing for all"), self._for_all)
        self.bad = quiet(wrap=True)
        for one in (self.same_tile, self.for_all):
            one.setProperty("small", True)
            one.setFont(look.font(CAPTION))
        self.setLayout(self._lay_out())
        self._join()
        measuring.photo_changed.connect(self.follow)
        measuring.chosen_changed.connect(self.follow)
        self.follow()

    def _lay_out(self) -> QVBoxLayout:
        whole = column(spacing=UNIT)
        whole.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        # The tile's back stands beside its name: the number pencilled there is read off and typed.
        first = row(spacing=UNIT)
        self._names = row(spacing=UNIT)
        self._names.addLayout(labelled(say("Tile"), self.tile), 2)
        self._rest = row(spacing=UNIT)
        self._rest.addLayout(labelled(say("Zone"), self.zone))
        self._rest.addLayout(labelled(say("Stage"), self.stage), 1)
        self._names.addLayout(self._rest, 2)
        first.addWidget(self.back, 0, Qt.AlignmentFlag.AlignTop)
        first.addLayout(self._names, 1)
        second = row(spacing=UNIT)
        second.addLayout(labelled(say("Body"), self.body), 2)
        second.addLayout(labelled(say("Firing"), self.firing), 2)
        second.addLayout(labelled(say("Cone"), self.cone))
        third = row(spacing=UNIT)
        third.addWidget(self.same_tile)
        third.addWidget(self.for_all)
        third.addStretch(1)
        whole.addLayout(first)
        whole.addLayout(second)
        whole.addLayout(labelled(say("Layers from the body outward"), self.layers))
        whole.addWidget(self.bad)
        whole.addLayout(third)
        return whole

    def _join(self) -> None:
        self._on_edit(self.tile, lambda text: self._write(say("Tile"), tile=" ".join(text.split())))
        self._on_edit(self.zone, lambda text: self._write(say("Zone"), zone=" ".join(text.split())))
        self._on_edit(self.cone, self._cone_typed)
        self._on_edit(self.layers, self._layers_typed)
        for field, typed in ((self.body, self._body_typed), (self.firing, self._firing_typed)):
            edit = field.lineEdit()
            assert edit is not None
            self._on_edit(edit, typed)
            field.chosen.connect(lambda _value, field=field, typed=typed: typed(field.currentText()))
        self.stage.chosen.connect(lambda stage: self._write(say("Stage"), stage=stage))

    def _on_edit(self, edit: QLineEdit, typed: Callable[[str], None]) -> None:
        edit.editingFinished.connect(lambda: typed(edit.text()))

    def _write(self, name: str, **changes: object) -> None:
        self._measuring.write(name, **changes)

    def _body_typed(self, text: str) -> None:
        self._write(say("Body"), body=" ".join(text.split()))

    def _firing_typed(self, text: str) -> None:
        name = " ".join(text.split())
        known = next((f for f in self._measuring.firings() if f.name.casefold() == name.casefold()), None)
        if known is not None:
            self._write(say("Firing"), firing=known.name, cone=known.cone_asked)
        else:
            self._write(say("Firing"), firing=name)

    def _cone_typed(self, text: str) -> None:
        try:
            cone: Cone | None = parse_cone(text) if text.strip() else None
        except StudioProblem as problem:
            self._say_bad(self.cone, problem)
            return
        self._say_good(self.cone)
        self._write(say("Cone"), cone=cone)

    def _layers_typed(self, text: str) -> None:
        if not text.strip():
            return
        try:
            layers = parse_layers(text)
        except StudioProblem as problem:
            self._say_bad(self.layers, problem)
            return
        self._say_good(self.layers)
        self._measuring.set_layers(layers)

    def _say_bad(self, field: QLineEdit, problem: StudioProblem) -> None:
        field.setProperty("bad", True)
        restyle(field)
        self.bad.say(" ".join(problem_in_words(problem)))
        self.bad.show()

    def _say_good(self, field: QLineEdit) -> None:
        if field.property("bad"):
            field.setProperty("bad", False)
            restyle(field)
        self.bad.hide()

    def _for_all(self) -> None:
        entry = self._measuring.entry
        if entry is not None:
            self._measuring.write_all(
                say("Body and firing for all"),
                body=entry.body,
                firing=entry.firing,
                cone=entry.cone,
                stage=entry.stage,
            )

    @when_seen
    def follow(self) -> None:
        """Show the chosen zone, silently; what is being typed is left alone."""
        entry = self._measuring.entry
        self.setEnabled(entry is not None)
        back = self._measuring.back_of(entry.key) if entry is not None else None
        self.back.show_back(entry.name if entry is not None else "", back.picture if back is not None else "")
        down, across = QBoxLayout.Direction.TopToBottom, QBoxLayout.Direction.LeftToRight
        self._names.setDirection(down if self.back.isVisibleTo(self) else across)
        bodies, firings = self._measuring.bodies(), self._measuring.firings()
        self.body.offer([(name, name) for name in bodies])
        self.firing.offer([(firing.name, firing.name) for firing in firings])
        stages = {Stage.FIRED: say("fired"), Stage.RAW: say("raw"), Stage.MAKER: say("maker's chart")}
        self.stage.offer(
            [(text, stage) for stage, text in stages.items()], entry.stage if entry is not None else Stage.FIRED
        )
        values = {
            self.tile: entry.tile if entry else "",
            self.zone: entry.zone if entry else "",
            self.cone: cone_figure(entry.cone) if entry and entry.cone else "",
            self.layers: format_layers(entry.layers) if entry and entry.layers else "",
            self.body.lineEdit(): entry.body if entry else "",
            self.firing.lineEdit(): entry.firing if entry else "",
        }
        for field, text in values.items():
            if field is not None and field.text() != text:
                field.setText(text)
                self._say_good(field)
        fired = entry is not None and entry.stage is Stage.FIRED
        self.firing.setEnabled(fired)
        self.cone.setEnabled(fired)


class StillLacking(Words):
    """What must still be written down before everything can be kept."""

    def __init__(self, measuring: Measuring, otherwise: Callable[[PhotoWork | None], str]) -> None:
        super().__init__("", CAPTION, quiet=True, wrap=True)
        self._otherwise = otherwise
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self._measuring = measuring
        measuring.photo_changed.connect(self.follow)

    def follow(self) -> None:
        """Name the first zone that lacks something, and how many do."""
        work = self._measuring.photo
        lacking = work.lacking() if work is not None else ()
        if not lacking:
            self.say(self._otherwise(work))
            return
        text = say("{zone}: {lack}.").format(zone=lacking[0].name, lack=lack_in_words(lacking[0].lacks))
        if len(lacking) > 1:
            text += " " + say("{n} zones are not complete.").format(n=len(lacking))
        self.say(text)
