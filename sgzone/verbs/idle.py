"""Options that could do nothing: refused by one rule, since silence would look like an answer."""

from __future__ import annotations

from collections.abc import Container

import click
from click.core import ParameterSource

from sgzone.errors import CallError


def refuse_idle(way: str, idle: Container[str]) -> None:
    """Refuse what was typed though this way of asking never reads it.

    ``way``: the option that chose it, as typed: ``--what-if``. ``idle``: the names under which the
    verb receives the others. What stands in the environment or is a default is no one's mistake.
    Raises ``CallError`` that names them all.
    """
    ctx = click.get_current_context()
    typed = [
        param.opts[-1]
        for param in ctx.command.params
        if param.name in idle
        and ctx.get_parameter_source(str(param.name)) is ParameterSource.COMMANDLINE
    ]
    if typed:
        them = "it" if len(typed) == 1 else "them"
        do = "does" if len(typed) == 1 else "do"
        raise CallError(f"{' and '.join(typed)} {do} nothing with {way}; leave {them} out.")
