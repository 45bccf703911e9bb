"""Jars read from a list as people write one: a name, what it is, how many, how large."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from swatch.terms.layering import fold_name
from swatch.terms.materials import Kind, Material
from swatch.wording.surface import kind_in_words, kinds_in_words
from swatch.wording.text import _, say, say_many

_BULLET = re.compile(r"^\s*(?:[-–•*]+|\d+[.)])\s+")
_COUNT = re.compile(r"^(\d{1,2})\s*[x×]\s*(?=\D)|\s+[x×]\s*(\d{1,2})$", re.IGNORECASE)
_SIZE = re.compile(
    r"(?:^|\s)(\d+(?:[.,]\d+)?|\d+\s*/\s*\d+|[½¼¾])\s*"
    r"(kg|g|mg|ml|cl|dl|l|fl\.? ?oz|oz|lbs?|pints?|pt|qt|quarts?|gallons?|gal)\.?"
    r"(?:\s+(?:jar|pot|tub|bottle|bag|bucket))?$",
    re.IGNORECASE,
)
_GRAMS = {"g": 1.0, "kg": 1000.0}


def read_jars(text: str) -> list[Material]:
    """Read a list of jars, one a line.

    ``Halm Moss, underglaze``, ``Window (clear) 1 pt``, ``3x Honey amber glaze`` and ``- Moss x2`` are all
    understood; the kind is said as files say it or in the language in use, last or after a comma, a tab or in
    brackets. A kind that is no more than the name's last word stays in the name. A size in grams tells what is
    left; other sizes tell nothing of weight. The first spelling of a name stays; two kinds of it are two jars.
    """
    out: dict[str, Material] = {}
    for line in text.splitlines():
        jar = _read_line(line)
        if jar is None:
            continue
        known = out.get(fold_name(jar.name))
        if known is not None and known.kind is not None and jar.kind is not None and known.kind is not jar.kind:
            jar = replace(jar, name=f"{jar.name} {kind_in_words(jar.kind)}")
            known = out.get(fold_name(jar.name))
        if known is not None:
            left = [g for g in (known.left_g, jar.left_g) if g is not None]
            jar = replace(known, kind=known.kind or jar.kind, left_g=sum(left) if left else None)
        out[fold_name(jar.name)] = jar
    return list(out.values())


def _read_line(line: str) -> Material | None:
    text = _BULLET.sub("", line.strip())
    times = 1
    kind: Kind | None = None
    left: float | None = None
    parts: list[str] = []
    for part in (" ".join(part.split()) for part in re.split(r"[,;\t()\[\]]", text)):
        counted = _COUNT.search(part)
        if counted:
            times = int(counted.group(1) or counted.group(2)) or 1
            part = _COUNT.sub("", part).strip()
        sized = _SIZE.search(part)
        if sized:
            grams = _GRAMS.get(sized.group(2).casefold())
            if grams is not None and "/" not in sized.group(1) and sized.group(1) not in "½¼¾":
                left = float(sized.group(1).replace(",", ".")) * grams
            part = part[: sized.start()].strip()
        found = _kind_called(part)
        if found is not None and parts:
            kind = kind or found
        elif part:
            parts.append(part)
    if not parts:
        return None
    name = parts[0]
    if kind is None and " " in name:
        kind = _kind_called(name.rsplit(" ", 1)[1])
    return Material(name, kind, left_g=left * times if left is not None else None)


def _kind_called(word: str) -> Kind | None:
    """The kind of that name: as in files, and in the language in use."""
    wanted = word.casefold()
    return next((kind for kind in Kind if wanted in (kind.value, kind_in_words(kind).casefold())), None)


def jars_in_words(jars: Sequence[Material]) -> str:
    """What was understood, in one line: ``1 underglaze, 2 glazes. Of what kind is Tomato?``."""
    if not jars:
        return ""
    counts = [(kind, sum(jar.kind is kind for jar in jars)) for kind in Kind]
    kinds = ", ".join(kinds_in_words(kind, n) for kind, n in counts if n)
    unsaid = [jar.name for jar in jars if jar.kind is None]
    lines = [f"{kinds}."] if kinds else []
    if len(unsaid) == 1:
        lines.append(say(_("Of what kind is {name}?")).format(name=unsaid[0]))
    elif unsaid:
        text = say_many("{n} of no kind said, first {name}.", "{n} of no kind said, first {name}.", len(unsaid))
        lines.append(text.format(n=len(unsaid), name=unsaid[0]))
    return " ".join(lines)


def by_what_is_said(jars: Sequence[Material]) -> list[tuple[list[Material], frozenset[str]]]:
    """The jars in groups that say the same fields, so that what is not said stays as it is on record."""
    out: dict[frozenset[str], list[Material]] = {}
    for jar in jars:
        given = {name for name in ("kind", "left_g") if getattr(jar, name) is not None}
        out.setdefault(frozenset(given), []).append(jar)
    return [(values, given) for given, values in out.items()]
