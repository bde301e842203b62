"""What a page names is there: verbs, options, Python names, make's targets, files, headings."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import click
import pytest

import sgzone
from sgzone import cli
from sgzone.report import charts
from tests.docs.pages import PAGES, ROOT, commands, lone_options, shell_lines, spans
from tests.test_house import GROUND, ORDER

VERBS = frozenset(cli.VERBS)
TARGETS = frozenset(re.findall(r"^([\w-]+):", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE))
MADE = ("reports/demo", "node_modules/")
"""What is not in the repository: a command makes it."""
_ROOMS = ("", "sgzone", "data", "data/published")
_PATH = re.compile(r"(?<![\w/.:-])(?:sgzone|tests|data|docs|reports)/[\w./-]*[\w/]")
_SHORT_PATH = re.compile(r"[\w.]+(?:/[\w.]+)*(?:/|\.(?:py|sql|typ|html|js|css))")


@cache
def _verb(name: str) -> click.Command:
    command = cli.sgzone.get_command(click.Context(cli.sgzone), name)
    assert command is not None
    return command


@cache
def _options() -> frozenset[str]:
    every = [cli.sgzone, *map(_verb, VERBS)]
    found = {name for verb in every for p in verb.params for name in (*p.opts, *p.secondary_opts)}
    return frozenset(found | {"--help", "--version"})


def wrong_call(words: list[str]) -> str:
    """Say what is wrong with a call of sgzone, its values apart; nothing where all is well."""
    if words[0].startswith("-"):
        return "" if words[0] in _options() else f"no option {words[0]}"
    if words[0] not in VERBS:
        return f"no verb {words[0]}"
    verb = _verb(words[0])
    context = click.Context(verb, info_name=words[0])
    try:
        given, rest, _ = verb.make_parser(context).parse_args(words[1:])
    except click.NoSuchOption as wrong:
        return wrong.format_message()
    except click.BadOptionUsage:  # an option named without its value
        return ""
    for param in verb.params:
        value = given.get(param.name)
        if isinstance(param.type, click.Choice) and isinstance(value, str) and not value.isupper():
            try:
                param.type.convert(value, param, context)
            except click.BadParameter as wrong:
                return f"{words[0]}: {wrong.format_message()}"
    return f"{words[0]} takes no {rest}" if rest else ""


def wrong_names(text: str) -> list[str]:
    """Return every verb, option, Python name and target of make that a page names in vain."""
    found = [wrong_call(words) for words in commands(text, VERBS)]
    found += [f"no option {name}" for name in lone_options(text) if name not in _options()]
    for name in re.findall(r"\bsg\.(\w+)", text):
        found += [] if name in sgzone.__all__ else [f"no sg.{name}"]
    for name in re.findall(r"\bsg\.charts\.(\w+)", text):
        found += [] if name in charts.__all__ else [f"no sg.charts.{name}"]
    for line in (*spans(text), *shell_lines(text)):
        if line.startswith("make ") and line.split()[1] not in TARGETS:
            found.append(f"no {line}")
    return [fault for fault in found if fault]


def wrong_paths(text: str) -> list[str]:
    """Return every file and folder of the project that a page names and that is not there."""
    named = set(_PATH.findall(text))
    short = {span for span in spans(text) if _SHORT_PATH.fullmatch(span)}
    return sorted(
        [path for path in named if not path.startswith(MADE) and not (ROOT / path).exists()]
        + [path for path in short - named if not path.startswith(MADE) and not _somewhere(path)]
    )


@cache
def _somewhere(path: str) -> bool:
    """Tell whether a shortened path is one: from a room on, or a file's name alone."""
    if "/" in path.rstrip("/"):
        return any((ROOT / room / path).exists() for room in _ROOMS)
    if (ROOT / path).exists():
        return True
    return any(next((ROOT / top).rglob(path), None) for top in ("sgzone", "tests"))


def test_the_developers_page_lists_the_rooms_in_their_order() -> None:
    page = _read(ROOT / "DEVELOPERS.md")
    rooms = page.split("## The rooms")[1].split("\n## ")[0]
    listed = [row.split("|")[1] for row in rooms.splitlines() if row.startswith("| `")]
    named = [re.findall(r"`(\w+)(?:/|\.py)`", cell) for cell in listed]
    assert set(named[0]) == set(GROUND)
    assert [name for names in named[1:] for name in names] == list(ORDER)


def test_lines_fit_beside_an_editor() -> None:
    """At most 130 characters, tables and generated text apart."""
    for page in PAGES:
        long = [k for k, line in enumerate(_read(page).splitlines(), 1) if _too_long(line)]
        assert not long, f"{page.name}: {long}"


def _too_long(line: str) -> bool:
    return len(line) > 130 and not line.startswith("|")


def _read(page: Path) -> str:
    return page.read_text(encoding="utf-8")


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_a_page_names_what_there_is(page: Path) -> None:
    assert wrong_names(_read(page)) == []
    assert wrong_paths(_read(page)) == []


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("`sgzone sumary`", "no verb sumary"),
        ("with `sgzone practice`, `wear`, `number`", "no verb wear"),
        ("```sh\nsgzone load a.csv --replace\nsgzone report a.html --colour  # a\n```", "--colour"),
        ("`counts --bye lie`", "--bye"),
        ("`sgzone report a.html --kind tour`", "tour"),
        ("`sgzone trend a.csv`", "trend takes no"),
        ("see `--no-such 3`", "no option --no-such"),
        ("`sg.summary`", "no sg.summary"),
        ("`sg.charts.pie`", "no sg.charts.pie"),
        ("`make cake`", "no make cake"),
    ],
)
def test_what_there_is_not_is_found(text: str, fault: str) -> None:
    found = wrong_names(text)
    assert len(found) == 1
    assert fault in found[0]


def test_what_there_is_passes() -> None:
    text = "`sgzone number 97 --on 12`, `sgzone VERB --help`, `trend --split-date DAY`, `--by`"
    assert wrong_names(text + "\n`sg.charts.by_part`, `sg.why`, `make docs`") == []
    assert wrong_paths("`stats/`, `season/store.py`, `gained.sql`, tests/conftest.py") == []


@pytest.mark.parametrize(
    "path", ["sgzone/review/we.py", "`review/we.py`", "`we.py`", "`weather/`", "data/we.csv"]
)
def test_a_path_to_nowhere_is_found(path: str) -> None:
    assert wrong_paths(path) == [path.strip("`")]
