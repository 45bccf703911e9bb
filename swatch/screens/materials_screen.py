"""Stock: what is on the shelf, how it fires, what is left; mark it discontinued, ask what could replace it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPlainTextEdit, QStackedLayout, QVBoxLayout, QWidget

from swatch.desk.jar_colours import ColoursInReach
from swatch.desk.jar_list import jars_in_words, read_jars
from swatch.desk.knowing import Knowing
from swatch.desk.materials import Materials
from swatch.desk.opening import OpenStudio
from swatch.screens.components.known_bench import KnownBench
from swatch.screens.jar_colours import JarColoursPage
from swatch.screens.material_form import MaterialForm
from swatch.screens.material_list import MaterialHead, MaterialList, kind_and_cones
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
    link,
    number,
    plain,
    quiet,
    restyle,
    row,
    scrolled,
    strong,
)
from swatch.terms.materials import Material, Status
from swatch.wording.knowledge import taught_in_words
from swatch.wording.layering import cone_figure
from swatch.wording.surface import status_in_words
from swatch.wording.text import say, say_many
from swatch.wording.units import grams_in_words, grams_of, weight_figure, weight_unit

DETAIL = 336


class MaterialDetail(QWidget):
    """One material closely, and what can be done about it."""

    def __init__(
        self,
        materials: Materials,
        knowing: Knowing,
        replace: Callable[[str], object],
        test: Callable[[str], object],
    ) -> None:
        super().__init__()
        self._materials, self._knowing = materials, knowing
        self.title, self.under = heading(), quiet()
        self.known = KnownBench()
        self._words: QVBoxLayout = column(spacing=4)
        self.replace = button(say("What could replace it?"), lambda: replace(materials.chosen_name), main=True)
        self.tests = button(say("Plan tests of it"), lambda: test(materials.chosen_name))
        self.status = button("", self._flip_status)
        self.left = number(say("Left in the jar"), 0.0, 1_000_000.0, 10.0, suffix=" g")
        self.weigh = button(say("Weighed"), lambda: materials.weigh(round(grams_of(self.left.value()), 1)))
        top = column(margins=2 * UNIT, spacing=2)
        self.edit = link(say("Edit…"), self.open_form)
        head = row(spacing=UNIT)
        head.addWidget(self.title, 1)
        head.addWidget(self.edit)
        top.addLayout(head)
        top.addWidget(self.under)
        words = column(margins=2 * UNIT, spacing=UNIT)
        words.addLayout(self._words)
        words.addStretch(1)
        read = column(spacing=0)
        read.addWidget(self.known)
        read.addLayout(words, 1)
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
        self._scroll = scrolled(area("raised", read))
        self._scroll.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._scroll.setAccessibleName(say("What is known of it"))
        inside.addWidget(self._scroll, 1)
        inside.addLayout(foot)
        self._body = area("raised", inside)
        self.form = MaterialForm(materials, self.close_form)
        self._form = area("raised", _holding(self.form))
        self._form.hide()
        self._editing = ""
        whole = column(spacing=0)
        whole.addWidget(self._body)
        whole.addWidget(self._form)
        self.setLayout(whole)
        self.setFixedWidth(DETAIL)
        materials.chosen_changed.connect(self.follow)
        knowing.changed.connect(self.follow)
        materials.shown.connect(self.follow)
        self.follow()

    def open_form(self) -> None:
        """Write down anew what the chosen material is."""
        self._editing = self._materials.chosen_name
        self._body.hide()
        self._form.show()
        self.form.open()

    def close_form(self) -> None:
        """Back to what is known of it."""
        self._editing = ""
        self._form.hide()
        self.follow()
        self.edit.setFocus()

    def _flip_status(self) -> None:
        material = self._materials.chosen
        if material is not None:
            here = material.status is Status.IN_STOCK
            self._materials.set_status(Status.DISCONTINUED if here else Status.IN_STOCK)

    def follow(self) -> None:
        """Show the chosen material."""
        material = self._materials.chosen
        if self._editing and self._editing != self._materials.chosen_name:
            self._editing = ""
            self._form.hide()
        self._body.setVisible(material is not None and not self._editing)
        if material is None:
            return
        self.edit.setText(say("Edit…") if material.kind is not None else say("Say what it is…"))
        self.edit.setAccessibleName(say("Edit {material}").format(material=material.name))
        self.title.say(material.name)
        left = (
            say("{grams} left").format(grams=grams_in_words(material.left_g))
            if material.left_g is not None
            else ""
        )
        status = status_in_words(material.status)
        self.under.say(", ".join(filter(None, [kind_and_cones(material), status, left])))
        self.known.show_picture(self._knowing.picture())
        here = material.status is Status.IN_STOCK
        if bool(self.replace.property("main")) == here:  # the accent is on what has to be done
            self.replace.setProperty("main", not here)
            self.replace.setFont(look.font(strong=not here))
            restyle(self.replace)
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
        known = self._knowing.knowledge
        self._words.addWidget(strong(say("What the tiles teach")))
        if known is None:
            text = say("Finding out…") if self._knowing.asking else say("Nothing can be said of it yet.")
            self._words.addWidget(quiet(text))
        else:
            for taught in taught_in_words(known):
                self._words.addWidget(plain(taught, wrap=True))
        self._words.addWidget(Rule())
        uses = self._materials.uses()
        self._words.addWidget(strong(say("Used in")))
        for use in uses:
            line = row(spacing=UNIT)
            line.addWidget(plain(use.name), 1)
            if use.detail:
                line.addWidget(quiet(say("{n} planned").format(n=use.detail)).hug())
            self._words.addLayout(line)
        tiles = self._materials.tiles_with(material.name)
        self._words.addWidget(plain(say_many("and on {n} tile", "and on {n} tiles", tiles).format(n=tiles)))
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
        self.understood = plain(wrap=True)
        self.text.textChanged.connect(self._read)
        self._read()
        inside = column(margins=3 * UNIT, spacing=UNIT)
        inside.addWidget(heading(say("Jars, one a line")))
        hint = say("Name, then what it is: underglaze, glaze, clear, slip or wash. A pasted list will do.")
        inside.addWidget(plain(hint, wrap=True, size=15))
        inside.addWidget(self.text, 1)
        inside.addWidget(self.understood)
        keys = row()
        keys.addWidget(self.back)
        keys.addStretch(1)
        keys.addWidget(self.add)
        inside.addLayout(keys)
        self.setLayout(inside)

    def _read(self) -> None:
        jars = read_jars(self.text.toPlainText())
        self.understood.say(jars_in_words(jars))
        self.add.setEnabled(bool(jars))

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

    def __init__(
        self, materials: Materials, knowing: Knowing, studio: OpenStudio, colours: ColoursInReach
    ) -> None:
        super().__init__()
        self._materials, self._studio, self._colours = materials, studio, colours
        self.body = Choice(say("Body the fired colours are shown on"))
        self.add = button(say("Add jars…"), self.begin)
        self.reach = button(say("Colours these jars can make"), self.show_colours)
        self.teach = button(say("Plan tiles that teach most"), self._plan)
        self.head, self.list = MaterialHead(materials), MaterialList(materials)
        self.detail = MaterialDetail(materials, knowing, self.replacement_wanted.emit, self._plan)
        self.new = NewJars(materials, self.jars_done.emit)
        bar = row(spacing=UNIT)
        bar.setContentsMargins(3 * UNIT, UNIT, 2 * UNIT, UNIT)
        bar.addWidget(quiet(say("Fired colours over")).hug())
        self.body.setMinimumWidth(160)
        bar.addWidget(self.body)
        bar.addStretch(1)
        bar.addWidget(self.reach)
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
        self.colours = JarColoursPage(colours, self.show_jars)
        self._stack.addWidget(self.colours)
        self.setLayout(self._stack)
        self.list.chosen.connect(materials.choose)
        self.list.rows_widened.connect(self.head.show_width)
        self.body.chosen.connect(materials.look_on)
        self.jars_done.connect(self.show_jars)
        materials.shown.connect(self._shown)
        self._shown()

    def begin(self) -> None:
        """Open the list of new jars."""
        self._stack.setCurrentIndex(1)
        self.new.text.setFocus()

    def show_colours(self) -> None:
        """Show which colours the jars can make on the body looked at."""
        self._stack.setCurrentIndex(2)
        self._colours.wake(self._materials.body)
        self.colours.bands.setFocus()

    def show_jars(self) -> None:
        """Back to the shelf."""
        self._colours.sleep()
        self._stack.setCurrentIndex(0)

    def _plan(self, name: str = "") -> None:
        wanted = self._materials.tests(name)
        if wanted is not None:
            self.tests_wanted.emit(wanted)

    def _shown(self) -> None:
        self.teach.setEnabled(self._materials.tests() is not None)
        self.reach.setEnabled(self._materials.tests() is not None)
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
        said = text.format(n=len(materials), stock=stock)
        if self._materials.provisional:
            said += " " + say("Provisional: the newest tiles are still being learnt.")
        return say("Materials"), said

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
        self._colours.sleep()

    def come(self) -> None:
        """Predict what is not measured."""
        self._materials.wake()
        if self._stack.currentIndex() == 0:
            self.list.setFocus()
        elif self._stack.currentIndex() == 2:
            self._colours.wake(self._materials.body)


def _holding(inside: QWidget) -> QVBoxLayout:
    whole = column(spacing=0)
    whole.addWidget(inside)
    return whole
