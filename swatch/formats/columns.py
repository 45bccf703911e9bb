"""What each table's columns hold: how a cell is read, and which field of the value it becomes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from swatch.formats import cells
from swatch.formats.cells import Read
from swatch.terms.editions import RegionKind, Role, Tallied, Weighed
from swatch.terms.evidence import Sheen, Stage
from swatch.terms.layering import MOST_COATS
from swatch.terms.materials import Kind, Status

_LIGHTNESS = cells.number(0, 105)
"""Up to 105: a measured white may come out a little over 100."""
_CHROMATIC = cells.number(-160, 160)
_GRAMS = cells.number(0, 1e6)
_GRAVITY = cells.number(0.5, 5)
_COLOUR: dict[str, Read] = {"L": _LIGHTNESS, "a": _CHROMATIC, "b": _CHROMATIC}
_DOUBT = cells.number(0.01, 50)
"""One standard uncertainty in ΔE00; no instrument reads a tile to better than a hundredth."""


@dataclass(frozen=True, slots=True)
class Layout:
    """One table: its columns in the order they are written, and which of them are the key or required.

    ``fields`` says which field of the value a column belongs to, ``renamed`` what a column's cell is called on
    the way there.
    """

    name: str
    columns: Mapping[str, Read]
    key: tuple[str, ...]
    required: tuple[str, ...]
    renamed: Mapping[str, str] = field(default_factory=dict)
    belongs: Mapping[str, str] = field(default_factory=dict)
    key_defaults: Mapping[str, str] = field(default_factory=dict)

    @property
    def fields(self) -> dict[str, str]:
        """The value's field of each column."""
        return {c: self.belongs.get(c, self.renamed.get(c, c)) for c in self.columns}

    def key_default(self, part: str) -> str:
        """What an empty or absent part of the key stands for."""
        return self.key_defaults.get(part, "")


_LAB = {"L": "lab", "a": "lab", "b": "lab"}

MATERIALS = Layout(
    name="materials",
    columns={
        "material": cells.material_name,
        "kind": cells.words(Kind),
        "status": cells.words(Status),
        "left_g": _GRAMS,
        "cone_from": cells.cone,
        "cone_to": cells.cone,
        "food_label": cells.yes_no,
        "food_label_cone": cells.cone,
        "density_g_per_ml": cells.number(0.5, 5),
        "raw_L": _LIGHTNESS,
        "raw_a": _CHROMATIC,
        "raw_b": _CHROMATIC,
        "raw_state": cells.one_of("wet", "dry"),
        "left": cells.amount,
        "lead_days": cells.whole(0, 1000),
    },
    key=("name",),
    required=("material",),
    renamed={"material": "name"},
    belongs={"raw_L": "raw", "raw_a": "raw", "raw_b": "raw", "left": "left_g"},
)

BODIES = Layout(
    name="bodies",
    columns={"body": cells.text_line, "cone": cells.cone, **_COLOUR},
    key=("body", "cone"),
    required=("body", "cone"),
    belongs=_LAB,
)

FIRINGS = Layout(
    name="firings",
    columns={
        "firing": cells.text_line,
        "date": cells.day,
        "cone_asked": cells.cone,
        "peak_c": cells.number(400, 1500),
        "rate_c_per_h": cells.number(1, 2000),
        "hold_min": cells.number(0, 6000),
        "cone_reached": cells.cone_reached,
        "cooling": cells.one_of("fast", "normal", "slow"),
        "atmosphere": cells.text_line,
        "kiln": cells.text_line,
        "note": cells.text_line,
    },
    key=("name",),
    required=("firing",),
    renamed={"firing": "name"},
)

WITNESS = Layout(
    name="witness",
    columns={"firing": cells.text_line, "shelf": cells.text_line, "cone_reached": cells.cone_reached},
    key=("firing", "shelf"),
    required=("firing", "shelf", "cone_reached"),
)

