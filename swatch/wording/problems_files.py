"""What is said of files that come in, and of what stands in them."""

from __future__ import annotations

from swatch.wording.text import _

_CONES = _(
    "Write cones as text: 06, 6, 5.5. In a spreadsheet, set the column to text first, so that 06 stays 06 and "
    "nothing turns into a number or a date."
)
_SAVE_AS_UTF8 = _("Save it again as “CSV UTF-8”, with commas between columns and points in numbers.")

PROBLEMS: dict[str, tuple[str, str]] = {
    "no-studio-named": (
        _("No studio is named, and none has been used before."),
        _("Name its folder with --studio DIR."),
    ),
    # the file as a whole
    "unknown-ending": (
        _("The ending of {name} does not say how to write it."),
        _("Give the file one of these endings: {endings}."),
    ),
    "file-too-big": (
        _("The file has {megabytes:g} MB; {most:g} MB is the most that is read."),
        _("Check that it is the right file, or bring it in as several smaller ones."),
    ),
    "empty-file": (_("The file is empty."), _("Check that it was saved, and that it is the right file.")),
    "not-utf8": (
        _("The text is not UTF-8, so some of its letters cannot be read for certain."),
        _SAVE_AS_UTF8,
    ),
    "nul-in-text": (
        _("The text holds a zero byte: it is damaged, or no text file."),
        _("Check that it is the right file and save it again."),
    ),
    "wrong-separator": (
        _("The columns are parted by {separator}, not commas."),
        _SAVE_AS_UTF8,
    ),
    "bad-quotes": (
        _("A quotation mark is opened and never closed, or stands in the middle of a cell."),
        _("Look at this row: a cell with a comma or a quotation mark in it stands in quotation marks as a whole."),
    ),
    "too-many-rows": (
        _("The table has more than {most} rows."),
        _("Check that it is the right file, or bring it in as several smaller ones."),
    ),
    "missing-column": (
        _("The {table} table has no column “{column}”."),
        _("Add the column; its name stands in the first row."),
    ),
    "column-twice": (_("Two columns are called “{column}”."), _("Leave one of them out, or rename it.")),
    "more-bad-rows": (
        _("{more} more rows cannot be used."),
        _("Mend the rows named here and try again; the others will then be named."),
    ),
    # a row and its cells
    "too-many-cells": (
        _("The row has {cells} cells, the first row has {columns}. A number with a decimal comma does this."),
        _("Write numbers with a point (54.3), and put a text that holds a comma in quotation marks."),
    ),
    "too-few-cells": (
        _("The row has {cells} cells, the first row has {columns}."),
        _("Give every row as many cells as there are columns; an empty cell still has its comma."),
    ),
    "cell-too-long": (
        _("A text is longer than {most} characters."),
        _("Check that the file is not damaged, and shorten the text."),
    ),
    "line-break-in-cell": (
        _("“{column}” holds a line break, a tab or another character that cannot be seen."),
        _("Write the cell anew on one line."),
    ),
    "no-value": (_("“{column}” is empty."), _("Fill the cell in, or leave the row out.")),
    "decimal-comma": (
        _("“{column}” is {text}, with a decimal comma. What is meant is not guessed."),
        _("Write numbers with a point: 54.3."),
    ),
    "bad-number": (
        _("“{column}” is “{text}”, which is no number for it."),
        _("Write plain digits with a point, without unit or thousands mark: 1250.5."),
    ),
    "out-of-range": (
        _("“{column}” is {text}; it lies between {low:g} and {high:g}."),
        _("Check the number and its unit."),
    ),
    "half-a-colour": (
        _("Only a part of the colour {columns} is there."),
        _("Give all three numbers, or leave all three empty."),
    ),
    "unknown-word": (_("“{column}” is “{text}”."), _("Write one of these: {allowed}.")),
    "bad-covariance": (
        _("“{column}” is “{text}”, which is no covariance of a colour."),
        _(
            "Write its six numbers LL La Lb aa ab bb with spaces between, with some variance in every direction; "
            "or leave the cell empty and state “u”."
        ),
    ),
    "bad-date": (
        _("“{column}” is “{text}”, which is no date as it is read here."),
        _("Write dates as year-month-day: 2027-02-11."),
    ),
    "bad-name": (
        _(
            "The name “{text}” cannot be written in layers, where > parts layers, * counts coats and a bracket at "
            "the end is kept for “(wiped)”."
        ),
        _("Change the name, here and in every layering that uses it."),
    ),
    "bad-cone": (_("“{text}” is no cone."), _CONES),
    "bad-layers": (
        _("The layers “{text}” cannot be read at “{part}”."),
        _(
            "Write them from the body outward: Iron slip*2 > Clear, with *2 for two coats and (wiped) for a wash "
            "wiped back."
        ),
    ),
    "cones-reversed": (
        _("The range runs from cone {low} to cone {high}, which is cooler. A lost zero does this: 6 for 06."),
        _CONES,
    ),
    "same-row-twice": (
        _("“{key}” stands in row {first_row} too, and the two rows differ."),
        _("Leave one of them out; where it was measured twice, number them in the column “reading”."),
    ),
    "log-not-in-order": (
        _("The minutes of this row lie before those of the row above."),
        _("Count minutes from the start of the firing, also past midnight, and keep the rows in order."),
    ),
    "log-in-two-units": (
        _("The log gives temperatures in °C and in °F."),
        _("Leave one of the two columns out, so that it is clear which holds."),
    ),
    # rows against the studio
    "no-cone": (
        _("Tile {tile} has neither a firing nor a cone."),
        _("Fill in the firing, or the cone where there is no record of the firing."),
    ),
    # zones and keyword text
    "zones-not-json": (
        _("This is no zones file: it cannot be read at “{reason}”."),
        _('Write it as {{"zones": [{{"zone": "A1", "polygon": [[x, y], [x, y], [x, y]]}}]}}.'),
    ),
    "zone-bad-outline": (
        _("The outline of this zone cannot be used ({reason})."),
        _("Give at least three points [x, y], in pixels of the photo as it is seen, around an area."),
    ),
    "zone-twice": (_("Two zones are called “{zone}”."), _("Give each zone of a photo its own name.")),
    "keyword-text-broken": (
        _("This is no keyword text as ISO 28178 has it: it cannot be read at “{reason}”."),
        _("Check that it is the right file, and export it again from the program it came from."),
    ),
    "card-not-d50": (
        _("The card does not state its colours for D50 and the 2° observer. Found: {found}."),
        _("Ask for the card's values for D50, 2°. They cannot be converted without its spectra."),
    ),
    "card-layout": (
        _("How the card's patches are laid out is not stated rightly ({reason})."),
        _("Add SWATCH_ROWS and SWATCH_COLUMNS and list the patches row by row; at least six are needed."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {
    "lost-zero": (
        _("Cone {cone} with {material}, which is for cone {low} to {high}. A spreadsheet may have eaten a zero."),
        _("Look whether it should be 0{cone}; the row was taken as it stands."),
    ),
    "firing-not-recorded": (
        _("Nothing is known of the heat of firing {firing}, so its tiles teach nothing yet."),
        _(
            "Bring in its cone, asked or reached, its witness cones, its peak or its log; nothing else has to be "
            "done again."
        ),
    ),
    "columns-not-used": (
        _("Not used: {columns}."),
        _("Check the spelling if one of these columns was meant to be read."),
    ),
    "new-material-near-another": (
        _("A new material “{name}” was made. Did you mean “{near}”?"),
        _("If so, correct the name in the file and bring it in again; “{name}” then goes."),
    ),
    "new-body-near-another": (
        _("A new body “{name}” was made. Did you mean “{near}”?"),
        _("If so, correct the name in the file and bring it in again; “{name}” then goes."),
    ),
    "new-firing-near-another": (
        _("A new firing “{name}” was made. Did you mean “{near}”?"),
        _("If so, correct the name in the file and bring it in again; “{name}” then goes."),
    ),
    "no-rows": (_("The table has no rows."), _("Check that it is the right file.")),
    "doubt-not-stated": (
        _("{rows} rows state no “u”; {u:g} ΔE00 was taken for each, about what a camera beside a card gives."),
        _("Fill in “u” where you know how far each colour can be trusted."),
    ),
}
