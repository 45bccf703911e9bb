"""Keyword text as ISO 28178 (and CGATS.17 before it) has it: cards in, readings out.

The shape, from memory of the standard and of published files: an identifier line, lines of ``KEYWORD value``,
a data format between BEGIN_DATA_FORMAT and END_DATA_FORMAT, samples between BEGIN_DATA and END_DATA; parted by
spaces or tabs, texts in quotation marks, ``#`` begins a remark. Keywords that the standard does not know are
declared by ``KEYWORD "NAME"``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from swatch.formats.cells import number
from swatch.formats.csv_text import plain_line, read_text
from swatch.terms.colour import Lab
from swatch.terms.measured import CardTable
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.files import (
    card_layout,
    card_not_d50,
    cell_too_long,
    keyword_text_broken,
    no_value,
    too_many_rows,
)

MOST_SAMPLES = 20_000
MOST_LINE = 100_000
MOST_CARD_SIDE = 40
FEWEST_PATCHES = 6
"""A colour correction of six terms has no single answer from fewer."""

_TOKEN = re.compile(r'"((?:[^"]|"")*)"|([^\s"#]\S*)')
_WORD = re.compile(r"[A-Z][A-Z0-9_.]*")
_STANDARD = frozenset(
    (
        *("ORIGINATOR", "FILE_DESCRIPTOR", "CREATED", "DESCRIPTOR", "MANUFACTURER", "INSTRUMENTATION"),
        *("ILLUMINATION_NAME", "OBSERVER_ANGLE", "WEIGHTING_FUNCTION", "MEASUREMENT_SOURCE"),
        *("MEASUREMENT_GEOMETRY", "SERIAL", "MATERIAL", "PRINT_CONDITIONS", "KEYWORD", "SAMPLE_ID", "SAMPLE_NAME"),
        *("LAB_L", "LAB_A", "LAB_B", "STDEV_L", "STDEV_A", "STDEV_B"),
    )
)
_OURS = ("NUMBER_OF_FIELDS", "NUMBER_OF_SETS", "BEGIN_DATA_FORMAT", "END_DATA_FORMAT", "BEGIN_DATA", "END_DATA")

_ILLUMINANT = re.compile(r"\b(D\s?[0-9]{2}|A|C|E|F\s?[0-9]{1,2})\b", re.IGNORECASE)
_OBSERVER = re.compile(r"(?<![0-9.])(2|10)(?![0-9.])")
_SOURCE_PART = re.compile(r"(Illumination|Illuminant|Observer\w*)\s*[=:]\s*([^\s;,]+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class KeywordText:
    """One file: its keywords in order, the names of its fields, and the samples as text."""

    keywords: tuple[tuple[str, str], ...]
    fields: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    row_numbers: tuple[int, ...] = ()

    def values(self, *keys: str) -> tuple[str, ...]:
        """Every value said for any of `keys`."""
        return tuple(value for key, value in self.keywords if key in keys)


def write_keyword_text(text: KeywordText) -> bytes:
    """Write a file that `read_keyword_text` reads back, as UTF-8."""
    lines = ["ISO28178"]
    words = [key for key, _ in text.keywords] + list(text.fields)
    lines += [f'KEYWORD "{word}"' for word in dict.fromkeys(words) if word not in _STANDARD]
    lines += [f"{key} {_quoted(value)}" for key, value in text.keywords]
    lines += [
        f"NUMBER_OF_FIELDS {len(text.fields)}",
        "BEGIN_DATA_FORMAT",
        " ".join(text.fields),
        "END_DATA_FORMAT",
    ]
    lines += [f"NUMBER_OF_SETS {len(text.rows)}", "BEGIN_DATA"]
    lines += ["\t".join(_bare_or_quoted(cell) for cell in row) for row in text.rows]
    lines += ["END_DATA", ""]
    return "\r\n".join(lines).encode("utf-8")


def read_keyword_text(data: bytes, name: str) -> KeywordText:
    """Read a file of keyword text.

    Raises
    ------
    StudioProblem
        ``keyword-text-broken`` with the line, or what `read_text` refuses.
    """
    reader = _Reader(name)
    # Only real line ends part lines here: a name may hold what str.splitlines would also take for one.
    for line_number, line in enumerate(re.split(r"\r\n|\r|\n", read_text(data, name)), 1):
        try:
            reader.take(line_number, line)
        except StudioProblem as problem:
            raise problem.at(Where(file=name, row=line_number)) from None
    return reader.whole()


def read_card(data: bytes, name: str) -> CardTable:
    """Read a reference card: SAMPLE_ID, LAB_L, LAB_A, LAB_B, samples row by row.

    Raises
    ------
    StudioProblem
        ``card-not-d50``: it does not say D50 and 2 degree, or says something else. ``card-layout``: its rows and
        columns are missing or do not go with its patches. And what `read_keyword_text` refuses.
    """
    text = read_keyword_text(data, name)
    where = Where(file=name)
    _check_stated_for_d50(text, where)
    rows, columns = (_side(text, key, where) for key in ("SWATCH_ROWS", "SWATCH_COLUMNS"))
    if rows * columns != len(text.rows):
        raise card_layout(f"{rows} × {columns} ≠ {len(text.rows)}").at(where)
    if len(text.rows) < FEWEST_PATCHES:
        raise card_layout(f"{len(text.rows)} < {FEWEST_PATCHES}").at(where)
    places = [_place(text, word, where) for word in ("SAMPLE_ID", "LAB_L", "LAB_A", "LAB_B")]
    ids: set[str] = set()
    colours: list[Lab] = []
    for line, row in zip(text.row_numbers, text.rows, strict=True):
        try:
            sample, *numbers = (row[place] for place in places)
            if not sample:
                raise no_value("SAMPLE_ID")
            if sample in ids:
                raise keyword_text_broken(f"SAMPLE_ID {sample}")
            ids.add(sample)
            colours.append(_lab(numbers))
        except StudioProblem as problem:
            raise problem.at(Where(file=name, row=line)) from None
    descriptor = text.values("FILE_DESCRIPTOR", "DESCRIPTOR")
    return CardTable(descriptor[0] if descriptor and descriptor[0] else name, rows, columns, tuple(colours))


def write_card(card: CardTable) -> bytes:
    """Write a reference card that `read_card` reads back."""
    return write_keyword_text(
        KeywordText(
            keywords=(
                ("FILE_DESCRIPTOR", card.name),
                ("ILLUMINATION_NAME", "D50"),
                ("OBSERVER_ANGLE", "2"),
                ("SWATCH_ROWS", str(card.rows)),
                ("SWATCH_COLUMNS", str(card.columns)),
            ),
            fields=("SAMPLE_ID", "LAB_L", "LAB_A", "LAB_B"),
            rows=tuple((str(i), *(repr(float(v)) for v in lab)) for i, lab in enumerate(card.lab, 1)),
        )
    )


class _Reader:
    """Takes the lines one after another; what a line may be depends on where in the file it stands."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._take: Callable[[int, list[str]], None] = self._identifier
        self._keywords: list[tuple[str, str]] = []
        self._fields: list[str] | None = None
        self._rows: list[tuple[str, ...]] = []
        self._numbers: list[int] = []
        self._promised: dict[str, int] = {}
        self._seen_data = False

    def take(self, line_number: int, line: str) -> None:
        if len(line) > MOST_LINE:
            raise cell_too_long("", MOST_LINE)
        tokens = _tokens(line)
        if tokens:
            self._take(line_number, tokens)

    def whole(self) -> KeywordText:
        where = Where(file=self._name)
        if self._fields is None or not self._seen_data or self._take != self._outside:
            raise keyword_text_broken("BEGIN_DATA … END_DATA").at(where)
        sets = self._promised.get("NUMBER_OF_SETS", len(self._rows))
        if sets != len(self._rows):
            raise keyword_text_broken(f"NUMBER_OF_SETS {sets} ≠ {len(self._rows)}").at(where)
        return KeywordText(tuple(self._keywords), tuple(self._fields), tuple(self._rows), tuple(self._numbers))

    def _identifier(self, line_number: int, tokens: list[str]) -> None:
        # The standard's own identifier and its predecessor's, with or without a space or a suffix.
        said = "".join(tokens).upper()
        if not said.startswith(("ISO28178", "CGATS", "IT8")):
            raise keyword_text_broken(tokens[0][:40])
        self._take = self._outside

    def _outside(self, line_number: int, tokens: list[str]) -> None:
        word, rest = tokens[0], tokens[1:]
        if word == "BEGIN_DATA_FORMAT" and self._fields is None:
            self._fields, self._take = [], self._format
            if rest:
                self._format(line_number, rest)
        elif word == "BEGIN_DATA" and self._fields and not self._seen_data and not rest:
            self._seen_data, self._take = True, self._data
        elif word in ("NUMBER_OF_FIELDS", "NUMBER_OF_SETS"):
            if len(rest) != 1 or not re.fullmatch(r"[0-9]{1,7}", rest[0]) or word in self._promised:
                raise keyword_text_broken(word)
            self._promised[word] = int(rest[0])
        elif _WORD.fullmatch(word) and word not in _OURS:
            if word != "KEYWORD":  # a declaration of another keyword says nothing by itself
                self._keywords.append((word, " ".join(rest)))
        else:
            raise keyword_text_broken(word[:40])

    def _format(self, line_number: int, tokens: list[str]) -> None:
        assert self._fields is not None
        for token in tokens:
            if token == "END_DATA_FORMAT":
                self._take = self._outside
                promised = self._promised.get("NUMBER_OF_FIELDS", len(self._fields))
                if not self._fields or promised != len(self._fields):
                    raise keyword_text_broken(f"NUMBER_OF_FIELDS {promised} ≠ {len(self._fields)}")
                return
            if not _WORD.fullmatch(token) or token in self._fields or token in _OURS:
                raise keyword_text_broken(token[:40])
            self._fields.append(token)

    def _data(self, line_number: int, tokens: list[str]) -> None:
        if tokens == ["END_DATA"]:
            self._take = self._outside
            return
        assert self._fields is not None
        if len(tokens) != len(self._fields):
            raise keyword_text_broken(f"{len(tokens)} ≠ {len(self._fields)}")
        if len(self._rows) >= MOST_SAMPLES:
            raise too_many_rows(MOST_SAMPLES)
        self._rows.append(tuple(tokens))
        self._numbers.append(line_number)


