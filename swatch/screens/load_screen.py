"""A photo of a load: pieces found beside the card, each with its regions; kept, they are checked."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QImage, QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from swatch.desk.load_photos import LoadPhotos
from swatch.desk.load_subject import BUTTONS
from swatch.desk.photo_shapes import Outline
from swatch.screens.components.photo_canvas import PhotoCanvas
from swatch.screens.photo_facts import card_in_words
from swatch.screens.place import Place
from swatch.screens.plain_list import PlainList, PlainRow
from swatch.screens.seen import when_seen
from swatch.screens.style import CAPTION, UNIT, look
from swatch.screens.widgets import (
    Choice,
    area,
    button,
    column,
    empty,
    labelled,
    plain,
    quiet,
    row,
    scrolled,
    strong,
    text_field,
)
from swatch.terms.measured import Comparison, PhotoRead, PieceSeen, Verdict
from swatch.wording.numbers import number_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say, say_many
from swatch.work.load_entries import LoadEntry

PANEL = 408
FORM_FITS = 0.9


def against_in_words(entry: LoadEntry, read: PhotoRead, approved: str) -> str:
    """How a piece differs from the approved one in the same photo, in the region where it does most."""
    mine = [one for one in read.comparisons if one.zones[0].partition(" ")[0] == entry.seen]
    if not mine or not approved:
        return ""
    most: Comparison = max(mine, key=lambda one: one.de00 if one.told_apart else 0.0)
    mottled = [one for one in mine if one.by_colours_de00 is not None]
    if mottled:
        most = max(mottled, key=lambda one: one.by_colours_de00 or 0.0)
        text = say("{region} mottled: colours {de00} ΔE00 from {piece}")
        facts = {"region": most.zones[0].partition(" ")[2], "de00": number_in_words(most.by_colours_de00 or 0.0)}
        return text.format(piece=approved, **facts)
    if not most.told_apart:
        return say("as {piece}").format(piece=approved)
    region = most.zones[0].partition(" ")[2]
    return say("{region} {de00} ΔE00 from {piece}").format(
        region=region, de00=number_in_words(most.de00), piece=approved
    )


def piece_row(entry: LoadEntry, seen: PieceSeen, read: PhotoRead, approved: str) -> PlainRow:
    """A piece in the list, called by its number in the photo and its name."""
    name = f"{entry.seen}  {entry.name}" if entry.name else say("{n}  left out").format(n=entry.seen)
    if entry.kept:
        return PlainRow(name, say("approved, beside the card"), "ring")
    parts = [entry.shelf or say("no shelf"), against_in_words(entry, read, approved)]
    if seen.alike is not None and seen.alike < FORM_FITS:
        return PlainRow(name, say("outline fits badly: look at its regions"), "warning")
    return PlainRow(name, "; ".join(part for part in parts if part), "dot")


class LoadScreen(Place):
    """The photo large, its pieces beside it, one button to keep them."""

    code = "load"
    photos_wanted = Signal()

    def __init__(self, loads: LoadPhotos) -> None:
        super().__init__()
        self._loads = loads
        self._shown = ("", (0, 0))
        self.canvas = PhotoCanvas()
        self.subject, self.firing = Choice(say("The photo shows pieces of")), Choice(say("From firing"))
        self.approved = Choice(say("Beside the card lies"))
        self.shelves = text_field(say("Shelves in the order of unloading"), say("top, middle, bottom"))
        self.list = PlainList(say("Pieces in the photo, as one reads"))
        self.name, self.shelf = text_field(say("Name of the chosen piece")), text_field(say("Its shelf"))
        self.approve = button(say("Approve this piece"), self._approve)
        self.kept = button(say("This is the approved piece"), self._kept)
        self.leave = button(say("Leave it out"), lambda: self._write(name=""))
        self.everywhere = self._tool(say("Place regions so on every piece"), loads.place_on_all)
        self.cancel = self._tool(say("Cancel reading"), loads.cancel)
        self.open = self._tool(say("Open photos…"), self.photos_wanted.emit)
        self.away = self._tool(say("Put photo away"), loads.put_away)
        self.keep = button(say("Keep readings"), loads.keep, main=True)
        self.keep.setMinimumHeight(48)
        self.title = strong()
        self._facts: QVBoxLayout = column(spacing=UNIT // 2)
        self.setLayout(self._lay_out())
        self._join()
        self.follow()

    def _tool(self, text: str, do: object):  # type: ignore[no-untyped-def]
        made = button(text, do)  # type: ignore[arg-type]
        made.setProperty("small", True)
        made.setFont(look.font(CAPTION))
        return made

    def _lay_out(self) -> QHBoxLayout:
        tools = row(spacing=UNIT)
        tools.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        tools.addWidget(self.everywhere)
        tools.addStretch(1)
        for one in (self.cancel, self.open, self.away):
            tools.addWidget(one)
        left = column(spacing=0)
        left.addWidget(area("panel", tools))
        left.addWidget(self.canvas, 1)
        top = column(spacing=UNIT)
        top.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        top.addLayout(labelled(say("The photo shows pieces of"), self.subject))
        line = row(spacing=UNIT)
        line.addLayout(labelled(say("From firing"), self.firing), 1)
        line.addLayout(labelled(say("Beside the card lies"), self.approved), 1)
        top.addLayout(line)
        top.addLayout(labelled(say("Shelves in the order of unloading"), self.shelves))
        top.addWidget(self.title)
        piece = column(spacing=UNIT)
        piece.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        line = row(spacing=UNIT)
        line.addLayout(labelled(say("Name"), self.name), 1)
        line.addLayout(labelled(say("Shelf"), self.shelf), 1)
        piece.addLayout(line)
        line = row(spacing=UNIT)
        for one in (self.kept, self.approve, self.leave):
            one.setProperty("small", True)
            one.setFont(look.font(CAPTION))
            line.addWidget(one, 1)
        piece.addLayout(line)
        foot = column(spacing=UNIT)
        foot.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, 2 * UNIT)
        facts = scrolled(area("panel", self._facts))
        facts.setMaximumHeight(80)
        foot.addWidget(facts)
        foot.addWidget(self.keep)
        inside = column(spacing=0)
        inside.addLayout(top)
        inside.addWidget(self.list, 1)
        inside.addWidget(area("raised", piece))
        inside.addLayout(foot)
        line = row(spacing=0)
        line.addLayout(left, 1)
        line.addWidget(area("panel", inside, PANEL))
        return line

    def _join(self) -> None:
        loads = self._loads
        self.canvas.outline_moved.connect(loads.move_zone)
        self.canvas.chosen.connect(lambda key: loads.choose(key) if key and key != "card" else None)
        self.subject.chosen.connect(lambda value: loads.say(subject=str(value)))
        self.firing.chosen.connect(lambda value: loads.say(firing=str(value)))
        self.approved.chosen.connect(lambda value: loads.say(approved=str(value)))
        self.shelves.editingFinished.connect(self._shelves)
        self.list.chosen.connect(lambda name: loads.choose(name.partition(" ")[0]))
        self.name.editingFinished.connect(lambda: self._write(name=self.name.text()))
        self.shelf.editingFinished.connect(lambda: self._write(shelf=self.shelf.text()))
        loads.changed.connect(self.follow)
        loads.chosen_changed.connect(self._choose)

    def _shelves(self) -> None:
        if self.shelves.text() != self._loads.shelves:
            self._loads.say(shelves=self.shelves.text())

    def _write(self, *, name: str | None = None, shelf: str | None = None) -> None:
        entry = self._loads.piece_chosen()
        if entry is None:
            return
        name = entry.name if name is None else name
        shelf = entry.shelf if shelf is None else " ".join(shelf.split()) or None
        if (name, shelf) != (entry.name, entry.shelf):
            self._loads.write(entry.seen, name, shelf=shelf, approve=entry.approve)

    def _approve(self) -> None:
        entry = self._loads.piece_chosen()
        if entry is not None:
            self._loads.write(entry.seen, entry.name, shelf=entry.shelf, approve=not entry.approve)

    def _kept(self) -> None:
        entry = self._loads.piece_chosen()
        if entry is not None:
            self._loads.take_for_approved(entry.seen)

    # What is shown

    @when_seen
    def follow(self) -> None:
        """Show the photo, its pieces and what is written down of them."""
        loads, work = self._loads, self._loads.photo
        names = [(name or say("witness buttons"), name) for name in loads.subjects()]
        self.subject.offer(names, loads.subject)
        self.firing.offer([(name, name) for name in loads.firings()], loads.firing)
        approved = [(name, name) for name in loads.records().approved()]
        self.approved.offer([*approved, (say("no approved piece"), "")], loads.approved if approved else "")
        if self.shelves.text() != loads.shelves and not self.shelves.hasFocus():
            self.shelves.setText(loads.shelves)
        self._show_picture()
        self._show_pieces()
        self._say_facts()
        self.cancel.setVisible(loads.busy)
        self.away.setEnabled(work is not None)
        n = loads.keepable
        self.keep.setEnabled(n > 0)
        text = say_many("Keep {n} reading and check", "Keep {n} readings and check", n).format(n=n)
        if loads.subject == BUTTONS or loads.number[1] > loads.number[0]:
            text = say_many("Keep {n} reading", "Keep {n} readings", n).format(n=n)
        self.keep.setText(text if n else say("Keep readings"))
        self.keep.setAccessibleName(self.keep.text())
        self._choose()
        self.headed.emit()

    def _show_picture(self) -> None:
        work = self._loads.photo
        preview = str(work.preview) if work is not None and work.preview is not None else ""
        size = work.read.size if work is not None and work.read is not None else (0, 0)
        if (preview, size) != self._shown:
            self._shown = preview, size
            self.canvas.set_photo(QImage(preview) if preview else QImage(), size if size[0] else None)
        outlines = []
        if work is not None and work.read is not None and self.canvas.photo == size:
            if work.read.card is not None:
                outlines.append(Outline("card", say("Card"), work.read.card.corners, card=True))
            poor = {one.piece for one in work.read.pieces if one.alike is not None and one.alike < FORM_FITS}
            entries = {one.seen: one for one in work.entries}
            for key, polygon in self._loads.outlines().items():
                seen, _, region = key.partition(" ")
                entry = entries.get(seen)
                if entry is None or entry.name:
                    label = f"{entry.name if entry else seen} {region}"
                    outlines.append(Outline(key, label, polygon, warned=seen in poor))
        self.canvas.set_outlines(outlines)

    def _show_pieces(self) -> None:
        loads, work = self._loads, self._loads.photo
        rows, chosen = [], ""
        if work is not None and work.read is not None:
            seen = {one.piece: one for one in work.read.pieces}
            rows = [
                piece_row(one, seen[one.seen], work.read, loads.approved)
                for one in work.entries if one.seen in seen
            ]  # fmt: skip
            at = loads.chosen.partition(" ")[0]
            chosen = next((one.name for one in rows if one.name.partition(" ")[0] == at), "")
        self.list.show_rows(rows, chosen)
        n = len(rows)
        text = say_many("{n} piece found", "{n} pieces found", n).format(n=n) if n else ""
        self.title.say(say("Reading…") if loads.busy else text)

    def _say_facts(self) -> None:
        empty(self._facts)
        work = self._loads.photo
        for line in lines_of(self._loads):
            self._facts.addWidget(plain(line, wrap=True))
        if work is None:
            self._facts.addWidget(
                quiet(
                    say(
                        "Lay about six pieces, two from each shelf, beside the card, an approved piece next to it."
                    ),
                    wrap=True,
                )
            )

    def _choose(self) -> None:
        self.canvas.choose(self._loads.chosen)
        entry = self._loads.piece_chosen()
        for one in (self.name, self.shelf, self.approve, self.kept, self.leave, self.everywhere):
            one.setEnabled(entry is not None)
        for field, text in ((self.name, entry.name if entry else ""), (self.shelf, (entry and entry.shelf) or "")):
            if field.text() != text and not field.hasFocus():
                field.setText(text)
        of_edition = self._loads.subject != BUTTONS
        self.approve.setVisible(of_edition)
        self.approve.setEnabled(entry is not None and not entry.kept)
        self.kept.setEnabled(entry is not None and not entry.kept and bool(self._loads.approved))
        text = say("This is {piece}").format(piece=self._loads.approved or "–")
        self.kept.setText(text)
        self.kept.setAccessibleName(text)
        text = say("Do not approve it") if entry is not None and entry.approve else say("Approve this piece")
        self.approve.setText(text)
        self.approve.setAccessibleName(text)

    def heading(self) -> tuple[str, str]:
        """Which photo of how many, and whose pieces."""
        work = self._loads.photo
        if work is None:
            return say("A load"), say("Drop a photo of a load's pieces beside the card, or open one.")
        n, total = self._loads.number
        text = say("Photo {n} of {total}: {name}. Regions can be dragged, or nudged with the arrow keys.")
        return say("A load"), text.format(n=n, total=total, name=work.path.name)

    def in_hand(self) -> QUndoStack | None:
        """Nudges can be taken back until the readings are kept."""
        return self._loads.steps

    def come(self) -> None:
        """Keyboard to the photo."""
        self._loads.settle()
        self.follow()
        self.canvas.setFocus()


def lines_of(loads: LoadPhotos) -> list[str]:
    """What is to be said of the photo."""
    work = loads.photo
    if work is None:
        return []
    if work.problem is not None:
        return list(problem_in_words(work.problem))
    if work.read is None:
        return []
    lines = [" ".join(notice_in_words(one)) for one in work.read.warnings]
    if loads.guessed:
        lines.insert(0, say("Regions are only a guess: drag them right on one piece, then “Place regions so”."))
    if work.read.verdict is Verdict.REFUSED:
        lines.insert(0, say("This photo cannot be used:"))
    elif work.read.pieces and not loads.approved:
        lines.append(say("Without an approved piece in the photo, kiln and camera cannot be told apart."))
    if any(one.by_colours_de00 is not None for one in work.read.comparisons):
        lines.append(say("Published methods for small differences are for plain surfaces: look at speckled ones."))
    if not loads.firing:
        lines.append(say("Add the firing first, in Firings."))
    if work.read.card is not None:
        lines.append(card_in_words(work.read.card))
    return lines
