"""Outlines on a photo and how they lie on the screen: plain geometry, no painting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from swatch.terms.measured import Point

Points = tuple[Point, ...]
HANDLE_REACH = 14.0
"""How near to a corner a press takes hold of it, screen pixels: clay on the fingers."""
SMALLEST_SIDE = 4.0
"""A drawn rectangle smaller than this, photo pixels, was a slip of the hand."""
MOST_ZOOM = 16.0


@dataclass(frozen=True, slots=True)
class Outline:
    """The card or a zone as outlined on a photo, in pixels of the photo as seen.

    ``warned`` ones are drawn dashed, with handles; ``note`` stands in a small box above.
    """

    key: str
    label: str
    points: Points
    card: bool = False
    warned: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Callout:
    """What is to be said and done about one outline; actions are codes with their words."""

    key: str
    title: str
    words: str
    actions: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class View:
    """How photo pixels lie on the screen: ``screen = photo * scale + (left, top)``."""

    scale: float = 1.0
    left: float = 0.0
    top: float = 0.0

    def to_screen(self, point: Point) -> Point:
        """A photo point on the screen."""
        return point[0] * self.scale + self.left, point[1] * self.scale + self.top

    def to_photo(self, point: Point) -> Point:
        """A screen point on the photo."""
        return (point[0] - self.left) / self.scale, (point[1] - self.top) / self.scale

    def zoomed(self, by: float, at: Point, least: float) -> View:
        """Zoom around a screen point, which stays where it is."""
        scale = min(max(self.scale * by, least), max(MOST_ZOOM, least))
        x, y = self.to_photo(at)
        return View(scale, at[0] - x * scale, at[1] - y * scale)

    def panned(self, dx: float, dy: float) -> View:
        """Move the photo under the window."""
        return replace(self, left=self.left + dx, top=self.top + dy)

    def kept_in(self, photo: tuple[int, int], room: tuple[int, int]) -> View:
        """Centre what is smaller than the room, and let no more than the edges of what is larger come in."""
        left = _held(self.left, photo[0] * self.scale, room[0])
        top = _held(self.top, photo[1] * self.scale, room[1])
        return View(self.scale, left, top)


def _held(start: float, length: float, room: float) -> float:
    return (room - length) / 2 if length <= room else min(0.0, max(start, room - length))


def fitted(photo: tuple[int, int], room: tuple[int, int], margin: int = 8) -> View:
    """Show the whole photo, as large as the room allows."""
    wide, high = max(1, room[0] - 2 * margin), max(1, room[1] - 2 * margin)
    scale = min(wide / max(1, photo[0]), high / max(1, photo[1]))
    return View(scale).kept_in(photo, room)


def rectangle(one: Point, other: Point) -> Points:
    """The rectangle between two opposite corners, from top left clockwise."""
    left, right = sorted((one[0], other[0]))
    top, bottom = sorted((one[1], other[1]))
    return (left, top), (right, top), (right, bottom), (left, bottom)


def square_at(point: Point, long_side: float) -> Points:
    """The square around a neutral point that stands for what is read there."""
    half = 0.006 * long_side
    return rectangle((point[0] - half, point[1] - half), (point[0] + half, point[1] + half))


def is_too_small(points: Sequence[Point]) -> bool:
    """Whether an outline is no more than a slip of the hand."""
    xs, ys = [x for x, _y in points], [y for _x, y in points]
    return max(xs) - min(xs) < SMALLEST_SIDE or max(ys) - min(ys) < SMALLEST_SIDE


def moved(points: Points, dx: float, dy: float, photo: tuple[int, int]) -> Points:
    """Move an outline as a whole, as far as the photo's edges allow."""
    xs, ys = [x for x, _y in points], [y for _x, y in points]
    dx = min(max(dx, -min(xs)), photo[0] - max(xs))
    dy = min(max(dy, -min(ys)), photo[1] - max(ys))
    return tuple((x + dx, y + dy) for x, y in points)


def with_corner(points: Points, corner: int, to: Point, photo: tuple[int, int]) -> Points:
    """Put one corner elsewhere, inside the photo."""
    held = min(max(to[0], 0.0), float(photo[0])), min(max(to[1], 0.0), float(photo[1]))
    return tuple(held if k == corner else point for k, point in enumerate(points))


def contains(points: Sequence[Point], at: Point) -> bool:
    """Whether a point lies inside an outline (even-odd rule)."""
    inside, (x, y) = False, at
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def corner_at(points: Sequence[Point], at: Point, reach: float) -> int | None:
    """The nearest corner within `reach`, or None."""
    distances = [((x - at[0]) ** 2 + (y - at[1]) ** 2, k) for k, (x, y) in enumerate(points)]
    nearest, corner = min(distances, default=(float("inf"), -1))
    return corner if nearest <= reach * reach else None


def outline_at(outlines: Sequence[Outline], at: Point) -> Outline | None:
    """The smallest outline around a point: a zone on the card comes before the card."""
    around = [outline for outline in outlines if contains(outline.points, at)]
    return min(around, key=lambda outline: abs(area(outline.points)), default=None)


def area(points: Sequence[Point]) -> float:
    """Signed area of an outline, photo pixels squared."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return 0.5 * sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)
