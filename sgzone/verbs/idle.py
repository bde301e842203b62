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
    params = click.get_current_context().command.params
    found = [param.opts[-1] for param in params if param.name in idle and typed(param.name)]
    if found:
        them = "it" if len(found) == 1 else "them"
        do = "does" if len(found) == 1 else "do"
        raise CallError(f"{' and '.join(found)} {do} nothing with {way}; leave {them} out.")


def typed(name: str) -> bool:
    """Return whether the option that the verb receives under this name was typed."""
    source = click.get_current_context().get_parameter_source(name)
    return source is ParameterSource.COMMANDLINE
