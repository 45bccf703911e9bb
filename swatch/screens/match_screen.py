"""Name a target colour; see which layerings from stock come closest, and how sure that is."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.footing import WhyAnswer
from swatch.desk.matching import Matching
from swatch.desk.opening import OpenStudio
from swatch.desk.sureness import sureness_of
from swatch.screens.components.answer_list import AnswerList
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.how_sure import HowSure
from swatch.screens.components.section import SectionDetail
from swatch.screens.match_controls import MatchControls
from swatch.screens.match_plane import MatchPlane
from swatch.screens.match_verdict import Verdict
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.why_pane import WhyPane
from swatch.screens.widgets import Rule, area, button, column, empty, plain, quiet, restyle, row, scrolled, strong
from swatch.terms.answers import MatchAnswer, ReplaceAnswer, Suggestion
from swatch.wording.layering import cone_in_words, layering_in_words, question_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say, say_many

DETAIL = 296


class ChosenLayering(QWidget):
    """The chosen layering closely: section, how sure, what to mind."""

    evidence_wanted = Signal(object)

    def __init__(self, why: WhyAnswer) -> None:
        super().__init__()
        self._suggestion: Suggestion | None = None
        self.why = WhyPane(why)
        self.title = strong(wrap=True)
        self.section = SectionDetail()
        self.sure = HowSure()
        self._cautions: QVBoxLayout = column(spacing=4)
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(self.title)
        inside.addWidget(self.section)
        inside.addWidget(self.sure)
        inside.addWidget(Rule())
        inside.addWidget(self.why)
        inside.addWidget(Rule())
        inside.addLayout(self._cautions)
        inside.addStretch(1)
        self._inside = area("raised", inside)
        whole = column(spacing=0)
        whole.addWidget(scrolled(self._inside))
        self.setLayout(whole)
        self.sure.evidence_asked.connect(lambda: self.evidence_wanted.emit(self._suggestion))

    def show_chosen(self, matching: Matching) -> None:
        """Show the chosen layering, or nothing."""
        chosen, target = matching.chosen, matching.target
        self._suggestion = chosen
        self._inside.setVisible(chosen is not None)
        empty(self._cautions)
        if chosen is None or target is None:
            return
        question = chosen.prediction.question
        self.title.say(f"{matching.chosen_row + 1}   {layering_in_words(question.layers)}")
        self.section.show_section(matching.fired.section(question.layers, question.body, question.cone))
        self.sure.show_sureness(sureness_of(chosen, target))
        for caution in chosen.prediction.cautions:
            sentence, next_step = notice_in_words(caution)
            line = CautionLine()
            line.show_caution(sentence)
            self._cautions.addWidget(line)
            if next_step:
                self._cautions.addWidget(quiet(next_step, wrap=True))
        self._cautions.addWidget(
            plain(
                say("No answer here says that a surface is safe for food: only a laboratory's leach test can."),
                wrap=True,
            )
        )


class MatchScreen(Place):
    """Target at the left, answers touching it, the chosen one at the right."""

    code = "match"
    evidence_wanted = Signal(object)
    photos_wanted = Signal()
    place_wanted = Signal(str)
    tests_wanted = Signal(object)
    trial_wanted = Signal(object)
    act_wanted = Signal(str, str)

    def __init__(self, matching: Matching, why: WhyAnswer, studio: OpenStudio) -> None:
        super().__init__()
        self._matching, self._why, self._studio = matching, why, studio
        self.controls = MatchControls(matching)
        self.answers = AnswerList(matching.rows)
        self.plane = MatchPlane(matching)
        self.detail = ChosenLayering(why)
        self.plan = button(say("Plan six test tiles"), lambda: self.tests_wanted.emit(matching.tests()))
        self.plan.setToolTip(say("Chosen together: what one tile misses, another may hit."))
        self.trial = button(say("What if…"), self._try_out)
        right = column(spacing=0)
        right.addWidget(self.plane)
        right.addWidget(self.detail, 1)
        right.addWidget(self._foot())
        line = row(spacing=0)
        line.addWidget(self.controls)
        self.verdict = Verdict()
        middle = column(spacing=0)
        middle.addWidget(self.verdict)
        middle.addWidget(self.answers, 1)
        line.addLayout(middle, 1)
        line.addWidget(area("raised", right, DETAIL))
        self.setLayout(line)
        self.answers.chosen.connect(matching.choose)
        matching.found_changed.connect(self._found)
        matching.wanted_changed.connect(self._found)
        matching.chosen_changed.connect(self._chosen)
        self.controls.sources.photo_wanted.connect(self.photos_wanted)
        self.controls.sources.tile_wanted.connect(lambda: self.place_wanted.emit("tiles"))
        self.controls.all_uses_wanted.connect(lambda: self.place_wanted.emit("stand-ins"))
        self.detail.evidence_wanted.connect(self.evidence_wanted)
        self.detail.why.tile_wanted.connect(lambda tile: self.act_wanted.emit("tile", tile))
        self._found()
        self._chosen()

    def _foot(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        keys = row(spacing=UNIT)
        keys.addWidget(self.trial)
        keys.addWidget(self.plan, 1)
        inside.addWidget(Rule())
        inside.addLayout(keys)
        return area("raised", inside)

    @when_seen
    def _found(self) -> None:
        found = bool(self._matching.suggestions)
        self.plan.setEnabled(found)
        self.trial.setEnabled(found)
        for key, main in ((self.plan, found), (self.controls.find_button, not found)):
            if bool(key.property("main")) != main:  # the accent is on the next step
                key.setProperty("main", main)
                key.setFont(look.font(strong=main))
                restyle(key)
        self._look_for_reasons()
        self.verdict.show_verdict(self._matching)
        self.answers.set_title(self._title())
        self.answers.set_empty_text(self._nothing())
        self.headed.emit()

    def _title(self) -> str:
        n = len(self._matching.suggestions)
        if not n:
            return ""
        return say_many("{n} layering", "{n} nearest, different from each other", n).format(n=n)

    def _nothing(self) -> str:
        matching = self._matching
        if matching.problem is not None:
            return "\n".join(problem_in_words(matching.problem))
        if matching.looking:
            return say("Looking…")
        if isinstance(matching.answer, ReplaceAnswer):
            return say(
                "{material} is not used in any fired tile or edition, so nothing has to take its place."
            ).format(material=matching.answer.material)
        if isinstance(matching.answer, MatchAnswer):
            return say("No layering can be made from what is in stock under these limits.")
        if matching.wanted.complete:
            return say("Press “Find layerings” to look.")
        return say(
            "Choose a target first: take the colour of a tile (Tiles, “Match this colour”), read it from a photo, "
            "type its L*, a* and b*, or name a material to replace."
        )

    @when_seen
    def _chosen(self) -> None:
        self.detail.show_chosen(self._matching)
        self._look_for_reasons()
        chosen = self.answers.view.currentIndex().row()
        if self._matching.chosen is not None and chosen != self._matching.chosen_row:
            self.answers.choose(self._matching.chosen_row)

    def _try_out(self) -> None:
        held = self._matching.trial()
        if held is not None:
            self.trial_wanted.emit(held)

    def _look_for_reasons(self) -> None:
        """Reasons are asked for once no search is under way, lest it waits for them."""
        chosen = self._matching.chosen
        if chosen is None or not self._matching.looking:
            self._why.look_at(chosen.prediction.question if chosen is not None else None)

    def heading(self) -> tuple[str, str]:
        """What is matched, and on what it rests."""
        matching, wanted = self._matching, self._matching.wanted
        if not wanted.complete:
            return say("Match"), say("Which layerings of your materials come nearest a colour.")
        if wanted.replaces:
            text = say("Replacing {material}.").format(material=wanted.replaces)
            if matching.use is not None:
                q = matching.use.question
                text = say("Replacing {use}.").format(use=question_in_words(q.layers, q.body, q.cone))
        else:
            text = say("{origin} on {body} at {cone}.").format(
                origin=wanted.origin, body=wanted.body, cone=cone_in_words(wanted.cone)
            )
        if matching.answer is not None:
            text += " " + say("Learnt from {n} readings.").format(n=matching.answer.learnt_from)
        if matching.provisional:
            text += " " + say("Provisional: the newest tiles are still being learnt.")
        return say("Match"), text

    def foot(self) -> str:
        """How much was searched."""
        answer = self._matching.answer
        if answer is None:
            return ""
        text = say("{n} layerings from {materials} materials in stock, {seconds:.1f} s")
        return text.format(
            n=f"{answer.searched:,}", materials=len(self._matching.in_stock()), seconds=answer.seconds
        )

    def in_hand(self) -> QUndoStack | None:
        """Targets and limits can be taken back."""
        return self._matching.steps

    def come(self) -> None:
        """Keyboard to the answers where there are some; else to the target."""
        (self.answers if self._matching.suggestions else self.controls.another).setFocus()
