"""The loads of an edition: which hold the look, which drifted and why, and which pieces stray."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.checking import Checking
from swatch.desk.firing_charts import FILLED, SIGNS
from swatch.screens.components.firings_chart import FiringsChart
from swatch.screens.components.load_strip import LoadStrip, StripLoad
from swatch.screens.components.share_bars import Share, ShareBars
from swatch.screens.plain_list import ROW, PlainList, PlainRow
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import UNIT
from swatch.screens.widgets import Choice, area, button, column, empty, heading, plain, quiet, row, strong
from swatch.terms.holding import LoadCheck, LoadVerdict, PieceCheck, PieceVerdict
from swatch.wording.holding import (
    cause_in_words,
    causes_in_words,
    facts_in_words,
    load_in_words,
    mottled_in_words,
    next_step_in_words,
    piece_verdict_in_words,
    verdict_in_words,
)
from swatch.wording.numbers import number_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say, say_many

LOADS = 304
SMALLEST_CAUSE = 0.03
"""A cause of a smaller share is not worth a bar."""


def row_of(load: LoadCheck) -> PlainRow:
    """A load in the list."""
    sign = "diamond" if SIGNS[load.verdict] == FILLED else "ring" if load.verdict is LoadVerdict.HOLDS else "dot"
    words = say_many("{n} piece: {verdict}", "{n} pieces: {verdict}", load.pieces)
    return PlainRow(load.firing, words.format(n=load.pieces, verdict=verdict_in_words(load.verdict)), sign)


def piece_row(piece: PieceCheck) -> PlainRow:
    """A piece in the list."""
    signs = {PieceVerdict.OFF: "diamond", PieceVerdict.DOUBTFUL: "dot", PieceVerdict.WITHIN: "ring"}
    text = say("{verdict}; most in {region}: {de00} ΔE00").format(
        verdict=piece_verdict_in_words(piece.verdict), region=piece.region, de00=number_in_words(piece.de00)
    )
    name = f"{piece.piece}, {piece.shelf}" if piece.shelf else piece.piece
    return PlainRow(name, text, signs[piece.verdict])


class EditionLoads(Seen):
    """Strip, chart, the list of loads, and one of them closely."""

    def __init__(self, checking: Checking, photograph: Callable[[], object]) -> None:
        super().__init__()
        self._checking = checking
        self.state = plain(wrap=True)
        self.region, self.chart_choice = Choice(say("Region shown")), Choice(say("Chart"))
        self.strip, self.chart = LoadStrip(), FiringsChart()
        self.what = quiet()
        self.list = PlainList(say("Loads, the latest first"))
        self.list.setFixedWidth(LOADS)
        self.title, self.cause = heading(), strong(wrap=True)
        self.shares = ShareBars(say("Likely causes"))
        self.next_step = strong(wrap=True)
        self._facts: QVBoxLayout = column(spacing=UNIT // 2)
        self._missing: QVBoxLayout = column(spacing=UNIT // 2)
        self.pieces = PlainList(say("Pieces of the load, those that stray first"))
        self.pieces_title = strong()
        self.first_photo = button(say("Photograph a load…"), photograph)
        self._region = ""
        self._told = self._lay_out()
        self.region.chosen.connect(self._choose_region)
        self.chart_choice.chosen.connect(checking.choose_chart)
        for one in (self.strip, self.chart, self.list):
            one.chosen.connect(checking.choose_load)
        checking.shown.connect(self.follow)
        checking.load_changed.connect(self.follow)
        self.follow()

    def _lay_out(self) -> QWidget:
        top = row(spacing=UNIT)
        top.addWidget(self.chart_choice)
        top.addWidget(self.what, 1)
        top.addWidget(self.region)
        said = column(spacing=UNIT)
        for one in (self.title, self.cause, self.next_step):
            said.addWidget(one)
        detail = column(spacing=UNIT)
        detail.addWidget(self.shares)
        detail.addLayout(self._facts)
        detail.addLayout(self._missing)
        detail.addWidget(self.pieces_title)
        detail.addWidget(self.pieces)
        detail.addStretch(1)
        beneath = row(spacing=3 * UNIT)
        loads = column(spacing=0)
        loads.addWidget(self.list)
        loads.addStretch(1)
        beneath.addLayout(loads)
        beneath.addLayout(detail, 1)
        told = column(spacing=UNIT)
        told.addLayout(said)
        told.addSpacing(UNIT)
        told.addLayout(top)
        told.addWidget(self.strip)
        told.addWidget(self.chart)
        told.addSpacing(UNIT)
        told.addLayout(beneath)
        whole = QWidget()
        whole.setLayout(told)
        inside = column(spacing=2 * UNIT)
        inside.addWidget(self.state)
        line = row()
        line.addWidget(self.first_photo)
        line.addStretch(1)
        inside.addLayout(line)
        inside.addWidget(whole)
        self.setLayout(inside)
        return whole

    def _choose_region(self, region: object) -> None:
        self._region = str(region)
        self._show_strip()

    @when_seen
    def follow(self) -> None:
        """Show what the desk knows now."""
        checking, answer = self._checking, self._checking.answer
        text = ""
        if checking.problem is not None:
            text = " ".join(problem_in_words(checking.problem))
        elif not checking.measured:
            text = say(
                "No piece has been measured yet. Approve some first: photograph ten to twenty pieces from three "
                "or four firings that show the look. Then photograph six pieces of each load beside one of them."
            )
        elif checking.busy:
            text = say("Checking the loads…") if answer is None else say("Checking again…")
        elif answer is not None and not answer.loads:
            text = say("Approved pieces are known. Now photograph six pieces of a load beside one of them.")
        self.state.say(text)
        self.state.setVisible(bool(text))
        self.first_photo.setVisible(not checking.busy and (answer is None or not answer.loads))
        load = checking.load
        self._told.setVisible(answer is not None and load is not None)
        if answer is None or load is None:
            return
        self._show_list(load)
        self._show_chart(load)
        self._show_strip()
        self._show_load(load, answer.tolerance)
        self._show_pieces()

    def _show_list(self, load: LoadCheck) -> None:
        assert self._checking.answer is not None
        rows = [row_of(one) for one in reversed(self._checking.answer.loads)]
        self.list.show_rows(rows, load.firing)
        self.list.setFixedHeight(ROW * min(len(rows), 8) + 2)

    def _show_chart(self, load: LoadCheck) -> None:
        chart = self._checking.chart
        self.chart.setVisible(chart is not None)
        self.chart_choice.setVisible(chart is not None)
        self.chart_choice.setMinimumWidth(232)
        self.chart_choice.offer(
            [(one.title, one.code) for one in self._checking.charts], chart.code if chart is not None else None
        )
        self.what.say(chart.what if chart is not None else "")
        self.chart.show_chart(chart, load.firing)

    def _show_strip(self) -> None:
        answer = self._checking.answer
        assert answer is not None
        names = list(answer.regions)
        if self._region not in names:
            self._region = self._most_changed()
        self.region.offer([(name, name) for name in names], self._region)
        self.region.setMinimumWidth(144)
        self.region.setVisible(len(names) > 1)
        loads = []
        for load in answer.loads:
            found = next((one for one in load.regions if one.region == self._region), None)
            if load.limit > 0 or found is not None:
                approved, mean = (found.approved, found.load) if found is not None else (None, None)
                loads.append(StripLoad(load.firing, approved, mean))
        self.strip.show_loads(loads, self._region)
        self.strip.setVisible(bool(loads))

    def _most_changed(self) -> str:
        """The region in which the load is farthest from the look; it is shown until another is chosen."""
        load = self._checking.load
        regions = load.regions if load is not None else ()
        return max(regions, key=lambda one: one.de00).region if regions else ""

    def _show_load(self, load: LoadCheck, tolerance: float) -> None:
        self.title.say(load_in_words(load))
        text = causes_in_words(load.causes)
        self.cause.say(f"{text[:1].upper()}{text[1:]}." if text else "")
        self.cause.setVisible(bool(text))
        self.shares.show_shares([
            Share(cause_in_words(one), one.share, one.code == "not-explained")
            for one in load.causes if one.share >= SMALLEST_CAUSE
        ])  # fmt: skip
        text = next_step_in_words(load)
        self.next_step.say(text and say("Next: {step}").format(step=text))
        self.next_step.setVisible(bool(text))
        empty(self._facts)
        mottled = (mottled_in_words(region) for region in load.regions)
        for line in (*facts_in_words(load, tolerance), *(f"{text}." for text in mottled if text)):
            self._facts.addWidget(plain(line, wrap=True))
        empty(self._missing)
        for notice in load.missing:
            happened, step = notice_in_words(notice)
            self._missing.addWidget(plain(happened, wrap=True))
            self._missing.addWidget(quiet(step, wrap=True))

    def _show_pieces(self) -> None:
        found = self._checking.pieces()
        off = sum(one.verdict is PieceVerdict.OFF for one in found)
        text = say_many("{n} piece measured, {off} off", "{n} pieces measured, {off} off", len(found))
        self.pieces_title.say(text.format(n=len(found), off=off))
        rows = [piece_row(one) for one in found]
        self.pieces.show_rows(rows, "")
        self.pieces.setVisible(bool(rows))
        self.pieces.setFixedHeight(ROW * min(len(rows), 6) + 2)


def held(inside: QWidget) -> QWidget:
    """A view on the raised ground, with margins."""
    whole = column(margins=3 * UNIT, spacing=2 * UNIT)
    whole.addWidget(inside)
    whole.addStretch(1)
    return area("raised", whole)
