"""The one exception the potter can mend, and the warning that needs no stop."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

Fact = str | int | float | None


@dataclass(frozen=True, slots=True)
class Where:
    """The place a problem or a warning speaks of; only what is known is filled in."""

    file: str | None = None
    row: int | None = None
    photo: str | None = None
    zone: str | None = None


@dataclass(frozen=True, slots=True)
class Notice:
    """A warning or a caution: a code and the facts its sentence needs."""

    code: str
    facts: Mapping[str, Fact] = field(default_factory=dict)
    where: Where = field(default_factory=Where)

    def at(self, where: Where) -> Notice:
        """Return the same notice, placed."""
        return replace(self, where=where)


class StudioProblem(Exception):
    """Something in the studio's input or folder that the potter can put right."""

    def __init__(self, code: str, where: Where | None = None, **facts: Fact) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts: dict[str, Fact] = dict(facts)
        self.where = where or Where()

    def at(self, where: Where) -> StudioProblem:
        """Return the same problem, placed; what it already knew of its place stays."""
        placed = Where(
            file=self.where.file or where.file,
            row=self.where.row if self.where.row is not None else where.row,
            photo=self.where.photo or where.photo,
            zone=self.where.zone or where.zone,
        )
        return StudioProblem(self.code, placed, **self.facts)
