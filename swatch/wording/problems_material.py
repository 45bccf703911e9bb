"""What is said beside the figures of a material plan: what they rest on, and what to do."""

from __future__ import annotations

from swatch.wording.text import _

PROBLEMS: dict[str, tuple[str, str]] = {}

NOTICES: dict[str, tuple[str, str]] = {
    "weigh-first": (
        _("Nothing was weighed, so it cannot be said how much {material} a piece takes."),
        _("Weigh its jar before and after the next pieces, and note how many dm² they have and how many coats."),
    ),
    "weighed-others-only": (
        _("{material} was never weighed; what {n} weighings of other materials took is taken for it."),
        _("Weigh its jar before and after the next pieces: the range will be about half as wide."),
    ),
    "weigh-again": (
        _("The rate of {material} rests on so few weighings: {n}."),
        _("Three, on different days, tell how your hand varies."),
    ),
    "overspray-not-weighed": (
        _("Pieces were weighed, not the jar: of {material} twice as much is taken for overspray and dregs."),
        _("Weigh the jar before, and after the gun's dregs are back in it, once."),
    ),
    "left-not-counted": (
        _("What is left of {material} was never counted."),
        _("Weigh its jars, and write it down with swatch import --jars."),
    ),
    "area-not-known": (
        _("No region with {material} has an area."),
        _("Give the region's area in dm²: wrap it in paper and weigh the paper, 100 cm² are 1 dm²."),
    ),
    "regions-without-area": (
        _("Regions without an area are not in the plan: {regions}."),
        _("Give their area in dm²."),
    ),
    "nothing-planned": (
        _("The edition does not say how many pieces are planned."),
        _("Write it in the column “planned” of the editions."),
    ),
    "good-by-measured": (
        _("Good pieces were not counted; the measured ones are taken for all there are."),
        _("Bring counts in with swatch import --counts: made, fired, good, sold."),
    ),
    "pace-by-measured": (
        _("The pace is that of measured pieces only; a load holds more, so the material ends sooner than said."),
        _("Bring counts in with swatch import --counts: how many pieces each firing held."),
    ),
    "pace-not-known": (
        _("No two firings with dates hold pieces of it, so the day on which the material ends cannot be said."),
        _("Give firings their dates."),
    ),
    "lead-time-usual": (
        _("No lead time is stated; {days} days are taken."),
        _("Write it in the column “lead_days” of the materials."),
    ),
    "order-now": (
        _("{material} has to be ordered today: it may end before what is ordered has come."),
        "",
    ),
    "cannot-be-bought": (
        _("{material} can no longer be had."),
        _("Ask what could replace it: swatch replace."),
    ),
    "lock-last-jar": (
        _("This is the last jar of {material} that is not locked ({grams:g} g)."),
        _("Lock it for this edition, so that no test and no other piece is planned from it."),
    ),
}
