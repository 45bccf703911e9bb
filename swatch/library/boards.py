"""Boards: planned tiles, on record before they are made.

A planned tile is a ware like any other, with zones and layers and no reading yet; what its photo brings joins it
by tile and zone. The slot keeps what was planned, whatever is written down of the zone later.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import UTC, datetime

from swatch.library.file import RecordsFile
from swatch.library.names import Names, add_row
from swatch.library.words import clean, cone_of, cone_text, covariance_values, named
from swatch.terms.boards import Board, BoardTarget, BoardTile, BoardZone
from swatch.terms.colour import Covariance, Lab
from swatch.terms.layering import Layer, Layers
from swatch.terms.problems.studio import name_taken

_COLOUR = ("L", "a", "b", "LL", "La", "Lb", "aa", "ab", "bb")


def plan_boards(file: RecordsFile, boards: Sequence[Board]) -> None:
    """Put boards on record with their tiles, as one named change called after the first.

    Raises
    ------
    StudioProblem
        ``name-taken``: a board or a tile is called so already. ``no-name``.
    """
    n = sum(len(board.tiles) for board in boards)
    with file.change("plan-board", name=boards[0].name, n=n) as sql:
        names = Names(sql)
        for board in boards:
            _put_board(names, board)


def read_boards(sql: sqlite3.Connection) -> tuple[Board, ...]:
    """Every board, the latest first; a tile taken out of the records is not on it any more."""
    layers: dict[int, list[Layer]] = {}
    for slot, name, coats, wiped in sql.execute(
        "SELECT slot_id, material.name, coats, wiped FROM slot_layer JOIN material ON material.id = material_id "
        "ORDER BY slot_id, position"
    ):
        layers.setdefault(slot, []).append(Layer(name, coats, bool(wiped)))
    tiles: dict[int, dict[str, tuple[str, list[BoardZone]]]] = {}
    for board, slot, tile, zone, why, read, *said in sql.execute(
        "SELECT board_id, slot.id, ware.name, zone.name, why, "
        "EXISTS (SELECT 1 FROM reading WHERE reading.zone_id = zone.id), "
        "slot.L, slot.a, slot.b, LL, La, Lb, aa, ab, bb, chance_within "
        "FROM slot JOIN zone ON zone.id = zone_id JOIN ware ON ware.id = ware_id ORDER BY slot.position"
    ):
        _, zones = tiles.setdefault(board, {}).setdefault(tile, (why, []))
        lab, covariance, chance = said[:3], said[3:9], said[9]
        known = None not in said[:9]
        zones.append(
            BoardZone(
                zone,
                tuple(layers.get(slot, ())),
                bool(read),
                Lab(*lab) if known else None,
                Covariance(*covariance) if known else None,
                chance,
            )
        )
    return tuple(
        Board(
            name,
            body or "",
            cone_of(cone),
            tuple(BoardTile(tile, tuple(zones), why) for tile, (why, zones) in tiles.get(row, {}).items()),
            made_at,
            BoardTarget(Lab(*target[:3]), *target[3:]) if target[0] is not None else None,
        )
        for row, name, body, cone, made_at, *target in sql.execute(
            "SELECT board.id, board.name, body.name, cone, made_at, target.L, target.a, target.b, tolerance, "
            "source FROM board LEFT JOIN body ON body.id = body_id LEFT JOIN target ON target.id = target_id "
            "ORDER BY made_at DESC, board.id DESC"
        )
    )


def leave_slots(sql: sqlite3.Connection, wares: Sequence[int]) -> None:
    """Let go of tiles that are being taken out of the records; what was planned stays."""
    sql.executemany(
        "UPDATE slot SET zone_id = NULL WHERE zone_id IN (SELECT id FROM zone WHERE ware_id = ?)",
        [(ware,) for ware in wares],
    )


def _put_board(names: Names, board: Board) -> None:
    sql = names.sql
    written, folded = named(board.name, "board")
    if sql.execute("SELECT 1 FROM board WHERE folded = ?", (folded,)).fetchone():
        raise name_taken(written)
    body = names.of("body", board.body)
    fields = {
        "name": written,
        "folded": folded,
        "body_id": body,
        "cone": cone_text(board.cone),
        "made_at": board.made_at or datetime.now(UTC).isoformat(timespec="seconds"),
    }
    if board.target is not None:
        fields["target_id"] = _put_target(sql, written, folded, board.target)
    row = add_row(sql, "board", fields)
    position = 0
    for tile in board.tiles:
        ware = _new_tile(sql, tile, body)
        for zone in tile.zones:
            position += 1
            _put_zone(names, row, position, ware, tile, zone)


def _put_target(sql: sqlite3.Connection, name: str, folded: str, target: BoardTarget) -> int:
    """A board's target is called as the board."""
    fields = {
        "name": name,
        "folded": folded,
        "L": target.lab.L,
        "a": target.lab.a,
        "b": target.lab.b,
        "tolerance": target.tolerance,
        "source": clean(target.source),
    }
    return add_row(sql, "target", fields)


def _new_tile(sql: sqlite3.Connection, tile: BoardTile, body: int) -> int:
    written, folded = named(tile.tile, "tile")
    if sql.execute("SELECT 1 FROM ware WHERE kind = 'tile' AND folded = ?", (folded,)).fetchone():
        raise name_taken(written)
    return add_row(sql, "ware", {"kind": "tile", "name": written, "folded": folded, "body_id": body})


def _put_zone(names: Names, board: int, position: int, ware: int, tile: BoardTile, zone: BoardZone) -> None:
    sql = names.sql
    written, folded = named(zone.zone, "zone")
    made = add_row(sql, "zone", {"ware_id": ware, "name": written, "folded": folded})
    fields = {"board_id": board, "position": position, "zone_id": made, "why": clean(tile.why)}
    if zone.said is not None:
        said = zip(_COLOUR, (*zone.said, *covariance_values(zone.covariance)), strict=True)
        fields |= {**dict(said), "chance_within": zone.chance}
    slot = add_row(sql, "slot", fields)
    _put_layers(names, "slot_layer", "slot_id", slot, zone.layers)
    _put_layers(names, "layer", "zone_id", made, zone.layers)


def _put_layers(names: Names, table: str, owner: str, row: int, layers: Layers) -> None:
    for position, layer in enumerate(layers):
        fields = {
            owner: row,
            "position": position,
            "material_id": names.of("material", layer.material),
            "coats": layer.coats,
            "wiped": int(layer.wiped),
        }
        add_row(names.sql, table, fields)
