"""The season file as an object: load, ask, correct, copy."""

from __future__ import annotations

import re
import threading
import weakref
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from datetime import date as day
from html import escape
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

import duckdb

from sgzone.cards.given import answers
from sgzone.errors import CallError, DataError, SgzoneError, is_interruption
from sgzone.inputs import refuse_no_name
from sgzone.season.backup import write_backup
from sgzone.season.glance import players as known
from sgzone.season.making import Identity, identity, private_log, remove
from sgzone.season.opening import TURN, connect, open_file
from sgzone.season.place_numbers import CELL_VALUES
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.sound import is_damage, refuse_unsound, refuse_unsound_values, unreadable
from sgzone.season.steps import bindable, give_back_memory, plain_columns, step_text, temp_table

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd
    from numpy.typing import NDArray

    from sgzone.cards.memory.frames import Frame
    from sgzone.season.loading import LoadReport

    Column = NDArray[Any] | np.ma.MaskedArray[Any, Any]

_stores: weakref.WeakSet[Store] = weakref.WeakSet()
"""Those that are open: a cell of a notebook may open its file once more, another thread may not."""
_NAME = re.compile(r"[a-z][a-z0-9_]*")


def open_store(
    path: str | Path | None = None, *, read_only: bool = False, create: bool = True
) -> Store:
    """Open a season file; ``None`` makes one in memory.

    A file that does not exist is created, readable for its owner alone, unless ``create`` is false
    or ``read_only`` is true; one of an older schema is upgraded. Raises ``DataError`` where it is
    missing, damaged, in use by another program, not a season file, or of a newer schema;
    ``CallError`` for what names no file, such as ``:memory:``.
    """
    if path is None:
        return Store(connect(None, read_only=False, create=True), None)
    target, here = Path(path), threading.get_ident()
    with TURN:
        again = any(store.is_of(target, here) for store in _stores)
        connection, made = open_file(target, read_only=read_only, create=create, again=again)
        return Store(connection, target, made)


