"""What comes with the package: data (``sgzone/data`` in a wheel, ``data`` beside it in a checkout)
and the named SQL steps of its rooms.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

_ROOMS = Path(__file__).parent


@cache
def data_root() -> Path:
    """Return the folder that holds ``sources.csv``, ``columns.csv`` and ``published/``."""
    here = Path(__file__).resolve().parent
    for root in (here / "data", here.parent / "data"):
        if (root / "sources.csv").is_file():
            return root
    raise FileNotFoundError(f"the package's data are missing beside {here}; install sgzone again")


def data_path(name: str) -> Path:
    """Return the path of one file of the package's data, such as ``published/anchors.csv``."""
    return data_root() / name


def sql(room: str, name: str) -> str:
    """Return the text of the step ``sgzone/<room>/sql/<name>.sql``."""
    return (_ROOMS / room / "sql" / f"{name}.sql").read_text(encoding="utf-8")
