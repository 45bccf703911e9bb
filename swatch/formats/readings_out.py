"""Readings out of the studio: as the tiles table, which comes back in unchanged, or as ISO 28178 keyword text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from swatch.formats.columns import TILES
from swatch.formats.csv_text import write_sheet
from swatch.formats.keyword_text import KeywordText, write_keyword_text
from swatch.formats.tables import WithDoubt
from swatch.terms.colour import Covariance
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import format_layers

DECIMALS = 4
"""Of colours written out: far below what any camera sees, so that nothing is lost on the way back."""


def write_tiles(readings: Sequence[WithDoubt[ZoneReading]]) -> bytes:
    """Write readings as a tiles table that `read_tiles` reads back."""
    return write_sheet(tuple(TILES.columns), (_tile_row(one) for one in readings))


def write_readings_text(readings: Sequence[WithDoubt[ZoneReading]]) -> bytes:
    """Write readings as ISO 28178 keyword text, one sample a reading, D50 and 2 degree."""
    fields = ("SAMPLE_ID", "SAMPLE_NAME", "LAB_L", "LAB_A", "LAB_B", "STDEV_L", "STDEV_A", "STDEV_B", "SWATCH_U")
    return write_keyword_text(
        KeywordText(
            keywords=(
                ("ORIGINATOR", "Swatch"),
                ("FILE_DESCRIPTOR", "Colours of test tiles, CIELAB"),
                ("ILLUMINATION_NAME", "D50"),
                ("OBSERVER_ANGLE", "2"),
            ),
            fields=fields,
            rows=tuple(_samples(readings)),
        )
    )


def _samples(readings: Sequence[WithDoubt[ZoneReading]]) -> Iterator[tuple[str, ...]]:
    for number, one in enumerate(readings, 1):
        value, doubt = one.value, one.value.covariance
        name = " / ".join((value.tile, value.zone, str(value.stage), str(value.reading)))
        deviations = (_number(sqrt(max(0.0, entry))) for entry in (doubt.LL, doubt.aa, doubt.bb))
        yield (str(number), name, *(_number(c) for c in value.lab), *deviations, _number(one.u or 0.0))


def _tile_row(one: WithDoubt[ZoneReading]) -> tuple[str, ...]:
    value = one.value
    cells = {
        "tile": value.tile,
        "zone": value.zone,
        "stage": str(value.stage),
        "reading": str(value.reading),
        "body": value.body or "",
        "firing": value.firing or "",
        "shelf": value.shelf or "",
        "cone": str(value.cone) if value.cone else "",
        "layers": format_layers(value.layers),
        "L": _number(value.lab.L),
        "a": _number(value.lab.a),
        "b": _number(value.lab.b),
        "u": _number(one.u) if one.u else "",
        "covariance": _covariance(value.covariance),
        "sheen": str(value.sheen) if value.sheen else "",
        "faults": " ".join(value.faults),
        "method": value.method or "",
        "lot": value.lot or "",
        "session": value.session or "",
        "refires": str(value.refires),
    }
    return tuple(cells[column] for column in TILES.columns)


def _covariance(value: Covariance) -> str:
    """Its six numbers; empty where it is none that would be taken back."""
    text = " ".join(f"{entry:.9g}" for entry in value)
    return text if Covariance(*map(float, text.split())).is_possible() else ""


def _number(value: float) -> str:
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
