"""Pieces and buttons read from photos, and the forms by which their regions are found again."""

from __future__ import annotations

import json
import sqlite3

from swatch.library.file import RecordsFile
from swatch.library.names import Names
from swatch.library.settings import PUT
from swatch.library.words import clean
from swatch.terms.buttons import ButtonReading
from swatch.terms.editions import PieceReading
from swatch.terms.forms import Form, FormZone
from swatch.terms.layering import fold_name

_FORM = "form "
"""What the names of the settings that hold forms begin with; a form is called by its edition."""


def forms(sql: sqlite3.Connection) -> tuple[Form, ...]:
    """Every form whose regions were placed."""
    rows = sql.execute("SELECT value FROM setting WHERE substr(name, 1, ?) = ? ORDER BY name", (len(_FORM), _FORM))
    return tuple(_form_in(text) for (text,) in rows)


def put_form(file: RecordsFile, form: Form) -> None:
    """Keep how a form's regions were placed, in place of what was known of it."""
    plain = {
        "name": clean(form.name),
        "outline": form.outline,
        "zones": [{"region": zone.region, "polygon": zone.polygon, "tone": zone.tone} for zone in form.zones],
    }
    with file.change("place-regions", name=form.name) as sql:
        sql.execute(PUT, (_FORM + fold_name(form.name), json.dumps(plain)))


class FormRecords:
    """What a studio knows of forms."""

    file: RecordsFile

    def forms(self) -> tuple[Form, ...]:
        """Every form whose regions were placed."""
        with self.file.reading() as sql:
            return forms(sql)

    def put_form(self, form: Form) -> None:
        """Keep how a form's regions were placed, in place of what was known of it."""
        put_form(self.file, form)


def numbered(names: Names, value: PieceReading | ButtonReading, photo: int) -> int:
    """The number of a reading: that of the same photo's earlier one, else the next.

    A kept piece is read again and again, in every session anew; no reading of it takes another's place but one of
    the very same photo.
    """
    if isinstance(value, PieceReading):
        kind, ware, zone = "piece", value.piece, value.region
        edition = names.find("edition", fold_name(value.edition))
    else:
        kind, ware, zone, edition = "button", value.button, value.stripe, None
    rows = names.sql.execute(
        "SELECT number, photo_id FROM reading JOIN zone ON zone.id = zone_id JOIN ware ON ware.id = ware_id "
        "LEFT JOIN shot ON shot.id = shot_id WHERE superseded_by IS NULL AND ware.kind = ? AND ware.folded = ? "
        "AND ifnull(ware.edition_id, 0) = ? AND zone.folded = ?",
        (kind, fold_name(ware), edition or 0, fold_name(zone)),
    ).fetchall()
    same = next((number for number, of in rows if of == photo), None)
    return int(same) if same is not None else 1 + max((int(number) for number, _ in rows), default=0)


def _form_in(text: str) -> Form:
    plain = json.loads(text)
    zones = tuple(FormZone(one["region"], _spots(one["polygon"]), _tone(one["tone"])) for one in plain["zones"])
    return Form(plain["name"], _spots(plain["outline"]), zones)


def _spots(points: list[list[float]]) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in points)


def _tone(parts: list[float] | None) -> tuple[float, float, float] | None:
    if parts is None:
        return None
    red, green, blue = parts
    return float(red), float(green), float(blue)
