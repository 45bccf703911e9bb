"""What is known of the chosen material: its colours by body, cone and coats, how it covers, what moves it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QObject, QTimer, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.kiln_draws import draws_of
from swatch.desk.material_rows import Cell
from swatch.desk.materials import DRAWS_IN_A_CELL, Materials
from swatch.desk.opening import OpenStudio
from swatch.terms.answers import Prediction
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.knowledge import MaterialKnowledge
from swatch.terms.layering import fold_name
from swatch.terms.problems import StudioProblem
from swatch.wording.answers import lab_in_words
from swatch.wording.knowledge import change_in_words, covering_in_words, opacity_in_words
from swatch.wording.layering import cone_in_words
from swatch.wording.text import _, say

WAIT_MS = 350
MOST_BODIES = 3
COATS = (1.0, 2.0, 3.0)


@dataclass(frozen=True, slots=True)
class ConeRow:
    """One cone: a cell for each number of coats, body after body."""

    cone: Cone
    cells: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Moved:
    """A plain colour, the colour a change moves it to, and the change in words."""

    plain: Lab
    changed: Lab
    words: str


@dataclass(frozen=True, slots=True)
class KnownPicture:
    """What is painted: colours by cone, over a light and over a dark ground, and what moves them."""

    bodies: tuple[str, ...] = ()
    cones: tuple[ConeRow, ...] = ()
    grounds: tuple[tuple[Cell, str], ...] = ()
    covers: str = ""
    moves: tuple[Moved, ...] = ()

    def spoken(self) -> str:
        """Everything for who hears instead of sees."""
        parts = []
        for row in self.cones:
            for body, cells in zip(self.bodies, row.cells, strict=True):
                said = ", ".join(_cell_in_words(cell) for cell in cells)
                text = say(_("{body}, {cone}, 1 to 3 coats: {cells}."))
                parts.append(text.format(body=body, cone=cone_in_words(row.cone), cells=said))
        parts += [f"{words}: {_cell_in_words(cell)}." for cell, words in self.grounds]
        parts += [self.covers] if self.covers else []
        return " ".join([*parts, *(one.words for one in self.moves)])


def _cell_in_words(cell: Cell) -> str:
    if cell.measured is not None:
        return say(_("measured {lab}")).format(lab=lab_in_words(cell.measured))
    if cell.draws:
        mean = Lab(*(sum(one[k] for one in cell.draws) / len(cell.draws) for k in range(3)))
        return say(_("predicted about {lab}")).format(lab=lab_in_words(mean))
    return say(_("not known"))


class Knowing(QObject):
    """Asks what is known of the chosen material, a moment after it was chosen, while the shelf is open."""

    changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs, materials: Materials) -> None:
        super().__init__(studio)
        self._studio, self._jobs, self._materials = studio, jobs, materials
        self._known: dict[str, MaterialKnowledge | None] = {}
        self._job: Job | None = None
        self._asked = ""
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self._ask)
        studio.written.connect(self._forget)
        materials.chosen_changed.connect(self._look)
        materials.relearnt.connect(self._relearnt)

    @property
    def knowledge(self) -> MaterialKnowledge | None:
        """What is known of the chosen material; None while that is not known."""
        return self._known.get(self._materials.chosen_name)

    @property
    def asking(self) -> bool:
        """Whether it is being found out."""
        return self._job is not None or self._wait.isActive()

    def _look(self) -> None:
        name = self._materials.chosen_name
        if not self._materials.awake or not name or name in self._known or name == self._asked:
            return
        if self._job is not None:
            self._job.stop()
        self._wait.start()

    def _ask(self) -> None:
        folder, name = self._studio.folder, self._materials.chosen_name
        if folder is None or not name or self._job is not None or not self._studio.counts.fired:
            return
        self._asked = name
        asked = {"folder": str(folder), "material": name, "in_haste": True}
        self._job = self._jobs.ask("knows", asked)
        self._job.finished.connect(self._found)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.changed.emit()

    def _found(self, known: MaterialKnowledge) -> None:
        self._known[self._asked] = known

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._known[self._asked] = None
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job, self._asked = None, ""
        self.changed.emit()
        self._look()

    def _forget(self) -> None:
        self._wait.stop()
        self._known = {}
        if self._job is not None:
            self._job.stop()

    def _relearnt(self) -> None:
        self._forget()
        self._look()

    def picture(self) -> KnownPicture:
        """What is to be painted of the chosen material, measured before predicted."""
        known, name = self.knowledge, self._materials.chosen_name
        bodies = self._materials.bodies()[:MOST_BODIES]
        said = {(one.question.body, one.question.cone, one.question.layers[0].coats): one for one in _of(known)}
        usual = self._materials.usual_cone
        cones = sorted({cone for _body, cone, _coats in said} | ({usual} if usual is not None else set()))
        rows = tuple(
            ConeRow(cone, tuple(tuple(self._cell(name, b, cone, n, said) for n in COATS) for b in bodies))
            for cone in cones
        )
        if known is None:
            return KnownPicture(bodies, rows)
        covering = known.covering
        over = (covering.over_light, covering.over_dark) if covering is not None else ()
        grounds = tuple((_spread(one), _over(one)) for one in over)
        covers = f"{opacity_in_words(covering)} {covering_in_words(covering)}" if covering is not None else ""
        moves = tuple(Moved(one.lab, one.changed, change_in_words(one)) for one in known.sensitivities)
        return KnownPicture(bodies, rows, grounds, covers, moves)

    def _cell(
        self, name: str, body: str, cone: Cone, coats: float, said: dict[tuple[str, Cone, float], Prediction]
    ) -> Cell:
        measured = self._studio.counts.steps.get((fold_name(name), body, cone, coats))
        if measured is not None:
            return Cell(measured)
        one = said.get((body, cone, coats))
        return _spread(one) if one is not None else Cell()


def _of(known: MaterialKnowledge | None) -> tuple[Prediction, ...]:
    return known.swatches if known is not None else ()


def _spread(one: Prediction) -> Cell:
    return Cell(draws=draws_of(one)[:DRAWS_IN_A_CELL])


def _over(one: Prediction) -> str:
    return say(_("over {name}")).format(name=one.question.layers[0].material)
