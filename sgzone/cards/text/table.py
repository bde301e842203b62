"""A text card as a table of text, one row a stroke, with every question and note as a problem."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pyarrow as pa

from sgzone.cards.columns import columns_of, names_of, nearest
from sgzone.cards.days import said
from sgzone.cards.example import PLAYER
from sgzone.cards.given import Given
from sgzone.cards.text.card import Card, Row, card_of, rows_of
from sgzone.cards.text.example import as_written, is_example, nothing_else
from sgzone.cards.text.passed import lines_in_words
from sgzone.cards.text.places import Question, Reading
from sgzone.cards.text.questions import NOTES, QUESTIONS, SO_FAR
from sgzone.errors import MOST_OF_A_KIND, Problem, first_of_a_kind

EXTRA_PREFIX = "x"
_MOST_SHOWN = 6
_NEEDED = tuple(column.name for column in columns_of("shot") if column.needed)


def table_of_card(
    file: str, text: str, given: Given
) -> tuple[pa.Table, tuple[str, ...], tuple[Problem, ...]]:
    """Return the rows of a text card, its columns that no card has, and all problems.

    The table is that of ``reader.TextTable``: ``source_row`` is the number of the line, so all
    strokes of a hole have the same. Holes with a question have no rows.
    """
    card = card_of(text, given)
    rows, lines = [], []
    for hole in card.holes:
        above = hole.heading
        if above is not None and above.player is not None and above.day is not None:
            for row in rows_of(hole):
                rows.append(row)
                lines.append(hole.at.line)
    problems = [*_questions(file, card), *_notes(file, card)]
    rows, lines, of_example = _without_example(file, rows, lines)
    if of_example and not rows and not any(p.severity == "error" for p in (*problems, *of_example)):
        raise nothing_else(file, [problem.row or 1 for problem in of_example])
    known = names_of("shot")
    extra = tuple(dict.fromkeys(name for row in rows for name in row if name not in known))
    problems += of_example
    problems += [_unknown(file, name, rows, lines) for name in extra]
    problems.sort(key=lambda problem: problem.row or 0)
    return _table(rows, lines, extra), extra, tuple(problems)


def _without_example(
    file: str, rows: Sequence[Row], lines: Sequence[int]
) -> tuple[list[Row], list[int], list[Problem]]:
    """Return rows and their lines without those of the example, a note, and what was changed."""
    kept = [(row, line) for row, line in zip(rows, lines, strict=True) if not is_example(row)]
    marked = [(row, line) for row, line in zip(rows, lines, strict=True) if is_example(row)]
    changed = sorted({line for row, line in marked if not as_written(row)})
    same = sorted({line for _, line in marked} - set(changed))
    found = [_note(file, "example", same, value=PLAYER)] if same else []
    wrong, fix = QUESTIONS["example"]
    asked = (Problem(file, line, "player", PLAYER, wrong, fix) for line in changed)
    found += first_of_a_kind(asked, len(changed))
    return [row for row, _ in kept], [line for _, line in kept], found


def _table(rows: Sequence[Row], lines: Sequence[int], extra: Sequence[str]) -> pa.Table:
    there = {name for row in rows for name in row}
    arrays = {
        "source_row": pa.array(lines, pa.int32()),
        "broken": pa.array([False] * len(rows), pa.bool_()),
    }
    for name in names_of("shot"):
        if name in there or name in _NEEDED:
            arrays[name] = pa.array([row.get(name) for row in rows], pa.string())
    for place, name in enumerate(extra):
        arrays[f"{EXTRA_PREFIX}{place}"] = pa.array([row.get(name) for row in rows], pa.string())
    return pa.table(arrays)


def _questions(file: str, card: Card) -> Iterator[Problem]:
    counted: dict[str, list[Problem]] = {}
    for line, hole, question, reading in card.asked:
        same = counted.setdefault(question.kind, [])
        if len(same) <= MOST_OF_A_KIND:
            same.append(_problem(file, card, line, hole, question, reading))
        else:
            same.append(same[-1])
    for same in counted.values():
        yield from first_of_a_kind(same, len(same))


def _problem(
    file: str,
    card: Card,
    line: int,
    hole: int | None,
    question: Question,
    reading: Reading | None,
) -> Problem:
    fields = {"token": question.token, **question.fields}
    wrong, fix = (text.format(**fields) for text in QUESTIONS[question.kind])
    if reading is not None and question.after:
        above = [read for read in card.headings if read.line < line]
        metres = bool(above) and above[-1].metres
        so_far = ", ".join(place.said(metres) for place in reading.places[: question.after])
        wrong = SO_FAR.format(wrong=wrong, so_far=so_far)
    column = "" if hole is None else f"hole {hole}"
    return Problem(file, line, column, question.token, wrong, fix)


def _notes(file: str, card: Card) -> Iterator[Problem]:
    if card.passed:
        yield _note(file, "passed over", card.passed)
    if card.mail:
        yield _note(file, "mail", card.mail)
    found: dict[str, list[tuple[int, str]]] = {}
    for hole in card.holes:
        for kind, text in hole.reading.liberties:
            found.setdefault(kind, []).append((hole.at.line, text))
    for kind, those in found.items():
        texts = list(dict.fromkeys(text for _, text in those))
        shown = ", ".join(texts[:_MOST_SHOWN]) + (", ..." if len(texts) > _MOST_SHOWN else "")
        yield _note(file, kind, [line for line, _ in those], words=shown, value=texts[0])
    for read in card.headings:
        numeric = not any(sign.isalpha() for sign in read.day_text)
        if read.day and numeric and read.day_text[:4] != str(read.day.year):
            yield _note(file, "day", [read.line], day=said(read.day), value=read.day_text)


def _note(file: str, kind: str, lines: Sequence[int], *, value: str = "", **fields: str) -> Problem:
    wrong, fix = (text.format(lines=lines_in_words(lines), **fields) for text in NOTES[kind])
    return Problem(file, min(lines), "", value, wrong, fix, "note")


def _unknown(file: str, name: str, rows: Sequence[Row], lines: Sequence[int]) -> Problem:
    line = next(line for row, line in zip(rows, lines, strict=True) if name in row)
    guess = nearest(name, names_of("shot"))
    fix = (
        f'Did you mean "{guess}"? If not, there is nothing to do.'
        if guess
        else "Nothing to do; it takes no part in any answer."
    )
    wrong, shown = (text.format(guess=fix) for text in NOTES["unknown column"])
    return Problem(file, line, name, "", wrong, shown, "note")
