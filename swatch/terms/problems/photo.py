"""Problems of photos: what cannot be opened, found or trusted."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def photo_not_a_photo(kind: str) -> StudioProblem:
    """The file is no photo in a format that is read; `kind` is what it is."""
    return StudioProblem("photo-not-a-photo", kind=kind)


def photo_broken(kind: str) -> StudioProblem:
    """The file starts like a photo and cannot be decoded to its end."""
    return StudioProblem("photo-broken", kind=kind)


def photo_too_large(width: int, height: int, most_megapixels: int) -> StudioProblem:
    """The photo claims more pixels than are decoded."""
    return StudioProblem("photo-too-large", width=width, height=height, most_megapixels=most_megapixels)


def photo_too_small(width: int, height: int) -> StudioProblem:
    """The photo has too few pixels for a card and tiles."""
    return StudioProblem("photo-too-small", width=width, height=height)


def photo_too_narrow(width: int, height: int) -> StudioProblem:
    """The photo is a strip in which no card and tiles lie side by side."""
    return StudioProblem("photo-too-narrow", width=width, height=height)


def photo_animated() -> StudioProblem:
    """The file holds several pictures, so it is not known which is meant."""
    return StudioProblem("photo-animated")


def photo_colours_unusable(way: str) -> StudioProblem:
    """The photo codes its colours in a way that does not lead back to light: `way` is CMYK, Lab, grey, 32 bit."""
    return StudioProblem("photo-colours-unusable", way=way)


def photo_raw_unread() -> StudioProblem:
    """The DNG is damaged, or keeps its light in a way that cannot be read."""
    return StudioProblem("photo-raw-unread")


def compare_zone_missing(zone: str) -> StudioProblem:
    """A zone to be compared was not read in this photo."""
    return StudioProblem("compare-zone-missing", zone=zone)


def card_needs_corners(card: str) -> StudioProblem:
    """Only the 24-patch chart is found by itself; any other card needs its corners."""
    return StudioProblem("card-needs-corners", card=card)


def card_corners_wrong(reason: str) -> StudioProblem:
    """The corners given are not four corners of a card inside the photo."""
    return StudioProblem("card-corners-wrong", reason=reason)


def card_too_few_patches(n_patches: int, least: int) -> StudioProblem:
    """The card has too few patches, or too few neutral ones, to correct colours by."""
    return StudioProblem("card-too-few-patches", n_patches=n_patches, least=least)


def zone_outline_wrong() -> StudioProblem:
    """A zone's outline has fewer than three points, or no area."""
    return StudioProblem("zone-outline-wrong")


def blank_does_not_fit() -> StudioProblem:
    """The photo of a blank sheet has another shape than the photo it should level."""
    return StudioProblem("blank-does-not-fit")


def blank_shows_card() -> StudioProblem:
    """The photo given as that of a blank sheet shows a card."""
    return StudioProblem("blank-shows-card")


def blank_not_even(percent: int) -> StudioProblem:
    """Too little of the photo given as that of a blank sheet is plain; `percent` of it is."""
    return StudioProblem("blank-not-even", percent=percent)


def neutral_unusable(reason: str) -> StudioProblem:
    """The neutral point cannot serve: ``outside``, ``too bright``, ``too dark``, ``not even`` or ``coloured``."""
    return StudioProblem("neutral-unusable", reason=reason)


def sheet_no_room(paper: str, fits: int) -> StudioProblem:
    """The tiles asked for do not fit on a photo sheet of that paper beside the card; `fits` is how many do."""
    return StudioProblem("sheet-no-room", paper=paper, fits=fits)


def sheet_mirrored() -> StudioProblem:
    """The photo shows a photo sheet as in a mirror."""
    return StudioProblem("sheet-mirrored")


def self_test_too_few_photos(least: int) -> StudioProblem:
    """Of no occasion enough photos could be used; `least` are needed."""
    return StudioProblem("self-test-too-few-photos", least=least)


def self_test_too_few_zones(n_zones: int, least: int) -> StudioProblem:
    """Too few zones are in every photo."""
    return StudioProblem("self-test-too-few-zones", n_zones=n_zones, least=least)


def own_card_too_few(n_photos: int, n_lights: int, least_photos: int, least_lights: int) -> StudioProblem:
    """Too few photos, or too few different lights, to learn a card from."""
    return StudioProblem(
        "own-card-too-few",
        n_photos=n_photos,
        n_lights=n_lights,
        least_photos=least_photos,
        least_lights=least_lights,
    )


def own_card_does_not_fit(card: str) -> StudioProblem:
    """The learnt card has another layout than the card it should stand for."""
    return StudioProblem("own-card-does-not-fit", card=card)


def no_kept_photos() -> StudioProblem:
    """No current reading of the studio was taken from a photo that is kept."""
    return StudioProblem("no-kept-photos")


def photo_not_kept() -> StudioProblem:
    """No photo of that name is on record, or none of its readings is current."""
    return StudioProblem("photo-not-kept")


def kept_photo_other_card() -> StudioProblem:
    """A photo on record was measured without the built-in card, whose colours alone are known without its file."""
    return StudioProblem("kept-photo-other-card")


def zone_not_read_again() -> StudioProblem:
    """A zone on record cannot be read in its photo today."""
    return StudioProblem("zone-not-read-again")
