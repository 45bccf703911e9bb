"""Stock: what is on the shelf, how it fires, what is left; mark it discontinued, ask what could replace it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRect, QSize, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QPlainTextEdit, QStackedLayout, QVBoxLayout, QWidget

from swatch.desk.materials import Ladder, Materials
from swatch.desk.opening import OpenStudio
from swatch.screens.components.painting import Painted, write
from swatch.screens.material_list import MaterialHead, MaterialList, kind_and_cones, paint_cell
from swatch.screens.place import Place
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import (
    Choice,
    Rule,
    area,
    button,
    column,
    empty,
    heading,
    number,
    plain,
    quiet,
    row,
    scrolled,
    strong,
)
from swatch.terms.materials import Material, Status
from swatch.wording.layering import cone_figure, cone_in_words
from swatch.wording.surface import status_in_words
from swatch.wording.text import say, say_many
from swatch.wording.units import grams_in_words, grams_of, weight_figure, weight_unit

DETAIL = 336


class Ladders(Painted):
    """One, two and three coats on each body."""

    def __init__(self) -> None:
        super().__init__()
        self._ladders: list[Ladder] = []
        self._title = ""
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)

    def show_ladders(self, title: str, ladders: list[Ladder]) -> None:
        """Show another material."""
        self._title, self._ladders = title, ladders
        self.say_as(title, "; ".join(f"{one.body}: {_measured_in_words(one)}" for one in ladders))
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """A line for each body."""
        return QSize(DETAIL, 32 + 48 * max(1, len(self._ladders)))

    def paint(self, painter: QPainter) -> None:
        """Title and ladders."""
        write(painter, QRect(16, 4, self.width() - 24, 20), self._title, look.bench_ink)
        for n, ladder in enumerate(self._ladders):
            top = 28 + 48 * n
            for k, cell in enumerate(ladder.steps):
                paint_cell(painter, QRect(16 + 48 * k, top, 48, 40), cell)
            words = QRect(172, top + 2, self.width() - 180, 18)
            write(painter, words, say("on {body}").format(body=ladder.body), look.bench_ink, strong=True)
            write(painter, words.translated(0, 18), _measured_in_words(ladder), look.bench_ink)


def _measured_in_words(ladder: Ladder) -> str:
    if ladder.tiles:
        return say_many("{n} of 3 measured", "{n} of 3 measured", ladder.tiles).format(n=ladder.tiles)
    return say("predicted, no tile yet") if any(step.draws for step in ladder.steps) else say("not known yet")


class MaterialDetail(QWidget):
    """One material closely, and what can be done about it."""

    def __init__(
        self, materials: Materials, replace: Callable[[str], object], test: Callable[[str], object]
    ) -> None:
        super().__init__()
        self._materials = materials
        self.title, self.under = heading(), quiet()
        self.ladders = Ladders()
        self._words: QVBoxLayout = column(spacing=4)
        self.replace = button(say("What could replace it?"), lambda: replace(materials.chosen_name), main=True)
        self.tests = button(say("Plan tests of it"), lambda: test(materials.chosen_name))
        self.status = button("", self._flip_status)
        self.left = number(say("Left in the jar"), 0.0, 1_000_000.0, 10.0, suffix=" g")
        self.weigh = button(say("Weighed"), lambda: materials.weigh(round(grams_of(self.left.value()), 1)))
        top = column(margins=2 * UNIT, spacing=2)
        top.addWidget(self.title)
        top.addWidget(self.under)
        words = column(margins=2 * UNIT, spacing=UNIT)
        words.addLayout(self._words)
        words.addStretch(1)
        foot = column(margins=2 * UNIT, spacing=UNIT)
        scale = row(spacing=UNIT)
        scale.addWidget(self.left, 1)
        scale.addWidget(self.weigh, 1)
        foot.addLayout(scale)
        keys = row(spacing=UNIT)
        keys.addWidget(self.status, 1)
        keys.addWidget(self.tests, 1)
        foot.addLayout(keys)
        foot.addWidget(self.replace)
        inside = column(spacing=0)
        inside.addLayout(top)
        inside.addWidget(self.ladders)
        inside.addWidget(scrolled(area("raised", words)), 1)
        inside.addLayout(foot)
        self._body = area("raised", inside)
        whole = column(spacing=0)
        whole.addWidget(self._body)
        self.setLayout(whole)
        self.setFixedWidth(DETAIL)
        materials.chosen_changed.connect(self.follow)
        materials.shown.connect(self.follow)
        self.follow()

    def _flip_status(self) -> None:
        material = self._materials.chosen
        if material is not None:
            here = material.status is Status.IN_STOCK
            self._materials.set_status(Status.DISCONTINUED if here else Status.IN_STOCK)

    def follow(self) -> None:
        """Show the chosen material."""
        material = self._materials.chosen
        self._body.setVisible(material is not None)
        if material is None:
            return
        self.title.say(material.name)
        left = (
            say("{grams} left").format(grams=grams_in_words(material.left_g))
            if material.left_g is not None
            else ""
        )
        status = status_in_words(material.status)
        self.under.say(", ".join(filter(None, [kind_and_cones(material), status, left])))
        cone = self._materials.usual_cone
        title = say("1, 2, 3 coats at {cone}").format(cone=cone_in_words(cone)) if cone is not None else ""
        self.ladders.show_ladders(title, self._materials.ladders())
        here = material.status is Status.IN_STOCK
        self.status.setText(say("Mark discontinued") if here else say("Back in stock"))
        self.status.setAccessibleName(self.status.text())
        if not self.left.hasFocus():
            self.left.setSuffix(f" {weight_unit()}")
            self.left.setSingleStep(10.0 if weight_unit() == "g" else 0.5)
            self.left.setValue(weight_figure(material.left_g or 0.0))
        self.tests.setEnabled(here and self._materials.tests() is not None)
        self._say(material)

    def _say(self, material: Material) -> None:
        empty(self._words)
        uses = self._materials.uses()
        self._words.addWidget(strong(say("Used in")))
        for use in uses:
            line = row(spacing=UNIT)
            line.addWidget(plain(use.name), 1)
            if use.detail:
                line.addWidget(quiet(say("{n} planned").format(n=use.detail)).hug())
            self._words.addLayout(line)
        tiles = self._materials.tiles_with(material.name)
        self._words.addWidget(plain(say_many("{n} tile", "{n} tiles", tiles).format(n=tiles)))
        self._words.addWidget(Rule())
        self._words.addWidget(strong(say("What the label says")))
        self._words.addWidget(plain(food_in_words(material), wrap=True))


def food_in_words(material: Material) -> str:
    """What the maker's label states, and what it does not cover."""
    if material.food_label is None:
        first = say("Nothing about food is recorded from the maker's label.")
    elif not material.food_label:
        first = say("The maker's label states that it is not for food.")
    elif material.food_label_cone is not None:
        text = say("The maker's label states food use at cone {cone} for this material alone.")
        first = text.format(cone=cone_figure(material.food_label_cone))
    else:
        first = say("The maker's label states food use for this material alone.")
    rest = say(
        "A label does not cover layered materials, another cone or thickness. Only a leach test by an accredited "
        "laboratory settles it, and crazing can come later."
    )
    return f"{first} {rest}"


