"""Photos in hand: the photo large, its zones as readings beside it, one button to keep them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QUndoStack
from PySide6.QtWidgets import QMenu, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from swatch.desk.measuring import Measuring
from swatch.desk.photo_shapes import Callout, Outline, Points, square_at
from swatch.desk.photo_work import PhotoWork, State
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.photo_canvas import PhotoCanvas, Tool
from swatch.screens.flow import Flow
from swatch.screens.photo_facts import (
    before_keeping,
    card_learnt_in_words,
    card_note,
    facts_of,
    hint_in_words,
    keep_in_words,
    state_in_words,
    trouble_in_words,
    unseen_in_words,
)
from swatch.screens.photo_strip import FrontsOrBacks, PhotoStrip
from swatch.screens.photos_on_record import MeasureAgain
from swatch.screens.place import Place
from swatch.screens.readings_list import ReadingsList, warning_of
from swatch.screens.style import CAPTION, UNIT, look
from swatch.screens.widgets import Empty, area, button, column, link, plain, quiet, row, strong
from swatch.screens.zone_entry import JarShelf, StillLacking, ZoneForm
from swatch.wording.problems import notice_in_words
from swatch.wording.text import say, say_many

READINGS = 408


class PhotoWorkspace(Place):
    """Opens when photos are dropped anywhere."""

    code = "measure"
    photos_wanted = Signal()
    load_wanted = Signal()
    act_wanted = Signal(str, str)

    def __init__(self, measuring: Measuring) -> None:
        super().__init__()
        self._measuring = measuring
        self._shown_preview = ""
        self.canvas = PhotoCanvas()
        self.strip = PhotoStrip(measuring)
        self.shows = FrontsOrBacks(measuring)
        self.shelf = JarShelf(measuring)
        self.list = ReadingsList(measuring)
        self.form = ZoneForm(measuring)
        self.count = strong()
        self.facts = plain(wrap=True)
        self.draw = self._tool(say("Outline zones"), self._draw_zone)
        self.draw.setCheckable(True)
        self.corners = self._tool(say("Mark card corners"), self._mark_card)
        self.neutral = self._tool(say("No card…"), self._mark_neutral)
        self.neutral.setToolTip(say("No card: press on grey or white"))
        self.neutral.setAccessibleName(self.neutral.toolTip())
        for one in (self.corners, self.neutral):
            one.setCheckable(True)
        self.hint = plain(wrap=True)
        self.hint.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, 0)
        self.hint.hide()
        self.leave_out = self._tool(say("Leave zone out"), self._leave_out)
        self.more = self._tool(say("More"), lambda: None)
        self.match = self._tool(say("Match this colour"), measuring.match)
        self.away = self._tool(say("Close photo"), measuring.put_away)
        self.keep = button(say("Keep readings"), measuring.keep, main=True)
        self.keep.setMinimumHeight(48)
        self.lacking = StillLacking(measuring, before_keeping)
        self.trouble = CautionLine()
        self.read_again = button(say("Read again"), measuring.read_again)
        self.see = link("", self._see_tile)
        self.close_kept = link(say("Close photo"), measuring.put_away)
        self.nothing = Empty("", "", self._two_buttons())
        self.stage = QStackedWidget()
        self.stage.addWidget(self.canvas)
        self.stage.addWidget(self.nothing)
        self._one_more, self._path = False, ""
        left = column(spacing=0)
        left.addWidget(self._tools())
        left.addWidget(self.stage, 1)
        left.addWidget(self.hint)
        in_hand = row(spacing=0)
        in_hand.addWidget(self.strip, 1)
        in_hand.addWidget(self.shows)
        left.addLayout(in_hand)
        left.addWidget(self.shelf)
        line = row(spacing=0)
        line.addLayout(left, 1)
        line.addWidget(self._readings())
        self.setLayout(line)
        self.more.setMenu(self._more())
        self._join()
        self._photo_changed()

    def _tool(self, text: str, do: object) -> QPushButton:
        made = button(text, do)  # type: ignore[arg-type]
        made.setProperty("small", True)
        made.setFont(look.font(CAPTION))
        return made

    def _tools(self) -> QWidget:
        line = Flow(spacing=UNIT)
        line.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        marking = (self.draw, self.corners, self.neutral, self.leave_out, self.match)
        for one in (*marking, self.away, self.more):
            line.addWidget(one)
        return area("panel", line)

    def _more(self) -> QMenu:
        menu = QMenu(self.more)
        menu.addAction(say("Open photos…"), self.photos_wanted.emit)
        self.pieces = menu.addAction(say("These are pieces of a load"), self.load_wanted.emit)
        self.again = menu.addAction(say("Measure kept photos again…"), self._measure_again)
        self.learn_card = menu.addAction(say("Learn your card from these photos"), self._measuring.learn_card)
        self.leave_card = menu.addAction(say("Leave the learnt card"), self._measuring.own_card.leave)
        menu.aboutToShow.connect(self._look_at_card)
        return menu

    def _look_at_card(self) -> None:
        own = self._measuring.own_card
        self.pieces.setEnabled(self._measuring.photo is not None)
        self.leave_card.setEnabled(own.in_use)
        self.learn_card.setEnabled(not own.learning and bool(self._measuring.photos))

    def _measure_again(self) -> None:
        MeasureAgain(self._measuring.again, self).show()

    def _readings(self) -> QWidget:
        top = row(spacing=UNIT)
        top.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        top.addWidget(self.count, 1)
        known = quiet(say("known to, ΔE00"))
        known.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        top.addWidget(known, 1)
        inside = column(spacing=0)
        inside.addLayout(top)
        inside.addWidget(self.list, 1)
        inside.addWidget(area("raised", _padded(self.form)))
        foot: QVBoxLayout = column(spacing=UNIT)
        foot.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        after = row(spacing=UNIT)
        after.addWidget(self.see)
        after.addStretch(1)
        after.addWidget(self.close_kept)
        foot.addWidget(self.trouble)
        foot.addWidget(self.read_again)
        foot.addWidget(self.facts)
        foot.addWidget(self.keep)
        foot.addWidget(self.lacking)
        foot.addLayout(after)
        inside.addLayout(foot)
        return area("panel", inside, READINGS)

    def _join(self) -> None:
        measuring = self._measuring
        self.canvas.outline_moved.connect(measuring.move_zone)
        self.canvas.outline_drawn.connect(self._drawn)
        self.canvas.chosen.connect(self._chosen_on_photo)
        self.canvas.remove_asked.connect(measuring.remove_zone)
        self.canvas.acted.connect(self._acted)
        self.canvas.tool_changed.connect(self._tool_changed)
        measuring.photo_changed.connect(self._photo_changed)
        measuring.photos_changed.connect(self._strip_changed)
        measuring.chosen_changed.connect(self._chosen_changed)

    def _two_buttons(self) -> QWidget:
        """What an empty ground offers: photos to open, or the picture once more."""
        self.open_first = button(say("Open photos…"), self.photos_wanted.emit, main=True)
        self.show_again = button(say("Show again"), self._measuring.show_again)
        line = row(spacing=UNIT)
        line.addWidget(self.open_first)
        line.addWidget(self.show_again)
        made = QWidget()
        made.setLayout(line)
        return made

    def _draw_zone(self) -> None:
        self.canvas.set_tool(Tool.RECTANGLE if self.draw.isChecked() else Tool.CHOOSE)

    def _mark_card(self) -> None:
        """The card's corners are pressed one after the other, from patch 1 round the chart."""
        self.canvas.set_tool(Tool.CORNERS if self.corners.isChecked() else Tool.CHOOSE)
        self.canvas.setFocus()

    def _tool_changed(self) -> None:
        if self._one_more and self.canvas.tool is Tool.CHOOSE:
            self._one_more = False
            self.canvas.set_tool(Tool.RECTANGLE)  # one after another, until the button is let go
            return
        self.draw.setChecked(self.canvas.tool is Tool.RECTANGLE)
        self.corners.setChecked(self.canvas.tool is Tool.CORNERS)
        self.neutral.setChecked(self.canvas.tool is Tool.POINT)
        hint = hint_in_words(self.canvas.tool.value, self.canvas.corners_set)
        self.hint.say(hint)
        self.hint.setVisible(bool(hint))

    def _mark_neutral(self) -> None:
        """One press on something neutral stands for the card; Insert sets it in the middle, arrows nudge it."""
        self.canvas.set_tool(Tool.POINT if self.neutral.isChecked() else Tool.CHOOSE)
        self.canvas.setFocus()

    def _drawn(self, points: Points) -> None:
        if len(points) == 1:
            self._measuring.set_neutral(points[0])
        elif self.canvas.tool is Tool.CORNERS:
            self._measuring.move_zone("card", points)
        else:
            self._one_more = self.draw.isChecked()
            self._measuring.draw_zone(points)

    def _see_tile(self) -> None:
        work = self._measuring.photo
        if work is not None and work.kept:
            self.act_wanted.emit("tile", work.kept[0].tile)

    def _chosen_on_photo(self, key: str) -> None:
        if key and key not in ("card", "neutral"):
            self._measuring.choose(key)

    def _acted(self, key: str, action: str) -> None:
        self._measuring.choose(key)
        if action == "leave":
            self._leave_out()
        self.canvas.set_callout(None)

    def _leave_out(self) -> None:
        entry = self._measuring.entry
        if entry is not None:
            name = say("Leave out") if entry.wanted else say("Take in")
            self._measuring.write(name, wanted=not entry.wanted)

    # What is shown

    def _strip_changed(self) -> None:
        self.headed.emit()

    def _photo_changed(self) -> None:
        work = self._measuring.photo
        path = str(work.path) if work is not None else ""
        if path != self._path and (not path or self.canvas.tool is not Tool.RECTANGLE):
            self._one_more = False
            self.canvas.set_tool(Tool.CHOOSE)
        self._path = path
        outlined = work is not None and not work.unseen and work.fronts is None
        self.draw.setEnabled(outlined and work is not None and not work.refused)
        self.corners.setEnabled(outlined)
        self.away.setEnabled(work is not None)
        self.neutral.setEnabled(outlined)
        self._show_stage(work)
        preview = str(work.preview) if work is not None and work.preview is not None else ""
        if preview != self._shown_preview or (
            work is not None and work.read is not None and self._fresh_size(work)
        ):
            self._show_picture(work, preview)
        self._show_outlines(work)
        self._say_facts(work)
        self._chosen_changed()
        self.headed.emit()

    def _show_stage(self, work: PhotoWork | None) -> None:
        """The photo, or why there is none and what to do about it."""
        happened, next_step = say("Drop photos here"), say("Photos of tiles beside a reference card.")
        if work is not None:
            happened, next_step = unseen_in_words(work)
        self.nothing.sentence.say(happened)
        self.nothing.hint.say(next_step)
        self.open_first.setVisible(work is None)
        self.show_again.setVisible(work is not None)
        self.stage.setCurrentWidget(self.canvas if work is not None and not work.unseen else self.nothing)

    def _fresh_size(self, work: PhotoWork) -> bool:
        return work.read is not None and bool(self._shown_preview) and self.canvas.photo != work.read.size

    def _show_picture(self, work: PhotoWork | None, preview: str) -> None:
        image = QImage(preview) if preview else QImage()
        size = work.read.size if work is not None and work.read is not None else None
        self.canvas.set_photo(image, size)
        self._shown_preview = preview

    def _show_outlines(self, work: PhotoWork | None) -> None:
        outlines: list[Outline] = []
        sized = work is not None and work.read is not None and self.canvas.photo == work.read.size
        if work is not None and sized:
            corners = work.corners or (work.read.card.corners if work.read and work.read.card else None)
            if work.neutral is not None:
                mark = square_at(work.neutral, max(work.read.size)) if work.read is not None else ()
                outlines.append(Outline("neutral", say("Grey"), mark))
            elif corners is not None:
                outlines.append(Outline("card", say("Card"), corners, card=True, note=card_note(work)))
            for zone in work.zones:
                if zone.wanted:
                    warned = bool(warning_of(work, zone))
                    outlines.append(Outline(zone.key, zone.name, zone.polygon, warned=warned))
            outlines += [Outline(f"back {one.tile}", one.tile, one.polygon) for one in work.backs]
        self.canvas.set_outlines(outlines)

    def _say_facts(self, work: PhotoWork | None) -> None:
        zones = work.zones if work is not None else ()
        read = sum(work.reading(zone.key) is not None for zone in zones) if work is not None else 0
        self.count.say(say_many("{n} reading", "{n} readings", read).format(n=read))
        self.trouble.show_caution(trouble_in_words(work))
        self.read_again.setVisible(work is not None and work.state in (State.FAILED, State.WAITING))
        own = self._measuring.own_card
        learnt = card_learnt_in_words(own.learnt) if work is not None and own.in_use else ""
        facts = "\n".join(filter(None, (facts_of(work), learnt)))
        self.facts.say(facts)
        self.facts.setVisible(bool(facts))
        backs = self._measuring.backs_to_keep()
        kept = work is not None and work.is_kept and bool(work.kept)
        self.keep.setEnabled(work is not None and not work.is_kept and bool(backs or work.keepable()))
        text = keep_in_words(work, backs)
        self.keep.setText(text)
        self.keep.setAccessibleName(text)
        see = say("See {tile} in Tiles").format(tile=work.kept[0].tile) if work is not None and kept else ""
        self.see.setText(see.replace("&", "&&"))
        self.see.setAccessibleName(see)
        self.see.setVisible(kept)
        self.close_kept.setVisible(kept)

    def _chosen_changed(self) -> None:
        key, work = self._measuring.chosen, self._measuring.photo
        self.canvas.choose(key)
        entry = work.entry(key) if work is not None else None
        self.leave_out.setEnabled(entry is not None)
        self.leave_out.setText(say("Leave zone out") if entry is None or entry.wanted else say("Take zone in"))
        read = work.reading(key) if work is not None else None
        self.match.setEnabled(read is not None)
        callout = None
        if entry is not None and read is not None and read.warnings and entry.wanted:
            happened, next_step = notice_in_words(read.warnings[0])
            leave = say("Leave out {zone}").format(zone=entry.name)
            keep = say("Keep, known to {u:.1f} ΔE00").format(u=work.known_to(key) if work is not None else 0.0)
            callout = Callout(key, happened, next_step, (("leave", leave), ("keep", keep)))
        self.canvas.set_callout(callout)

    def heading(self) -> tuple[str, str]:
        """Which photo, and how far it is."""
        work, photos = self._measuring.photo, self._measuring.photos
        if work is None:
            return say("Measure"), say("Drop photos of tiles beside a reference card, or open some.")
        text = say("Photo {n} of {total}: {name}, {state}.").format(
            n=self._measuring.shown + 1, total=len(photos), name=work.path.name, state=state_in_words(work)
        )
        return say("Measure"), text.replace("….", "…")

    def foot(self) -> str:
        """The size of the photo."""
        work = self._measuring.photo
        if work is None or work.read is None:
            return say("Insert adds a zone, arrow keys nudge it, Enter types its place, Delete removes it.")
        wide, high = work.read.size
        return say("{name}, {mp:.1f} megapixels").format(name=work.path.name, mp=wide * high / 1e6)

    def in_hand(self) -> QUndoStack | None:
        """Outlines and entries can be taken back until they are kept."""
        return self._measuring.steps

    def come(self) -> None:
        """Jars as they are now."""
        self.shelf.stock()
        self.canvas.setFocus()


def _padded(inside: QWidget) -> QVBoxLayout:
    whole = column(spacing=0)
    whole.addWidget(inside)
    return whole
