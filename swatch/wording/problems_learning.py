"""What is said of learning and answers: problems and cautions."""

from __future__ import annotations

from swatch.wording.text import _

_ONE_TILE = _(
    "Missing: a tile of {material} on {body} at cone {cone}. Fire one, photograph it beside the card, and ask "
    "again."
)
_LAB = _(
    "Only a leach test by an accredited laboratory settles whether a surface may touch food; crazing can come "
    "later. Check your local rules."
)

PROBLEMS: dict[str, tuple[str, str]] = {
    "nothing-fired": (
        _("No fired tile of this studio is known yet, so there is nothing to learn from."),
        _("Measure photos of fired tiles, or import them with swatch import --tiles."),
    ),
    "unknown-material": (
        _("No material is called “{name}”."),
        _("Check the spelling. Near it: {near}."),
    ),
    "unknown-body": (
        _("No body is called “{name}”."),
        _("Check the spelling. Near it: {near}."),
    ),
    "unused-material": (
        _("No tile and no edition uses {name}, so nothing has to be replaced."),
        _("Record a tile or an edition with it, or choose another material."),
    ),
    "nothing-to-search": (
        _("No layering of the materials in stock is allowed by these limits."),
        _(
            "Allow more materials or another region, or mark what is on the shelf as in stock. Inside, lip and "
            "outside need a glaze on top whose label speaks of food at this cone, and nothing beneath whose label "
            "says no."
        ),
    ),
    "no-question-for-tests": (
        _("Without a body and a cone it cannot be said what to fire next."),
        _("Name the body and the cone, or the material to be replaced."),
    ),
    "shelf-too-small": (
        _("Not one tile of this size finds room on this shelf beside a witness cone."),
        _("Check both sizes: they are in millimetres."),
    ),
    "too-many-layerings": (
        _("These limits allow more layerings than can be gone through."),
        _("Allow fewer layers or coats, or name materials to leave out."),
    ),
    "target-out-of-range": (
        _("No surface has this colour (L* {L:g})."),
        _("Give L* from 0 to 100, a* and b* from −128 to 128, as in 57.4,-21.6,13.8."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {
    # why a question is not answered
    "body-never-fired": (
        _("No tile of {body} has been fired, so its colours cannot be known."),
        _("Missing: a tile of {body} at cone {cone}, half bare, half under one glaze. Fire it and ask again."),
    ),
    "material-only-raw": (
        _("{material} has never been fired here; the raw colour of a glaze says nothing of the fired one."),
        _ONE_TILE,
    ),
    "colour-never-known": (
        _("{material} has never been fired here, and its raw colour is not known either."),
        _ONE_TILE,
    ),
    "cone-beyond-tiles": (
        _("No tile was fired near cone {cone}."),
        _("Missing: a tile at cone {cone} of each material you mean to use there. Fire them and ask again."),
    ),
    "unknown-material": PROBLEMS["unknown-material"],
    "unknown-body": PROBLEMS["unknown-body"],
    # advice with a plan
    "nothing-weighed": (
        _("How much of {material} is left is not on record."),
        _("Weigh the jar with its lid and enter what is left: then pieces and jars can be counted."),
    ),
    # advice with the next tests
    "tests-on-cookies": (
        _("Nobody has fired these layers here: they may run."),
        _("Put a cookie under each tile; wipe 3 mm clear of the foot."),
    ),
    "witness-buttons": (
        _("Put witness buttons and a witness cone on each shelf of this load."),
        _("They tell afterwards whether the kiln or the glaze was another."),
    ),
    "tests-on-other-bodies": (
        _("These tiles are of {n} bodies or cones: each has a board of its own."),
        _("Tiles of one cone can go into one firing."),
    ),
    "shelf-holds": (
        _("The kiln holds {n} such tiles beside its witnesses, {wanted} were wanted: these are the first."),
        _("Fire the rest in the next load, once these are read: they are then chosen better."),
    ),
    "half-and-half": (
        _("Before any switch fire a half-and-half second: {material} on one half, the candidate on the other."),
        _("Mask a spoilt piece down the middle; one kiln and one light show what two firings cannot."),
    ),
    "three-pieces-first": (
        _("When a tile hits, fire it on three real pieces, top and bottom shelf, before buying."),
        _("A tile is flat and small; a piece holds more heat and thicker glaze."),
    ),
    # cautions of an outline of colours
    "colours-are-predicted": (
        _("Only the measured colours were fired here; the others are predicted."),
        _("Fire a tile before you plan with a colour near an edge."),
    ),
    "filter-is-no-approval": (
        _("Only glazes whose label speaks of food at this cone lie on top here. That is a filter, no approval."),
        _LAB,
    ),
    "colours-of-any-region": (
        _("Colours for any region are counted, bare underglazes among them: those are not for food contact."),
        _LAB,
    ),
    # cautions of an answer
    "new-layering": (
        _("New layering: fire one tile first."),
        _("A prediction chooses what to fire next; it is not enough to buy a year's material on."),
    ),
    "seen-ran": (
        _("Ran on {times} of your tiles: wipe 3 mm clear of the foot."),
        _("Put a cookie under it; ground feet need goggles."),
    ),
    "seen-crawled": (
        _("Crawled on {times} of your tiles: not for food contact."),
        _("Try a thinner coat on a cleaner, drier surface."),
    ),
    "seen-crazed": (
        _("Crazed on {times} of your tiles: not for food contact."),
        _("Crazing holds stain and weakens the piece; it can come weeks later."),
    ),
    "seen-pinholed": (_("Pinholed on {times} of your tiles."), _("A slower firing or a hold may heal it.")),
    "seen-dry": (_("Fired dry on {times} of your tiles."), _("A dry surface is rough and not for food contact.")),
    "seen-blistered": (
        _("Blistered on {times} of your tiles."),
        _("Blisters break into sharp edges: not for use."),
    ),
    "other-sheen": (
        _("Likely {other}, where it was {sheen}."),
        _("Compare them side by side, turned in the light, before any switch."),
    ),
    "may-run": (
        _("{coats:g} coats of glaze may run: wipe 3 mm clear of the foot."),
        _("Whether a new layering runs is unknown until it is fired: put a cookie under it."),
    ),
    "hotter-than-rated": (
        _("Cone {cone} is hotter than {material} is made for ({rated})."),
        _("It may run, fade or blister: fire one tile on a cookie first."),
    ),
    "cooler-than-rated": (
        _("Cone {cone} is cooler than {material} is made for ({rated})."),
        _("It may stay dry and rough: fire one tile first."),
    ),
    "not-in-stock": (
        _("{material} is {status}."),
        _("Check what is left before planning pieces with it."),
    ),
    "enough-for": (
        _("Enough for {low} of {pieces} pieces."),
        _("Order more before you begin, or choose a layering that lasts."),
    ),
    "bare-body-food": (_("Bare body: porous unless fired dense; not for food contact."), _LAB),
    "bare-underglaze": (_("{material} on top: rough, not for food contact."), _LAB),
    "label-not-for-food": (_("Label of {material}: not for food."), _LAB),
    "label-silent": (_("The label of {material} states nothing on food: not for food contact."), _LAB),
    "label-other-cone": (
        _("The label of {material} speaks of food at cone {rated}, not at cone {cone}."),
        _LAB,
    ),
    "label-alone-only": (
        _("The label of {material} speaks of it alone, not of layers beneath it: unproven for food."),
        _LAB,
    ),
    "label-needs-test": (
        _("The maker's label states food use for {material} alone; your piece is unproven until tested."),
        _LAB,
    ),
}
