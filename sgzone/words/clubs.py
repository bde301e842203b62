"""Sentences about clubs and numbers."""

from __future__ import annotations

import pandas as pd

from sgzone.clubs.shots import COURSE, FROM_YD
from sgzone.clubs.stock import COVER_YD, FEW, WIDE_GAP
from sgzone.words.cautions import CLUB_ADVICE, WEAR
from sgzone.words.digits import count, listed, number, rows, thousands
from sgzone.words.notes import Row, noted
from sgzone.words.number import SHOTS
from sgzone.words.say import Say, Words


def ladder_title(source: str) -> str:
    """Return the title of the ladder's chart."""
    return f"How far the stock swings carry, by {SHOTS[source]}"


def no_ladder(source: str) -> str:
    """Return that no swing can be drawn from these shots."""
    return NO_CLUBS if source == COURSE else f"There are no {SHOTS[source]} of a stock swing."


def numbers_title(lie: str, source: str) -> str:
    """Return the title of the chart of strokes by number."""
    return f"What to hit at each number, from the {lie}, by {SHOTS[source]}"


NO_NUMBERS = "No stock swing finishes near any of these numbers."


WEAR_TITLE = "Strokes gained per shot since a club was new"


def read_wear(shots: int) -> str:
    """Return how to read the chart of wear."""
    return (
        f"Each mark: the mean of {shots} shots on cards; its line: the range. Above 0 gains "
        "strokes."
    )


def no_wear(shots: int) -> str:
    """Return that no club has marks enough."""
    return f"No club of the bag has shots enough since it was new: two marks of {shots} are needed."


READ_CARRIES = (
    "Dark mark: the median carry. Blue bar: its range. Pale bar: where two thirds of the shots "
    "land. Number of carries in brackets.",
    f"Swings under {FEW} shots are not drawn. Unclear: two swings that may be one.",
)


READ_LADDER = (
    "Each line: the carry of a stock swing, the median with its range.",
    f"Swings under {FEW} shots are not drawn. Unclear: two swings that may be one.",
)

READ_NUMBERS = (
    "Line: the swing with the fewest strokes to hole out from each number, named where it changes. "
    "The other marks are the second and third.",
    "From the fairway, no wind, to the middle of a usual green: another pin is another sheet.",
    "Where marks lie on one another it hardly matters what is hit.",
)

MOST_GAPS = 5  # named in one sentence
TOO_FEW_YET = "too few yet"

CLUBS_REST = "sgzone number 97 says which of these swings to hit at a number, and where to land it."

NO_CLUBS = "No stock swings yet. Write club, swing and carry on the card (club, swing, carry_yd)."

READ_SWINGS = (
    "Carries in calm air on the level, from good lies. Test shots and range balls: --source.",
    "Next: sgzone number 97 says which of these to hit, and where to land it.",
)

READ_QUESTIONS = ("To be sure of a gap of 0.10 strokes takes about that many shots of each.",)
READ_BAG = (CLUB_ADVICE,)
READ_WEAR = (WEAR, CLUB_ADVICE)
READ_CHANGES = (WEAR,)

TITLES = {
    None: "Stock swings from {source} shots, ranges {sure}.",
    "cover": "Your numbers against your stock swings ({source}).",
    "consistency": "How alike strikes are ({source}), ranges {sure}.",
    "questions": "Questions to settle, against {against}, ranges {sure}.",
    "bag": "The bag, by what is in the file.",
    "wear": "Change per 100 shots with a club, ranges {sure}.",
    "changes": "Before and after a club was replaced, ranges {sure}.",
}
"""Detail of ``sgzone clubs`` (None: the ladder) -> what its table is."""

QUESTION_WORDS = {
    "face": "clean or dirty face",
    "turf": "firm or soft turf",
    "bounce": "one bounce or another",
}


def clubs_lead(ladder: pd.DataFrame, cover: pd.DataFrame, say: Say) -> Words:
    """Return the ladder in sentences: how many swings, the wide gaps, what nothing fits."""
    return (*gaps(ladder, say), *uncovered(cover, say))