def _tokens(line: str) -> list[str]:
    tokens, at = [], 0
    bare = line.strip(" \t")
    while at < len(bare) and bare[at] != "#":
        found = _TOKEN.match(bare, at)
        if not found:
            raise keyword_text_broken('"')
        quoted, word = found.group(1), found.group(2)
        token = quoted.replace('""', '"') if quoted is not None else word
        if not plain_line(token):
            raise keyword_text_broken(repr(token[:40]))
        tokens.append(token)
        at = found.end()
        if at < len(bare) and bare[at] not in " \t":
            raise keyword_text_broken(bare[at : at + 40])
        while at < len(bare) and bare[at] in " \t":
            at += 1
    return tokens


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def _bare_or_quoted(text: str) -> str:
    return text if re.fullmatch(r"[A-Za-z0-9.+-]+", text) and text not in _OURS else _quoted(text)


def _lab(numbers: list[str]) -> Lab:
    reads = (number(0, 105), number(-160, 160), number(-160, 160))
    values = [read(word, text) for read, word, text in zip(reads, ("LAB_L", "LAB_A", "LAB_B"), numbers)]
    return Lab(*(float(value) for value in values if isinstance(value, float)))


def _place(text: KeywordText, word: str, where: Where) -> int:
    if word not in text.fields:
        raise keyword_text_broken(word).at(where)
    return text.fields.index(word)


