"""The window: rail, header, the place that is open, foot; and how the places hand work to each other."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QFileDialog, QMainWindow, QStackedWidget, QWidget

from swatch.desk.settings import Settings
from swatch.screens.dropped import files_in, hand_over, join_loads, take
from swatch.screens.frame import Foot, Header, JobsLine, MessageLine, RailButton, rail
from swatch.screens.place import Place
from swatch.screens.places import PLACES, WITHIN
from swatch.screens.style import CAPTION, look
from swatch.screens.widgets import column, link, row
from swatch.wording.text import say

if TYPE_CHECKING:
    from swatch.desk.desks import Desks
    from swatch.desk.planning import TestsWanted
    from swatch.desk.what_if import Held
    from swatch.terms.brought import BroughtIn
    from swatch.terms.measured import ZoneRead
    from swatch.terms.problems import StudioProblem


class MainWindow(QMainWindow):
    """One studio in one window.

    The frame alone is made first, so that something is seen at once; `attach` brings the desks in, and with them
    everything that takes time to load.
    """

    bug = Signal(object)

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        self._settings = settings
        self._made: dict[str, Place] = {}
        self._now = ""
        self.setWindowTitle("Swatch")
        self.setMinimumSize(1024, 700)
        self.setAcceptDrops(True)
        self.header, self.message, self.foot = Header(), MessageLine(), Foot()
        self.stack = QStackedWidget()
        self.rail = {code: RailButton(code, say(word)) for code, word in PLACES}
        for code, key in self.rail.items():
            key.setEnabled(False)
            key.clicked.connect(partial(self.show_place, code))
        self.help_key = link(say("Help  F1"), self.help)
        self.menuBar().setFont(look.font(CAPTION))
        self.menuBar().setFixedHeight(24)
        self.header.surround.hide()
        self.header.search.hide()
        self.header.undo.hide()
        self._lay_out()
        self._remember_size()

    def attach(self, desks: Desks) -> None:
        """Bring the desks in: from now on the window works."""
        from swatch.desk.colours_on_screen import screen_colours
        from swatch.screens.menus import Menus

        self.desks = desks
        self.jobs_line = JobsLine(desks.jobs)
        self._right.addWidget(self.jobs_line)
        self.menus = Menus(self)
        self.header.undo.clicked.connect(desks.undoing.undo)
        self.header.search.textEdited.connect(self._search)
        desks.undoing.changed.connect(self._undo_changed)
        desks.studio.settled.connect(self._studio_opened)
        desks.studio.failed.connect(self.tell_problem)
        desks.jobs.bug.connect(self.bug)
        self._join_desks()
        screen_colours().changed.connect(self._say_heading)
        look.changed.connect(self.update)
        self._undo_changed()
        self.show_place("welcome")

    # Layout

    def _lay_out(self) -> None:
        right = column(spacing=0)
        right.addWidget(self.header)
        right.addWidget(self.message)
        right.addWidget(self.stack, 1)
        self._right = right
        body = row(spacing=0)
        body.addWidget(rail(list(self.rail.values()), self.help_key))
        body.addLayout(right, 1)
        whole = column(spacing=0)
        whole.addLayout(body, 1)
        whole.addWidget(self.foot)
        centre = QWidget()
        centre.setLayout(whole)
        self.setCentralWidget(centre)

    def _remember_size(self) -> None:
        kept = self._settings.text("geometry")
        if not (kept and self.restoreGeometry(QByteArray.fromBase64(kept.encode()))):
            self.resize(1280, 800)

    # Places

    def place(self, code: str) -> Place:
        """A place, made when it is first opened."""
        if code not in self._made:
            from swatch.screens.places import make_place

            made = make_place(code, self.desks)
            made.headed.connect(self._say_heading)
            self._join_place(made)
            self._made[code] = made
            self.stack.addWidget(made)
        return self._made[code]

    @property
    def now(self) -> Place:
        """The place that is open."""
        return self._made[self._now]

    def show_place(self, code: str, _checked: bool = False) -> None:
        """Open a place; without a studio only the welcome page."""
        if self.desks.studio.studio is None and code != "start":
            code = "welcome"
        place = self.place(code)
        if self._now and self._now != code:
            self.now.go()
            self.message.pass_on()
        self._now = code
        for name, key in self.rail.items():
            key.setChecked(name == WITHIN.get(code, code))
            key.setEnabled(self.desks.studio.studio is not None)
        self.stack.setCurrentWidget(place)
        self.header.surround.setVisible(place.shows_colour)
        self.header.search.setVisible(place.searchable)
        self.header.search.setText(place.searched())
        self.header.undo.setVisible(code not in ("welcome", "start"))
        self.desks.undoing.work_in_hand(place.in_hand())
        self._say_heading()
        place.come()

    def _join_desks(self) -> None:
        desks = self.desks
        desks.tiles.match_wanted.connect(self._match_tile)
        desks.measuring.match_wanted.connect(self._match_photo)
        desks.measuring.kept.connect(self._kept)
        join_loads(self)
        desks.measuring.done.connect(lambda: self.show_place("tiles"))
        desks.measuring.photos_changed.connect(self._in_hand_changed)
        desks.next.shown.connect(self._count_next)
        desks.starting.made.connect(self.show_board)
        for desk in (desks.planning, desks.what_if):
            desk.print_wanted.connect(self.show_board)
        desks.units.changed.connect(self._show_units)
        desks.bringing.brought.connect(self._brought)
        desks.bringing.not_known.connect(self._not_known)

    def _join_place(self, place: Place) -> None:
        """Connect what a place asks of the window."""
        for name, do in (
            ("photos_wanted", self.choose_photos),
            ("place_wanted", self.show_place),
            ("replacement_wanted", self.replace_material),
            ("tiles_wanted", self.show_firing_tiles),
            ("evidence_wanted", self.show_evidence),
            ("act_wanted", self.act),
            ("tests_wanted", self.plan_tests),
            ("load_wanted", partial(hand_over, self)),
            ("trial_wanted", self.try_out),
        ):
            signal = getattr(place, name, None)
            if signal is not None:
                signal.connect(do)

    def _match_photo(self, read: ZoneRead, name: str) -> None:
        self.desks.matching.want_colour(read.lab, name, read.covariance)
        self.show_place("match")

    def _match_tile(self, zone: object) -> None:
        from swatch.desk.tile_views import ZoneView

        assert isinstance(zone, ZoneView)
        reading = zone.reading
        limits = {"body": reading.body} if reading.body else {}
        self.desks.matching.want_colour(
            zone.lab, f"{reading.tile} {zone.zone}".strip(), zone.covariance, **limits, cone=reading.cone
        )
        self.show_place("match")

    def replace_material(self, material: str) -> None:
        """Look for what could take the place of a material."""
        self.desks.matching.want_replacement(material)
        self.show_place("match")

    def show_firing_tiles(self, firing: str) -> None:
        """Show the tiles of one firing."""
        self.desks.tiles.clear_filters()
        self.desks.tiles.filter(firing=firing)
        self.show_place("tiles")

    def show_board(self, name: str) -> None:
        """Show a board as it is printed."""
        self.desks.printing.choose(what=name)
        self.show_place("papers")

    def plan_tests(self, wanted: TestsWanted) -> None:
        """Plan the tiles to fire next for a target, a stand-in or a material."""
        self.desks.planning.plan(wanted.request, wanted.origin, wanted.targets)
        self.show_place("tests")

    def try_out(self, held: Held) -> None:
        """Take a layering in hand, to change it and see its colour follow."""
        self.desks.what_if.take(held)
        self.show_place("what-if")

    def show_evidence(self, suggestion: object) -> None:
        """Show the tiles that carry the materials of a suggestion."""
        from swatch.terms.answers import Suggestion

        assert isinstance(suggestion, Suggestion)
        self.desks.tiles.show_with([layer.material for layer in suggestion.prediction.question.layers])
        self.show_place("tiles")

    def act(self, act: str, about: str) -> None:
        """Take the next step that the place Next names."""
        desks = self.desks
        if act == "replace":
            self.replace_material(about)
        elif act == "firing":
            desks.firings.choose(about)
            self.show_place("firings")
            self.now.begin()
        elif act == "tile":
            desks.tiles.clear_filters()
            desks.tiles.choose(about)
            self.show_place("tiles")
        elif act == "board":
            self.show_board(about)
        elif act in ("results", "editions"):
            (desks.came_back if act == "results" else desks.editions).choose(about)
            self.show_place(act)
        elif act == "watched":
            self.take_files(desks.watching.take())
        elif act == "photos":
            self.choose_photos()
        elif act == "add firing":
            self.show_place("firings")
        elif act == "materials":
            self.show_place("materials")
            self.now.begin()
        else:
            self.show_place(act)

    def _show_units(self) -> None:
        """Say every amount anew."""
        self.desks.materials.chosen_changed.emit()
        self.desks.materials.shown.emit()
        self.desks.firings.chosen_changed.emit()
        self.desks.starting.changed.emit()
        if self.desks.printing.pages:
            self.desks.printing.draw()

    def _in_hand_changed(self) -> None:
        self.desks.next.photos_in_hand(sum(not work.is_kept for work in self.desks.measuring.photos))

    def _count_next(self) -> None:
        self.rail["next"].set_count(len(self.desks.next.things))

    def _kept(self, n: int) -> None:
        from swatch.screens.photo_facts import kept_in_words

        self.message.tell(*kept_in_words(n), passing=True)

    def _brought(self, brought: BroughtIn) -> None:
        from swatch.wording.brought import brought_in_words

        self.tell(*brought_in_words(brought))

    def _not_known(self, files: list[Path]) -> None:
        names = ", ".join(file.name for file in files)
        self.tell(
            say("{files}: none of the studio's tables.").format(files=names),
            say("Name it after what it holds (materials.csv, tiles.csv …), or check its header row."),
        )

    def choose_photos(self) -> None:
        """Ask for photos and take them in hand."""
        files, _kind = QFileDialog.getOpenFileNames(self, say("Open photos"))
        if files:
            self.take_files([Path(file) for file in files])

    # What the frame says

    def _say_heading(self) -> None:
        if not self._now:
            return
        from swatch.desk.colours_on_screen import screen_colours

        title, under = self.now.heading()
        if self.desks.studio.invented and self._now not in ("welcome", "start"):
            under = say("Invented studio: nothing here is real. {rest}").format(rest=under)
        self.header.title.say(title)
        self.header.under.say(under)
        self.foot.left.say(screen_colours().footer())
        self.foot.right.say(self.now.foot())

    def _undo_changed(self) -> None:
        self.header.say_undo(self.desks.undoing.undo_name)
        self.menus.say_undo(self.desks.undoing.undo_name, self.desks.undoing.redo_name)

    def _studio_opened(self) -> None:
        studio = self.desks.studio
        name = studio.name
        if studio.invented:
            name = say("{name} (invented)").format(name=name)
        self.setWindowTitle(f"{name} – Swatch" if name else "Swatch")
        self.menus.say_studio(name)
        self.message.hide()
        self.show_place(PLACES[0][0] if studio.studio is not None else "welcome")

    def tell_problem(self, problem: StudioProblem) -> None:
        """Say in place what the potter can mend."""
        from swatch.wording.problems import place_in_words, problem_in_words

        happened, next_step = problem_in_words(problem)
        where = place_in_words(problem.where)
        self.tell(f"{where}: {happened}" if where else happened, next_step)

    def tell(self, happened: str, next_step: str = "") -> None:
        """Say something in place."""
        self.message.tell(happened, next_step)

    def help(self) -> None:
        """Open the help for the place that is open."""
        from swatch.screens.help_window import show_help

        show_help(self, self.now.code if self._now else "welcome")

    def search(self) -> None:
        """Put the keyboard into the search field, opening the tiles where the place has none."""
        if not self.now.searchable:
            self.show_place("tiles")
        if self.now.searchable:
            self.header.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.header.search.selectAll()

    def _search(self, text: str) -> None:
        self.now.search(text)

    # Files from outside

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take photos and tables wherever they are dropped."""
        if files_in(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Open the photo workspace with the photos that were dropped."""
        event.acceptProposedAction()
        self.take_files(files_in(event.mimeData()))

    def paste(self) -> None:
        """Take photos from the clipboard."""
        mime = QGuiApplication.clipboard().mimeData()
        if mime is not None:
            self.take_files(files_in(mime))

    def take_files(self, files: list[Path]) -> None:
        """Open photos in the workspace and bring tables in."""
        if self.desks.studio.studio is None:
            self.tell(
                say("Open a studio first: readings are kept in one."), say("The demo studio will do to try it.")
            )
            return
        take(self, files, self._now)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """X swaps target and prediction, S goes round the surrounds, wherever no field takes the letter."""
        plain_key = event.modifiers() == Qt.KeyboardModifier.NoModifier
        actions: dict[int, Callable[[], None]] = {Qt.Key.Key_X: look.swap, Qt.Key.Key_S: look.next_surround}
        if plain_key and event.key() in actions and self._now and self.now.shows_colour:
            actions[event.key()]()
            return
        super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Remember the size, stop what is under way, put the studio away."""
        self._settings.put("geometry", bytes(self.saveGeometry().toBase64().data()).decode())
        if self._now:
            self.desks.close()
        super().closeEvent(event)
        QTimer.singleShot(0, QGuiApplication.quit)
