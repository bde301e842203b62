"""The command line behind ``start.py``: finds the verb, prints errors, sets exit codes."""

from __future__ import annotations

import errno
import importlib
import io
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import click

from sgzone import __version__
from sgzone.errors import (
    INTERRUPTED,
    STOPPED,
    CallError,
    DataError,
    SgzoneError,
    did_you_mean,
    is_interruption,
)
from sgzone.harmless import cut, named, one_line
from sgzone.verbs.person.completing import complete_in_bash
from sgzone.verbs.streams import drop, unheard_is_fine

VERBS = {
    "demo": "report",
    "template": "files",
    "map": "files",
    "check": "files",
    "load": "files",
    "rounds": "rounds",
    "debrief": "round.debrief",
    "backup": "rounds",
    "gained": "gained",
    "summary": "summary",
    "counts": "summary",
    "why": "why",
    "compare": "compare",
    "trend": "compare",
    "field": "field",
    "clubs": "clubs",
    "number": "clubs",
    "practice": "practice",
    "agree": "season.agree",
    "report": "report",
    "benchmarks": "benchmarks",
    "fit": "fit",
    "sources": "benchmarks",
}
"""Verb -> module of ``sgzone.verbs`` that defines it, in the order a user meets them."""

MOST_LETTERS = 6000  # of a message: enough for the names of some hundred players
_TYPED = re.compile(r"'(.*?)' is not one of ")  # as click says it
NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF, errno.EAGAIN)


class VerbGroup(click.Group):
    """Imports the module of a verb only when that verb is called or listed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in VERBS:
            return None
        module = importlib.import_module(f"sgzone.verbs.{VERBS[cmd_name]}")
        command = getattr(module, cmd_name)
        assert isinstance(command, click.Command)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the verb that was called; an unknown one is answered with the nearest."""
        told = not ctx.resilient_parsing  # a shell that completes is told nothing
        if told and args and args[0] not in VERBS and not args[0].startswith("-"):
            hint = did_you_mean(args[0], VERBS) or " sgzone --help lists the verbs."
            raise CallError(f'There is no verb "{cut(args[0], 30)}".{hint}')
        return super().resolve_command(ctx, args)

    def make_context(self, *words: Any, **more: Any) -> click.Context:
        with _in_words():  # --help and --version are printed here
            return super().make_context(*words, **more)

    def invoke(self, ctx: click.Context) -> object:
        with _in_words():
            return super().invoke(ctx)


@contextmanager
def _in_words() -> Iterator[None]:
    """Turn what the system says of files, output and memory into a sentence of ours."""
    try:
        yield
    except BrokenPipeError as left:
        # The reader of our output (a pager, head) left early: nobody is there to be told.
        drop(sys.stdout)
        raise click.exceptions.Exit(0) from left
    except OSError as wrong:
        if wrong.filename is not None:
            raise DataError(
                f"{named(wrong.filename)}: {wrong.strerror}. Check the name and its folder."
            ) from wrong
        if wrong.errno not in NO_ROOM:
            raise
        drop(sys.stdout)
        why = wrong.strerror or wrong
        raise DataError(
            f"the output cannot be written ({why}). Is the disk full? What it reported as done is "
            "done."
        ) from wrong
    except RuntimeError as wrong:
        if is_interruption(wrong):
            raise KeyboardInterrupt from wrong
        raise
    except MemoryError as wrong:
        raise DataError(
            "not enough memory for this; the season file is as it was. Ask for fewer rounds."
        ) from wrong


WAY_IN = """Strokes gained inside 150 yards: where they go, why, how sure.

  sgzone demo                a season to try it on
  sgzone template card.xlsx  an empty card to type into
  sgzone load card.xlsx      check it and keep it
  sgzone summary             where strokes go
  sgzone why                 what causes it
  sgzone number 97           what to hit
  sgzone practice --hours 5  what to practise

All verbs: sgzone --help. One verb: sgzone summary --help."""


@click.group(
    cls=VerbGroup,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
)
@click.version_option(__version__, prog_name="sgzone")
@click.pass_context
def sgzone(context: click.Context) -> None:
    """Strokes gained inside 150 yards: where they go, why, how sure.

    Write a card (sgzone template card.xlsx), load it (sgzone load card.xlsx), ask (sgzone summary).
    """
    if context.invoked_subcommand is None:
        click.echo(WAY_IN)


def main() -> None:
    """Run the command line; what a user can cause ends in a sentence and an exit code."""
    try:
        for stream in (sys.stdout, sys.stderr):
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors="backslashreplace")  # a name the terminal cannot write
        complete_in_bash()
        stopped = sgzone.main(prog_name="sgzone", standalone_mode=False)
    except click.ClickException as wrong:
        _show_wrong_call(wrong)
        sys.exit(wrong.exit_code)
    except SgzoneError as wrong:
        _show(wrong)
        sys.exit(wrong.exit_code)
    except (KeyboardInterrupt, click.Abort):
        _say(STOPPED)
        sys.exit(INTERRUPTED)
    # What a verb gave to ctx.exit comes back as a value; verbs themselves return nothing.
    sys.exit(stopped or 0)


def _show_wrong_call(wrong: click.ClickException) -> None:
    if isinstance(wrong, click.UsageError) and wrong.ctx is not None:
        _say(wrong.ctx.get_usage())
    _say(f"Error: {one_line(_short(wrong.format_message()))}{_nearest_choice(wrong)}")


def _nearest_choice(wrong: click.ClickException) -> str:
    """Return the question after a word that an option does not take; empty where none is near."""
    kind = wrong.param.type if isinstance(wrong, click.BadParameter) and wrong.param else None
    typed = _TYPED.match(wrong.message)
    if typed is None or not isinstance(kind, click.Choice):
        return ""
    return did_you_mean(typed[1], map(str, kind.choices))


def _short(message: str) -> str:
    """Return a message that a screen can hold: it repeats what was written, maybe a book.

    What to do stands at its end.
    """
    if len(message) <= MOST_LETTERS:
        return message
    half = MOST_LETTERS // 2
    end = message[-half:]
    return f"{cut(message, half)} ({len(message)} letters) ...{end[len(end) - len(end.lstrip()) :]}"


def _say(text: str) -> None:
    with unheard_is_fine():
        click.echo(text, err=True)


def _show(wrong: SgzoneError) -> None:
    problems = getattr(wrong, "problems", ())
    if problems:
        from sgzone.verbs.show import problem_table

        problem_table(problems, err=True)
    _say(one_line(_short(f"sgzone: {wrong}")))
