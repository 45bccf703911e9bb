"""What is missing before a load can be judged, and what has to be said of a check."""

from __future__ import annotations

from swatch.science import holding
from swatch.terms.holding import USUAL_TOLERANCE
from swatch.terms.problems import Notice
from swatch.work.loads import Gathered


def too_few(gathered: Gathered) -> tuple[Notice, ...]:
    """What is missing before any load can be judged."""
    pieces, firings = len(gathered.approved), len(gathered.firings_approved)
    if pieces >= holding.FEWEST_PIECES and firings >= holding.FEWEST_FIRINGS:
        return ()
    more = max(0, holding.FEWEST_PIECES - pieces)
    facts = {"pieces": pieces, "firings": firings, "more_pieces": more}
    facts["more_firings"] = max(0, holding.FEWEST_FIRINGS - firings)
    return (Notice("approved-too-few", facts),)


def notices_of(gathered: Gathered, usual: bool) -> tuple[Notice, ...]:
    """What has to be said of a check as a whole."""
    found = [Notice("tolerance-usual", {"tolerance": USUAL_TOLERANCE})] if usual else []
    if gathered.left_out:
        found.append(Notice("pieces-lack-regions", {"pieces": ", ".join(gathered.left_out)}))
    return (*found, Notice("speckled-by-mean"))
