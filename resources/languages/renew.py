"""Bring the catalogues up to date with the program's sentences: ``python resources/languages/renew.py``.

Each ``swatch.po`` gets the sentences that are new and loses those that are gone; each ``swatch.mo`` is made of it.
What has no translation is printed, and the exit status is then 1. Needs Babel, a development dependency.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

HERE = Path(__file__).resolve().parent
PROGRAM = HERE.parents[1] / "swatch"
MARKS = {"_": None, "say": None, "_many": (1, 2), "say_many": (1, 2)}
"""Functions whose literal arguments are sentences; the last two take one for one thing, one for several."""


UNUSED_HEADERS = (
    b"Report-Msgid-Bugs-To",
    b"PO-Revision-Date",
    b"Last-Translator",
    b"Language-Team",
    b"Generated-By",
)


def sentences_of_program() -> Catalog:
    """Every sentence in the source, with the files it stands in."""
    found = Catalog(domain="swatch")
    for file, _line, message, comments, _context in extract_from_dir(PROGRAM, keywords=MARKS, comment_tags=()):
        if message and message != " ":
            found.add(message, locations=[(f"swatch/{file}", 0)], auto_comments=comments)
    return found


def catalogue_files() -> list[Path]:
    """The ``swatch.po`` of every language."""
    return sorted(HERE.glob("*/LC_MESSAGES/swatch.po"))


def catalogue_of(file: Path) -> Catalog:
    """One language's catalogue as it stands in its file."""
    with file.open("rb") as opened:
        return read_po(opened, locale=file.parents[1].name, domain="swatch", abort_invalid=True)


def compiled(catalogue: Catalog) -> bytes:
    """A catalogue in the form the program reads."""
    out = io.BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def untranslated(catalogue: Catalog) -> list[str]:
    """Sentences of a catalogue that have no translation, or lack one of its plural forms."""
    missing = []
    for message in catalogue:
        said = message.string if isinstance(message.string, (list, tuple)) else (message.string,)
        if message.id and (message.fuzzy or not said or not all(said)):
            missing.append(message.id if isinstance(message.id, str) else message.id[0])
    return missing


def renew(file: Path, sentences: Catalog) -> list[str]:
    """Bring one language up to date; gives what has no translation yet."""
    catalogue = catalogue_of(file)
    catalogue.update(sentences, no_fuzzy_matching=True, update_header_comment=False, update_creation_date=False)
    out = io.BytesIO()
    write_po(out, catalogue, width=110, ignore_obsolete=True, include_lineno=False)
    lines = out.getvalue().splitlines(keepends=True)
    file.write_bytes(b"".join(line for line in lines if not line[1:].startswith(UNUSED_HEADERS)))
    file.with_suffix(".mo").write_bytes(compiled(catalogue_of(file)))
    return untranslated(catalogue)


def main() -> int:
    """Renew every language."""
    sentences = sentences_of_program()
    left = 0
    for file in catalogue_files():
        missing = renew(file, sentences)
        left += len(missing)
        print(f"{file.parents[1].name}: {len(sentences) - len(missing)} of {len(sentences)} sentences")
        for sentence in missing:
            print(f"  without a translation: {sentence}")
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main())
