"""The first page: see the demo, open a studio, or start one's own."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QProgressBar

from swatch.desk.jobs import Job
from swatch.desk.opening import OpenStudio
from swatch.desk.welcoming import Welcoming
from swatch.screens.place import Place
from swatch.screens.style import UNIT
from swatch.screens.widgets import Rule, area, button, column, heading, link, plain, quiet, row, strong
from swatch.wording.jobs import progress_in_words
from swatch.wording.text import say

WIDTH = 560


class Welcome(Place):
    """Three ways in, and the studios opened lately."""

    code = "welcome"
    shows_colour = False
    place_wanted = Signal(str)

    def __init__(self, welcoming: Welcoming, studio: OpenStudio) -> None:
        super().__init__()
        self._welcoming, self._studio = welcoming, studio
        self.demo = button(say("See the demo studio"), welcoming.demo, main=True)
        self.start = button(say("Start mine…"), lambda: self.place_wanted.emit("start"))
        self.open = button(say("Open a studio…"), self._choose)
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.progress.setAccessibleName(say("How far the demo studio is"))
        self.doing = quiet()
        self.cancel = button(say("Cancel"), welcoming.stop)
        inside = column(margins=4 * UNIT, spacing=UNIT)
        inside.addWidget(heading(say("Your tiles, measured. Their colours, mixed and matched.")))
        inside.addWidget(
            plain(
                say(
                    "Photograph test tiles beside a reference card. From their colours this program learns how "
                    "your materials fire over each other, and finds which layering comes nearest a colour, or "
                    "takes the place of a material that can no longer be had. It always says how sure it is."
                ),
                wrap=True,
                size=15,
            )
        )
        inside.addSpacing(UNIT)
        for act, hint in (
            (self.demo, say("A small studio that is entirely invented. Built from its photos in under a minute.")),
            (self.start, say("Your body, your usual firing, your jars: and the first board to fire is planned.")),
            (self.open, say("A studio folder that is there already.")),
        ):
            line = row(spacing=2 * UNIT)
            act.setFixedWidth(200)
            line.addWidget(act)
            line.addWidget(quiet(hint, wrap=True), 1)
            inside.addLayout(line)
        self._busy = row(spacing=2 * UNIT)
        self._busy.addWidget(self.doing, 1)
        self._busy.addWidget(self.progress)
        self._busy.addWidget(self.cancel)
        inside.addLayout(self._busy)
        self._rule = Rule()
        inside.addWidget(self._rule)
        self._recent_title = strong(say("Opened lately"))
        inside.addWidget(self._recent_title)
        self._recent = column(spacing=0)
        inside.addLayout(self._recent)
        middle = area("raised", inside, WIDTH + 8 * UNIT)
        beside = row(spacing=0)
        beside.addStretch(1)
        beside.addWidget(middle)
        beside.addStretch(1)
        around = column()
        around.addStretch(1)
        around.addLayout(beside)
        around.addStretch(2)
        self.setLayout(around)
        welcoming.building_changed.connect(self._follow)
        studio.opened.connect(self._list_recent)
        self._list_recent()
        self._follow()

    def heading(self) -> tuple[str, str]:
        """Greets."""
        return say("Welcome"), say("Swatch: colours of a ceramic studio")

    def come(self) -> None:
        """Put the keyboard on the first step."""
        self._list_recent()
        self.demo.setFocus()

    def _list_recent(self) -> None:
        while (item := self._recent.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        recent = self._welcoming.recent()
        self._rule.setVisible(bool(recent))
        self._recent_title.setVisible(bool(recent))
        for folder in recent[:5]:
            one = link(folder.name.replace("&", "&&"), partial(self._studio.open, folder))
            one.setToolTip(str(folder))
            self._recent.addWidget(one)

    def _choose(self) -> None:
        folder = QFileDialog.getExistingDirectory(self, say("Open a studio"))
        if folder:
            self._studio.open(Path(folder))

    def _follow(self) -> None:
        job = self._welcoming.job
        for widget in (self.doing, self.progress, self.cancel):
            widget.setVisible(job is not None)
        self.demo.setDisabled(job is not None)
        if job is not None:
            job.progressed.connect(self._progressed)
            self._say(job)

    def _progressed(self) -> None:
        job = self._welcoming.job
        if job is not None:
            self._say(job)

    def _say(self, job: Job) -> None:
        done, total, what = job.progress
        self.doing.say(progress_in_words(job.name, done, total, what))
        self.progress.setRange(0, total)
        self.progress.setValue(done)
