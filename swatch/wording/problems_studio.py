"""What is said of the studio folder."""

from __future__ import annotations

from swatch.wording.text import _

PROBLEMS: dict[str, tuple[str, str]] = {
    "no-studio": (
        _("There is no studio in {folder}."),
        _("Choose the folder that holds studio.sqlite, or start a new studio."),
    ),
    "studio-exists": (
        _("{folder} is a studio already."),
        _("Open it, or choose another folder for the new one."),
    ),
    "folder-not-empty": (
        _("{folder} already holds other things, such as {found}."),
        _("Choose an empty folder, or the name of a new one."),
    ),
    "studio-in-use": (
        _("{program} (process {pid} on {host}) is writing this studio."),
        _("Close it there, then try again. Looking and asking work meanwhile."),
    ),
    "studio-in-use-unknown": (
        _("Another program is writing this studio and has not said who it is."),
        _("Close it, then try again. Looking and asking work meanwhile."),
    ),
    "studio-cannot-lock": (
        _("The disk that holds {folder} cannot keep two programs from writing at once ({reason})."),
        _("Keep the studio on a disk of this computer."),
    ),
    "studio-newer": (
        _("This studio was written by {program}, in form {version}; this program knows forms up to {known}."),
        _("Install that version or a later one. Nothing has been changed."),
    ),
    "studio-older": (
        _("This studio was written by an earlier version."),
        _("Open it once in the window or bring something in: a copy is made, then the records are brought up."),
    ),
    "studio-damaged": (
        _("The records in {folder} are damaged: {found}."),
        _("Keep the folder as it is, and restore the last backup into another one."),
    ),
    "studio-read-only": (
        _("Nothing can be written in {folder}."),
        _("Make the folder writable for you, or copy the studio to a place that is."),
    ),
    "studio-busy": (
        _("Another program keeps the records in {folder} from being used."),
        _("Wait until it is done, or close it, then try again."),
    ),
    "studio-unfinished": (
        _("The last write in {folder} was cut off, and the folder cannot be written to put it right."),
        _("Make the folder writable and open the studio once."),
    ),
    "disk-full": (
        _("The disk that holds {folder} is full. What was being written has been taken back."),
        _("Make room, then do it again."),
    ),
    "disk-failed": (
        _("The disk that holds {folder} refused: {reason}. What was being written has been taken back."),
        _("See that the disk is connected and sound, then do it again."),
    ),
    "photo-unreadable": (
        _("The photo {photo} cannot be copied: {reason}."),
        _("See that the file is there and can be read, then keep it again."),
    ),
    "photo-changed-while-kept": (
        _("The photo {photo} changed while it was copied."),
        _("Wait until it has arrived whole, measure it again, then keep it."),
    ),
    "photo-missing": (
        _("The original of {photo} is not in the studio's folder."),
        _("Put the photo back by keeping it again, or restore it from a backup."),
    ),
    "photo-damaged": (
        _("The original of {photo} in the studio's folder is no longer what was kept."),
        _("Keep the photo again to mend it, or restore it from a backup."),
    ),
    "stray-file": (
        _("{path} stands among the originals, and no record speaks of it."),
        _("Open the studio once: the file is put into quarantine, where you can look at it."),
    ),
    "bad-text": (
        _("“{text}” holds a character that no name can hold."),
        _("Type the name anew."),
    ),
    "no-name": (
        _("A name is missing ({what})."),
        _("Give it a name."),
    ),
    "name-taken": (
        _("Another material is called {name} already."),
        _("Choose another name."),
    ),
    "not-there": (
        _("Nothing in this studio is called {name}."),
        _("Check the spelling against the studio's list."),
    ),
    "cone-not-the-firings": (
        _("Tile {tile} {zone} states cone {cone}, but its firing {firing} was asked for cone {asked}."),
        _("Leave the cone empty, or correct it or the firing."),
    ),
    "layers-differ": (
        _("Rows of tile {tile} {zone} give it different layers: “{one}” and “{other}”."),
        _("Give one zone the same layers in every row; after a re-fire they may go on, not change."),
    ),
    "rows-differ": (
        _("Two rows state the {field} of {what} differently: “{one}” and “{other}”."),
        _("Correct one of them, or leave it empty."),
    ),
    "differs-from-record": (
        _("{what} has the {field} “{recorded}” on record, by other readings; this row says “{here}”."),
        _(
            "Correct the row, or leave that cell empty. If the record is wrong, bring in all rows of the tile, "
            "raw and fired, in one file."
        ),
    ),
    "of-another-firing": (
        _("Reading {reading} of {what} is on record from another firing, and this row has another colour."),
        _(
            "For a new reading after another firing, write {free} in the column “reading”. To correct only the "
            "firing, leave the colour as it is on record."
        ),
    ),
    "not-a-backup": (
        _("{file} is not a backup that can be used: {found}."),
        _("Choose a file that a backup made, or an earlier one."),
    ),
    "restore-needs-empty-folder": (
        _("{folder} is not empty."),
        _("Restore into a folder that is new or empty."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {}
