"""Between the terms' values and the text and numbers the records hold."""

from __future__ import annotations

import json
from collections.abc import Sequence

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.layering import fold_name
from swatch.terms.problems.base import Notice, StudioProblem, Where
from swatch.terms.problems.studio import bad_text, no_name

LAB_COLUMNS = "L, a, b"
COVARIANCE_COLUMNS = "LL, La, Lb, aa, ab, bb"
NO_COVARIANCE = (None,) * 6


def clean(text: str) -> str:
    """Return a text that the records can hold.

    Raises
    ------
    StudioProblem
        ``bad-text``: it holds a NUL, at which other readers of the file would cut it, or half a character.
    """
    try:
        text.encode()
    except UnicodeEncodeError:
        raise bad_text(text.encode(errors="replace").decode()) from None
    if "\0" in text:
        raise bad_text(text.replace("\0", "�"))
    return text


def clean_or_none(text: str | None) -> str | None:
    """The same for a text that may be absent."""
    return None if text is None else clean(text)


def named(text: str, what: str) -> tuple[str, str]:
    """Return a name as it is written, in single spaces, and as it is compared.

    Raises
    ------
    StudioProblem
        ``no-name``: nothing is left of it; `what` is what the name is for. ``bad-text`` as in `clean`.
    """
    name = " ".join(clean(text).split())
    if not name:
        raise no_name(what)
    return name, fold_name(name)


def cone_text(cone: Cone | None) -> str | None:
    """Write a cone so that `cone_of` gives the very same position back.

    A place between two cones of the 0-series has no text of its own, nor has one read finer than hundredths;
    these are written as their position behind an @.
    """
    if cone is None:
        return None
    text = str(cone)
    try:
        if parse_cone(text, between=True) == cone:
            return text
    except StudioProblem:
        pass  # not a cone that has a text: the position follows
    return f"@{cone.position!r}"


def cone_of(text: str | None) -> Cone | None:
    """Read a cone as the records hold it."""
    if text is None:
        return None
    return Cone(float(text[1:])) if text.startswith("@") else parse_cone(text, between=True)


def lab_values(lab: Lab | None) -> tuple[float | None, float | None, float | None]:
    """The three numbers of a colour, or three empty ones."""
    return (None, None, None) if lab is None else (float(lab.L), float(lab.a), float(lab.b))


def covariance_values(covariance: Covariance | None) -> tuple[float | None, ...]:
    """The six numbers of a covariance, or six empty ones."""
    return NO_COVARIANCE if covariance is None else tuple(float(value) for value in covariance)


def notices_json(notices: Sequence[Notice]) -> str:
    """Write warnings for the records."""
    rows = [{"code": n.code, "facts": dict(n.facts), "zone": n.where.zone} for n in notices]
    return json.dumps(rows, ensure_ascii=True)


def notices_of(text: str, photo: str | None = None) -> tuple[Notice, ...]:
    """Read warnings from the records."""
    found = json.loads(text)
    return tuple(Notice(row["code"], row["facts"], Where(photo=photo, zone=row["zone"])) for row in found)
