"""Which planned tile a zone of a photo is: by its number, or by the slot of a sheet printed for its board."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.desk.photo_work import split_name
from swatch.terms.boards import Board, BoardTile, BoardZone
from swatch.terms.layering import fold_name
from swatch.terms.sheet import SheetSeen, Split, firing_mark


def planned_zone(boards: Sequence[Board], tile: str, zone: str) -> tuple[Board, BoardZone] | None:
    """What was planned of a zone; None where nothing was."""
    wanted = fold_name(tile), fold_name(zone)
    for board in boards:
        for one in board.tiles:
            for part in one.zones:
                if (fold_name(one.tile), fold_name(part.zone)) == wanted:
                    return board, part
    return None


def board_of_sheet(boards: Sequence[Board], seen: SheetSeen | None) -> Board | None:
    """The board a sheet was printed for, by the mark of its firing in the sheet's code."""
    if seen is None or not seen.code.firing:
        return None
    return next((one for one in boards if firing_mark(one.name) == seen.code.firing), None)


def named_by_slot(boards: Sequence[Board], seen: SheetSeen | None, name: str) -> tuple[str, str]:
    """Tile and zone of a sheet's zone (``3`` or ``3.2``): the board's own names where the sheet is the board's."""
    board = board_of_sheet(boards, seen)
    slot, _, part = name.partition(".")
    if seen is None or not slot.isdigit():
        return split_name(name)
    number = int(part) if part.isdigit() else 1
    if board is None or not 1 <= int(slot) <= len(board.tiles):
        return slot, chr(64 + (4 - number if seen.code.split is Split.STEPS else number))
    tile = board.tiles[int(slot) - 1]
    found = _part(tile, seen.code.split, number)
    return (tile.tile, found) if found else split_name(name)


def _part(tile: BoardTile, split: Split, part: int) -> str:
    """A tile's zone by the number a sheet gives it: steps count their coats, so the top one is the last."""
    at = len(tile.zones) - part if split is Split.STEPS else part - 1
    return tile.zones[at].zone if 0 <= at < len(tile.zones) else ""
