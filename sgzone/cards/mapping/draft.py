"""A guess written down as a mapping: each line with how sure it is and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from sgzone.cards.mapping import details
from sgzone.cards.mapping.content import spec_of
from sgzone.cards.mapping.guess import Guess, Match, guessed
from sgzone.cards.mapping.headers import MEASURES
from sgzone.cards.mapping.raw import FALLBACK, Raw
from sgzone.cards.mapping.toml import key, quoted, shown

SIGNATURE = "# A mapping of sgzone"
"""How a mapping written by the package begins."""
_MOST_LISTED = 8  # of our words in one remark


@dataclass
class Draft:
    """A mapping as text, and what of it a person is told.

    ``sure``, ``guesses``: our columns that were found; ``left``: their headers that were not
    mapped; ``lacking``: columns of ours that are needed and not there; ``asked``: what must be
    said before the table can be read; ``words``: words of theirs that have no meaning yet;
    ``places``: what positions are of, where they make distances.
    """

    lines: list[str] = field(default_factory=list)
    sure: list[str] = field(default_factory=list)
    guesses: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    lacking: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    places: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """The file."""
        return "\n".join(self.lines) + "\n"

    def say(self, line: str, remark: str) -> None:
        """Add a line with its remark, remarks one under the other."""
        self.lines.append(f"{line:<33} # {remark}")

    def table(self, name: str, lines: list[tuple[str, str]]) -> None:
        """Add a table, with a blank line before it; none where it has no line."""
        if lines:
            self.lines += ["", f"[{name}]"]
            for line, remark in lines:
                self.say(line, remark)


def draft(file: str, raw: Raw) -> Draft | None:
    """Return the best mapping of a table, None where no row of it can be a header."""
    guess = guessed(raw.grid)
    if guess is None:
        return None
    made = Draft()
    made.lines += [
        f"{SIGNATURE} for {shown(file)}, read as a {guess.table.name}.",
        "# Our name = theirs. A guess is to be looked at; a line after # is not read.",
    ]
    _add_file(made, guess, raw)
    _add_columns(made, guess)
    _add_units(made, guess)
    _add_words(made, guess)
    _add_fixed(made, guess)
    _add_positions(made, guess)
    return made


def _sureness(sure: bool, why: str) -> str:
    return f"{'sure' if sure else 'guess'}: {shown(why)}"


def _add_file(made: Draft, guess: Guess, raw: Raw) -> None:
    if raw.encoding and raw.separator:
        whole = raw.encoding != FALLBACK
        why = "the file is that throughout" if whole else "it is not UTF-8"
        made.say(f"encoding = {quoted(raw.encoding)}", _sureness(whole, why))
        why = f"it makes {len(guess.headers)} columns"
        made.say(f"separator = {quoted(raw.separator)}", _sureness(True, why))
    for name, said in (("decimal", details.decimal(guess)), ("dates", details.days(guess))):
        if said and not said.asked:
            made.say(f"{name} = {quoted(said.value)}", _sureness(said.sure, said.why))
        elif said:
            made.say(f"# {name} = {quoted(said.value)}", f"to fill in: {shown(said.why)}")
            made.asked.append(name)
    totals = details.totals(guess)
    if totals:
        listed = [n + 1 for n in (*range(guess.head), *totals)]
        made.say(f"skip = {listed}", _sureness(False, "rows above the header, and sums"))
    elif guess.head:
        made.say(f"skip = {guess.head}", _sureness(True, f"the header is in row {guess.head + 1}"))


def _add_columns(made: Draft, guess: Guess) -> None:
    lines = []
    for match in guess.matches:
        (made.sure if match.sure else made.guesses).append(match.name)
        line = f"{match.name} = {quoted(guess.header(match.place))}"
        lines.append((line, _sureness(match.sure, match.why)))
    taken = {match.place for match in guess.matches} | {
        p for two in guess.positions.values() for p in two
    }
    for place, header in enumerate(guess.headers):
        if place in taken or not any(cell.strip() for cell in guess.cells(place)):
            continue
        made.left.append(shown(header.strip() or f"[{place + 1}]"))
        lines.append((f"# ? = {quoted(guess.header(place))}", "not mapped"))
    made.table("columns", lines)


def _add_units(made: Draft, guess: Guess) -> None:
    lines = []
    for match in guess.matches:
        said = details.unit(guess, match)
        line = f"{match.name} = {quoted(said.value)}" if said else ""
        if said and not said.asked:
            lines.append((line, _sureness(said.sure, said.why)))
        elif said:
            lines.append((f"# {line}", f"to fill in: {shown(said.why)}"))
            made.asked.append(f"the unit of {match.name}")
    made.table("units", lines)


def _add_words(made: Draft, guess: Guess) -> None:
    for match in guess.matches:
        made.table(f"words.{match.name}", [*_words(made, guess, match)])


def _words(made: Draft, guess: Guess, match: Match) -> Iterator[tuple[str, str]]:
    spec = spec_of(match.name)
    ours = " ".join(spec.words[:_MOST_LISTED]) or spec.meaning
    for word in details.words(guess, match):
        rows = f"in {word.rows} row{'s' if word.rows > 1 else ''}"
        if word.ours:
            yield f"{key(word.theirs)} = {quoted(word.ours)}", f"sure: {rows}"
            continue
        kept = "kept as it is, or " if spec.kind == "words" else ""
        yield f'# {key(word.theirs)} = ""', f"not mapped, {rows}: {kept}one of {ours}"
        if spec.kind != "words":
            made.words.append(shown(word.theirs))


def _add_fixed(made: Draft, guess: Guess) -> None:
    lines = []
    measured = {"ball", "pin"} <= {*guess.positions}
    for spec in guess.lacking:
        if spec.name == "shot" or (measured and spec.name in MEASURES):
            continue
        made.lacking.append(spec.name)
        lines.append((f'# {spec.name} = ""', f"needed, and no header is it: {spec.meaning}"))
    if measured and "distance" not in guess.of and "measured" not in guess.of:
        lines.append(('measured = "gps"', "guess: distances are made of positions"))
    made.table("fixed", lines)


def _add_positions(made: Draft, guess: Guess) -> None:
    whole = {"ball", "pin"} <= {*guess.positions}
    lines = []
    for of, places in guess.positions.items():
        headers = ", ".join(quoted(guess.header(place)) for place in places)
        remark = _sureness(False, "latitude and longitude by their headers")
        lines.append((f"{'' if whole else '# '}{of} = [{headers}]", remark))
    made.places += [*guess.positions] if whole else []
    if guess.positions and not whole:
        lines.append(("# ", "positions need ball and pin, latitude before longitude"))
    made.table("positions", lines)
