"""A layering changed by hand: layers, coats, cone and body; the colour follows while the hand still moves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoStack

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.desk.printing import Printing
from swatch.desk.sections import Section
from swatch.desk.undoing import Step
from swatch.terms.answers import Prediction, Question
from swatch.terms.boards import Board, BoardTile, BoardZone, Why
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import COOLEST_POSITION, HOTTEST_POSITION, Cone
from swatch.terms.layering import Layer, Layers
from swatch.terms.problems import StudioProblem
from swatch.terms.trial import WhatIfAnswer, WhatIfRequest
from swatch.wording.answers import layers_in_words
from swatch.wording.text import _, say
from swatch.work.first_board import tile_names

REST_MS = 160
"""So long the hand must rest before the colours one step away are asked for."""
MOST_LAYERS = 6
MOST_COATS, COAT = 6.0, 0.5
USUAL_COATS = 2.0


@dataclass(frozen=True, slots=True)
class Held:
    """What is tried, and what it is held against."""

    layers: Layers = ()
    body: str = ""
    cone: Cone | None = None
    target: Lab | None = None
    covariance: Covariance | None = None
    origin: str = ""
    tolerance: float = 2.0

    @property
    def question(self) -> Question | None:
        """What is asked; None while body or cone are not known."""
        return Question(self.layers, self.body, self.cone) if self.body and self.cone is not None else None


class WhatIf(QObject):
    """The layering in hand, its colour, and the colours one step away."""

    changed = Signal()
    """The layering is another."""
    answered = Signal()
    print_wanted = Signal(str)

    def __init__(self, studio: OpenStudio, jobs: Jobs, printing: Printing) -> None:
        super().__init__(studio)
        self._studio, self._jobs, self._printing = studio, jobs, printing
        self.steps = QUndoStack(self)
        self.held = Held()
        self.answer: WhatIfAnswer | None = None
        self.problem: StudioProblem | None = None
        self._before: Held | None = None
        self._job: Job | None = None
        self._again = self._open = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(lambda: self._ask(asides=True))
        studio.opened.connect(self._other_studio)
        studio.written.connect(self._stale)
        studio.changed.connect(self._records_changed)

    # What is in hand

    def take(self, held: Held) -> None:
        """Take a layering in hand."""
        self.steps.clear()
        self._put(held)

    def wake(self) -> None:
        """The place is open: have something in hand, and its colour."""
        self._open = True
        if self.held.question is None:
            bodies, cone = self.bodies(), self._studio.counts.usual_cone
            jars = self.materials()
            layers = (Layer(jars[0], USUAL_COATS),) if jars else ()
            self.take(replace(self.held, layers=layers, body=bodies[0] if bodies else "", cone=cone))
        elif self.answer is None:
            self._ask()

    def sleep(self) -> None:
        """The place is closed."""
        self._open = False
        self._rest.stop()

    def materials(self) -> tuple[str, ...]:
        """Every jar on the shelf."""
        return tuple(sorted(one.name for one in self._studio.evidence.materials))

    def bodies(self) -> tuple[str, ...]:
        """Bodies fired, the most used first."""
        counts = self._studio.counts.bodies
        return tuple(sorted(counts, key=lambda body: (-counts[body], body)))

    def cones(self) -> tuple[Cone, ...]:
        """Cones from one below the coolest fired to one above the hottest, by halves where halves are in use."""
        fired = sorted(self._studio.counts.cones)
        if not fired:
            return ()
        low, high = max(fired[0].position - 1.0, COOLEST_POSITION), min(fired[-1].position + 1.0, HOTTEST_POSITION)
        halves = [low + 0.5 * k for k in range(round(2 * (high - low)) + 1)]
        return tuple(Cone(at) for at in halves if at >= 1.0 or at == int(at))

    def section(self) -> Section | None:
        """The layering in hand as it is drawn."""
        held = self.held
        return self._studio.fired.section(held.layers, held.body, held.cone) if held.cone is not None else None

    # Changes, each a step with a name

    def move(self, at: int, to: int) -> None:
        """Move a layer to another place; both count from the body outward."""
        layers = list(self.held.layers)
        if not (0 <= at < len(layers) and 0 <= to < len(layers)) or at == to:
            return
        name = layers[at].material
        layers.insert(to, layers.pop(at))
        self._step(say(_("Move {material}")).format(material=name), layers=tuple(layers))

    def lay(self, at: int, layer: Layer) -> None:
        """Make one layer another."""
        layers = list(self.held.layers)
        if 0 <= at < len(layers) and layers[at] != layer:
            layers[at] = layer
            self._step(say(_("Change {material}")).format(material=layer.material), layers=tuple(layers))

    def add(self, material: str) -> None:
        """Lay a material on top."""
        if len(self.held.layers) < MOST_LAYERS:
            layers = (*self.held.layers, Layer(material))
            self._step(say(_("Add {material}")).format(material=material), layers=layers)

    def take_off(self, at: int) -> None:
        """Take a layer out."""
        layers = list(self.held.layers)
        if 0 <= at < len(layers):
            name = layers.pop(at).material
            self._step(say(_("Take off {material}")).format(material=name), layers=tuple(layers))

    def fire_to(self, cone: Cone) -> None:
        """Fire to another cone."""
        self._step(say(_("Cone {cone}")).format(cone=cone), cone=cone)

    def stand_on(self, body: str) -> None:
        """Stand on another body."""
        self._step(say(_("Body {body}")).format(body=body), body=body)

    def try_step(self, question: Question) -> None:
        """Take one of the steps away that are offered."""
        self._step(say(_("Try {layers}")).format(layers=layers_in_words(question.layers)),
                   layers=question.layers, body=question.body, cone=question.cone)  # fmt: skip

    def begin_drag(self) -> None:
        """What is changed from now on is one step, until `end_drag`."""
        self._before = self.held

    def end_drag(self) -> None:
        """The hand lets go: what was changed is one step that Undo takes back."""
        before, after, self._before = self._before, self.held, None
        if before is not None and before != after:
            name = say(_("Change {material}")).format(material=layers_in_words(after.layers))
            self.steps.push(Step(name, lambda: self._put(after), lambda: self._put(before)))

    def _step(self, name: str, **changes: object) -> None:
        before, after = self.held, replace(self.held, **changes)  # type: ignore[arg-type]
        if before == after:
            return
        if self._before is not None:
            self._put(after)
        else:
            self.steps.push(Step(name, lambda: self._put(after), lambda: self._put(before)))

    def _put(self, held: Held) -> None:
        if held != self.held:
            self.held = held
            self.changed.emit()
        self._ask()

    # Its colour

    def _ask(self, *, asides: bool = False) -> None:
        """Ask for the colour; while one answer is awaited only the newest question waits."""
        self._rest.stop()
        folder, question = self._studio.folder, self.held.question
        if folder is None or question is None or not self._open or not self._studio.counts.fired:
            return
        if self._job is not None:
            self._again = True
            return
        held = self.held
        bodies = self.bodies()[:3] if asides else ()
        request = WhatIfRequest(question, held.target, held.covariance, held.tolerance, asides, bodies)
        self._job = self._jobs.ask("trial", {"folder": str(folder), "request": request})
        self._job.finished.connect(self._found)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)

    def _found(self, answer: WhatIfAnswer) -> None:
        self.answer, self.problem = answer, None
        self.answered.emit()
        if not answer.request.asides and not self._again:
            self._rest.start()

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self.answer, self.problem = None, error
            self.answered.emit()
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        if self._again:
            self._again = False
            self._ask()

    @property
    def fresh(self) -> bool:
        """Whether the colour shown is that of the layering in hand."""
        return self.answer is not None and self.answer.request.question == self.held.question

    @property
    def said(self) -> Prediction | None:
        """The prediction shown."""
        said = self.answer.said if self.answer is not None else None
        return said if isinstance(said, Prediction) else None

    # Something to do

    def plan(self) -> bool:
        """Plan one tile of it: on record under its number, and its board shown as it is printed."""
        studio, held = self._studio.studio, self.held
        if studio is None or held.question is None or not held.layers:
            return False
        boards = self._printing.boards()
        tiles = [*(one.tile for one in self._studio.tiles()), *(t.tile for board in boards for t in board.tiles)]
        firings = [*(one.name for one in self._studio.evidence.firings), *(board.name for board in boards)]
        (tile,), (name,) = tile_names(tiles, 1), _next_firing(firings)
        zones = (BoardZone("A", held.layers),)
        board = Board(name, held.body, held.cone, (BoardTile(tile, zones, str(Why.ALONE)),))

        def put(records: object) -> bool:
            studio.plan_board(board)
            return records is not None

        if not self._studio.do(put):
            return False
        self.print_wanted.emit(name)
        return True

    # The records

    def _other_studio(self) -> None:
        self.steps.clear()
        self.held, self.answer, self.problem = Held(), None, None
        self.changed.emit()

    def _stale(self) -> None:
        self._rest.stop()
        self._again = False
        if self._job is not None:
            self._job.stop()

    def _records_changed(self) -> None:
        self.answer = None
        if self._open:
            self.changed.emit()
            self._ask()


def _next_firing(names: Sequence[str]) -> tuple[str, ...]:
    return tile_names(names, 1) if names else ("F-1",)
