"""The shelf: every material with its colours by cone, what is left, and what it is used in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from swatch.desk.counts import COATS, Counts
from swatch.desk.jar_list import by_what_is_said, read_jars
from swatch.desk.jobs import Job, Jobs
from swatch.desk.kiln_draws import draws_of
from swatch.desk.material_rows import Cell, MaterialRow, MaterialRows
from swatch.desk.opening import OpenStudio
from swatch.desk.planning import TILES, TestsWanted
from swatch.terms.answers import Prediction, Question
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layer, fold_name
from swatch.terms.materials import Kind, Material, Status
from swatch.terms.next_tests import NextRequest
from swatch.terms.problems import StudioProblem
from swatch.wording.text import _, say

if TYPE_CHECKING:
    from swatch.library.studio import Studio

DRAWS_IN_A_CELL = 6
EDITED = frozenset({"kind", "cone_from", "cone_to", "food_label", "food_label_cone", "density_g_per_ml"})
"""What is written down of a material by hand, besides its name."""


@dataclass(frozen=True, slots=True)
class MaterialUse:
    """Where a material is used."""

    name: str
    detail: str = ""


@dataclass
class _Known:
    predicted: dict[Question, Prediction] = field(default_factory=dict)
    asked: set[Question] = field(default_factory=set)


class Materials(QObject):
    """The shelf, the body it is looked at on, and the chosen material."""

    shown = Signal()
    chosen_changed = Signal()
    relearnt = Signal()
    """The full fit is there: what the last one said of the materials is stale."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.rows = MaterialRows(self)
        self.body = ""
        self.text = ""
        self.chosen_name = ""
        self._known = _Known()
        self._job: Job | None = None
        self._wanted = False
        self._stale = True
        self.provisional = False
        """Whether the predictions come from the last fit, until the full one is there."""
        self._learning: Job | None = None
        self._learnt = False
        studio.opened.connect(self._other_studio)
        studio.written.connect(self._stop)
        studio.changed.connect(self._records_changed)

    # What is shown

    @property
    def cones(self) -> tuple[Cone, ...]:
        """The cones of the columns: those the studio fires to, four at most, the hottest."""
        cones: set[Cone | None] = {*self._studio.counts.cones}
        cones |= {firing.cone_asked for firing in self._studio.evidence.firings}
        return tuple(sorted(cone for cone in cones if cone is not None))[-4:]

    def bodies(self) -> tuple[str, ...]:
        """Bodies the shelf can be looked at on, the most used first."""
        return self._studio.bodies

    def look_on(self, body: str) -> None:
        """Look at the shelf on another body."""
        self.body = body
        self._lay()
        self._predict()

    def search(self, text: str) -> None:
        """Show materials whose name holds the words."""
        self.text = text
        self._lay()

    @property
    def chosen(self) -> Material | None:
        """The material looked at closely."""
        return next((m for m in self._studio.evidence.materials if m.name == self.chosen_name), None)

    def choose(self, name: str) -> None:
        """Look at one material closely."""
        if name != self.chosen_name:
            self.chosen_name = name
            self.chosen_changed.emit()
            self._predict()

    @property
    def awake(self) -> bool:
        """Whether the place is open."""
        return self._wanted

    def wake(self) -> None:
        """The place is open: show the shelf as it is now, and predict what is not measured."""
        self._wanted = True
        self._freshen()
        self.chosen_changed.emit()

    def sleep(self) -> None:
        """The place is closed: nothing is worked out until it opens again."""
        self._wanted = False

    @property
    def usual_cone(self) -> Cone | None:
        """The cone most readings were fired to."""
        return self._studio.counts.usual_cone

    def uses(self) -> list[MaterialUse]:
        """Where the chosen material is used: regions of editions, then tiles."""
        if self.chosen is None or self._studio.studio is None:
            return []
        name = fold_name(self.chosen.name)
        out = [
            MaterialUse(f"{region.edition}, {region.region}", str(region.planned or ""))
            for region in self._studio.studio.editions()
            if any(fold_name(layer.material) == name for layer in region.layers)
        ]
        return out

    def tiles_with(self, name: str) -> int:
        """How many tiles carry a material."""
        return len(self._studio.counts.tiles_with.get(fold_name(name), ()))

    def tests(self, name: str = "") -> TestsWanted | None:
        """What tiles to know a material by, or to learn most from, are fired for; None where nothing is fired."""
        cone = self.usual_cone
        if not self.body or cone is None:
            return None
        origin = say(_("what {material} does")).format(material=name) if name else say(_("what teaches the most"))
        return TestsWanted(NextRequest(TILES, body=self.body, cone=cone, material=name), origin)

    # Changes

    def set_status(self, status: Status) -> None:
        """Say whether the chosen material can be had."""
        name = self.chosen_name
        self._studio.do(lambda studio: studio.set_status(name, status))

    def edit(self, value: Material) -> bool:
        """Write down anew what the chosen material is; False where something stands against it."""
        name = self.chosen_name
        if not self._studio.do(lambda studio: _edit(studio, name, value)):
            return False
        self.choose(" ".join(value.name.split()))
        return True

    def weigh(self, left_g: float) -> None:
        """Say how much is left of the chosen material."""
        if self.chosen is not None:
            value = Material(self.chosen.name, left_g=left_g)
            self._studio.do(lambda studio: studio.put_materials([value], frozenset({"left_g"})))

    def add_list(self, text: str) -> int:
        """Add jars from a list, one a line: a name and, after a comma, what it is; gives how many were read."""
        values = read_jars(text)
        for some, given in by_what_is_said(values):
            self._studio.do(partial(_put, some, given))
        return len(values)

    # Within

    def _other_studio(self) -> None:
        self._known, self.body, self.chosen_name, self.text = _Known(), "", "", ""

    def _stop(self) -> None:
        """What is being predicted rests on other records."""
        for job in (self._job, self._learning):
            if job is not None:
                job.stop()
        self._learning, self._learnt, self.provisional = None, False, False

    def _records_changed(self) -> None:
        self._known = _Known()
        self._stale = True
        if self._wanted:
            self._freshen()

    def _freshen(self) -> None:
        """Lay the shelf anew where the records have changed since."""
        if self._stale:
            self._stale = False
            bodies = self.bodies()
            if self.body not in bodies:
                self.body = bodies[0] if bodies else ""
            self._lay()
            self.chosen_changed.emit()
        self._predict()

    def _lay(self) -> None:
        evidence, cones = self._studio.evidence, self.cones
        words = fold_name(self.text).split()
        counts = self._studio.counts
        rows = [
            MaterialRow(
                material,
                tuple(self._cell(material.name, self.body, cone, counts.single) for cone in cones),
                self.tiles_with(material.name),
                _raw(material, counts),
            )
            for material in sorted(evidence.materials, key=lambda m: (m.status is Status.IN_STOCK, m.name))
            if all(word in fold_name(f"{material.name} {material.kind or ''} {material.status}") for word in words)
        ]
        self.rows.show_rows(rows)
        if self.chosen is None and rows:
            self.chosen_name = rows[0].material.name
            self.chosen_changed.emit()
        self.shown.emit()

    def _cell(self, name: str, body: str, cone: Cone, measured: Mapping[tuple[str, str, float], Lab]) -> Cell:
        found = measured.get((fold_name(name), body, cone.position))
        if found is not None:
            return Cell(found)
        return self._spread(Question((Layer(name, COATS),), body, cone))

    def _spread(self, question: Question) -> Cell:
        prediction = self._known.predicted.get(question)
        return Cell(draws=draws_of(prediction)[:DRAWS_IN_A_CELL]) if prediction is not None else Cell()

    def _questions(self) -> list[Question]:
        measured = self._studio.counts.single
        wanted = [
            Question((Layer(m.name, COATS),), self.body, cone)
            for m in self._studio.evidence.materials
            for cone in self.cones
            if self.body and (fold_name(m.name), self.body, cone.position) not in measured
        ]
        return [question for question in dict.fromkeys(wanted) if question not in self._known.asked]

    def _predict(self) -> None:
        folder = self._studio.folder
        if folder is None or not self._wanted or self._job is not None:
            return
        if not self._learnt and self._learning is None and self._studio.counts.fired:
            self._learn(folder, in_haste=True)
        questions = self._questions()
        if not questions or not self._studio.counts.fired:
            return
        known = self._known
        known.asked |= set(questions)
        self._job = self._jobs.ask("predict", {"folder": str(folder), "questions": questions, "in_haste": True})
        self._job.finished.connect(lambda answers: self._predicted(known, answers))
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)

    def _learn(self, folder: Path, *, in_haste: bool) -> None:
        """Ask whether the tiles are learnt in full; where they are not, have that done behind what is shown."""
        self._learning = self._jobs.ask("learn", {"folder": str(folder), "in_haste": in_haste})
        self._learning.finished.connect(lambda said: self._is_learnt(folder, bool(said["provisional"])))
        self._learning.failed.connect(self._failed)
        self._learning.ended.connect(self._no_longer_learning)

    def _is_learnt(self, folder: Path, provisional: bool) -> None:
        was, self.provisional = self.provisional, provisional
        self._learnt = True
        if provisional:
            self._learn(folder, in_haste=False)
        elif was:
            self._known = _Known()
            self.relearnt.emit()
            self._lay()
            self._predict()
        self.shown.emit()

    def _no_longer_learning(self) -> None:
        if self._learning is self.sender():
            self._learning = None

    def _predicted(self, known: _Known, answers: Sequence[object]) -> None:
        if known is self._known:
            known.predicted |= {a.question: a for a in answers if isinstance(a, Prediction)}
            self._lay()
            self.chosen_changed.emit()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, StudioProblem):  # too few tiles to learn from leaves the cells unknown
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self._predict()


def _put(values: Sequence[Material], given: frozenset[str], studio: Studio) -> None:
    studio.put_materials(values, given)


def _edit(studio: Studio, name: str, value: Material) -> bool:
    studio.edit_material(name, value, EDITED)
    return True


def _raw(material: Material, counts: Counts) -> Lab | None:
    """The raw colour of what keeps it in the fire; a glaze's raw colour tells nothing, so it is not shown."""
    if material.kind not in (Kind.UNDERGLAZE, Kind.SLIP):
        return None
    return material.raw or counts.raw.get(fold_name(material.name))
