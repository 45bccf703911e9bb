"""What is said of editions that are checked: problems, and what is missing for a verdict."""

from __future__ import annotations

from swatch.wording.text import _

PROBLEMS: dict[str, tuple[str, str]] = {
    "unknown-edition": (
        _("No edition is called “{name}”."),
        _("Check the spelling. There are: {known}."),
    ),
    "nothing-measured": (
        _("No piece of {name} has been measured."),
        _("Photograph approved pieces first: drop their photo on Editions, or bring in a table of pieces."),
    ),
    "jar-weighed-backwards": (
        _("The jar weighs more after ({after_g:g} g) than before ({before_g:g} g): nothing was taken."),
        _(
            "Swap the two figures if they were mixed up. Of a piece that was weighed, write “piece” in the column "
            "“weighed”."
        ),
    ),
    "piece-weighed-backwards": (
        _("The piece weighs less after ({after_g:g} g) than before ({before_g:g} g): nothing was put on."),
        _(
            "Swap the two figures if they were mixed up. Of a jar that was weighed, write “jar” in the column "
            "“weighed”."
        ),
    ),
    "no-such-load": (
        _("No load of this edition was fired in “{firing}”."),
        _("Check the name. There are: {known}."),
    ),
    "bad-amount": (
        _("“{text}” is no amount: a number with its unit."),
        _("Write 650 g, 12.5 oz, 450 ml, 1 US pint or 1 UK pint."),
    ),
    "which-pint": (
        _("“{text}” may be of two sizes: a US pint holds 473 ml, a UK pint 568 ml."),
        _("Write US or UK before it: 1 US pint, 8 UK fl oz."),
    ),
    "no-gravity": (
        _("{text} is a volume, and nothing says what a millilitre of it weighs."),
        _("Add its specific gravity (weigh 100 ml and divide the grams by 100), or weigh the jar instead."),
    ),
    "said-twice": (
        _("“{one}” and “{other}” say the same thing twice."),
        _("Leave one of the two columns out, or one of the two cells empty."),
    ),
    "no-such-jar": (
        _("No jar of {material} is on record."),
        _("Bring jars in with swatch import --jars, or count what is left of it."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {
    "approved-too-few": (
        _("Too few approved pieces: {pieces} from {firings} firings."),
        _("A verdict takes 10 from 3 firings at least, 20 from 4 is sensible: approve {more_pieces} pieces and "
          "{more_firings} firings more."),
    ),
    "no-kept-piece": (
        _("No approved piece was in the photo, so kiln and camera cannot be told apart."),
        _("Photograph the load again with an approved piece beside it, in the same session."),
    ),
    "no-buttons": (
        _("Neither buttons nor witness cones tell how hot this firing was."),
        _("Put a witness button on each shelf, and photograph them beside the kept button."),
    ),
    "no-stripes": (
        _("No underglaze in stock stands this cone, so no stripe can be planned."),
        _("Bring materials in with their kind and cones, or keep to witness cones."),
    ),
    "no-cover": (
        _("No clear in stock stands this cone, so no stripe is covered."),
        _("Covered stripes answer most to heat: get a clear, or keep to witness cones."),
    ),
    "stripes-not-known": (
        _("How these stripes answer to heat is not learnt yet."),
        _("Fire one set of buttons in two firings whose witness cones differ by 0.6 cones or more."),
    ),
    "stripes-hardly-move": (
        _("These stripes hardly answer to heat: a firing would be told to ±{sd:.2f} cones only."),
        _("Keep witness cones on each shelf; they serve as well here."),
    ),
    "keep-one-button": (
        _("No button is kept yet."),
        _("Fire one more than there are shelves in a firing you trust, and never fire that one again: it lies in "
          "every photo and takes the camera out."),
    ),
    "ladder-first": (
        _("The buttons' own scale is not known yet."),
        _("Fire one set in two firings whose cones you know: it teaches what each stripe does for a cone."),
    ),
    "no-approved-piece-yet": (
        _("No piece of the edition is approved yet."),
        _("Approve ten pieces from three firings at least; twenty from four is sensible."),
    ),
    "bare-stripes-may-stick": (
        _("Bare stripes are dry or may stick, and no button is for food."),
        _("Keep stripes clear of the foot, and set buttons on a stilt or a cookie."),
    ),
    "tolerance-needs-pieces": (
        _("This sample supports a tolerance of {supported:.1f} ΔE00, not of {tolerance:.1f}."),
        _("Measure {pieces} pieces of the load, two from each shelf, or choose a wider tolerance."),
    ),
    "tolerance-too-tight": (
        _("A tolerance of {tolerance:.1f} ΔE00 cannot be promised; this sample supports {supported:.1f}."),
        _("More pieces of one load do not help: approve more from more firings, read the kept piece six times, or "
          "choose a wider tolerance."),
    ),
    "tolerance-rarely-supported": (
        _("A tolerance of {tolerance:.1f} ΔE00 can mostly not be promised: six pieces of a load support 3 to 4."),
        _("Choose a wider one, or measure more pieces; swatch check says what each sample supports."),
    ),
    "tolerance-usual": (
        _("The edition states no tolerance; {tolerance:.1f} ΔE00 is taken."),
        _("State one in the column “tolerance” of the editions, or with --tolerance."),
    ),
    "pieces-lack-regions": (
        _("Left out, since a region of the look was not read: {pieces}."),
        _("Measure the regions that are missing."),
    ),
    "speckled-by-mean": (
        _("Regions are compared by their mean colour."),
        _("Published methods for small differences are for plain surfaces: look at speckled ones side by side."),
    ),
}  # fmt: skip