TILES = Layout(
    name="tiles",
    columns={
        "tile": cells.text_line,
        "zone": cells.text_line,
        "stage": cells.words(Stage),
        "reading": cells.whole(1, 100_000),
        "body": cells.text_line,
        "firing": cells.text_line,
        "shelf": cells.text_line,
        "cone": cells.cone,
        "layers": cells.layers,
        **_COLOUR,
        "u": _DOUBT,
        "covariance": cells.covariance,
        "sheen": cells.words(Sheen),
        "faults": cells.faults,
        "method": cells.text_line,
        "lot": cells.text_line,
        "session": cells.text_line,
        "refires": cells.whole(0, 100),
    },
    key=("tile", "zone", "stage", "reading"),
    required=("tile", "zone", "L", "a", "b"),
    belongs={**_LAB, "u": "covariance"},
    key_defaults={"stage": str(Stage.FIRED), "reading": "1"},
)

EDITIONS = Layout(
    name="editions",
    columns={
        "edition": cells.text_line,
        "region": cells.text_line,
        "planned": cells.whole(0, 1_000_000),
        "yield": cells.number(0, 1),
        "body": cells.text_line,
        "cone": cells.cone,
        "region_kind": cells.words(RegionKind),
        "area_dm2": cells.number(0, 10_000),
        "layers": cells.layers,
        "tolerance": cells.number(0.1, 50),
    },
    key=("edition", "region"),
    required=("edition", "region"),
    renamed={"yield": "yield_share"},
)

PIECES = Layout(
    name="pieces",
    columns={
        "edition": cells.text_line,
        "piece": cells.text_line,
        "region": cells.text_line,
        "reading": cells.whole(1, 100_000),
        "firing": cells.text_line,
        "shelf": cells.text_line,
        "place": cells.text_line,
        **_COLOUR,
        "u": _DOUBT,
        "covariance": cells.covariance,
        "role": cells.words(Role),
        "session": cells.text_line,
        "lot": cells.text_line,
        "clay_lot": cells.text_line,
    },
    key=("edition", "piece", "region", "reading"),
    required=("edition", "piece", "region", "L", "a", "b"),
    belongs={**_LAB, "u": "covariance"},
    key_defaults={"reading": "1"},
)

BUTTONS = Layout(
    name="buttons",
    columns={
        "button": cells.text_line,
        "stripe": cells.text_line,
        "reading": cells.whole(1, 100_000),
        "body": cells.text_line,
        "layers": cells.layers,
        "firing": cells.text_line,
        "shelf": cells.text_line,
        **_COLOUR,
        "u": _DOUBT,
        "covariance": cells.covariance,
        "session": cells.text_line,
        "kept": cells.yes_no,
    },
    key=("button", "stripe", "reading"),
    required=("button", "stripe", "L", "a", "b"),
    belongs={**_LAB, "u": "covariance"},
    key_defaults={"reading": "1"},
)

WEIGHINGS = Layout(
    name="weighings",
    columns={
        "material": cells.material_name,
        "at": cells.moment,
        "lot": cells.text_line,
        "before_g": _GRAMS,
        "after_g": _GRAMS,
        "area_dm2": cells.number(0, 10_000),
        "pieces": cells.whole(0, 100_000),
        "coats": cells.number(0, MOST_COATS),
        "method": cells.text_line,
        "weighed": cells.words(Weighed),
        "before": cells.amount,
        "after": cells.amount,
        "specific_gravity": _GRAVITY,
    },
    key=("material", "at"),
    required=("material", "at"),
    belongs={"before": "before_g", "after": "after_g", "specific_gravity": ""},
)

JARS = Layout(
    name="jars",
    columns={
        "material": cells.material_name,
        "jar": cells.text_line,
        "lot": cells.text_line,
        "left_g": _GRAMS,
        "left": cells.amount,
        "specific_gravity": _GRAVITY,
        "gross_g": _GRAMS,
        "tare_g": _GRAMS,
        "opened": cells.day,
        "locked": cells.yes_no,
    },
    key=("material", "jar", "lot"),
    required=("material",),
    belongs={"left": "left_g", "gross_g": "left_g", "specific_gravity": ""},
)

COUNTS = Layout(
    name="counts",
    columns={
        "edition": cells.text_line,
        "at": cells.day,
        "what": cells.words(Tallied),
        "count": cells.whole(0, 1_000_000),
        "firing": cells.text_line,
    },
    key=("edition", "at", "what", "firing"),
    required=("edition", "at", "what", "count"),
)

FIRING_LOG = Layout(
    name="log",
    columns={
        "minutes": cells.number(0, 100_000),
        "celsius": cells.number(-50, 1500),
        "fahrenheit": cells.number(-58, 2732),
    },
    key=("minutes",),
    required=("minutes",),
)
