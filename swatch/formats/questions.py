"""A list of layerings to predict: CSV with the columns layers, body and cone."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.formats import cells
from swatch.formats.columns import Layout
from swatch.formats.csv_text import read_sheet
from swatch.formats.tables import places_of
from swatch.terms.answers import Question
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.files import no_value

QUESTIONS = Layout(
    name="list",
    columns={"layers": cells.layers, "body": cells.text_line, "cone": cells.cone},
    key=(),
    required=("layers", "body", "cone"),
)


@dataclass(frozen=True, slots=True)
class Asked:
    """One row of a list: the question it asks, or why it cannot be read; ``cells`` as they stand in the file."""

    row: int
    cells: tuple[str, str, str]
    question: Question | None
    problem: StudioProblem | None


def read_questions(data: bytes, name: str) -> tuple[Asked, ...]:
    """Read a list of questions, one a row, in the file's order; each row is a question of its own.

    Raises
    ------
    StudioProblem
        The file as a whole cannot be used.
    """
    sheet = read_sheet(data, name)
    places, _ = places_of(QUESTIONS, sheet, name)
    asked: list[Asked] = []
    for row in sheet.rows:
        layers, body, cone = (row.cells[places[column]] for column in QUESTIONS.required)
        text = (layers, body, cone)
        try:
            asked.append(Asked(row.number, text, _question(*text), None))
        except StudioProblem as problem:
            asked.append(Asked(row.number, text, None, problem.at(Where(file=name, row=row.number))))
    return tuple(asked)


def _question(layers: str, body: str, cone: str) -> Question:
    if not body or not cone:
        raise no_value("cone" if body else "body")
    # No layers is the bare body, which is a question too.
    return Question(cells.layers("layers", layers), cells.text_line("body", body), cells.cone("cone", cone))
