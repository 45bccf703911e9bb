"""The sheet's code: seven rows of fourteen cells that say which sheet it is, with a check on every bit."""

from __future__ import annotations

import math

from swatch.terms.sheet import Cells, Paper, SheetCode, Split

ROWS, COLUMNS = 7, 14
FORM = 1
"""Which reading of the bits this is; a sheet of another form is not read wrongly, but not at all."""
_PAPERS = (Paper.A4, Paper.LETTER, Paper.A3)
_SPLITS = (Split.WHOLE, Split.STEPS, Split.CROSSED_4, Split.CROSSED_9)
_FIELDS = (3, 2, 2, 8, 8, 9, 9, 8, 8, 24)
_CHECK_BITS = 16
_CRC_START, _CRC_POLYNOMIAL = 0xFFFF, 0x1021
_BODY_BITS = ROWS * COLUMNS - _CHECK_BITS
_SPARE = _BODY_BITS - sum(_FIELDS)


def cells_of(code: SheetCode) -> Cells:
    """Cells of a code, row by row.

    Raises
    ------
    ValueError
        A figure has more bits than its place.
    """
    values = (
        FORM,
        _PAPERS.index(code.paper),
        _SPLITS.index(code.split),
        *code.tile,
        *code.card,
        code.slots,
        code.sheet,
        code.firing,
    )
    message = 0
    for value, bits in zip(values, _FIELDS, strict=True):
        if not 0 <= value < 1 << bits:
            raise ValueError(f"{value} does not fit into {bits} bits")
        message = message << bits | value
    message = (message << _SPARE) << _CHECK_BITS | check_bits(message << _SPARE, _BODY_BITS)
    mask = _mask()
    return tuple(
        tuple(
            bool(message >> (ROWS * COLUMNS - 1 - (row * COLUMNS + k)) & 1) != mask[row][k] for k in range(COLUMNS)
        )
        for row in range(ROWS)
    )


def code_of(cells: Cells) -> SheetCode | None:
    """What cells say; None where their check does not hold or no sheet of ours can say that."""
    mask = _mask()
    message = 0
    for row in range(ROWS):
        for k in range(COLUMNS):
            message = message << 1 | (cells[row][k] != mask[row][k])
    body, check = message >> _CHECK_BITS, message & ((1 << _CHECK_BITS) - 1)
    if check != check_bits(body, _BODY_BITS) or body & ((1 << _SPARE) - 1):
        return None
    body >>= _SPARE
    values: list[int] = []
    for bits in reversed(_FIELDS):
        values.insert(0, body & ((1 << bits) - 1))
        body >>= bits
    form, paper, split, tile_wide, tile_high, card_wide, card_high, slots, sheet, firing = values
    if form != FORM or paper >= len(_PAPERS) or not slots or not sheet:
        return None
    return SheetCode(
        paper=_PAPERS[paper],
        tile=(tile_wide, tile_high),
        card=(card_wide, card_high),
        slots=slots,
        sheet=sheet,
        split=_SPLITS[split],
        firing=firing,
    )


def check_bits(message: int, length: int) -> int:
    """CRC-16 of the `length` bits of a message, most significant first (polynomial 1021, start FFFF)."""
    crc = _CRC_START
    for k in range(length - 1, -1, -1):
        top = crc >> 15 ^ (message >> k & 1)
        crc = crc << 1 & 0xFFFF ^ (_CRC_POLYNOMIAL if top else 0)
    return crc


def _mask() -> Cells:
    """A pattern without long runs, so that a sheet's code always has light and dark cells in every row."""
    golden = (math.sqrt(5) - 1) / 2
    return tuple(tuple((k * golden + row * golden**2) % 1 < 0.5 for k in range(COLUMNS)) for row in range(ROWS))