class NewJars(QWidget):
    """A list of jars, typed or pasted, one a line."""

    def __init__(self, materials: Materials, done: Callable[[], object]) -> None:
        super().__init__()
        self._materials, self._done = materials, done
        self.text = QPlainTextEdit()
        self.text.setAccessibleName(say("Jars, one a line"))
        self.text.setPlaceholderText(say("Moss green, underglaze\nHoney amber, glaze\nWindow, clear"))
        self.add = button(say("Put these on the shelf"), self._add, main=True)
        self.back = button(say("Back"), done)
        inside = column(margins=3 * UNIT, spacing=UNIT)
        inside.addWidget(heading(say("Jars, one a line")))
        hint = say("Name, then what it is: underglaze, glaze, clear, slip or wash. A pasted list will do.")
        inside.addWidget(plain(hint, wrap=True, size=15))
        inside.addWidget(self.text, 1)
        keys = row()
        keys.addWidget(self.back)
        keys.addStretch(1)
        keys.addWidget(self.add)
        inside.addLayout(keys)
        self.setLayout(inside)

    def _add(self) -> None:
        if self._materials.add_list(self.text.toPlainText()):
            self.text.clear()
            self._done()


class MaterialsScreen(Place):
    """The shelf, one material closely, and a list of new jars."""

    code = "materials"
    searchable = True
    replacement_wanted = Signal(str)
    tests_wanted = Signal(object)
    jars_done = Signal()

    def __init__(self, materials: Materials, studio: OpenStudio) -> None:
        super().__init__()
        self._materials, self._studio = materials, studio
        self.body = Choice(say("Body the fired colours are shown on"))
        self.add = button(say("Add jars…"), self.begin)
        self.teach = button(say("Plan tiles that teach most"), self._plan)
        self.head, self.list = MaterialHead(materials), MaterialList(materials)
        self.detail = MaterialDetail(materials, self.replacement_wanted.emit, self._plan)
        self.new = NewJars(materials, self.jars_done.emit)
        bar = row(spacing=UNIT)
        bar.setContentsMargins(3 * UNIT, UNIT, 2 * UNIT, UNIT)
        bar.addWidget(quiet(say("Fired colours over")).hug())
        self.body.setMinimumWidth(160)
        bar.addWidget(self.body)
        bar.addStretch(1)
        bar.addWidget(self.teach)
        bar.addWidget(self.add)
        left = column(spacing=0)
        left.addWidget(area("panel", bar))
        left.addWidget(self.head)
        left.addWidget(self.list, 1)
        shelf = QWidget()
        line = row(spacing=0)
        line.addLayout(left, 1)
        line.addWidget(self.detail)
        shelf.setLayout(line)
        self._stack = QStackedLayout()
        self._stack.addWidget(shelf)
        self._stack.addWidget(area("panel", _holding(self.new)))
        self.setLayout(self._stack)
        self.list.chosen.connect(materials.choose)
        self.list.rows_widened.connect(self.head.show_width)
        self.body.chosen.connect(materials.look_on)
        self.jars_done.connect(lambda: self._stack.setCurrentIndex(0))
        materials.shown.connect(self._shown)
        self._shown()

    def begin(self) -> None:
        """Open the list of new jars."""
        self._stack.setCurrentIndex(1)
        self.new.text.setFocus()

    def _plan(self, name: str = "") -> None:
        wanted = self._materials.tests(name)
        if wanted is not None:
            self.tests_wanted.emit(wanted)

    def _shown(self) -> None:
        self.teach.setEnabled(self._materials.tests() is not None)
        self.body.offer([(body, body) for body in self._materials.bodies()], self._materials.body)
        n = len(self._studio.evidence.materials)
        self.list.empty_text = say("No material is called that.") if n else say("No jars yet. Press “Add jars…”.")
        self.list.viewport().update()
        self.headed.emit()

    def heading(self) -> tuple[str, str]:
        """How many there are."""
        materials = self._studio.evidence.materials
        if not materials:
            return say("Materials"), say("The jars on your shelf.")
        stock = sum(m.status is Status.IN_STOCK for m in materials)
        text = say_many("{n} material, {stock} in stock.", "{n} materials, {stock} in stock.", len(materials))
        return say("Materials"), text.format(n=len(materials), stock=stock)

    def foot(self) -> str:
        """How the cells are to be read."""
        return say("Plain swatch: measured. Seams: predicted. Dashes: not known.")

    def search(self, text: str) -> None:
        """Show materials whose name holds the words."""
        self._materials.search(text)

    def searched(self) -> str:
        """The words searched for."""
        return self._materials.text

    def go(self) -> None:
        """Rest until it is opened again."""
        self._materials.sleep()

    def come(self) -> None:
        """Predict what is not measured."""
        self._materials.wake()
        if self._stack.currentIndex() == 0:
            self.list.setFocus()


def _holding(inside: QWidget) -> QVBoxLayout:
    whole = column(spacing=0)
    whole.addWidget(inside)
    return whole
