"""The firings a ware went through: found where they are recorded, made where they are not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from swatch.library.names import Names, add_row

_SELECT = """
SELECT ware_event.id, ware_event.firing_id, firing.name, firing.cone_asked, ware_event.place_id, shelf, spot,
    ware_event.cone, ware_event.refires
FROM ware_event
LEFT JOIN firing ON firing.id = ware_event.firing_id
LEFT JOIN place ON place.id = place_id
WHERE ware_event.kind = 'fire' AND ware_id = ?
ORDER BY ware_event.position
"""


@dataclass(frozen=True, slots=True)
class Fired:
    """One firing of a ware as rows speak of it."""

    firing: str | None = None
    shelf: str | None = None
    spot: str | None = None
    cone: str | None = None
    refires: int = 0

    def is_nothing(self) -> bool:
        """Tell whether nothing is said."""
        return self == Fired()


NOT_FIRED = Fired()


class FireEvents:
    """The fire events of one ware within one transaction."""

    def __init__(self, names: Names, ware: int, *, new: bool) -> None:
        self.names, self.ware = names, ware
        self.by_id: dict[int, Fired] = {}
        self._by_key: dict[tuple[object, ...], int] = {}
        rows = [] if new else names.sql.execute(_SELECT, (ware,)).fetchall()
        for event, firing_id, firing, asked, place, shelf, spot, cone, refires in rows:
            self.by_id[event] = Fired(firing, shelf or None, spot or None, asked or cone, refires)
            self._by_key.setdefault((firing_id, place, None if asked else cone, refires), event)

    def of(self, fired: Fired, differs: Callable[[str, str], Exception]) -> int | None:
        """Find or make the event of `fired`; None where nothing is said.

        `differs` makes the problem raised where the cone is not the one its firing was asked for.
        """
        return None if fired.is_nothing() else self._found(fired, differs)

    def at_level(self, refires: int) -> int:
        """Find or make an event of which nothing but the number of re-fires is known."""
        return self._found(Fired(refires=refires), lambda cone, asked: ValueError(cone))

    def _found(self, fired: Fired, differs: Callable[[str, str], Exception]) -> int:
        sql = self.names.sql
        firing = self.names.of_or_none("firing", fired.firing)
        kiln, asked = self.names.firing_facts(firing)
        if asked is not None and fired.cone is not None and fired.cone != asked:
            raise differs(fired.cone, asked)
        place = self.names.place(kiln, fired.shelf, fired.spot)
        cone = None if asked is not None else fired.cone
        key = (firing, place, cone, fired.refires)
        if key not in self._by_key:
            last = "SELECT ifnull(max(position), 0) FROM ware_event WHERE ware_id = ?"
            position = sql.execute(last, (self.ware,)).fetchone()[0] + 1
            event = add_row(
                sql,
                "ware_event",
                {
                    "ware_id": self.ware,
                    "position": position,
                    "kind": "fire",
                    "firing_id": firing,
                    "place_id": place,
                    "cone": cone,
                    "refires": fired.refires,
                },
            )
            self._by_key[key] = event
            self.by_id[event] = Fired(fired.firing, fired.shelf, fired.spot, asked or cone, fired.refires)
        return self._by_key[key]

    def refires(self, event: int | None) -> int:
        """Tell how many glaze firings came before an event."""
        return 0 if event is None else self.by_id[event].refires

    def leave(self, zone: int, old: int | None, new: int | None) -> None:
        """Follow a reading of `zone` from event `old` to `new`: what belongs to the firing comes along.

        The old event goes where no reading is left in it.
        """
        sql = self.names.sql
        if old is None and new is None:
            return
        left = "SELECT 1 FROM reading WHERE zone_id = ? AND event_id IS ? AND superseded_by IS NULL"
        if sql.execute(left, (zone, old)).fetchone() is None:
            taken = "SELECT 1 FROM look WHERE zone_id = ? AND event_id IS ?"
            if sql.execute(taken, (zone, new)).fetchone() is None:
                sql.execute("UPDATE look SET event_id = ? WHERE zone_id = ? AND event_id IS ?", (new, zone, old))
        if old is None or sql.execute("SELECT 1 FROM reading WHERE event_id = ?", (old,)).fetchone():
            return
        sql.execute("UPDATE layer SET after_event_id = ? WHERE after_event_id = ?", (new, old))
        sql.execute("UPDATE layer SET event_id = NULL WHERE event_id = ?", (old,))
        firing = sql.execute("SELECT firing_id FROM ware_event WHERE id = ?", (old,)).fetchone()[0]
        self.names.leave("firing", firing, None)
        sql.execute("DELETE FROM ware_event WHERE id = ?", (old,))
        del self.by_id[old]
        self._by_key = {key: event for key, event in self._by_key.items() if event != old}
