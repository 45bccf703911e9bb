"""The verdict over the answers: within reach or not, in words, and what holds for all of them."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from swatch.desk.match_wanted import FOOD
from swatch.desk.matching import Matching
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.style import HALF, UNIT
from swatch.screens.widgets import area, column, plain, quiet, row, strong
from swatch.terms.answers import MatchAnswer, ReplaceAnswer
from swatch.wording.answers import chance_in_words, reach_in_words
from swatch.wording.replacing import jars_in_words
from swatch.wording.text import say, say_many


class Verdict(QWidget):
    """Shown only where there are answers."""

    def __init__(self) -> None:
        super().__init__()
        self.words, self.region = strong(wrap=True), quiet(wrap=True)
        self.jars = plain(wrap=True)
        self.shared = CautionLine()
        inside = column(spacing=HALF)
        inside.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        inside.addWidget(self.words)
        inside.addWidget(self.jars)
        inside.addWidget(self.region)
        inside.addWidget(self.shared)
        whole = row(spacing=0)
        whole.addWidget(area("header", inside))
        self.setLayout(whole)
        self.hide()

    def show_verdict(self, matching: Matching) -> None:
        """Say what the answers come to."""
        found = matching.suggestions
        self.setVisible(bool(found))
        if not found:
            return
        answer = matching.answer
        if isinstance(answer, MatchAnswer) and answer.reach is not None and answer.nearest_80 is not None:
            chance = answer.reach_chance or 0.0
            self.words.say(reach_in_words(answer.reach, chance, *answer.nearest_80, answer.request.tolerance))
        else:
            best = found[0]
            text = say(
                "The nearest is likely {low:.1f}–{high:.1f} away; {chance} of its pieces come within "
                "{tolerance:.1f}."
            )
            low, high = best.de00_80
            chance_said = chance_in_words(best.chance_within)
            self.words.say(text.format(low=low, high=high, chance=chance_said, tolerance=best.tolerance))
        plan = answer.plan if isinstance(answer, ReplaceAnswer) else None
        self.jars.setVisible(plan is not None)
        if plan is not None and isinstance(answer, ReplaceAnswer):
            self.jars.say(jars_in_words(plan, answer.material))
        food = any(region in FOOD for region in matching.regions)
        self.region.setVisible(food)
        self.region.say(
            say(
                "Inside, lip, outside touch food or mouth: on top only a glaze whose label claims food use, "
                "beneath nothing whose label says no. Nearer ones may be left out. A laboratory decides."
            )
            if food
            else ""
        )
        shared = list(matching.shared)
        more = say_many(" and {n} more caution", " and {n} more cautions", len(shared) - 1)
        text = shared[0].rstrip(".") if shared else ""
        if len(shared) > 1:
            text += more.format(n=len(shared) - 1)
        self.shared.show_caution(say("All of them: {caution}.").format(caution=text) if shared else "")
        self.shared.setToolTip("\n".join(shared))
