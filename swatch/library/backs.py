"""Backs of tiles: in which photo, and where in it, the number that is pencilled on a tile can be read."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from pathlib import Path

from swatch.library.rows import PhotoOf, photo_of
from swatch.terms.layering import fold_name
from swatch.terms.measured import TileBack


def put_backs(sql: sqlite3.Connection, photo: int, backs: Sequence[TileBack]) -> None:
    """Say of each tile on record where its back is; inside a change."""
    for back in backs:
        ware = sql.execute(
            "SELECT id FROM ware WHERE kind = 'tile' AND folded = ?", (fold_name(back.tile),)
        ).fetchone()
        if ware:
            sql.execute(
                "INSERT INTO back (ware_id, photo_id, polygon) VALUES (?, ?, ?) ON CONFLICT (ware_id) DO UPDATE "
                "SET photo_id = excluded.photo_id, polygon = excluded.polygon",
                (*ware, photo, json.dumps(back.polygon)),
            )


def back_of(sql: sqlite3.Connection, folder: Path, tile: str) -> PhotoOf | None:
    """The photo in which a tile's back is, and its outline there; None where none was taken."""
    found = sql.execute(
        "SELECT sha256, suffix, photo.name, polygon FROM back JOIN ware ON ware.id = ware_id "
        "JOIN photo ON photo.id = photo_id WHERE ware.kind = 'tile' AND ware.folded = ?",
        (fold_name(tile),),
    ).fetchone()
    return photo_of(folder, *found) if found else None
