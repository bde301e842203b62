"""The command line: finds the verb, prints errors as sentences, sets exit codes."""

from __future__ import annotations

import importlib
import os
import sys

import click

from sgzone import __version__
from sgzone.errors import SgzoneError

VERBS = {
    "demo": "report",
    "template": "files",
    "check": "files",
    "load": "files",
    "rounds": "files",
    "backup": "files",
    "gained": "gained",
    "summary": "summary",
    "counts": "summary",
    "why": "why",
    "compare": "compare",
    "trend": "compare",
    "clubs": "clubs",
    "number": "clubs",
    "practice": "practice",
    "report": "report",
    "benchmarks": "benchmarks",
    "sources": "benchmarks",
}
"""Verb -> module of ``sgzone.verbs`` that defines it, in the order a user meets them."""

INTERRUPTED = 130


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

    def invoke(self, ctx: click.Context) -> object:
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            # The reader of our output (a pager, head) left early: nobody is there to be told.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            ctx.exit(0)


@click.group(cls=VerbGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="sgzone")
def sgzone() -> None:
    """Strokes gained inside 150 yards: where they go, why, how sure, what to practise.

    Write a card (sgzone template card.xlsx), load it (sgzone load card.xlsx), ask (sgzone summary).
    """


def main() -> None:
    """Run the command line; what a user can cause ends in a sentence and an exit code."""
    try:
        stopped = sgzone.main(prog_name="sgzone", standalone_mode=False)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except SgzoneError as wrong:
        _show(wrong)
        sys.exit(wrong.exit_code)
    except (KeyboardInterrupt, click.Abort):
        click.echo("Stopped; the season file is as it was.", err=True)
        sys.exit(INTERRUPTED)
    # What a verb gave to ctx.exit comes back as a value; verbs themselves return nothing.
    sys.exit(stopped or 0)


def _show(wrong: SgzoneError) -> None:
    problems = getattr(wrong, "problems", ())
    if problems:
        from sgzone.verbs.show import problem_table

        problem_table(problems, err=True)
    click.echo(f"sgzone: {wrong}", err=True)
