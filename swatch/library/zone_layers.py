"""The layers of a zone, and which of them lay there at a given firing.

A zone has one list of layers, from the body outward. A layer put on between two firings is marked with the firing
it was put on after, so the list tells what a reading saw: everything put on after an earlier firing than its own.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from swatch.library.names import Names, add_row, set_fields
from swatch.terms.layering import Layer, Layers, fold_name, format_layers

NONE_KNOWN = -1
"""Stands for the number of re-fires of "before any firing we know of"."""


@dataclass(frozen=True, slots=True)
class Said:
    """What rows say of a zone at one number of re-fires; method and lot count only where they are said."""

    layers: Layers | None
    method: str | None
    method_said: bool
    lot: str | None
    lot_said: bool


@dataclass(frozen=True, slots=True)
class LayerRow:
    """One layer as it is stored; ``after`` is the number of re-fires of the firing it came after."""

    id: int
    material_id: int
    material: str
    coats: float
    wiped: bool
    method: str | None
    lot_id: int | None
    after: int
    after_event_id: int | None


def merged(layers: Layers) -> Layers:
    """Make neighbouring layers of one material one layer with the coats added."""
    found: list[Layer] = []
    for layer in layers:
        if found and same_layer(found[-1], layer):
            coats = round(found[-1].coats + layer.coats, 9)
            found[-1] = Layer(found[-1].material, coats, layer.wiped)
        else:
            found.append(layer)
    return tuple(found)


def same_layer(one: Layer, other: Layer) -> bool:
    """Tell whether two layers are of one material, put on alike; coats may differ."""
    return one.wiped == other.wiped and fold_name(one.material) == fold_name(other.material)


def same_layers(one: Layers, other: Layers) -> bool:
    """Tell whether two layerings are the same."""
    return len(one) == len(other) and all(same_layer(a, b) and a.coats == b.coats for a, b in zip(one, other))


def put_on_top(below: Layers, whole: Layers) -> Layers | None:
    """Return what was put on `below` to give `whole`; None where `whole` does not continue `below`."""
    n = len(below)
    if len(whole) >= n and same_layers(whole[:n], below):
        return whole[n:]
    if 0 < n <= len(whole) and same_layers(whole[: n - 1], below[: n - 1]) and same_layer(whole[n - 1], below[-1]):
        more = round(whole[n - 1].coats - below[-1].coats, 9)
        if more > 0:
            return (Layer(whole[n - 1].material, more, whole[n - 1].wiped), *whole[n:])
    return None


def layer_rows(sql: sqlite3.Connection, zone: int) -> list[LayerRow]:
    """Return the stored layers of a zone, from the body outward."""
    rows = sql.execute(
        "SELECT layer.id, material_id, material.name, coats, wiped, method, lot_id, ifnull(refires, ?), "
        "after_event_id FROM layer JOIN material ON material.id = material_id "
        "LEFT JOIN ware_event ON ware_event.id = after_event_id WHERE zone_id = ? ORDER BY layer.position",
        (NONE_KNOWN, zone),
    )
    return [LayerRow(r[0], r[1], r[2], r[3], bool(r[4]), *r[5:]) for r in rows]


def layers_at(rows: Sequence[LayerRow], refires: int) -> Layers:
    """Return the layers that lay on a zone at its firing number `refires`."""
    return merged(tuple(Layer(row.material, row.coats, row.wiped) for row in rows if row.after < refires))


def put_layers(
    names: Names,
    zone: int,
    rows: Sequence[LayerRow],
    levels: Mapping[int, Said],
    event_at: Callable[[int], int],
    differ: Callable[[str, str, str], Exception],
) -> bool:
    """Have a zone carry, at each number of re-fires in `levels`, what is said there; tell if anything changed.

    Parameters
    ----------
    rows : sequence of LayerRow
        The zone's layers as stored.
    levels : mapping of int to Said
        By number of re-fires; ``layers`` is filled in for each.
    event_at : callable
        Gives the event of the zone's firing with that number of re-fires.
    differ : callable
        Makes the problem raised where the levels contradict each other, from field and both values.
    """
    wanted: list[dict[str, object]] = []
    below: Layers = ()
    former: int | None = None
    for level in sorted(levels):
        said = levels[level]
        # A firing whose row leaves the layers empty saw what the one before it saw.
        whole = merged(said.layers or ()) or below
        top = put_on_top(below, whole)
        if top is None:
            raise differ("layers", format_layers(below), format_layers(whole))
        start = len(wanted)
        # Only what is put on between two firings needs the earlier one to be on record.
        after = event_at(former) if top and former is not None else None
        for layer in top:
            material = names.of("material", layer.material)
            wanted.append(
                {
                    "material_id": material,
                    "coats": layer.coats,
                    "wiped": int(layer.wiped),
                    "after_event_id": after,
                    **({"method": said.method} if said.method_said else {}),
                }
            )
        if said.lot_said and wanted:
            lot = names.lot(said.lot, material=names.of("material", whole[-1].material))
            _carry(wanted[-1], "lot_id", lot, len(wanted) > start, differ)
        if said.method_said and wanted and len(wanted) == start:
            _carry(wanted[-1], "method", said.method, False, differ)
        below, former = whole, level
    for row in rows:
        if all(row.material_id != layer["material_id"] for layer in wanted):
            names.leave("material", row.material_id, None)
    return _write(names.sql, zone, rows, wanted)


def _carry(
    layer: dict[str, object], field: str, value: object, new: bool, differ: Callable[[str, str, str], Exception]
) -> None:
    """Say `value` of a layer; a firing that saw nothing new may not say otherwise than the one before it."""
    known = layer.get(field)
    if not new and value is None:
        return
    if not new and known is not None and known != value:
        raise differ(field.removesuffix("_id"), str(known), str(value))
    layer[field] = value


def _write(sql: sqlite3.Connection, zone: int, rows: Sequence[LayerRow], wanted: list[dict[str, object]]) -> bool:
    changed = False
    for position, (row, new) in enumerate(zip(rows, wanted)):
        now: dict[str, object] = {
            "material_id": row.material_id,
            "coats": row.coats,
            "wiped": int(row.wiped),
            "method": row.method,
            "lot_id": row.lot_id,
            "after_event_id": row.after_event_id,
        }
        if row.material_id != new["material_id"]:
            # Another material: what was said of the former one's lot, hand and weight is not true of it.
            sql.execute("DELETE FROM layer WHERE id = ?", (row.id,))
            _add(sql, zone, position, {"method": row.method, **new})
            changed = True
        else:
            changed |= set_fields(sql, "layer", row.id, now, new)
    for position in range(len(rows), len(wanted)):
        _add(sql, zone, position, wanted[position])
        changed = True
    for surplus in rows[len(wanted) :]:
        sql.execute("DELETE FROM layer WHERE id = ?", (surplus.id,))
        changed = True
    return changed


def _add(sql: sqlite3.Connection, zone: int, position: int, fields: Mapping[str, object]) -> None:
    add_row(sql, "layer", {"zone_id": zone, "position": position, **fields})
