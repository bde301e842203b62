"""A verb asked about a season file, within this process."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import click
import pandas as pd
from click.testing import CliRunner, Result


def asked(verb: click.Command, season: Path, *args: str) -> Result:
    """Return how a verb ends on a season file."""
    return CliRunner().invoke(verb, ["--db", str(season), *args])


def csv_of(verb: click.Command, season: Path, *args: str) -> pd.DataFrame:
    """Return the csv that a verb gives of a season file, which it must."""
    result = asked(verb, season, *args, "--format", "csv")
    assert result.exit_code == 0, result.output
    return pd.read_csv(StringIO(result.stdout))