def gaps(ladder: pd.DataFrame, say: Say) -> Words:
    """Return the wide gaps between swings with enough shots, and which swings have too few."""
    few = ladder["shots"] < FEW
    solid = ladder[~few & ~few.shift(-1, fill_value=False)]
    wide = solid[solid["step"] == WIDE_GAP]
    names = [f"after {_swing(row)} ({say.length(row.gap_yd, 'yd')})" for row in rows(wide)]
    more = [f"{len(names) - MOST_GAPS} more"] if len(names) > MOST_GAPS else []
    found = listed([*names[:MOST_GAPS], *more]) if names else "none between swings you hit often"
    said = [f"{count(len(ladder), 'stock swing')}. Wide gaps: {found}."]
    if few.any():
        thin = [_swing(row) for row in rows(ladder[few])]
        more = [f"{len(thin) - MOST_GAPS} more"] if len(thin) > MOST_GAPS else []
        said.append(f"Too few yet (under {FEW} shots): {listed([*thin[:MOST_GAPS], *more])}.")
    return tuple(said)


def few_marked(ladder: pd.DataFrame) -> pd.DataFrame:
    """Return the ladder with swings of too few shots marked in place of their step."""
    return ladder.assign(step=ladder["step"].mask(ladder["shots"] < FEW, TOO_FEW_YET))


def uncovered(cover: pd.DataFrame, say: Say) -> Words:
    """Return how many strokes no stock swing fits; ``cover``: as ``clubs.cover.cover``."""
    strokes = int(cover["strokes"].sum())
    if not strokes:
        return ()
    bare = int(cover["uncovered"].sum())
    return (
        f"{bare} of {count(strokes, 'stroke')} from {FROM_YD * say.factor('yd'):.0f} to {say.zone} "
        f"had no stock swing within {say.length(COVER_YD, 'yd')}.",
    )


def clubs_more(left_out: int) -> Words:
    """Return the sentence about swings that the page leaves out, none where it has all."""
    if not left_out:
        return ()
    return (f"The swings with most shots are shown. {thousands(left_out)} more: sgzone clubs.",)


def numbers_alt(numbers: pd.DataFrame, say: Say) -> str:
    """Return the best swing of each number in words."""
    best = numbers[numbers["rank"] == 1]
    said = [
        f"{say.length(row.number_yd, 'yd')} {_swing(row)} {number(row.expected_strokes, 2)}"
        for row in rows(best)
    ]
    return f"Strokes to hole out by number, with the best swing: {'; '.join(said)}."


def ladder_alt(ladder: pd.DataFrame, say: Say) -> str:
    """Return the ladder in words."""
    said = [
        f"{_swing(row)} {say.length(row.carry_yd, 'yd')} (n {row.shots})" for row in rows(ladder)
    ]
    return f"Carries of the stock swings: {'; '.join(said)}."


def _swing(row: Row) -> str:
    return f"{row.club} {row.swing}".rstrip()


def title(detail: str | None, source: str, against: str, say: Say) -> str:
    """Return what the table is; ``detail``: a key of ``TITLES``."""
    return TITLES[detail].format(source=source, against=against, sure=say.chances)


def questions(table: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return ``clubs.consistency.questions`` with its questions and notes in words."""
    return noted(table.replace({"question": QUESTION_WORDS}), "compare", say)


def reminded(bag: pd.DataFrame) -> pd.DataFrame:
    """Return the bag (``clubs.wear.bag``) with ``reminder`` in words."""
    said = [_reminder(row) for row in rows(bag)]
    plain = bag.drop(columns=["shots_reached", "months_reached"])
    return plain.assign(reminder=pd.Series(said, index=bag.index, dtype=object))


def _reminder(row: Row) -> str:
    if row.shots_reached == row.shots_reached:
        return f"{row.shots_reached:.0f} shots reached"
    late = row.months_reached == row.months_reached
    return f"{row.months_reached:g} months reached" if late else ""
