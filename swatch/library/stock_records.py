"""The part of the open studio that speaks of editions, their pieces and counts, and of jars and weighings."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.library import editions, evidence, jars, tallies
from swatch.library.file import RecordsFile
from swatch.terms.buttons import ButtonReading
from swatch.terms.editions import Counts, EditionRegion, MottledReading, PieceReading, Tally, Weighing
from swatch.terms.materials import Jar


class StockRecords:
    """What `swatch.library.studio.Studio` knows of editions and jars; `file` is the open file."""

    file: RecordsFile

    def editions(self) -> tuple[EditionRegion, ...]:
        """Editions by name, a value a region."""
        with self.file.reading() as sql:
            return tuple(evidence.read_editions(sql))

    def pieces(self) -> tuple[PieceReading, ...]:
        """Measured pieces by edition, piece, region and reading."""
        with self.file.reading() as sql:
            return tuple(evidence.read_pieces(sql))

    def mottled(self) -> tuple[MottledReading, ...]:
        """Regions of pieces that photos showed mottled, with their colours and shares."""
        with self.file.reading() as sql:
            return tuple(evidence.read_mottled(sql))

    def buttons(self) -> tuple[ButtonReading, ...]:
        """Measured witness buttons by name, stripe and reading."""
        with self.file.reading() as sql:
            return tuple(evidence.read_buttons(sql))

    def weighings(self) -> tuple[Weighing, ...]:
        """What putting on took, by material and time."""
        with self.file.reading() as sql:
            return tuple(evidence.read_weighings(sql))

    def jars(self) -> tuple[Jar, ...]:
        """Jars by material, name and lot."""
        with self.file.reading() as sql:
            return tuple(jars.read_jars(sql))

    def tallies(self) -> tuple[Tally, ...]:
        """What was made, fired, good and sold, by edition and day."""
        with self.file.reading() as sql:
            return tuple(tallies.read_tallies(sql))

    def put_editions(
        self, values: Sequence[EditionRegion], given: frozenset[str], lines: Sequence[int] = ()
    ) -> Counts:
        """Add or bring up to date; edition and region are the key."""
        return editions.put_editions(self.file, values, given, lines)

    def put_pieces(
        self, values: Sequence[PieceReading], given: frozenset[str], lines: Sequence[int] = ()
    ) -> Counts:
        """Add or bring up to date; edition, piece, region and reading are the key."""
        return editions.put_pieces(self.file, values, given, lines)

    def put_buttons(
        self, values: Sequence[ButtonReading], given: frozenset[str], lines: Sequence[int] = ()
    ) -> Counts:
        """Add or bring up to date; button, stripe and reading are the key."""
        return editions.put_buttons(self.file, values, given, lines)

    def put_weighings(self, values: Sequence[Weighing], given: frozenset[str]) -> Counts:
        """Add or bring up to date; material and time are the key."""
        return editions.put_weighings(self.file, values, given)

    def put_jars(self, values: Sequence[Jar], given: frozenset[str]) -> Counts:
        """Add or bring up to date; material, jar and lot are the key."""
        return jars.put_jars(self.file, values, given)

    def lock_jar(self, material: str, locked: bool = True, jar: str = "", lot: str | None = None) -> None:
        """Keep a jar for an edition, or let it go."""
        jars.lock_jar(self.file, material, locked, jar, lot)

    def put_tallies(self, values: Sequence[Tally], given: frozenset[str]) -> Counts:
        """Add or bring up to date; edition, day, what and firing are the key."""
        return tallies.put_tallies(self.file, values, given)
