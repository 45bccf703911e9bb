"""What is said of photos: problems and warnings."""

from __future__ import annotations

from swatch.wording.text import _

_AGAIN = _("Photograph it again with the whole card in the picture, sharp and facing the camera.")
_ONE_LAMP = _(
    "Use one lamp of one kind, or daylight from one side with the room's lamps off, and photograph again."
)
_DARKER = _("Photograph again one stop darker: touch the brightest tile on the screen and slide down.")

PROBLEMS: dict[str, tuple[str, str]] = {
    "photo-not-a-photo": (
        _("This is no photo that can be read; by its content it is: {kind}."),
        _("Bring the photo as JPEG, HEIC, PNG, TIFF, WebP or DNG, as the phone or camera made it."),
    ),
    "photo-broken": (
        _("This {kind} file is damaged or ends too soon."),
        _("Copy it again from the phone or camera; it may not have arrived whole."),
    ),
    "photo-too-large": (
        _("This photo claims {width} × {height} pixels; at most {most_megapixels} megapixels are read."),
        _("Save it smaller and try again; 12 megapixels are plenty."),
    ),
    "photo-too-small": (
        _("This photo has only {width} × {height} pixels."),
        _("Bring the photo in its full size, not a preview of it."),
    ),
    "photo-too-narrow": (
        _("This photo is a strip of {width} × {height} pixels."),
        _("Bring the whole photo, not a strip cut out of it or a panorama."),
    ),
    "photo-animated": (
        _("This file holds several pictures, so it is not known which one is meant."),
        _("Save the one picture by itself and bring that."),
    ),
    "photo-colours-unusable": (
        _("This photo keeps its colours as {way}, from which the light that was seen cannot be had back."),
        _("Bring the photo as the phone or camera made it, in colour and not edited."),
    ),
    "photo-raw-unread": (
        _("This DNG is damaged, or keeps its light in a way that cannot be read here."),
        _("Copy it again, or bring the JPEG or HEIC that the phone made beside it."),
    ),
    "compare-zone-missing": (
        _("No zone {zone} was read in this photo, so it cannot be compared."),
        _("Name two zones of one photo, as the table of zones has them: --compare A1,A2."),
    ),
    "card-needs-corners": (
        _("The card {card} cannot be found by itself; only the 24-patch chart can."),
        _("Give its four corners: outer corners of the outermost patches, from the first patch round the card."),
    ),
    "card-corners-wrong": (
        _("These corners do not outline a card in this photo ({reason})."),
        _("Give four points inside the photo, from the first patch's outer corner round the card."),
    ),
    "card-too-few-patches": (
        _("This card has {n_patches} patches that can serve here; at least {least} are needed."),
        _("Use a card with more patches, at least three of them grey."),
    ),
    "self-test-too-few-photos": (
        _("Of no occasion could {least} photos be used, so nothing can be said of how well measuring repeats."),
        _("Photograph the same tiles twice, one photo after the other, and give both."),
    ),
    "self-test-too-few-zones": (
        _("Only {n_zones} zones are in every photo; at least {least} are needed."),
        _("Use the photo sheet and move no tile between the photos, or give their zones with --zones."),
    ),
    "no-kept-photos": (
        _("No reading on record was taken from a photo."),
        _("Keep readings from photos in the window; those can be measured again later."),
    ),
    "photo-not-kept": (
        _("No photo of this name is on record with current readings."),
        _("Name it as it was called when it was kept, or name none to measure all."),
    ),
    "kept-photo-other-card": (
        _("This photo was measured without the built-in card, so it is left as it is."),
        _("Measure it by itself, naming its card."),
    ),
    "zone-not-read-again": (
        _("This zone cannot be read in its photo today; what is on record stands."),
        _("Look at the photo, and set the reading aside if it cannot be trusted."),
    ),
    "own-card-too-few": (
        _(
            "Photos that can serve: {n_photos}, lights: {n_lights}; to learn a card, "
            "{least_photos} photos under {least_lights} lights are needed."
        ),
        _("Photograph the card by a window and under a lamp, or on another day, and give all photos."),
    ),
    "own-card-does-not-fit": (
        _("This learnt card has another layout than the card {card}."),
        _("Learn it again from photos of that card."),
    ),
    "zone-outline-wrong": (
        _("This zone's outline has no area."),
        _("Draw it again around the part of the tile to be read."),
    ),
    "neutral-unusable": (
        _("The neutral point cannot serve: {reason}."),
        _("Click on something grey or white in the same light as the tile, plain and not too bright."),
    ),
    "sheet-no-room": (
        _("Tiles of this size do not fit on a {paper} sheet beside the card; {fits} would."),
        _("Choose larger paper, or state the sizes of tile and card as width x height in mm: 50x100."),
    ),
    "sheet-mirrored": (
        _("The photo shows the sheet mirrored."),
        _("Bring the photo as the camera made it; some phones mirror what their front camera sees."),
    ),
    "blank-shows-card": (
        _("The photo given as the blank sheet shows a card, so it says nothing of the light there."),
        _("Take card and tiles away, photograph the sheet alone in the same light, and give that photo."),
    ),
    "blank-not-even": (
        _("Only {percent} % of the photo given as the blank sheet is plain; at least 80 % have to be."),
        _("Fill the whole picture with plain white matt paper, in the same light, with nothing on it."),
    ),
    "blank-does-not-fit": (
        _("The photo of the blank sheet has another shape than this photo."),
        _("Photograph the blank sheet with the same phone, held the same way, from the same place."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {
    "photo-profile-unread": (
        _("The photo's colour profile cannot be read; it was taken as plain sRGB."),
        _("Bring the photo as the phone or camera made it."),
    ),
    "neutral-only": (
        _("Read without a card, by one neutral point: the camera's own tone and colours are in it."),
        _("It serves as a rough target. For a tile to be kept, photograph it beside the card."),
    ),
    "card-not-found": (_("No whole reference card was found in this photo."), _AGAIN),
    "card-does-not-fit": (
        _("What lies between these corners does not look like the card."),
        _("Check the corners: start at the first patch (dark skin on the 24-patch chart) and go round the card."),
    ),
    "card-unsure": (
        _("The card was found, but not surely."),
        _("Look whether its outline lies on the card; if not, give its corners."),
    ),
    "card-too-bright": (
        _("Only {n_clear} patches of the card can be read; the others are too bright."),
        _DARKER,
    ),
    "card-too-dark": (
        _("Only {n_clear} patches of the card can be read; the others are too dark."),
        _("Photograph again with more light, or one stop brighter."),
    ),
    "card-read-badly": (
        _("The card's own patches are read {median} ΔE00 off, by their middle: more than a good photo has."),
        _("Check that nothing shines on the card or shades it; a card with faded patches does the same."),
    ),
    "card-read-badly-refused": (
        _("The card's own patches are read {median} ΔE00 off, by their middle: too much to trust the tiles."),
        _("Check that it is the card you named and that it is clean and not faded; then photograph again."),
    ),
    "card-patches-odd": (
        _("Something covers or shines on part of the card; patches left out: {n_patches}."),
        _("Keep tiles, fingers and reflections off the card."),
    ),
    "no-sheet": (
        _("No plain sheet was seen around the card, so uneven light is known only from the card itself."),
        _("Lay card and tiles on one sheet of white matt paper, or add a photo of the blank sheet."),
    ),
    "sheet-too-bright": (_("{percent} % of the sheet is too bright to tell how even the light is."), _DARKER),
    "sheet-too-bright-refused": (
        _("The sheet is too bright ({percent} %) to tell how even the light is."),
        _DARKER,
    ),
    "light-patchy": (
        _("The light on the sheet is patchy (by {percent} %): a shadow, or the phone altered parts of it."),
        _("Keep shadows off, and switch off HDR and other improvements of the camera."),
    ),
    "light-patchy-refused": (
        _("The light on the sheet is too patchy (by {percent} %): shadows, or the phone altered parts."),
        _("Keep shadows off, switch off HDR and other improvements of the camera, and photograph again."),
    ),
    "card-in-shadow": (
        _("The sheet beside the card has {percent} % other light in places: a shadow's edge lies on the card."),
        _("Keep your own shadow, the phone's and the lamp's stand off card and tiles, and photograph again."),
    ),
    "card-lit-unevenly": (
        _("The card's patches are read too light or too dark by {spread} L* and more: light on it is uneven."),
        _("Keep shadows and reflections off the card; a card with faded patches does the same."),
    ),
    "shadow-on-zones": (
        _("A shadow lies on tiles, or another surface beside them; zones it may spoil: {n_zones}."),
        _("Keep shadows off, lay card and tiles on one sheet of white matt paper, and photograph again."),
    ),
    "mixed-light": (
        _("The light changes colour over the photo by {percent} %: two kinds of light, it seems."),
        _ONE_LAMP,
    ),
    "mixed-light-refused": (
        _("The light changes colour over the photo by {percent} %: two kinds of light."),
        _ONE_LAMP,
    ),
    "uneven-light": (
        _("Parts of the photo have {percent} % less light than others; that was allowed for."),
        _("Move the lamp further away for evener light."),
    ),
    "sheet-no-tiles": (
        _("The photo sheet was found, with the mark in the middle of every slot in sight, so no tile lies on it."),
        _("Lay each tile over the mark of its slot; a tile that leaves the mark open is not found by itself."),
    ),
    "tile-edges-unsure": (
        _("The edges of the tile in slot {slots} do not all show against the paper; where they lie was guessed."),
        _("Look whether the zones lie on the tile; if not, draw them."),
    ),
    "zone-other-light": (
        _("The sheet beside this zone shows {percent} % other light than was reckoned with: a shadow, it seems."),
        _("Keep shadows off, lay card and tiles on one sheet of white matt paper, and photograph again."),
    ),
    "zone-too-bright": (
        _("{percent} % of this zone is too bright to be read well."),
        _DARKER,
    ),
    "zone-too-dark": (
        _("{percent} % of this zone is too dark to be read well."),
        _("Photograph it again with more light."),
    ),
    "zone-doubtful": (
        _("This zone's colour is known only to {u95} ΔE00: it is unlike any of the card's, or the light was bad."),
        _("Take it as a rough colour, and photograph the tile again in another light, by daylight for one."),
    ),
    "zone-glare": (
        _("Only {percent} % of this zone is free of glare."),
        _("Turn the tile or move the lamp so that nothing mirrors in it; light from 45° is best."),
    ),
    "zone-all-glare": (
        _("This zone mirrors a light nearly everywhere and was left out."),
        _("Turn the tile or move the lamp so that nothing mirrors in it; light from 45° is best."),
    ),
    "merge-camera-moved": (
        _("The card lies elsewhere in one of these photos, so one outline does not fit all of them."),
        _("Move only the lamp between the photos, not the camera; or use the photo sheet, which finds the tiles."),
    ),
    "merge-one-photo": (
        _("Zone {zone} could be read in one of the photos only, so nothing was merged there."),
        _("Photograph once more with the lamp elsewhere."),
    ),
    "zone-outside": (
        _("This zone lies outside the photo, or is too small to be read, and was left out."),
        _("Draw it again inside the photo."),
    ),
}
