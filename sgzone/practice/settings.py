"""The assumptions behind a practice plan, each one to be changed by the user.

None of them is a published figure: how much of a loss practice can win back and how fast are
beliefs. They are shown beside every plan.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from sgzone.bounds import BOUNDS
from sgzone.errors import CallError, DataError, Problem, did_you_mean
from sgzone.harmless import cut, named
from sgzone.inputs import read_text
from sgzone.terms import PART_NAMES, PARTS

MAX_SETTINGS_BYTES = 1_000_000
FLOOR_HOURS, FLOOR_SHARE = 1.0, 0.025
"""The usual floor of a part: an hour a block, or this share of its hours where that is less."""
_PER_PART = ("recoverable", "rate_hours", "floor_hours", "ceiling_hours")
_WHOLE = ("recoverable", "rate_hours", "floor_hours", "largest_change")
_NONE_AS_WELL = ("floor_hours", "largest_change")
_SPREADS = ("recoverable_spread", "rate_spread")
_BY_PART_FIELD = {
    "recoverable": "recoverable_by_part",
    "rate_hours": "rate_by_part",
    "floor_hours": "floor_by_part",
    "ceiling_hours": "ceiling_by_part",
}


@dataclass(frozen=True)
class Settings:
    """What a plan assumes.

    ``recoverable``: the share of a part's loss that practice without end would win back.
    ``rate_hours``: after so many hours about 63% of that is won. ``floor_hours`` a block for each
    part, None: an hour, or 2.5% of a block where that is less; ``largest_change`` of a part's share
    from today's, in shares of 1. ``*_by_part`` override one part. ``recoverable_spread`` and
    ``rate_spread``: sd of the logarithm, how unsure both are.
    Raises ``CallError`` for a number out of its range or a part that there is not.
    """

    recoverable: float = 0.40
    rate_hours: float = 20.0
    floor_hours: float | None = None
    largest_change: float | None = None
    recoverable_by_part: Mapping[str, float] = field(default_factory=dict)
    rate_by_part: Mapping[str, float] = field(default_factory=dict)
    floor_by_part: Mapping[str, float] = field(default_factory=dict)
    ceiling_by_part: Mapping[str, float] = field(default_factory=dict)
    recoverable_spread: float = 0.35
    rate_spread: float = 0.50
    parts: tuple[str, ...] = tuple(part.name for part in PARTS if part.practised)

    def __post_init__(self) -> None:
        for name in (*_WHOLE, *_SPREADS):
            if (value := getattr(self, name)) is not None or name not in _NONE_AS_WELL:
                BOUNDS[name].check(value, name)
        for key, name in _BY_PART_FIELD.items():
            for part, value in getattr(self, name).items():
                BOUNDS[key].check(value, f"{name}, {part}")
                _check_part(part)
        for part in self.parts:
            _check_part(part)
        if not self.parts:
            raise CallError(f"no part to plan for; the parts are {', '.join(PART_NAMES)}")

    def of(self, name: str, default: float) -> list[float]:
        """Return one number per part of ``parts``: its own from ``name``, or ``default``."""
        own: Mapping[str, float] = getattr(self, name)
        return [own.get(part, default) for part in self.parts]

    def least(self, block_hours: float, kept: float = 1.0) -> list[float]:
        """Return the floor of each part in a block; ``kept``: how much of the usual floor stays."""
        usual = kept * min(FLOOR_HOURS, FLOOR_SHARE * block_hours)
        return self.of("floor_by_part", usual if self.floor_hours is None else self.floor_hours)

    @property
    def own_limits(self) -> bool:
        """Whether the user set floors, ceilings or a largest change."""
        return bool(
            self.floor_hours is not None
            or self.largest_change is not None
            or self.floor_by_part
            or self.ceiling_by_part
        )

    def without_limits(self) -> Settings:
        """Return the same beliefs with the usual floors, no ceilings and no largest change."""
        free: dict[str, Any] = {"floor_by_part": {}, "ceiling_by_part": {}}
        return replace(self, floor_hours=None, largest_change=None, **free)

    def with_flags(self, **flags: Any) -> Settings:
        """Return a copy with the flags that were given (None: not given); checked."""
        return replace(self, **{name: value for name, value in flags.items() if value is not None})


def read_settings(path: str | Path) -> Settings:
    """Return the settings of a TOML file.

    Top-level keys: recoverable, rate_hours, floor_hours, largest_change, parts (a list). A table
    ``[part.NAME]`` overrides recoverable, rate_hours, floor_hours or ceiling_hours of one part.
    Raises ``DataError`` with every problem of the file, and where it is no file to be read.
    """
    path = Path(path)
    table = _parse(path)
    problems: list[Problem] = []

    def wrong(key: str, value: Any, what: str, fix: str) -> None:
        problems.append(Problem(path.name, None, key, cut(_written(value), 80), what, fix))

    values: dict[str, Any] = {name: {} for name in _BY_PART_FIELD.values()}
    for key, value in table.items():
        if key in _WHOLE:
            if complaint := _outside(key, value):
                wrong(key, value, complaint, "give a number in that range")
            values[key] = value
        elif key == "parts":
            values["parts"] = _read_parts(value, wrong)
        elif key == "part" and isinstance(value, dict):
            _read_part_tables(value, values, wrong)
        else:
            known = ", ".join((*_WHOLE, "parts", "[part.NAME]"))
            wrong(key, value, "not a setting", f"the settings are {known}")
    if problems:
        raise DataError(
            f"{named(path.name)}: {len(problems)} settings are wrong, so the file is not used",
            problems,
        )
    return Settings(**values)


def _parse(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(read_text(path, MAX_SETTINGS_BYTES, "settings"))
    except RecursionError as wrong:
        raise DataError(
            f"{named(path.name)} is no TOML file: lists within lists without end"
        ) from wrong
    except ValueError as wrong:  # not TOML, a number of thousands of digits
        raise DataError(f"{named(path.name)} is no TOML file: {wrong}; mend that line") from wrong


def _written(value: Any) -> str:
    try:
        return str(value)
    except ValueError:  # Python writes no whole number of thousands of digits
        return "a number of thousands of digits"


def _outside(name: str, value: Any) -> str:
    try:
        BOUNDS[name].check(value)
    except CallError as wrong:
        return str(wrong)
    return ""


def _check_part(name: str) -> None:
    if name not in PART_NAMES:
        raise CallError(
            f'no part "{name}".{did_you_mean(name, PART_NAMES)} The parts are '
            f"{', '.join(PART_NAMES)}."
        )


def _parts(name: object = "") -> str:
    return f"the parts are {', '.join(PART_NAMES)}.{did_you_mean(str(name), PART_NAMES)}"


def _read_parts(value: Any, wrong: Any) -> tuple[str, ...]:
    names = value if isinstance(value, list) else [value]
    unknown = [name for name in names if name not in PART_NAMES]
    if unknown or not names:
        wrong("parts", unknown or value, "no such part", _parts(*unknown[:1]))
    return tuple(name for name in PART_NAMES if name in names)


def _read_part_tables(tables: dict[str, Any], values: dict[str, Any], wrong: Any) -> None:
    for part, table in tables.items():
        if part not in PART_NAMES:
            wrong(f"part.{part}", "", "no such part", _parts(part))
            continue
        if not isinstance(table, dict):
            wrong(f"part.{part}", table, "not a table", f"write [part.{part}] above its settings")
            continue
        for key, value in table.items():
            name = f"part.{part}.{key}"
            if key not in _PER_PART:
                wrong(name, value, "not a setting", f"the settings are {', '.join(_PER_PART)}")
            elif complaint := _outside(key, value):
                wrong(name, value, complaint, "give a number in that range")
            else:
                values[_BY_PART_FIELD[key]][part] = float(value)
