"""Frozen values to JSON and back, for what crosses into a worker process.

Only classes of `swatch.terms` travel, named in the JSON and looked up in a closed table, so a worker that has
gone astray on a hostile photo can send back nothing but values. Sequences come back as tuples.
"""

from __future__ import annotations

import enum
import importlib
import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import PurePath
from typing import Any

from swatch.terms.problems import StudioProblem, Where

_TERMS = (
    "answers",
    "boards",
    "brought",
    "buttons",
    "colour",
    "colours",
    "cone",
    "edition_report",
    "editions",
    "evidence",
    "firing_heat",
    "forms",
    "holding",
    "knowledge",
    "layering",
    "material_plan",
    "materials",
    "measured",
    "next_tests",
    "problems.base",
    "replacing",
    "sheet",
    "trial",
)
_KIND, _IS = "__is__", "of"
_MAPPING = "mapping"
"""Said only of a mapping that has a key of its own spelt like the mark of a class."""


@cache
def _classes() -> dict[str, type]:
    found: dict[str, type] = {}
    for name in _TERMS:
        module = importlib.import_module(f"swatch.terms.{name}")
        for value in vars(module).values():
            if isinstance(value, type) and value.__module__ == module.__name__ and _travels(value):
                found[value.__name__] = value
    return found


def _travels(kind: type) -> bool:
    return is_dataclass(kind) or issubclass(kind, enum.Enum) or hasattr(kind, "_fields")


def to_plain(value: object) -> Any:
    """Turn terms' values, tuples, mappings and numbers into what JSON can say.

    Raises
    ------
    TypeError
        Something that is no value of the terms is inside.
    """
    if isinstance(value, StudioProblem):
        return {_KIND: "StudioProblem", _IS: [value.code, to_plain(value.where), dict(value.facts)]}
    if isinstance(value, enum.Enum):
        return {_KIND: type(value).__name__, _IS: value.value}
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, PurePath):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {
            _KIND: type(value).__name__,
            _IS: {f.name: to_plain(getattr(value, f.name)) for f in fields(value)},
        }
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return {_KIND: type(value).__name__, _IS: [to_plain(part) for part in value]}
    if isinstance(value, Mapping):
        plain = {str(key): to_plain(part) for key, part in value.items()}
        return {_KIND: _MAPPING, _IS: plain} if _KIND in plain else plain
    if isinstance(value, list | tuple):
        return [to_plain(part) for part in value]
    raise TypeError(f"{type(value).__name__} does not travel between processes")


def from_plain(plain: Any) -> Any:
    """Undo `to_plain`.

    Raises
    ------
    KeyError, TypeError, ValueError
        The JSON names a class that does not travel, or its parts do not make one.
    """
    if isinstance(plain, list):
        return tuple(from_plain(part) for part in plain)
    if not isinstance(plain, dict):
        return plain
    if _KIND not in plain:
        return {key: from_plain(part) for key, part in plain.items()}
    name, of = plain[_KIND], plain[_IS]
    if name == _MAPPING:
        return {key: from_plain(part) for key, part in of.items()}
    if name == "StudioProblem":
        where = from_plain(of[1])
        return StudioProblem(of[0], where if isinstance(where, Where) else None, **of[2])
    kind = _classes()[name]
    if issubclass(kind, enum.Enum):
        return kind(of)
    if is_dataclass(kind):
        return kind(**{key: from_plain(part) for key, part in of.items()})
    return kind(*(from_plain(part) for part in of))


def to_bytes(value: object) -> bytes:
    """Write a value as UTF-8 JSON."""
    return json.dumps(to_plain(value), separators=(",", ":")).encode()


def from_bytes(data: bytes) -> Any:
    """Read what `to_bytes` wrote."""
    return from_plain(json.loads(data))
