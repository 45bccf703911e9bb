"""A target and its limits, and the layerings from stock that come nearest; never an answer to another question."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoStack

from swatch.desk.answer_rows import AnswerRow, AnswerRows, answer_row
from swatch.desk.fired import FiredColours
from swatch.desk.jobs import Job, Jobs
from swatch.desk.match_wanted import Wanted, kinds_of, regions_of, request_of, use_in_words, wanted_tests
from swatch.desk.opening import OpenStudio
from swatch.desk.plane import Plane, PlanePoint
from swatch.desk.planning import TestsWanted
from swatch.desk.undoing import Step
from swatch.desk.what_if import Held
from swatch.terms.answers import MatchAnswer, ReplaceAnswer, Suggestion, Use
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion
from swatch.terms.evidence import Evidence
from swatch.terms.materials import Status
from swatch.terms.problems import StudioProblem
from swatch.wording.answers import layers_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

MOST_OWN = 300
"""Own tiles drawn on the plane: a faint ground, thinned evenly where there are more."""
WAIT_MS = 250
"""A search starts this long after the last touch of a control."""


BOARD_TABLES = frozenset({"board", "slot", "slot_layer", "ware", "zone", "layer", "material", "body"})
"""What planning tiles touches: nothing that an answer rests on, where the evidence is the same."""


class Matching(QObject):
    """The state of the place Match: what is wanted, what was found, which row is chosen."""

    wanted_changed = Signal()
    found_changed = Signal()
    """Rows, state or chosen use are others now."""
    chosen_changed = Signal()
    bug = Signal(object)

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.steps = QUndoStack(self)
        self.rows = AnswerRows(self)
        self.wanted = Wanted()
        self.problem: StudioProblem | None = None
        self.answer: MatchAnswer | ReplaceAnswer | None = None
        self.fired: FiredColours = FiredColours()
        self._suggestions: tuple[Suggestion, ...] = ()
        self.shared: tuple[str, ...] = ()
        """Cautions that hold for every answer: said once over them, not on each."""
        self._regions: tuple[EditionRegion, ...] = ()
        self._stash: _Stash | None = None
        self._shown_target: Lab | None = None
        self._use = 0
        self._chosen = 0
        self._job: Job | None = None
        self._asked = False
        self._settled = False
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self.find)
        studio.opened.connect(self._other_studio)
        studio.written.connect(self._records_written)
        studio.changed.connect(self._records_changed)

    # What is wanted

    def want(self, name: str, **changes: Any) -> None:
        """Change what is wanted, as one named step that Undo takes back."""
        before, after = self.wanted, replace(self.wanted, **changes)
        if after != before:
            self.steps.push(Step(name, lambda: self._put(after), lambda: self._put(before)))

    def want_colour(self, target: Lab, origin: str, covariance: Covariance | None = None, **limits: Any) -> None:
        """Look for a colour; `origin` says where it comes from."""
        self.want(
            say(_("Look for {origin}")).format(origin=origin),
            target=target,
            covariance=covariance,
            origin=origin,
            replaces="",
            **limits,
        )

    def want_replacement(self, material: str) -> None:
        """Look for what could take the place of a material, in every use of it."""
        self.want(
            say(_("Look for a stand-in for {material}")).format(material=material),
            target=None,
            covariance=None,
            origin=material,
            replaces=material,
        )

    def widen(self) -> None:
        """Go on from one use of the material being replaced with a search under limits of one's own."""
        use = self.use
        if use is None:
            return
        material = self.wanted.replaces
        self.want_colour(
            use.lab,
            material,
            body=use.question.body,
            cone=use.question.cone,
            regions=self.regions,
            leave_out=self.wanted.leave_out | {material},
        )

    def _put(self, wanted: Wanted) -> None:
        self.wanted = wanted
        self._forget()
        self.wanted_changed.emit()
        self._look_soon()

    def bodies(self) -> tuple[str, ...]:
        """Bodies the studio knows."""
        return self._studio.bodies

    def cones(self) -> tuple[Cone, ...]:
        """Cones the studio fires to."""
        cones = {f.cone_asked for f in self._studio.evidence.firings} | self._studio.counts.at_cones
        return tuple(sorted(cone for cone in cones if cone is not None))

    def in_stock(self) -> tuple[str, ...]:
        """Materials that layerings can be made of."""
        return tuple(m.name for m in self._studio.evidence.materials if m.status is Status.IN_STOCK)

    def all_materials(self) -> tuple[str, ...]:
        """Every material of the studio; any may have to be replaced."""
        return tuple(m.name for m in self._studio.evidence.materials)

    # What was found

    @property
    def looking(self) -> bool:
        """Whether a search is under way or about to start."""
        return self._job is not None or self._wait.isActive()

    @property
    def uses(self) -> Sequence[Use]:
        """Where the material being replaced is used."""
        return self.answer.uses if isinstance(self.answer, ReplaceAnswer) else ()

    @property
    def use(self) -> Use | None:
        """The use whose stand-ins are shown."""
        return self.uses[self._use] if self._use < len(self.uses) else None

    @property
    def use_number(self) -> int:
        """Which of the uses that is."""
        return self._use

    @property
    def regions(self) -> tuple[str, ...]:
        """The parts of a piece the answers are for; some keep to what labels claim about food."""
        return kinds_of(regions_of(self.use, self._regions)) if self.use is not None else self.wanted.regions

    def named_uses(self) -> list[str]:
        """The uses by the pieces they are on."""
        return [use_in_words(use, regions_of(use, self._regions)) for use in self.uses]

    def show_use(self, number: int) -> None:
        """Show the stand-ins for another use."""
        if 0 <= number < len(self.uses):
            self._use = number
            self._show(self.uses[number].suggestions, self.uses[number].lab)

    @property
    def target(self) -> Lab | None:
        """The colour all rows are held against."""
        if self.use is not None:
            return self.use.lab
        cone = self._studio.counts.usual_cone
        if self.wanted.replaces and cone is not None:
            return self._studio.fired.material(self.wanted.replaces, cone)
        return self.wanted.target

    @property
    def body(self) -> str:
        """The body the answers stand on."""
        return self.use.question.body if self.use is not None else self.wanted.body

    @property
    def suggestions(self) -> tuple[Suggestion, ...]:
        """The layerings found, nearest first."""
        return self._suggestions

    @property
    def chosen(self) -> Suggestion | None:
        """The layering looked at closely."""
        return self._suggestions[self._chosen] if self._chosen < len(self._suggestions) else None

    @property
    def chosen_row(self) -> int:
        """Its row."""
        return self._chosen

    def plane(self) -> Plane:
        """Target, answers and the studio's own fired tiles on the plane of a* and b*."""
        points = [
            PlanePoint(n, layers_in_words(p.question.layers), p.lab, p.covariance)
            for n, p in enumerate((one.prediction for one in self._suggestions), 1)
        ]
        own = self._studio.counts.fired_labs
        return Plane(self.target, tuple(points), tuple(own[:: -(-len(own) // MOST_OWN) or 1]))

    def choose(self, row: int) -> None:
        """Look at one layering closely."""
        if 0 <= row < len(self._suggestions) and row != self._chosen:
            self._chosen = row
            self.chosen_changed.emit()

    def trial(self) -> Held | None:
        """The chosen layering and the target, to be changed by hand."""
        if self.chosen is None:
            return None
        asked, wanted = self.chosen.prediction.question, self.wanted
        doubt = wanted.covariance if self.use is None else None
        origin = self.wanted.origin
        return Held(asked.layers, asked.body, asked.cone, self.target, doubt, origin, wanted.tolerance)

    def tests(self) -> TestsWanted:
        """What tiles would have to be fired for to know."""
        return wanted_tests(self.wanted, self.uses)

    def find(self) -> None:
        """Look now for what is wanted."""
        self._wait.stop()
        self._settled = False
        folder = self._studio.folder
        if folder is None or not self.wanted.complete:
            return
        self._forget()
        self._ask(folder, in_haste=True)

    def _ask(self, folder: Path, in_haste: bool) -> None:
        """Ask for what is wanted; in haste, an answer may come from the last fit, marked as provisional."""
        wanted = self.wanted
        if wanted.replaces:
            asked: dict[str, Any] = {"folder": str(folder), "material": wanted.replaces, "top": wanted.top}
            asked["in_haste"] = in_haste
            self._job = self._jobs.ask("replace", asked)
        else:
            asked = {"folder": str(folder), "request": request_of(wanted), "in_haste": in_haste}
            self._job = self._jobs.ask("match", asked)
        self._job.finished.connect(self._found)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.found_changed.emit()

    def stop(self) -> None:
        """Stop looking."""
        self._wait.stop()
        self._settled = True
        if self._job is not None:
            self._job.stop()
        self.found_changed.emit()

    def _found(self, answer: MatchAnswer | ReplaceAnswer) -> None:
        self.answer, self._use = answer, 0
        self.fired = self._studio.fired
        if isinstance(answer, ReplaceAnswer):
            use = self.use
            self._show(use.suggestions if use is not None else (), self.target)
        else:
            self._show(answer.suggestions, self.target)

    def _show(self, suggestions: tuple[Suggestion, ...], target: Lab | None) -> None:
        self._suggestions, self._chosen = suggestions, 0
        heads = [_cautions(one) for one in suggestions]
        self.shared = tuple(c for c in heads[0] if all(c in of for of in heads)) if len(heads) > 1 else ()
        rows = [self._row(n, one, target) for n, one in enumerate(suggestions, 1)] if target is not None else []
        self.rows.show(target, rows)
        self.found_changed.emit()
        self.chosen_changed.emit()

    def _row(self, rank: int, suggestion: Suggestion, target: Lab) -> AnswerRow:
        question = suggestion.prediction.question
        own = [caution for caution in _cautions(suggestion) if caution not in self.shared]
        section = self.fired.section(question.layers, question.body, question.cone)
        return answer_row(rank, suggestion, target, section, own[0] if own else "")

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self.problem = error
            self.found_changed.emit()
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        folder = self._studio.folder
        if self.provisional and not self._settled and folder is not None:
            self._settled = True  # asked once only, however it ends
            self._ask(folder, in_haste=False)
        self.found_changed.emit()

    @property
    def provisional(self) -> bool:
        """Whether the answer shown comes from the last fit, until the full one is there."""
        return self.answer is not None and self.answer.provisional

    def _forget(self) -> None:
        """Drop the answer: it belongs to another question."""
        if self._job is not None:
            self._job.stop()
        held = self.problem is not None or self.answer is not None or bool(self._suggestions)
        if not held and self._shown_target == self.wanted.target:
            return
        self.problem, self.answer, self._use = None, None, 0
        self._suggestions, self._chosen, self.shared = (), 0, ()
        self._shown_target = self.wanted.target
        self.rows.show(self.wanted.target, ())
        self.found_changed.emit()
        self.chosen_changed.emit()

    @property
    def _sought(self) -> bool:
        return self.answer is not None or self.looking

    def _look_soon(self) -> None:
        if self.wanted.complete:
            self._wait.start()

    def _other_studio(self) -> None:
        self.steps.clear()
        self.wanted = Wanted()
        self._forget()
        self.wanted_changed.emit()

    def _records_written(self) -> None:
        """What was found rested on other records; whether on others that matter is known once they are read."""
        self._asked = self._asked or self._sought
        if self.answer is not None and self._job is None and not self._wait.isActive():
            self._stash = _Stash(self._studio.evidence, self.wanted, self.answer, self._use, self._chosen)
        self._wait.stop()
        self._forget()

    def _records_changed(self) -> None:
        """The records are read: look again for what was found in the former ones."""
        studio = self._studio.studio
        self._regions = tuple(studio.editions()) if studio is not None else ()
        bodies, cones = self.bodies(), self.cones()
        body = self.wanted.body if self.wanted.body in bodies else (bodies[0] if bodies else "")
        cone = self.wanted.cone if self.wanted.cone in cones else (cones[-1] if cones else None)
        self.wanted = replace(self.wanted, body=body, cone=cone)
        stale, self._asked = self._asked or self._sought, False
        stash, self._stash = self._stash, None
        self._forget()
        self.wanted_changed.emit()
        same = stash is not None and stash.wanted == self.wanted and stash.evidence == self._studio.evidence
        if stash is not None and same and studio is not None and studio.touched <= BOARD_TABLES:
            self._found(stash.answer)
            self.show_use(stash.use)
            self.choose(stash.chosen)
        elif stale:
            self._look_soon()


@dataclass(frozen=True)
class _Stash:
    """An answer put by while the records are read."""

    evidence: Evidence
    wanted: Wanted
    answer: MatchAnswer | ReplaceAnswer
    use: int
    chosen: int


def _cautions(suggestion: Suggestion) -> list[str]:
    return [notice_in_words(caution)[0] for caution in suggestion.prediction.cautions]
