"""Sentences a person reads are short, and in the words of the trade.

Counted in every room that makes one: ``words/``, the report's titles and captions, errors and
problems wherever they are raised, the help of every verb and option, and the pages of the docs.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from sgzone import cli
from tests.docs.pages import PAGES, ROOT
from tests.test_house import MODULES, PACKAGE
from tests.words.counting import count, not_ours, of_code, of_page, parted, too_long

MOST_HELP = 60
"""Letters of a verb's line in ``sgzone --help``."""

ROOMS = sorted({path.relative_to(PACKAGE).parts[0].removesuffix(".py") for path in MODULES})
ONE_EXAMPLE = {"cards/text/example.py", "cli.py"}
"""Modules whose long literal is a whole card, or a list of calls: no sentence."""

FOR_STATISTICIANS = {
    *("DEVELOPERS.md", "docs/decisions.md", "docs/performance.md", "docs/scale.md"),
    *("docs/security.md", "docs/simulator.md"),
}
"""Pages for who builds or tests it; with docs/method they keep exact terms and longer sentences."""

GENERATED = {"docs/answers.md", "docs/data-dictionary.md", "docs/reference.md", "docs/text-card.md"}
"""Made of what is counted elsewhere."""

WIDEST = 130
"""Letters of a line of a page; tables apart."""


def modules(room: str) -> Iterator[tuple[str, list[str]]]:
    """Return the sentences of each module of a room."""
    for path in MODULES:
        name = path.relative_to(PACKAGE)
        if name.parts[0].removesuffix(".py") == room and name.as_posix() not in ONE_EXAMPLE:
            yield name.as_posix(), of_code(path.read_text(encoding="utf-8"))


def helps() -> Iterator[tuple[str, str]]:
    """Return the help of every verb and of every option that is shown."""
    context = click.Context(cli.sgzone)
    for verb in cli.VERBS:
        command = cli.sgzone.get_command(context, verb)
        assert command is not None
        yield verb, command.help or ""
        for option in command.params:
            if isinstance(option, click.Option) and not option.hidden:
                yield f"{verb} {option.opts[0]}", option.help or ""


def plain_pages() -> dict[str, Path]:
    """Return the pages for players and coaches by name."""
    names = {path.relative_to(ROOT).as_posix(): path for path in PAGES}
    others = FOR_STATISTICIANS | GENERATED
    return {
        name: path
        for name, path in names.items()
        if name not in others and not name.startswith("docs/method")
    }


@pytest.mark.repeats
@pytest.mark.parametrize("room", ROOMS)
def test_a_sentence_has_at_most_20_words(room: str) -> None:
    long = [(name, one) for name, found in modules(room) for one in too_long(found)]
    assert not long


@pytest.mark.repeats
@pytest.mark.parametrize("room", ROOMS)
def test_no_word_is_one_that_a_coach_would_not_say(room: str) -> None:
    assert not [(name, one) for name, found in modules(room) for one in not_ours(found)]


def test_the_help_is_short_and_ours() -> None:
    texts = dict(helps())
    assert not {what: long for what, text in texts.items() if (long := too_long(parted(text)))}
    assert not {what: odd for what, text in texts.items() if (odd := not_ours(parted(text)))}


def test_every_verb_has_a_line_of_60_letters_and_every_option_its_help() -> None:
    for what, text in helps():
        assert text, what
        if " " not in what:
            assert len(text.splitlines()[0]) <= MOST_HELP, what


def test_an_option_that_takes_anything_gives_an_example() -> None:
    """A choice, a flag and what has a default show what may be typed; the others must say it."""
    context, without = click.Context(cli.sgzone), []
    for verb in cli.VERBS:
        command = cli.sgzone.get_command(context, verb)
        assert command is not None
        for option in command.params:
            if not isinstance(option, click.Option) or option.hidden or option.is_flag:
                continue
            if isinstance(option.type, click.Choice | click.DateTime):
                continue
            text = option.help or ""
            shown = any(sign in text for sign in ("such as", "--", '"', ":", "."))
            if not shown or text.rstrip(".").count(" ") < 2:
                without.append(f"{verb} {option.opts[0]}")
    assert not without


@pytest.mark.parametrize("name", plain_pages())
def test_a_page_for_players_and_coaches_is_short_and_ours(name: str) -> None:
    found = of_page(plain_pages()[name].read_text(encoding="utf-8"))
    assert not [*too_long(found), *not_ours(found)]


def test_no_line_of_a_page_is_too_wide() -> None:
    wide = [
        (page.name, number)
        for page in PAGES
        if page.relative_to(ROOT).as_posix() not in GENERATED
        for number, line in enumerate(page.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) > WIDEST and not line.lstrip().startswith("|")
    ]
    assert not wide


def test_long_sentences_are_seen() -> None:
    words = " ".join(["word"] * 15)
    code = f'raise E(f"{words} {{y}} {words}. Short one.")'
    assert [count(one) for one in of_code(code)] == [31, 2]
    assert len(too_long(of_code(code))) == 1
    assert too_long(of_code(f'option(help="{words} "\n"{words}.")'))
    assert of_code(f'"""{words}"""') == []
    assert too_long(of_page(f"# Head\n\n{words}\n{words}.\n"))


def test_what_is_no_sentence_is_not_counted() -> None:
    words = " ".join(["word"] * 25)
    for page in (f"```sh\n{words}\n```\n", f"| {words} |\n", f"a `{words}` b\n"):
        assert not too_long(of_page(page)), page
    assert not too_long(of_page(f"- {' '.join(['one'] * 15)}\n- {' '.join(['two'] * 15)}\n"))
    assert of_code(f'run("SELECT {words} FROM fresh WHERE x")') == []


@pytest.mark.parametrize(
    "text",
    ["It hangs on the card.", "The range stands here.", "An interval of it.", "None is left"],
)
def test_a_word_that_is_not_ours_is_seen(text: str) -> None:
    assert not_ours(parted(text.lower()))
