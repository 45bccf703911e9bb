"""A window beside the other one: what today's program reads in photos on record, before anything is kept."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QDialog, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from swatch.desk.photos_on_record import MeasuringAgain
from swatch.screens.style import UNIT
from swatch.screens.widgets import button, column, heading, plain, row
from swatch.wording.numbers import number_in_words
from swatch.wording.problems import place_in_words, problem_in_words
from swatch.wording.text import say, say_many


class MeasureAgain(QDialog):
    """The zones that move most stand first."""

    def __init__(self, again: MeasuringAgain, parent: QWidget) -> None:
        super().__init__(parent)
        self._again = again
        self.setWindowTitle(say("Photos on record, measured again"))
        self.setModal(False)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.resize(760, 520)
        self.says = plain(wrap=True)
        self.table = QTableWidget(0, 6)
        self.table.setAccessibleName(say("What would change"))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        head = (say("photo"), say("zone"), say("on record"), say("known to"), say("today"), say("known to"))
        self.table.setColumnCount(len(head) + 1)
        self.table.setHorizontalHeaderLabels([*head, say("moved by, ΔE00")])
        self.keep = button(say("Replace readings"), again.keep, main=True)
        inside = column(margins=3 * UNIT, spacing=UNIT)
        inside.addWidget(heading(say("Photos on record, measured again")))
        inside.addWidget(self.says)
        inside.addWidget(self.table, 1)
        keys = row()
        keys.addStretch(1)
        keys.addWidget(self.keep)
        keys.addWidget(button(say("Close"), self.close))
        inside.addLayout(keys)
        self.setLayout(inside)
        again.changed.connect(self._show)
        self.finished.connect(again.forget)
        again.read()
        self._show()

    def _show(self) -> None:
        zones = self._again.zones()
        self.table.setRowCount(len(zones))
        for n, (photo, zone) in enumerate(zones):
            before = "" if zone.u95_before is None else number_in_words(zone.u95_before)
            colours = (" ".join(map(number_in_words, lab)) for lab in (zone.before, zone.now.lab))
            was, now = colours
            cells = (photo, f"{zone.tile} {zone.zone}", was, before, now, number_in_words(zone.now.u95_de00))
            for column_number, text in enumerate((*cells, number_in_words(zone.moved_de00))):
                self.table.setItem(n, column_number, QTableWidgetItem(text))
        n = len(zones)
        text = say("Replace readings")
        if n:
            text = say_many("Replace {n} reading", "Replace {n} readings", n).format(n=n)
        self.keep.setText(text)
        self.keep.setAccessibleName(text)
        self.keep.setEnabled(n > 0 and not self._again.reading)
        self.says.say(self._in_words())

    def _in_words(self) -> str:
        found = self._again.found
        if self._again.reading:
            return say("Reading…")
        if found is None:
            return ""
        lines = []
        if self._again.zones():
            lines.append(say("Nothing is changed before you replace them; Undo takes it back."))
        for problem in found.problems:
            happened, next_step = problem_in_words(problem)
            lines.append(f"{place_in_words(problem.where)}: {happened} {next_step}".strip())
        return "\n".join(lines)
