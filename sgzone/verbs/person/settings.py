"""A person's own defaults: in the environment, or in ``sgzone.toml`` beside the season file.

A flag goes before the environment, and that before the file. Only the command line reads them: in
Python what an answer depends on stands in the call. A setting that an answer does not need is
never wrong; one that is wrong is told with the place where it was set.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click
from click.core import ParameterSource
from click.shell_completion import CompletionItem

from sgzone.errors import CallError, DataError, Problem, SgzoneError, did_you_mean
from sgzone.harmless import cut, named, one_line
from sgzone.inputs import read_text
from sgzone.verbs.person.completing import COMPLETED

FILE = "sgzone.toml"
KEYS = ("units", "benchmark", "player")
MAX_BYTES = 64_000  # three lines; TOML takes its time
MOST_LETTERS = 300  # of a value: a path may be long
MOST_SHOWN = 60  # letters of a wrong one
DB = "SGZONE_DB"

_HELD = "sgzone.settings"
_EVERYBODY = "sgzone.everybody"
_PLAYER = "player"


def variable(key: str) -> str:
    """Return the environment variable of a setting.

    >>> variable("units")
    'SGZONE_UNITS'
    """
    return f"SGZONE_{key.upper()}"


class Setting(click.Option):
    """An option whose default a person may set. ``--db`` must be read before it (is_eager)."""

    def __init__(self, *words: Any, **more: Any) -> None:
        super().__init__(*words, **more)
        self.envvar = variable(str(self.name))
        self.show_envvar = True

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem[Any]]:
        """Return the names that a shell may complete."""
        names = COMPLETED.get(str(self.name))
        if names is None:
            return super().shell_complete(ctx, incomplete)
        return names(ctx, self, incomplete)

    def consume_value(
        self, ctx: click.Context, opts: Mapping[str, Any]
    ) -> tuple[Any, ParameterSource]:
        """Return the value and where it is from; raise where a setting cannot be one."""
        value, source = super().consume_value(ctx, opts)
        key = str(self.name)
        typed = source is ParameterSource.COMMANDLINE
        if key == _PLAYER and ctx.meta.get(_EVERYBODY):
            if typed:
                raise CallError("--player and --everybody: leave one of them out.")
            return None, ParameterSource.DEFAULT
        if typed or ctx.resilient_parsing:
            return value, source
        if source is ParameterSource.ENVIRONMENT:
            if wrong := _wrong(value, self.type):
                raise CallError(f"{variable(key)} is {named(_shown(value))}: {' '.join(wrong)}")
            return value, source
        held = _settings(ctx, self.type if key == "units" else None)
        return (held[key], ParameterSource.DEFAULT_MAP) if key in held else (value, source)


def everybody_option(verb: Any) -> Any:
    """Give a verb ``--everybody``: all players, whatever player is set."""
    return click.option(
        "--everybody",
        is_flag=True,
        is_eager=True,  # known before the player is looked for
        expose_value=False,
        callback=_keep_everybody,
        help="All players, though a player is set (SGZONE_PLAYER, sgzone.toml).",
    )(verb)


def _keep_everybody(ctx: click.Context, _: click.Parameter, value: bool) -> bool:
    ctx.meta[_EVERYBODY] = value
    return value


def set_in(key: str) -> str | None:
    """Return where the value of an option was set; None where it was typed, or nobody set it."""
    ctx = click.get_current_context(silent=True)
    source = None if ctx is None else ctx.get_parameter_source(key)
    if ctx is None or source not in (ParameterSource.ENVIRONMENT, ParameterSource.DEFAULT_MAP):
        return None
    if source is ParameterSource.ENVIRONMENT:
        return variable(key)
    return f"{named(_file(ctx))}, {key}"


@contextmanager
def blamed(key: str) -> Iterator[None]:
    """Say of what goes wrong inside where the value was set, if it was not typed."""
    try:
        yield
    except SgzoneError as wrong:
        where = set_in(key)
        if where is None:
            raise
        told = f"{where}: {wrong}"
        if isinstance(wrong, DataError):
            raise DataError(told, wrong.problems) from wrong
        raise CallError(told) from wrong


def _file(ctx: click.Context) -> Path:
    return Path(ctx.params["db"]).parent / FILE


def _settings(ctx: click.Context, units: click.ParamType[Any] | None) -> dict[str, str]:
    """Return what the file beside the season file sets; read once for a call."""
    if "db" not in ctx.params:
        return {}
    if _HELD not in ctx.meta:
        ctx.meta[_HELD] = read_settings(_file(ctx))
    held: dict[str, str] = ctx.meta[_HELD]
    if units is not None and "units" in held and (wrong := _wrong(held["units"], units)):
        raise _told(_file(ctx), [_problem(_file(ctx), "units", held["units"], *wrong)])
    return held


def read_settings(path: Path) -> dict[str, str]:
    """Return the keys of ``sgzone.toml`` and their texts; none where there is no such file.

    A benchmark that is a file beside it is returned with its folder. Raises ``DataError`` with
    every problem of the file, and where it is no file to be read.
    """
    if not os.path.lexists(path):
        return {}
    table = _parsed(path)
    problems = [
        _problem(path, key, value, *wrong)
        for key, value in table.items()
        if (wrong := _unknown(key) or _wrong(value))
    ]
    if problems:
        raise _told(path, problems)
    own = path.parent / table.get("benchmark", "")
    beside = own.suffix and own.is_file()  # a word without ending is a name
    return table | ({"benchmark": str(own)} if beside else {})


def _told(path: Path, problems: list[Problem]) -> DataError:
    if len(problems) > 1:
        return DataError(f"{named(path)} has {len(problems)} problems; mend these lines.", problems)
    only = problems[0]
    return DataError(f"{named(path)}, {named(only.column)}: {only.wrong} {only.fix}")


def _parsed(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(read_text(path, MAX_BYTES, "settings"))
    except RecursionError as wrong:
        raise DataError(
            f"{named(path)} is no TOML: lists within lists without end. Leave them out."
        ) from wrong
    except ValueError as wrong:  # not TOML, a number of thousands of digits
        why = one_line(cut(str(wrong), MOST_LETTERS))
        raise DataError(
            f'{named(path)} is no TOML: {why}. Write lines such as units = "metric".'
        ) from wrong


def _unknown(key: str) -> tuple[str, str] | None:
    if key in KEYS:
        return None
    return ("No setting is called that.", f"Use {', '.join(KEYS)}.{did_you_mean(key, KEYS)}")


def _wrong(value: object, kind: click.ParamType[Any] | None = None) -> tuple[str, str] | None:
    """Return what is wrong with a value and what to write instead; None where nothing is."""
    if not isinstance(value, str):
        return ("It is no text.", 'Write it in quotes, such as player = "Ned Farrow".')
    if not value.strip() or not value.isprintable():
        return ("It is blank or holds signs that cannot be seen.", "Write a plain word or name.")
    if len(value) > MOST_LETTERS:
        return (f"It has {len(value)} letters.", f"Use {MOST_LETTERS} at most.")
    if isinstance(kind, click.Choice) and value not in kind.choices:
        choices = [str(one) for one in kind.choices]
        hint = did_you_mean(value, choices)
        return (f"There is no {named(_shown(value))}.", f"Write {' or '.join(choices)}.{hint}")
    return None


def _problem(path: Path, key: str, value: object, wrong: str, fix: str) -> Problem:
    return Problem(path.name, None, one_line(cut(key, MOST_SHOWN)), _shown(value), wrong, fix)


def _shown(value: object) -> str:
    try:
        return one_line(cut(str(value), MOST_SHOWN))
    except ValueError:  # Python writes no whole number of thousands of digits
        return "a number of thousands of digits"
