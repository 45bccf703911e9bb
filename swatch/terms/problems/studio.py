"""Problems of the studio folder: locks, versions, damage."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def no_studio(folder: str) -> StudioProblem:
    """The folder is absent or holds no studio."""
    return StudioProblem("no-studio", folder=folder)


def studio_exists(folder: str) -> StudioProblem:
    """A studio is to be made where one is already."""
    return StudioProblem("studio-exists", folder=folder)


def folder_not_empty(folder: str, found: str) -> StudioProblem:
    """A studio is to be made in a folder that holds other things; `found` is one of them."""
    return StudioProblem("folder-not-empty", folder=folder, found=found)


def studio_in_use(folder: str, program: str | None, pid: int | None, host: str | None) -> StudioProblem:
    """Another process writes this studio; who it is where it has said so."""
    if program is None or pid is None or host is None:
        return StudioProblem("studio-in-use-unknown", folder=folder)
    return StudioProblem("studio-in-use", folder=folder, program=program, pid=pid, host=host)


def cannot_lock(folder: str, reason: str) -> StudioProblem:
    """The disk does not let a file be held by one program, so two could write at once."""
    return StudioProblem("studio-cannot-lock", folder=folder, reason=reason)


def studio_newer(folder: str, version: int, known: int, program: str) -> StudioProblem:
    """A later version of the program has written the studio; `program` says which."""
    return StudioProblem("studio-newer", folder=folder, version=version, known=known, program=program)


def studio_older(folder: str) -> StudioProblem:
    """The studio's file is of an earlier form and has to be opened for writing once."""
    return StudioProblem("studio-older", folder=folder)


def studio_damaged(folder: str, found: str) -> StudioProblem:
    """The records cannot be trusted as they stand; `found` says what gave it away."""
    return StudioProblem("studio-damaged", folder=folder, found=found)


def studio_read_only(folder: str) -> StudioProblem:
    """Nothing can be written in the studio's folder."""
    return StudioProblem("studio-read-only", folder=folder)


def studio_busy(folder: str) -> StudioProblem:
    """Another program keeps the records from being written or read, and did not let go in time."""
    return StudioProblem("studio-busy", folder=folder)


def studio_unfinished(folder: str) -> StudioProblem:
    """A write was cut off and can only be rolled back where the folder can be written."""
    return StudioProblem("studio-unfinished", folder=folder)


def disk_full(folder: str) -> StudioProblem:
    """There is no room left; what was being written has been taken back."""
    return StudioProblem("disk-full", folder=folder)


def disk_failed(folder: str, reason: str) -> StudioProblem:
    """The disk refused to read or write; what was being written has been taken back."""
    return StudioProblem("disk-failed", folder=folder, reason=reason)


def photo_unreadable(photo: str, reason: str) -> StudioProblem:
    """An original cannot be copied into the studio."""
    return StudioProblem("photo-unreadable", photo=photo, reason=reason)


def photo_changed(photo: str) -> StudioProblem:
    """An original changed while it was copied."""
    return StudioProblem("photo-changed-while-kept", photo=photo)


def photo_missing(photo: str, sha256: str) -> StudioProblem:
    """An original the records speak of is not in the folder."""
    return StudioProblem("photo-missing", photo=photo, sha256=sha256)


def photo_damaged(photo: str, sha256: str) -> StudioProblem:
    """An original in the folder is not what was once kept."""
    return StudioProblem("photo-damaged", photo=photo, sha256=sha256)


def stray_file(path: str) -> StudioProblem:
    """A file stands among the originals that no record speaks of."""
    return StudioProblem("stray-file", path=path)


def bad_text(text: str) -> StudioProblem:
    """A name or text holds characters that no text can hold."""
    return StudioProblem("bad-text", text=text)


def no_name(what: str) -> StudioProblem:
    """Something that needs a name has none; `what` is its kind."""
    return StudioProblem("no-name", what=what)


def name_taken(name: str) -> StudioProblem:
    """Another one is already called so."""
    return StudioProblem("name-taken", name=name)


def not_there(name: str) -> StudioProblem:
    """Nothing in the studio is called so."""
    return StudioProblem("not-there", name=name)


def cone_not_the_firings(tile: str, zone: str, cone: str, firing: str, asked: str) -> StudioProblem:
    """A row states a cone beside a firing that was asked for another."""
    return StudioProblem("cone-not-the-firings", tile=tile, zone=zone, cone=cone, firing=firing, asked=asked)


def layers_differ(tile: str, zone: str, one: str, other: str) -> StudioProblem:
    """Two rows of one zone give it layers of which one does not continue the other."""
    return StudioProblem("layers-differ", tile=tile, zone=zone, one=one, other=other)


def rows_differ(what: str, field: str, one: str, other: str) -> StudioProblem:
    """Two rows of one thing state a fact of it differently; `what` names the thing."""
    return StudioProblem("rows-differ", what=what, field=field, one=one, other=other)


def differs_from_record(what: str, field: str, recorded: str, here: str) -> StudioProblem:
    """A row states a fact otherwise than it is on record for other readings of the same thing."""
    return StudioProblem("differs-from-record", what=what, field=field, recorded=recorded, here=here)


def of_another_firing(what: str, reading: int, free: int) -> StudioProblem:
    """A row would write the colour of another firing over a reading; `free` is the next number."""
    return StudioProblem("of-another-firing", what=what, reading=reading, free=free)


def not_a_backup(file: str, found: str) -> StudioProblem:
    """A file is no backup of a studio, or a damaged one."""
    return StudioProblem("not-a-backup", file=file, found=found)


def restore_needs_empty(folder: str) -> StudioProblem:
    """A backup is to be restored into a folder that is not empty."""
    return StudioProblem("restore-needs-empty-folder", folder=folder)