def _side(text: KeywordText, key: str, where: Where) -> int:
    said = text.values(key)
    if len(said) != 1 or not re.fullmatch(r"[0-9]{1,3}", said[0]) or not 1 <= int(said[0]) <= MOST_CARD_SIDE:
        raise card_layout(f"{key} {' '.join(said)}".strip()).at(where)
    return int(said[0])


def _check_stated_for_d50(text: KeywordText, where: Where) -> None:
    """Refuse a card whose light and observer are not said, or are others than D50 and 2 degree."""
    lights: set[str] = set()
    observers: set[str] = set()
    for value in text.values("ILLUMINATION_NAME", "ILLUMINANT"):
        lights.update(_ILLUMINANT.findall(value) or [value])
    for value in text.values("OBSERVER_ANGLE", "OBSERVER"):
        observers.update(_OBSERVER.findall(value) or [value])
    for value in text.values("WEIGHTING_FUNCTION"):
        if "OBSERVER" in value.upper():
            observers.update(_OBSERVER.findall(value) or [value])
        if "ILLUMINANT" in value.upper():
            lights.update(_ILLUMINANT.findall(value.upper().replace("ILLUMINANT", "")) or [value])
    for value in text.values("MEASUREMENT_SOURCE"):
        for word, said in _SOURCE_PART.findall(value):
            if word.casefold().startswith("observer"):
                observers.update(_OBSERVER.findall(said) or [said])
            else:
                lights.update(_ILLUMINANT.findall(said) or [said])
    lights = {light.upper().replace(" ", "") for light in lights}
    if lights != {"D50"} or observers != {"2"}:
        said = ", ".join(sorted(lights) + [f"{angle}°" for angle in sorted(observers)])
        raise card_not_d50(said).at(where)
