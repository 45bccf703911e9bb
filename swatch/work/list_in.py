"""A list of questions to predict, from a file of the user's."""

from __future__ import annotations

from swatch.formats.questions import Asked, read_questions
from swatch.work.files import read_file


def read_list(path: str) -> tuple[Asked, ...]:
    """Read the questions in a CSV file with the columns layers, body and cone.

    Raises
    ------
    StudioProblem
        The file as a whole cannot be used; a single bad row is in the answer, in its place.
    """
    return read_questions(read_file(path), path)