class Store:
    """An open season file, of ``open_store``; a context manager.

    ``relation("SHOW TABLES")`` lists its tables. It is of the thread that opened it: an answer
    takes several queries, and what two threads ask and load would mix. In any other thread every
    method but ``close`` raises ``CallError``. ``made``: the file, where this store made it.
    """

    def __init__(
        self,
        connection: duckdb.DuckDBPyConnection,
        path: Path | None,
        made: Identity | None = None,
    ) -> None:
        self._connection = connection
        self._thread = threading.get_ident()
        self._made = made
        self._kept: dict[str, pd.DataFrame] = {}
        self._closed = False
        self.path = path
        with TURN:
            _stores.add(self)

    def __repr__(self) -> str:
        name = "in memory" if self.path is None else self.path.name
        away = "closed" if threading.get_ident() == self._thread else "of another thread"
        return f"<Store {name}: {', '.join(self._held() or [away])}>"

    def _repr_html_(self) -> str:
        """Return its rounds as a notebook shows a table, under its name."""
        head = f"<p>{escape(repr(self))}</p>"
        if self._held() is None:
            return head
        return head + self.rounds().to_html(max_rows=10, index=False)

    def _held(self) -> list[str] | None:
        """Return what is in it, counted; None where it cannot be asked (any more)."""
        if threading.get_ident() != self._thread:
            return None
        with suppress(duckdb.Error):
            return known.counted(self._connection)
        return None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        try:
            if isinstance(error, Exception) and not isinstance(error, SgzoneError | OSError):
                self._blame_the_file(error)
        finally:
            self.close()

    def close(self) -> None:
        """Close the season file; what was loaded is on disk."""
        with TURN:
            _stores.discard(self)
            self._closed = True
            self._connection.close()

    def is_of(self, path: Path, thread: int) -> bool:
        """Return whether this store is of that file and thread."""
        with suppress(OSError, ValueError):  # NUL in a name: said when it is opened
            same = self.path is not None and identity(self.path) == identity(path)
            return same and self._thread == thread
        return False

    def discard(self) -> None:
        """Delete the season file, to be closed next, if this store made it and nothing is loaded.

        Nobody else can have it open meanwhile: whoever waits for it finds it gone, and makes
        another. Where it cannot be asked or deleted it stays.
        """
        if self.path is None or self._made is None or self._closed:
            return
        with suppress(DataError, duckdb.Error, OSError), self._using() as connection:
            some = connection.execute("SELECT load_id FROM loads LIMIT 1").fetchall()
            if not some and identity(self.path) == self._made:
                # closing looks for nothing under the name any more, which may be another's by then
                connection.execute("PRAGMA disable_checkpoint_on_shutdown")
                remove(self.path)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """Write all of what is done within, or nothing of it."""
        with self._using() as connection:
            connection.begin()
            try:
                yield
            except BaseException:
                self._kept.clear()  # what was made within goes too
                connection.rollback()
                raise
            if self.path is not None:
                private_log(self.path)
            connection.commit()

    def load(
        self,
        path: str | Path | Frame,
        *,
        replace: bool = False,
        player: str | None = None,
        dates: str | None = None,
        sheet: str | None = None,
        mapping: str | Path | None = None,
        new_player: bool = False,
    ) -> LoadReport:
        """Check and load one file: shot cards, practice logs, test blocks, bags; all its sheets.

        ``path`` may be a pandas, polars or arrow table of the same columns as well; messages then
        count its rows from 0, as ``iloc`` does.

        A round, day, block or bag entry that is there already with equal values is passed over;
        with other values it is refused unless ``replace``, which replaces it whole. So the same
        file again does nothing; where some of it was deleted since, that part is loaded again.
        ``player``: who played, in a file that does not say; ``dates``: ``dmy`` or ``mdy`` for days
        that can be read both ways; ``sheet``: the only one to read; ``mapping``: the file that says
        what other headers and words mean; ``new_player``: a name like a known one is another
        person's. Raises ``DataError`` with every problem of the file; the season file is then as it
        was. Raises ``CallError`` for an answer that is none.
        """
        from sgzone.season.loading import load_file

        given = answers(player, dates, sheet, mapping, new_player=new_player)
        with self.transaction():
            return load_file(self._connection, path, given, replace=replace)

    def frame(self, sql: str, params: Mapping[str, Any] | None = None) -> pd.DataFrame:
        """Return the rows of a query as a pandas frame; values are bound as ``$name``."""
        with self._using() as connection:
            return connection.execute(sql, bindable(params or {})).df()

    def relation(
        self, sql: str, params: Mapping[str, Any] | None = None
    ) -> duckdb.DuckDBPyRelation:
        """Return a query as DuckDB's own relation, which is asked when its rows are wanted.

        It lives as long as the store is open. Values are bound as ``$name``; ``.pl()``,
        ``.to_arrow_table()`` and ``.df()`` give its rows.

        >>> with open_store() as store:
        ...     store.relation("SELECT count(*) AS rounds FROM rounds").fetchall()
        [(0,)]
        """
        with self._using() as connection:
            return connection.sql(sql, params=bindable(params or {}))

    def columns(self, sql: str, params: Mapping[str, Any] | None = None) -> dict[str, Column]:
        """Return the columns of a query as arrays, masked where values are missing.

        What ``frame`` starts from and copies.
        """
        with self._using() as connection:
            found: dict[str, Any] = connection.execute(sql, bindable(params or {})).fetchnumpy()
        return found

    def release(self) -> None:
        """Give back the memory that keeps what was read of the file; it is read again if asked for.

        Temporary tables stay. A store in memory has nothing to give back.
        """
        if self.path is None:
            return
        with self._using() as connection:
            give_back_memory(connection)

    def execute(self, sql: str, params: Mapping[str, Any] | None = None) -> None:
        """Run a statement; values are bound as ``$name``."""
        self._kept.clear()  # it may drop anything
        with self._using() as connection:
            connection.execute(sql, bindable(params or {}))

    def temp(self, name: str, frame: pd.DataFrame) -> None:
        """Make (or replace) a temporary table from a pandas frame.

        Raises ``ValueError`` for a name that is not a plain lower-case word.
        """
        if not _NAME.fullmatch(name):
            raise ValueError(f"not a plain table name: {name!r}")
        self._kept.pop(name, None)
        with self._using() as connection:
            temp_table(connection, name, frame)

    def keep(self, name: str, frame: pd.DataFrame) -> None:
        """Do as ``temp``; the very frame that the name stands for already is not copied again."""
        if self._kept.get(name) is not frame:
            self.temp(name, frame)
            self._kept[name] = frame

    def rounds(self, selection: Selection = EVERYTHING) -> pd.DataFrame:
        """Return what is in the file, one row per round of the selection.

        Columns: player, date, round, holes, strokes, course, event, file (the source file).
        """
        return self.frame(step_text("rounds"), selection.parameters())

    def listed(self, selection: Selection = EVERYTHING) -> dict[str, list[Any]]:
        """Return what ``rounds`` does as plain columns, which need no pandas; None is missing."""
        with self._using() as connection:
            return plain_columns(connection, "rounds", selection.parameters())

    def round(self, player: str, date: day | str, number: int = 1) -> pd.DataFrame:
        """Return one round as a card has it, a row per stroke, as ``read_card`` returns a file.

        ``to_lie`` and ``to_distance_ft`` stand where the next row does not say where the ball came
        to rest. Raises ``CallError`` where there is no such round.
        """
        from sgzone.season import corrections

        with self._using() as connection:
            values = corrections.one_round(connection, player, date, number)
            return connection.execute(step_text("one_round"), values).df()

    def players(self) -> list[str]:
        """Return the players who have rounds in the file, in alphabetical order."""
        with self._using() as connection:
            rows = connection.execute("SELECT DISTINCT player FROM rounds ORDER BY player")
            return [player for (player,) in rows.fetchall()]

    def refuse_unknown(self, player: str | None) -> None:
        """Raise ``CallError`` for a name of nobody in the file; it says who is there.

        A player with a practice log alone is known. None, all players, always is.
        """
        if player is not None:
            with self._using() as connection:
                known.refuse_unknown(connection, player)

    def strokes_apart(self) -> int:
        """Return how many strokes are scored from another place than their lie and distance say.

        There is none unless another program changed the file: lie and distance are what the card
        said, the stored places (``start_cell``, ``end_cell``) what is scored.
        """
        with self._using() as connection:
            [(apart,)] = connection.execute(step_text("strokes_apart"), CELL_VALUES).fetchall()
        return int(apart)

    def rename(self, old: str, new: str) -> int:
        """Rename a player everywhere and return how many rounds carry the new name now.

        Raises ``CallError`` for an unknown name, ``DataError`` where both names have the same
        round, practice entry, test block or bag entry.
        """
        from sgzone.season import corrections

        with self.transaction():
            return corrections.rename(self._connection, old, new)

    def delete(self, player: str, date: day | str, round: int = 1) -> int:  # noqa: A002
        """Delete one round; return its number of strokes. ``CallError`` where there is none."""
        from sgzone.season import corrections

        with self.transaction():
            return corrections.delete(self._connection, player, date, round)

    def delete_player(self, player: str) -> dict[str, int]:
        """Delete all that is there of a player: rounds, practice, test blocks, bag, agreements.

        Returns how many rounds, strokes, entries, balls, clubs and agreements there were.
        Benchmarks that were fitted to the strokes stay, without the name. Raises ``CallError`` for
        an unknown name.
        """
        from sgzone.season import corrections

        with self.transaction():
            return corrections.delete_player(self._connection, player)

    def held(
        self,
        player: str,
        date: day | str | None = None,
        round: int = 1,  # noqa: A002
    ) -> dict[str, int]:
        """Return what ``delete`` would delete, or ``delete_player`` where no day is named."""
        from sgzone.season import corrections

        with self._using() as connection:
            if date is None:
                return corrections.held_of_player(connection, player)
            return corrections.held_in_round(connection, player, date, round)

    def backup(self, path: str | Path) -> Path:
        """Write a consistent copy of the season file and return its path.

        It is readable for its owner alone. Raises ``DataError`` where the target exists already or
        cannot be written, or where the season file is damaged.
        """
        with self._using() as connection:
            return write_backup(connection, Path(path))

    def write_strokes(self, path: str | Path) -> int:
        """Write the strokes alone to a new Parquet file, in order of play; return their number.

        Each row carries its own end, so that ``gained --in`` and Spark can value it without the
        season file. Raises ``DataError`` where the target exists already or cannot be written.
        """
        from sgzone.season.parquet import write_strokes

        refuse_no_name(path)
        with self._using() as connection:
            return write_strokes(connection, Path(path))

    def _blame_the_file(self, error: Exception) -> None:
        """Raise ``DataError`` where what broke a question may be in the file, which is damaged."""
        if self.path is None or is_interruption(error):
            return
        with suppress(duckdb.Error):
            refuse_unsound(self._connection, f"The season file {self.path}")
            refuse_unsound_values(self._connection, f"The season file {self.path}")

    @contextmanager
    def _using(self) -> Iterator[duckdb.DuckDBPyConnection]:
        """Give the connection; what goes wrong with the file is told."""
        if threading.get_ident() != self._thread:
            raise CallError(
                f"The season file {self.path} was opened in another thread, which alone can ask "
                "it. Open it in each thread that asks: open_store(path, read_only=True)."
            )
        if self._closed:
            raise CallError("This season file is closed; open it again with open_store(path).")
        try:
            yield self._connection
        except duckdb.Error as wrong:
            if is_interruption(wrong):
                raise KeyboardInterrupt from wrong
            if not is_damage(wrong):
                raise
            raise unreadable(self.path, wrong) from wrong
