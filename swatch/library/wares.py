"""Wares with their zones and readings: the one path by which every measured colour comes in.

A row speaks of a reading, and through it of its zone (layers, lot, method), of its ware (body, role) and of the
zone after a firing (sheen, faults). Rows that speak of one thing must agree; an empty cell agrees with anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from swatch.library.agreeing import agreed, at_row, name_of, other_readings, standing, thing
from swatch.library.clay_lots import clay_lot_of
from swatch.library.fire_events import Fired, FireEvents
from swatch.library.names import Names, add_row, place_name, region_of, row_of, set_fields, unlike
from swatch.library.unused import drop_unused
from swatch.library.ware_rows import Outcome, WareRow
from swatch.library.words import clean, clean_or_none, covariance_values
from swatch.library.zone_layers import LayerRow, Said, layer_rows, layers_at, merged, put_layers, same_layers
from swatch.terms.layering import fold_name, format_layers
from swatch.terms.problems.base import StudioProblem
from swatch.terms.problems.files import ManyProblems, all_of, more_bad_rows
from swatch.terms.problems.studio import (
    cone_not_the_firings,
    differs_from_record,
    layers_differ,
    no_name,
    of_another_firing,
    rows_differ,
)

K = TypeVar("K")

MOST_PROBLEMS = 20
"""Wares whose rows cannot be taken that are named; the rest are counted."""

SAME_COLOUR = 0.05
"""In L*, a* and b*: below what anybody measures, above what rounding to one decimal does."""
_COVARIANCE = ("LL", "La", "Lb", "aa", "ab", "bb")


@dataclass(slots=True)
class _Live:
    """A current reading: whether it counts as evidence, and whether the rows speak of it."""

    id: int
    event: int | None
    counts: bool = True
    said: bool = False


def put_rows(names: Names, rows: Sequence[WareRow], *, measure_again: bool = False) -> list[Outcome]:
    """Store readings, or bring known ones up to date; ware, zone, stage and number are the key.

    Parameters
    ----------
    names : Names
        Of the transaction.
    rows : sequence of WareRow
    measure_again : bool
        Readings come from a photo: a known key is not written over. Where the reading follows the same firing,
        the new one supersedes it; where it follows another one, both stand, the new one under the next number.

    Raises
    ------
    StudioProblem
        Rows contradict each other, the cone of their firing, or what is on record and not said anew; a name cannot
        be held. One for each ware concerned, placed by its row: nothing may then be kept of the transaction.
    """
    outcomes = [Outcome() for _ in rows]
    keys = ((row.kind, row.edition and fold_name(row.edition), fold_name(row.ware)) for row in rows)
    problems: list[StudioProblem] = []
    for _, places in _grouped((key, k) for k, key in enumerate(keys)):
        try:
            _put_ware(names, [(rows[k], outcomes[k]) for k in places], measure_again)
        except StudioProblem as problem:
            problems += all_of(problem)
    if len(problems) > MOST_PROBLEMS:
        problems[MOST_PROBLEMS:] = [more_bad_rows(len(problems) - MOST_PROBLEMS)]
    if problems:
        raise ManyProblems(problems) if len(problems) > 1 else problems[0]
    drop_unused(names)
    return outcomes


Pairs = list[tuple[WareRow, Outcome]]


def _put_ware(names: Names, pairs: Pairs, measure_again: bool) -> None:
    sql, first = names.sql, pairs[0][0]
    name, folded = place_name(first.ware)
    if not folded:
        raise no_name(first.kind)
    edition = names.of_or_none("edition", first.edition)
    found = sql.execute(
        "SELECT id FROM ware WHERE kind = ? AND folded = ? AND ifnull(edition_id, 0) = ? "
        "AND ifnull(material_id, 0) = 0",
        (first.kind, folded, edition or 0),
    ).fetchone()
    rows = [row for row, _ in pairs]
    kept = found is not None and other_readings(names, found[0], rows)
    now = row_of(sql, "ware", found[0]) if found else {}
    known = kept and not measure_again
    said = _ware_facts(names, now, known, rows) | clay_lot_of(names, edition, now, known, rows)
    fields = {"kind": first.kind, "name": name, "folded": folded, "edition_id": edition, **said}
    ware = found[0] if found else add_row(sql, "ware", fields)
    changed = bool(found and said) and set_fields(sql, "ware", ware, now, said)
    names.leave("body", now.get("body_id"), said.get("body_id", now.get("body_id")))
    events = FireEvents(names, ware, new=found is None)
    for _, places in _grouped((fold_name(row.zone), k) for k, (row, _) in enumerate(pairs)):
        _Zone(names, ware, edition, events, [pairs[k] for k in places]).put(changed, measure_again)


def _ware_facts(names: Names, now: dict[str, object], kept: bool, rows: Sequence[WareRow]) -> dict[str, object]:
    """What the rows say of the ware itself; what is known of it stays where it is `kept` for other readings."""
    said: dict[str, object] = {}
    bodies = [(row, row.body) for row in rows if not now or "body" in row.given]
    if bodies and rows[0].kind != "piece":
        known = name_of(names, "body", now["body_id"]) if kept else None
        said["body_id"] = names.of_or_none("body", standing(rows[0].ware, "body", bodies, known))
    roles = [(row, row.role) for row in rows if not now or "role" in row.given]
    if roles and rows[0].kind == "piece":
        role = None if not kept or now["role"] is None else str(now["role"])
        said["role"] = standing(rows[0].ware, "role", roles, role, empty="piece") or "piece"
    elif rows[0].kind == "button" and any(role for _, role in roles):
        role = None if not kept or now["role"] is None else str(now["role"])
        said["role"] = standing(rows[0].ware, "kept", roles, role)
    return said


class _Zone:
    """One zone of a ware, with the rows that speak of it."""

    def __init__(self, names: Names, ware: int, edition: int | None, events: FireEvents, pairs: Pairs) -> None:
        self.names, self.sql, self.ware, self.events, self.pairs = names, names.sql, ware, events, pairs
        row = pairs[0][0]
        name, folded = place_name(row.zone)
        found = self.sql.execute(
            "SELECT id, lot_id FROM zone WHERE ware_id = ? AND folded = ?", (ware, folded)
        ).fetchone()
        self.new = found is None
        region = None if edition is None or found else region_of(self.sql, edition, row.zone)
        fields = {"ware_id": ware, "name": name, "folded": folded, "region_id": region}
        self.id = found[0] if found else add_row(self.sql, "zone", fields)
        self.lot_id = found[1] if found else None
        self.live: dict[tuple[str, int], _Live] = {}
        if found:
            rows = self.sql.execute(
                "SELECT stage, number, id, event_id, set_aside = 0 FROM reading "
                "WHERE zone_id = ? AND superseded_by IS NULL",
                (self.id,),
            )
            self.live = {(stage, number): _Live(*found) for stage, number, *found in rows}

    def put(self, changed: bool, measure_again: bool) -> None:
        """Write what the rows say; `changed` tells whether the ware's own facts were."""
        seen: set[tuple[str, int]] = set()
        for row, outcome in self.pairs:
            if (row.stage, row.number) in seen and not measure_again:
                raise ValueError(f"two rows speak of reading {row.number} of {row.ware} {row.zone}")
            seen.add((row.stage, row.number))
            known = self.live.get((row.stage, row.number))
            if known is None:
                self._add(row, outcome, row.fired, row.number)
            elif measure_again:
                self._measure_again(row, outcome, known)
            else:
                self._update(row, outcome, known)
        changed |= self._put_layers(measure_again)
        changed |= self._put_looks()
        for _, outcome in self.pairs:
            outcome.changed |= changed

    def _event(self, row: WareRow, fired: Fired) -> int | None:
        def differs(cone: str, asked: str) -> StudioProblem:
            return at_row(cone_not_the_firings(row.ware, row.zone, cone, fired.firing or "", asked), row)

        return self.events.of(fired, differs)

    def _add(self, row: WareRow, outcome: Outcome, fired: Fired, number: int) -> None:
        event = self._event(row, fired)
        outcome.new = outcome.changed = True
        outcome.reading = self._insert(row, event, number, None)
        self.live[row.stage, number] = _Live(outcome.reading, event, said=True)

    def _update(self, row: WareRow, outcome: Outcome, known: _Live) -> None:
        outcome.reading, outcome.renewed, known.said = known.id, True, True
        now = row_of(self.sql, "reading", known.id)
        wanted: dict[str, object] = {}
        if "lab" in row.given:
            wanted |= unlike(now, zip("Lab", map(float, row.lab)))
        if row.given & {"covariance", "u"}:
            wanted |= unlike(now, zip(_COVARIANCE, covariance_values(row.covariance)))
        if "session" in row.given:
            wanted["session_id"] = self.names.of_or_none("session", row.session)
        if row.given & {"firing", "shelf", "place", "cone", "refires"}:
            fired = self._fired(row, known.event)
            before = self.events.by_id[known.event] if known.event is not None else Fired()
            if _is_another_colour(now, wanted) and _is_another_firing(before, fired):
                number = 1 + max(n for stage, n in self.live if stage == row.stage)
                raise at_row(of_another_firing(thing(row), row.number, number), row)
            wanted["event_id"] = self._event(row, fired)
        outcome.changed = set_fields(self.sql, "reading", known.id, now, wanted)
        if "event_id" in wanted and wanted["event_id"] != known.event:
            old, event = known.event, wanted["event_id"]
            assert event is None or isinstance(event, int)
            known.event = event
            self.events.leave(self.id, old, event)

    def _measure_again(self, row: WareRow, outcome: Outcome, known: _Live) -> None:
        """Let a new reading take the place of a former one of the same firing, or stand beside one of another."""
        fired = self._fired(row, known.event)
        before = self.events.by_id[known.event] if known.event is not None else Fired()
        event = self._event(row, fired)
        after = self.events.by_id[event] if event is not None else Fired()
        if _is_another_firing(before, after):
            number = 1 + max(n for stage, n in self.live if stage == row.stage)
            self._add(row, outcome, fired, number)
            return
        # The new reading is not current before the former one has stepped back: only one may be.
        outcome.reading = self._insert(row, event, row.number, known.id)
        self.sql.execute("UPDATE reading SET superseded_by = ? WHERE id = ?", (outcome.reading, known.id))
        self.sql.execute("UPDATE reading SET superseded_by = NULL WHERE id = ?", (outcome.reading,))
        outcome.new = outcome.changed = outcome.renewed = True
        self.live[row.stage, row.number] = _Live(outcome.reading, event, said=True)
        if event != known.event:
            self.events.leave(self.id, known.event, event)

    def _fired(self, row: WareRow, event: int | None) -> Fired:
        """Lay what the row says of the firing over what is known of it."""
        now = self.events.by_id[event] if event is not None else Fired()
        new, given = row.fired, row.given
        firing = new.firing if "firing" in given else now.firing
        # Another firing brings its own cone: the one known so far was the former firing's.
        kept_cone = now.cone if fold_name(firing or "") == fold_name(now.firing or "") else None
        return Fired(
            firing,
            new.shelf if "shelf" in given else now.shelf,
            new.spot if "place" in given else now.spot,
            new.cone if "cone" in given else kept_cone,
            new.refires if "refires" in given else now.refires,
        )

    def _insert(self, row: WareRow, event: int | None, number: int, superseded_by: int | None) -> int:
        fields: dict[str, object] = {
            "zone_id": self.id,
            "event_id": event,
            "stage": row.stage,
            "number": number,
            "session_id": self.names.of_or_none("session", row.session),
            "superseded_by": superseded_by,
            **dict(zip("Lab", map(float, row.lab))),
            **dict(zip(_COVARIANCE, covariance_values(row.covariance))),
        }
        if row.seen is not None:
            fields |= {
                "shot_id": row.seen.shot,
                "polygon": row.seen.polygon,
                "variation_de00": row.seen.variation_de00,
                "used_share": row.seen.used_share,
                "warnings": row.seen.warnings,
                "colours": row.seen.colours,
            }
        return add_row(self.sql, "reading", fields)

    def _level(self, row: WareRow, outcome: Outcome) -> int:
        return next((self.events.refires(x.event) for x in self.live.values() if x.id == outcome.reading), 0)

    def _put_layers(self, measure_again: bool) -> bool:
        """Write layers, method and lot, which are the zone's, where any row speaks of them."""
        fields = ("layers", "method", "lot")
        if not self.new and not any(field in row.given for row, _ in self.pairs for field in fields):
            return False
        rows = [] if self.new else layer_rows(self.sql, self.id)
        said: dict[int, list[WareRow]] = {}
        renewed: set[int] = set()
        for row, outcome in self.pairs:
            level = self._level(row, outcome)
            said.setdefault(level, []).append(row)
            if measure_again and outcome.renewed:
                renewed.add(level)
        # What other readings of the same firing rest on may not be changed under them. A photo that is measured
        # again is how the window corrects a zone, so there one reading speaks for all.
        kept = {self.events.refires(x.event) for x in self.live.values() if x.counts and not x.said} - renewed
        levels = {self.events.refires(reading.event) for reading in self.live.values()} | set(said)
        plan = {level: self._said(said.get(level, []), rows, level, level in kept) for level in levels}
        changed = False
        if self.pairs[0][0].kind != "piece":
            changed = put_layers(self.names, self.id, rows, plan, self._event_at, self._differ)
        return self._put_lot(plan) or changed

    def _said(self, said: Sequence[WareRow], rows: Sequence[LayerRow], level: int, kept: bool) -> Said:
        name = thing(self.pairs[0][0])
        now = layers_at(rows, level)
        top = next((row for row in reversed(rows) if row.after < level), None)
        layers = [(row, merged(row.layers)) for row in said if self.new or "layers" in row.given]
        stated = [(row, each) for row, each in layers if each]
        for row, each in stated[1:]:
            if not same_layers(each, stated[0][1]):
                raise self._differ("layers", format_layers(stated[0][1]), format_layers(each), row)
        if kept and now and stated and not same_layers(stated[0][1], now):
            row, each = stated[0]
            raise at_row(differs_from_record(name, "layers", format_layers(now), format_layers(each)), row)
        method = [(row, row.method) for row in said if self.new or "method" in row.given]
        lot = [(row, row.lot) for row in said if self.new or "lot" in row.given]
        known_method = top.method if kept and top else None
        known_lot = name_of(self.names, "lot", (top and top.lot_id) or self.lot_id) if kept else None
        return Said(
            layers=stated[0][1] if stated else (() if layers and not kept else now),
            method=clean_or_none(standing(name, "method", method, known_method)),
            method_said=bool(method),
            lot=standing(name, "lot", lot, known_lot),
            lot_said=bool(lot),
        )

    def _put_lot(self, plan: dict[int, Said]) -> bool:
        """Keep with the zone itself a lot that no layer can carry: of a bare body, or of a piece."""
        if not any(said.lot_said for said in plan.values()):
            return False
        piece = self.pairs[0][0].kind == "piece"
        bare = piece or not any(said.layers for said in plan.values())
        row = self.pairs[0][0]
        lots = [(row, said.lot) for said in plan.values() if said.lot_said]
        body = None if piece else row_of(self.sql, "ware", self.ware)["body_id"]
        assert body is None or isinstance(body, int)
        lot = self.names.lot(agreed(thing(row), "lot", lots), body=body) if bare else None
        return set_fields(self.sql, "zone", self.id, {"lot_id": self.lot_id}, {"lot_id": lot})

    def _event_at(self, level: int) -> int:
        events = [x.event for x in self.live.values() if x.event is not None]
        found = [event for event in events if self.events.refires(event) == level]
        return min(found) if found else self.events.at_level(level)

    def _put_looks(self) -> bool:
        """Write sheen and faults, which are the zone's after a firing."""
        changed = False
        groups = _grouped((self._live_event(outcome), k) for k, (_, outcome) in enumerate(self.pairs))
        for event, places in groups:
            rows = [self.pairs[k][0] for k in places]
            found = self.sql.execute(
                "SELECT id, sheen, faults FROM look WHERE zone_id = ? AND event_id IS ?", (self.id, event)
            ).fetchone()
            now: dict[str, object] = dict(zip(("sheen", "faults"), found[1:] if found else (None, "")))
            name = thing(rows[0])
            sheens = [(row, row.sheen) for row in rows if found is None or "sheen" in row.given]
            faults = [
                (row, " ".join(row.faults) or None) for row in rows if found is None or "faults" in row.given
            ]
            # A new reading does not change how others of the same firing looked; a known one may correct it.
            kept = found is not None and not any(self.pairs[k][1].renewed for k in places)
            wanted: dict[str, object] = {}
            if sheens:
                wanted["sheen"] = standing(name, "sheen", sheens, found[1] if kept else None)
            if faults:
                known = (found[2] or None) if kept else None
                wanted["faults"] = clean(standing(name, "faults", faults, known) or "")
            if found:
                changed |= set_fields(self.sql, "look", found[0], now, wanted)
            elif any(wanted.values()):
                add_row(self.sql, "look", {"zone_id": self.id, "event_id": event, **wanted})
                changed = True
        return changed

    def _live_event(self, outcome: Outcome) -> int | None:
        """Return the event of the reading a row came to."""
        return next((reading.event for reading in self.live.values() if reading.id == outcome.reading), None)

    def _differ(self, field: str, one: str, other: str, row: WareRow | None = None) -> StudioProblem:
        row = row or self.pairs[-1][0]
        if field == "layers":
            return at_row(layers_differ(row.ware, row.zone, one, other), row)
        return at_row(rows_differ(thing(row), field, one, other), row)


def _is_another_colour(now: dict[str, object], wanted: dict[str, object]) -> bool:
    """Tell whether a colour is not the one on record, written out to some decimals."""
    return any(abs(float(str(now[c])) - float(str(wanted[c]))) > SAME_COLOUR for c in "Lab" if c in wanted)


def _is_another_firing(before: Fired, after: Fired) -> bool:
    """Tell whether two readings cannot be of one firing; what only one of them states does not part them."""
    if before.is_nothing() or after.is_nothing():
        return False
    firings = before.firing is not None and after.firing is not None
    if firings and fold_name(before.firing or "") != fold_name(after.firing or ""):
        return True
    cones = before.cone is not None and after.cone is not None
    return before.refires != after.refires or (cones and before.cone != after.cone)


def _grouped(keyed: Iterable[tuple[K, int]]) -> list[tuple[K, list[int]]]:
    groups: dict[K, list[int]] = {}
    for key, place in keyed:
        groups.setdefault(key, []).append(place)
    return list(groups.items())
