"""What was read from one photo: the card, the zones, and how far each can be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Covariance, Lab
from swatch.terms.forms import Form
from swatch.terms.problems.base import Notice
from swatch.terms.sheet import SheetSeen

Point = tuple[float, float]
"""Pixel coordinates of the photo as seen (orientation applied): x right, y down."""


class Verdict(StrEnum):
    """Whether a photo's colours can be used."""

    GOOD = "good"
    USABLE = "usable"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class CardTable:
    """A reference card as its file states it: published Lab of each patch, row by row, D50 and 2 degree."""

    name: str
    rows: int
    columns: int
    lab: tuple[Lab, ...]


@dataclass(frozen=True, slots=True)
class PatchRead:
    """One patch of the reference card as this photo shows it."""

    patch: int
    reference: Lab
    read: Lab
    left_out_de00: float


@dataclass(frozen=True, slots=True)
class CardRead:
    """The reference card as found: corners of the outermost patches, patch 1 → 6 → 24 → 19 on the 24-patch chart.

    ``left_out_*`` are of the whole procedure, model choice included (nested), never of the fit.
    """

    name: str
    corners: tuple[Point, Point, Point, Point]
    score: float
    left_out_median: float
    left_out_p95: float
    left_out_max: float
    patches: tuple[PatchRead, ...]


@dataclass(frozen=True, slots=True)
class ZoneShape:
    """A zone to read: its name and outline."""

    zone: str
    polygon: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class TileBack:
    """The back of a tile in a photo, where its pencilled number is: the tile's name, or its slot's number.

    ``picture`` is a small JPEG of it that can be made again at any time; empty where none was made.
    """

    tile: str
    polygon: tuple[Point, ...]
    picture: str = ""


@dataclass(frozen=True, slots=True)
class ColourShare:
    """One of the colours of a mottled zone, and its share of the zone."""

    lab: Lab
    share: float


@dataclass(frozen=True, slots=True)
class ZoneRead:
    """The colour of one zone. ``covariance`` is scaled so that d² ≤ 7.815 holds for 95 % of zones.

    ``colours`` are three to five where the zone is mottled (a breaking glaze), largest share first; else none.
    ``own`` is the part of the covariance that other zones of the same photo do not share.
    """

    zone: str
    polygon: tuple[Point, ...]
    lab: Lab
    covariance: Covariance
    u95_de00: float
    variation_de00: float
    used_share: float
    warnings: tuple[Notice, ...] = ()
    colours: tuple[ColourShare, ...] = ()
    own: Covariance | None = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """The difference of two zones of one photo, the first minus the second, with its own smaller doubt.

    ``told_apart``: whether it is larger than chance allows in 95 of 100 cases. ``u95_de00`` is the doubt of the
    difference, ``de00_95`` the range of its size. ``by_colours_de00``, where either zone is mottled: how far the
    colours of one lie from those of the other, matched share by share; two speckles may differ though their means
    do not.
    """

    zones: tuple[str, str]
    difference: Lab
    covariance: Covariance
    de00: float
    de00_95: tuple[float, float]
    u95_de00: float
    told_apart: bool
    by_colours_de00: float | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """What a photo tells of how it was taken: camera, and time by the camera's clock (ISO 8601, no zone)."""

    camera: str | None
    at: str | None


@dataclass(frozen=True, slots=True)
class PiecesWanted:
    """What lies in the photo of a load: pieces of a form, by which their regions are found.

    ``form`` where the regions were placed before; else ``pattern``, the regions outlined on one of the pieces;
    else ``regions``, whose names are proposed as bands from the top down.
    """

    name: str
    form: Form | None = None
    pattern: tuple[ZoneShape, ...] = ()
    regions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PieceSeen:
    """One piece found in a photo by its outline; its regions are zones called ``piece region``.

    ``alike`` is how much of its outline and the form's lie over each other, 0 to 1; None where no form was given.
    ``beside_card``: it is the piece nearest the card, where the approved one is laid.
    """

    piece: str
    outline: tuple[Point, ...]
    alike: float | None
    beside_card: bool = False


@dataclass(frozen=True, slots=True)
class PhotoRead:
    """One measuring of one photo. A refused photo has no zones; its warnings say why.

    ``comparisons`` are the pairs of zones that were asked for.
    ``warmth`` is ln of red over blue of the card's white as the camera saw it: alike for photos in one light.
    ``pieces`` were found by their outlines, where they were asked for; each region is a zone. ``form`` is the one
    they were laid by.
    ``sheet`` is the photo sheet, where no zones were given and it was seen: then each zone is named by its slot.
    """

    photo: str
    size: tuple[int, int]
    verdict: Verdict
    card: CardRead | None
    zones: tuple[ZoneRead, ...]
    warnings: tuple[Notice, ...] = ()
    sheet: SheetSeen | None = None
    comparisons: tuple[Comparison, ...] = ()
    taken: Taken | None = None
    warmth: float | None = None
    pieces: tuple[PieceSeen, ...] = ()
    form: Form | None = None


@dataclass(frozen=True, slots=True)
class MergedRead:
    """Zones read from several photos of one layout together, so that glare in one is filled from another."""

    photos: tuple[str, ...]
    zones: tuple[ZoneRead, ...]
    warnings: tuple[Notice, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
