"""A photo with the card and the zones outlined: corners are dragged, nudged by arrow keys, or typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import Enum

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from swatch.desk.free_paper import Box, free_place, way_between
from swatch.desk.photo_shapes import (
    HANDLE_REACH,
    Callout,
    Outline,
    Points,
    corner_at,
    is_too_small,
    moved,
    outline_at,
    rectangle,
    with_corner,
)
from swatch.screens.components.painting import focus_ring
from swatch.screens.components.photo_callout import CalloutBox, CornerEntry
from swatch.screens.components.photo_outlines import (
    outline_in_words,
    paint_corners,
    paint_loupe,
    paint_note,
    paint_outline,
    paint_way,
    places_of_notes,
)
from swatch.screens.components.photo_view import PhotoView
from swatch.screens.style import HALF, UNIT
from swatch.terms.measured import Point
from swatch.wording.text import _, say

_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}


class Tool(Enum):
    """What a press on the photo does."""

    CHOOSE = "choose"
    RECTANGLE = "rectangle"
    CORNERS = "corners"
    POINT = "point"


class PhotoCanvas(PhotoView):
    """The photo, its outlines, and one callout.

    The outlines are the caller's: a change is told by `outline_moved` and shows at once, so that the caller may
    record it, and lay the recorded ones back with `set_outlines`.
    """

    outline_moved = Signal(str, object)  # key, new points; once at the end of a drag, once for each nudge
    outline_moving = Signal(str, object)  # the same while it is dragged
    outline_drawn = Signal(object)  # points of a new outline; `tool` is still the one it was drawn with
    tool_changed = Signal()  # another tool, or one corner more set with it
    chosen = Signal(str)  # key, or empty
    remove_asked = Signal(str)
    acted = Signal(str, str)  # key, action of the callout

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMouseTracking(True)
        self.outlines: tuple[Outline, ...] = ()
        self.chosen_key = ""
        self.corner: int | None = None
        self.tool = Tool.CHOOSE
        self._held: Outline | None = None
        self._panned_from: QPointF | None = None
        self._drawing: list[Point] = []
        self._pointer: Point = (0.0, 0.0)
        self._way: list[Point] = []
        self._notes: dict[str, Box] = {}
        self.callout_box, self.entry = CalloutBox(self), CornerEntry(self)
        self.callout_box.acted.connect(self.acted)
        self.entry.typed.connect(self._typed)
        self.entry.closed.connect(self._close_entry)
        self._speak()

    # What is shown

    def set_photo(self, image: QImage, photo: tuple[int, int] | None = None) -> None:
        """Show another photo. `image` may be smaller than the photo, whose size in pixels is then given."""
        self.outlines, self.chosen_key, self.corner, self._drawing = (), "", None, []
        self.callout_box.show_callout(None)
        self.show_picture(image, photo)
        self._speak()

    def set_outlines(self, outlines: Sequence[Outline]) -> None:
        """Lay other outlines over the photo; the chosen one stays chosen where it is still there."""
        self.outlines = tuple(outlines)
        if self.chosen_outline() is None:
            self.chosen_key, self.corner = "", None
        self._place_callout()
        self._speak()
        self.update()

    def set_callout(self, callout: Callout | None) -> None:
        """Say something about one outline, on free paper."""
        self.callout_box.show_callout(callout)
        self._place_callout()
        self.update()

    def set_tool(self, tool: Tool) -> None:
        """Choose what a press does."""
        self.tool, self._drawing = tool, []
        self.setCursor(Qt.CursorShape.ArrowCursor if tool is Tool.CHOOSE else Qt.CursorShape.CrossCursor)
        self.tool_changed.emit()
        self.update()

    @property
    def corners_set(self) -> int:
        """How many of four corners are set."""
        return len(self._drawing) if self.tool is Tool.CORNERS else 0

    def choose(self, key: str, corner: int | None = None) -> None:
        """Choose an outline, and a corner of it; an empty key chooses none."""
        changed = key != self.chosen_key
        self.chosen_key, self.corner = key, corner
        if self.entry.isVisible():
            self._close_entry()
        self._speak()
        self.update()
        if changed:
            self.chosen.emit(key)

    def chosen_outline(self) -> Outline | None:
        """The chosen outline."""
        return next((outline for outline in self.outlines if outline.key == self.chosen_key), None)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Bench, photo, outlines, and the line of the callout."""
        painter = QPainter(self)
        self.paint_photo(painter)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for outline in sorted(self.outlines, key=lambda one: one.key == self.chosen_key):
            chosen = outline.key == self.chosen_key
            handles = chosen or outline.card
            paint_outline(painter, outline, self.view, handles=handles, corner=self.corner if chosen else None)
        for outline in self.outlines:
            if outline.key in self._notes:
                paint_note(painter, outline.note, self._notes[outline.key])
        if self.callout_box.isVisible():
            paint_way(painter, self._way)
        self._paint_drawing(painter)
        held = self.chosen_outline()
        if self._held is not None and held is not None and self.corner is not None:
            at = held.points[self.corner]
            shown = self.picture.width() / max(1, self.photo[0])
            paint_loupe(painter, self.picture, shown, self.view.to_screen(at), at, QRectF(self.rect()))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        if self.hasFocus():
            focus_ring(painter, self.rect(), on_bench=True)
        painter.end()

    def _paint_drawing(self, painter: QPainter) -> None:
        if self._drawing and self.tool is Tool.RECTANGLE:
            points = rectangle(self._drawing[0], self._pointer)
            paint_outline(painter, Outline("", "", points), self.view, handles=True, corner=None)
        elif self._drawing:
            paint_corners(painter, self._drawing, self._pointer, self.view)

    def view_changed(self) -> None:
        """The callout looks for free paper again."""
        self._place_callout()

    def _place_callout(self) -> None:
        callout = self.callout_box.callout
        outline = next((one for one in self.outlines if callout and one.key == callout.key), None)
        self._place_notes()
        # A callout must not lie over what is being dragged; it comes back when that is let go.
        self.callout_box.setVisible(outline is not None and self._held is None)
        if outline is None:
            return
        anchor = self._screen_box(outline)
        others = [self._screen_box(one).guarded() for one in self.outlines if one is not outline]
        others += self._notes.values()
        room = Box(UNIT, UNIT, self.width() - UNIT, self.height() - UNIT)
        size = self.callout_box.wanted_size()
        place = free_place((size.width(), size.height()), anchor, [*others, anchor.guarded()], room)
        self.callout_box.setGeometry(round(place.left), round(place.top), size.width(), size.height())
        self._way = way_between(place, anchor, others, room)

    def _screen_box(self, outline: Outline) -> Box:
        xs, ys = zip(*(self.view.to_screen(point) for point in outline.points), strict=True)
        return Box(min(xs), min(ys), max(xs), max(ys))

    def _place_notes(self) -> None:
        """A note lies beside its outline on free paper, never over a tile."""
        room = Box(HALF, HALF, self.width() - HALF, self.height() - HALF)
        self._notes = places_of_notes(self.outlines, self._screen_box, room)

    # Pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take hold of a corner or an outline, begin a new one, or take hold of the photo."""
        self._pointer = self.on_photo(event.position())
        if event.button() == Qt.MouseButton.MiddleButton:
            self._panned_from = event.position()
        elif event.button() == Qt.MouseButton.LeftButton and self.photo[0]:
            if self.tool is not Tool.CHOOSE:
                self._press_drawing(self._pointer)
                return
            self._held, corner = self._what_is_at(event.position())
            self.choose(self._held.key if self._held else "", corner)
            self._panned_from = None if self._held else event.position()
            self._place_callout()
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Drag what is held."""
        last, self._pointer = self._pointer, self.on_photo(event.position())
        outline = self.chosen_outline()
        if self._drawing:
            self.update()
        elif self._panned_from is not None:
            step = event.position() - self._panned_from
            self._panned_from = event.position()
            self.pan(step.x(), step.y())
        elif self._held is not None and outline is not None:
            self._drag(outline, last)
        else:
            self._show_what_can_be_held(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let go; what has changed is told once."""
        held, self._held, self._panned_from = self._held, None, None
        outline = self.chosen_outline()
        if self.tool is Tool.RECTANGLE and self._drawing:
            points = rectangle(self._drawing[0], self.on_photo(event.position()))
            self._drawing = []
            self._finish_drawing(points)
        elif held is not None and outline is not None and outline.points != held.points:
            self.outline_moved.emit(outline.key, outline.points)
        self._place_callout()
        self.update()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Type the place of the corner that was pressed twice."""
        if self.tool is Tool.CHOOSE and self.chosen_outline() is not None:
            self._open_entry()

    def _what_is_at(self, at: QPointF) -> tuple[Outline | None, int | None]:
        reach, photo_at = HANDLE_REACH / self.view.scale, self.view.to_photo((at.x(), at.y()))
        chosen = self.chosen_outline()
        with_handles = [one for one in self.outlines if one.card or one.warned or one is chosen]
        for outline in sorted(with_handles, key=lambda one: one is not chosen):
            corner = corner_at(outline.points, photo_at, reach)
            if corner is not None:
                return outline, corner
        return outline_at(self.outlines, photo_at), None

    def _show_what_can_be_held(self, at: QPointF) -> None:
        if self.tool is Tool.CHOOSE:
            outline, corner = self._what_is_at(at)
            shapes = Qt.CursorShape
            hand = shapes.SizeAllCursor if corner is not None else shapes.PointingHandCursor
            self.setCursor(hand if outline else shapes.OpenHandCursor if not self.fits else shapes.ArrowCursor)

    def _drag(self, outline: Outline, last: Point) -> None:
        if self.corner is not None:
            points = with_corner(outline.points, self.corner, self._pointer, self.photo)
        else:
            by = self._pointer[0] - last[0], self._pointer[1] - last[1]
            points = moved(outline.points, *by, self.photo)
        self._put(outline, points)
        self.outline_moving.emit(outline.key, points)

    def _put(self, outline: Outline, points: Points) -> None:
        self.outlines = tuple(replace(one, points=points) if one is outline else one for one in self.outlines)
        self._speak()
        self.update()

    # Drawing new outlines

    def _press_drawing(self, at: Point) -> None:
        if self.tool is Tool.RECTANGLE:
            self._drawing = [at]
            return
        self._drawing.append(at)
        if len(self._drawing) == (1 if self.tool is Tool.POINT else 4):
            points, self._drawing = tuple(self._drawing), []
            self._finish_drawing(points)
        self.tool_changed.emit()
        self.update()

    def _finish_drawing(self, points: Points) -> None:
        if len(points) == 1 or not is_too_small(points):
            self.outline_drawn.emit(points)
        self.set_tool(Tool.CHOOSE)

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Arrows nudge, Enter types, Page Up and Down go through the outlines, C through corners; + − 0 zoom."""
        key, outline = Qt.Key(event.key()), self.chosen_outline()
        if key in _ARROWS and outline is not None:
            self._nudge(outline, _ARROWS[key], event.modifiers())
        elif key in _ARROWS:
            dx, dy = _ARROWS[key]
            self.pan(-32 * dx, -32 * dy)
        elif key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp) and self.outlines:
            self._step_outline(1 if key == Qt.Key.Key_PageDown else -1)
        elif key == Qt.Key.Key_C and outline is not None:
            self.choose(outline.key, ((-1 if self.corner is None else self.corner) + 1) % len(outline.points))
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and outline is not None:
            self._open_entry()
        elif key == Qt.Key.Key_Insert and self.photo[0]:
            self._insert()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and outline is not None:
            self.remove_asked.emit(outline.key)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            self.zoom(0.8 if key == Qt.Key.Key_Minus else 1.25)
        elif key == Qt.Key.Key_0:
            self.fit()
        elif key == Qt.Key.Key_Escape and (self._drawing or self.tool is not Tool.CHOOSE):
            self.set_tool(Tool.CHOOSE)
        elif key == Qt.Key.Key_Escape and outline is not None:
            self.choose(outline.key if self.corner is not None else "")
        else:
            super().keyPressEvent(event)

    def _nudge(self, outline: Outline, way: Point, modifiers: Qt.KeyboardModifier) -> None:
        """One photo pixel or what one screen pixel shows, whichever is more; Shift ten times as far."""
        step = max(1.0, round(1.0 / self.view.scale))
        step *= 10.0 if modifiers & Qt.KeyboardModifier.ShiftModifier else 1.0
        dx, dy = way[0] * step, way[1] * step
        if self.corner is None:
            points = moved(outline.points, dx, dy, self.photo)
        else:
            x, y = outline.points[self.corner]
            points = with_corner(outline.points, self.corner, (x + dx, y + dy), self.photo)
        self._put(outline, points)
        self.outline_moved.emit(outline.key, points)

    def _step_outline(self, by: int) -> None:
        keys = [outline.key for outline in self.outlines]
        at = keys.index(self.chosen_key) + by if self.chosen_key in keys else (0 if by > 0 else -1)
        self.choose(keys[at % len(keys)])

    def _insert(self) -> None:
        x, y = self.on_photo(QPointF(self.width() / 2, self.height() / 2))
        if self.tool is Tool.POINT:
            self._press_drawing((x, y))
            return
        half = 0.1 * min(self.photo)
        points = rectangle((x - half, y - half), (x + half, y + half))
        self._finish_drawing(moved(points, 0.0, 0.0, self.photo))

    # Typing

    def _open_entry(self) -> None:
        outline = self.chosen_outline()
        if outline is None:
            return
        corner = self.corner or 0
        if self.corner is None:
            self.choose(outline.key, corner)
        name = say(_("{outline}, corner {n}")).format(outline=outline.label, n=corner + 1)
        self.entry.open_for(name, outline.points[corner], self.photo)
        x, y = self.view.to_screen(outline.points[corner])
        left = min(max(UNIT, x + 16), self.width() - self.entry.width() - UNIT)
        top = min(max(UNIT, y + 16), self.height() - self.entry.height() - UNIT)
        self.entry.move(round(left), round(top))

    def _typed(self, x: float, y: float) -> None:
        outline = self.chosen_outline()
        if outline is not None and self.corner is not None:
            points = with_corner(outline.points, self.corner, (x, y), self.photo)
            if points != outline.points:
                self._put(outline, points)
                self.outline_moved.emit(outline.key, points)

    def _close_entry(self) -> None:
        self.entry.hide()
        self.setFocus()

    # Speech

    def _speak(self) -> None:
        self.setAccessibleName(say(_("Photo with {n} outlines")).format(n=len(self.outlines)))
        outline = self.chosen_outline()
        none = say(_("Page Down chooses the first outline; Insert adds one."))
        self.setAccessibleDescription(none if outline is None else outline_in_words(outline, self.corner))
