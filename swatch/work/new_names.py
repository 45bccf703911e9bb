"""Names that come in for the first time and look like a slip of one that is there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from swatch.formats.tables import Table, WithDoubt
from swatch.library.studio import Studio
from swatch.terms.layering import fold_name
from swatch.terms.problems import Notice, Where
from swatch.terms.problems.files import name_near_another

LEAST_LETTERS = 4
"""Shorter names are numbers and marks, of which one is always near another."""
_TWO_SLIPS_FROM = 8
"""Letters from which a name may hold two slips and still be taken for another."""
MOST_COMPARED = 250_000
"""Pairs of names that are looked at; a file with more new names is no list of a studio's materials."""
_OWN = {"materials": "material", "bodies": "body", "firings": "firing"}
"""Tables whose rows name a thing each: two near names in one of them are both meant."""


def look_at_names(studio: Studio, table: str, read: Table[Any], file: str) -> tuple[Notice, ...]:
    """Tell of every name of a material, body or firing that the rows are about to make and that is near another.

    Parameters
    ----------
    studio : Studio
        Before the rows are in it.
    table : str
        Kind of table, as `bring_in` names it.
    read : Table
    file : str
        What the file is called in messages.

    Returns
    -------
    tuple of Notice
        ``name-near-another``, one a name, at the first row that has it.
    """
    known = {
        "material": {fold_name(one.name): one.name for one in studio.materials()},
        "body": {fold_name(name): name for name in studio.bodies()},
        "firing": {fold_name(one.name): one.name for one in studio.firings()},
    }
    first: dict[tuple[str, str], tuple[str, int]] = {}
    times: dict[tuple[str, str], int] = {}
    for line, row in zip(read.row_numbers, read.rows, strict=True):
        for what, name in _named(table, row):
            key = what, fold_name(name)
            times[key] = times.get(key, 0) + 1
            if key[1] not in known[what]:
                first.setdefault(key, (name, line))
    if len(first) * (len(first) + sum(map(len, known.values()))) > MOST_COMPARED:
        return ()
    notices = []
    for (what, folded), (name, line) in first.items():
        others = dict(known[what])
        if _OWN.get(table) != what:
            # Of two new names, the rarer one is the slip, and of two as rare, the later one.
            rank = times[what, folded], -line
            others |= {k: n for (w, k), (n, at) in first.items() if w == what and (times[w, k], -at) > rank}
        near = next((other for key, other in sorted(others.items()) if is_near(folded, key)), None)
        if near is not None:
            notices.append(name_near_another(what, name, near).at(Where(file=file, row=line)))
    return tuple(notices)


def is_near(one: str, other: str) -> bool:
    """Tell whether two folded names may be one name with a slip: a letter more, less, wrong, or two swapped.

    Names that differ in a digit, or in a word of one letter, are told apart on purpose: Rose 1 and Rose 2.
    """
    if one == other or min(len(one), len(other)) < LEAST_LETTERS:
        return False
    if [ch for ch in one if ch.isdigit()] != [ch for ch in other if ch.isdigit()]:
        return False
    words, others = one.split(), other.split()
    if len(words) == len(others) and any(len(a) < 2 or len(b) < 2 for a, b in zip(words, others) if a != b):
        return False
    most = 2 if min(len(one), len(other)) >= _TWO_SLIPS_FROM else 1
    return abs(len(one) - len(other)) <= most and _slips(one, other) <= most


def _slips(one: str, other: str) -> int:
    """Count letters to add, leave out, change or swap with the next one (optimal string alignment)."""
    before: list[int] = []
    above = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        row = [i]
        for j, b in enumerate(other, 1):
            cost = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                cost = min(cost, before[j - 2] + 1)
            row.append(cost)
        before, above = above, row
    return above[-1]


def _named(table: str, row: Any) -> Iterator[tuple[str, str]]:
    """What a row names, kind by kind."""
    value = row.value if isinstance(row, WithDoubt) else row
    if table in ("materials", "firings"):
        yield _OWN[table], value.name
        return
    for layer in getattr(value, "layers", ()):
        yield "material", layer.material
    for what in ("material", "body", "firing"):
        name = getattr(value, what, None)
        if name is not None:
            yield what, name
