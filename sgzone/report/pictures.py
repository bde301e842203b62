"""The chart of each verb's answer as it stands alone: title, whose rounds, key, how to read it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import altair as alt
import pandas as pd

from sgzone.benchmarks import break_even_proximity
from sgzone.clubs.green import Green
from sgzone.clubs.picture import picture
from sgzone.clubs.shots import COURSE
from sgzone.clubs.stock import often_hit
from sgzone.clubs.wear import STEP_SHOTS, wear_points, wear_steps
from sgzone.harmless import cut
from sgzone.practice.plan import Plan
from sgzone.practice.series import block_series
from sgzone.practice.test_blocks import mixed_blocks
from sgzone.report import charts
from sgzone.report.asked import Asked
from sgzone.report.charts.agreed import curve_of
from sgzone.report.charts.alone import WIDTH, Drawing, alone
from sgzone.report.page import Key
from sgzone.report.sections import grid as grid_section
from sgzone.report.sections import practice as practice_section
from sgzone.report.sections import proximity as proximity_section
from sgzone.report.sections import why as why_section
from sgzone.report.sections.putts import beside
from sgzone.review.agreed.going import over_time
from sgzone.review.agreed.observed import Observed
from sgzone.review.beside.pairs import finish_shares
from sgzone.review.debrief.one_round import Debrief
from sgzone.review.trend import before_after
from sgzone.review.where.plays_like import named_standards
from sgzone.review.where.proximity import with_basis
from sgzone.terms import MIN_SHOTS, NOT_ENOUGH, PART_NAMES
from sgzone.words import clubs as club_words
from sgzone.words import grid as grid_words
from sgzone.words import number as number_words
from sgzone.words import plays_like as like_words
from sgzone.words import practice as practice_words
from sgzone.words import proximity as proximity_words
from sgzone.words import season as season_words
from sgzone.words import sides as side_words
from sgzone.words import trend as trend_words
from sgzone.words import where as where_words
from sgzone.words import why as why_words
from sgzone.words.agreed import chart as agreed_words
from sgzone.words.rounds import strip as strip_words
from sgzone.words.say import Say

Drawn = alt.TopLevelMixin | str
"""A chart, or the sentence that says why there is none."""

_PANEL = 290  # pixels of one of two side by side
_LOW = 200
_NAME_ROOM = 40  # columns of a club's name over its panel
_BEFORE_AFTER = {
    **{"after": "gained_per_round", "before": "gained_per_round_other"},
    **{"after_low": "low_per_round", "before_low": "low_per_round_other"},
    **{"after_high": "high_per_round", "before_high": "high_per_round_other"},
    **{"shots_after": "shots", "shots_before": "shots_other"},
    **{"rounds_after": "rounds", "rounds_before": "rounds_other"},
}
"""Column of before and after -> what the chart of two sides calls it; after is the dot."""
_LEAST_STEPS = 2  # marks of a club, from which there is something to see


@dataclass(frozen=True)
class Pictures:
    """The charts of answers, each with what it needs to be read without the table beside it.

    ``asked``: whose strokes, against what. What a method takes is the answer that the verb shows;
    the rest is asked for.
    """

    asked: Asked

    @property
    def say(self) -> Say:
        """How the reader is answered."""
        return self.asked.say

    def parts(self, table: pd.DataFrame) -> Drawn:
        """Draw a summary by part; ``table``: as ``summarise``, other rows left out."""
        rows = table[table["part"].isin(PART_NAMES) & (table["shots"] > 0)]
        if rows.empty:
            return season_words.no_parts(self.say)
        if (rows["verdict"] == NOT_ENOUGH).all():
            return where_words.TOO_FEW_TO_DRAW
        rows = self._with_basis(rows, "part")
        chart = charts.by_part(rows, level=self.say.level, units=self.say.units)
        read = where_words.read_parts(rows["verdict"]) + where_words.marked(rows["basis"])
        return self._alone(chart, where_words.PARTS_TITLE, read, ranges=True)

    def cells(self, table: pd.DataFrame) -> Drawn:
        """Draw a summary by lie and band, putts below in a row of their own."""
        rows = table[(table["shots"] > 0) & (table["lie"] != "total")]
        if rows.empty:
            return grid_words.NO_GRID
        if (rows["verdict"] == NOT_ENOUGH).all():
            return where_words.TOO_FEW_TO_DRAW
        rows = self._with_basis(rows, "band", "lie")
        putts, shown = rows["lie"] == "green", []
        level, units = self.say.level, self.say.units
        if (~putts).any():
            chart = charts.grid(rows, level=level, units=units)
            shown.append(chart.properties(width=WIDTH, title=grid_words.OFF_GREEN))
        if putts.any():
            chart = charts.putt_grid(rows, level=level, units=units)
            shown.append(chart.properties(width=WIDTH, title=grid_words.ON_GREEN))
        read = grid_words.READ_GRID[:-1] + where_words.marked(rows["basis"])
        both = alt.vconcat(*shown, spacing=24)
        return self._alone(both, grid_words.GRID_TITLE, read, grid_section.KEYS)

    def standards(self, table: pd.DataFrame) -> Drawn:
        """Draw the standard each part plays to; ``table``: as ``review.where.plays_like``."""
        if table["score_low"].isna().all():
            return like_words.NOBODY
        chart = charts.standards(
            table, named_standards(), level=self.say.level, units=self.say.units
        )
        whose = season_words.whose(self.asked.sizes)
        read = (whose, *like_words.READ, *like_words.notes(table, self.say))
        return alone(chart, like_words.TITLE, read)

    def proximity(self) -> Drawn:
        """Draw where balls finish, a panel per lie with strokes enough."""
        shots = self.asked.points.groupby("lie").size()
        lies = list(shots[shots >= MIN_SHOTS].index)
        if not lies:
            return proximity_words.NO_PROXIMITY
        points, medians, line = (
            table[table["lie"].isin(lies)]
            for table in (self.asked.points, self.asked.medians, self.asked.break_even)
        )
        chart = charts.proximity(
            points, medians, line, level=self.say.level, units=self.say.units, legend=False
        )
        words = proximity_words
        read = words.READ_PROXIMITY if len(line) else words.READ_FINISH
        read = (*read, *words.left_out(self.asked.points, lies))
        keys = proximity_section.keys(self.asked)
        return self._alone(chart, words.PROXIMITY_TITLE, read, keys)

    def one_round(self, found: Debrief) -> Drawn:
        """Draw one round hole by hole, its worst stroke marked."""
        if found.holes["gained"].isna().all():
            return strip_words.NOTHING
        chart = charts.round_strip(found.holes, found.worst, units=self.say.units)
        against = season_words.against_words(found.benchmark, self.say, ranges=False)
        read = (strip_words.whose(found), against, *strip_words.read(found, self.say))
        return alone(chart, strip_words.title(found), read)

    def causes(self, table: pd.DataFrame) -> Drawn:
        """Draw the main causes of all parts; ``table``: as ``review.why.split.why``."""
        if not (table["factor"] == "long_short_spread").any():
            return why_words.NO_WHY
        chart = charts.main_causes_chart(table, level=self.say.level, units=self.say.units)
        keys = why_section.keys(why_words.main_causes(table))
        return self._alone(chart, why_words.CAUSES_TITLE, why_words.READ_MAIN, keys, ranges=True)

    def misses(self) -> Drawn:
        """Draw where the ball finishes, a map a part."""
        if self.asked.finishes.empty:
            return why_words.NO_MISSES
        chart = charts.miss_map(self.asked.finishes, self.asked.contours, units=self.say.units)
        return self._alone(chart, why_words.MISSES_TITLE, why_words.READ_MISS)

    def putts(self) -> Drawn:
        """Draw putts holed by distance beside what the benchmark holes."""
        curve, own = self.asked.putting
        points = beside(own)
        if points.empty:
            return why_words.NO_PUTTS
        curve = curve.assign(who=season_words.benchmark_words(self.asked.curve.name))
        chart = charts.putting_curve_chart(
            curve, points, level=self.say.level, units=self.say.units
        )
        title = why_words.alone_title(int(points["putts"].sum()), self.say)
        return self._alone(chart, title, why_words.read_putting(self.say))

    def compared(
        self, strokes: pd.DataFrame, table: pd.DataFrame, by: str, only: Sequence[str] = ()
    ) -> Drawn:
        """Draw the differences; of two groups alone where their shots finish, above.

        ``strokes``: as ``compared_strokes``; ``table``: their comparison, grouped ``by``; ``only``:
        which strokes they are, in words.
        """
        if not len(table):
            return side_words.NOTHING_COMPARED
        shown = [charts.differences(table, level=self.say.level)]
        read = side_words.READ_COMPARED
        if len(table) == 1:
            pair = (str(table["first"].iloc[0]), str(table["second"].iloc[0]))
            own = strokes[strokes["group"].isin(pair) & strokes["end_distance_ft"].notna()]
            shares, nearest = finish_shares(own, pair), self._break_even(own)
            shown.insert(0, charts.comparison(shares, nearest, units=self.say.units))
            read = side_words.READ_FINISHES + read
        chart = alt.vconcat(*(one.properties(width=WIDTH) for one in shown))
        return self._alone(chart, side_words.compared_title(by), (*only, *read), ranges=True)

    def season(self, table: pd.DataFrame) -> Drawn:
        """Draw the season; ``table``: as ``review.trend.trend``, of which all strokes count."""
        rows = table[table["part"] == "total"]
        if rows.empty:
            return season_words.NO_ROUNDS
        if rows["smoothed"].isna().all():
            return trend_words.TOO_SHORT
        halves = self.asked.halves[self.asked.halves["part"] == "total"]
        return self._alone(
            charts.season_curve(rows, halves, level=self.say.level),
            trend_words.TREND_TITLE,
            (*trend_words.read_trend(halves), trend_words.total_change(rows)),
            ranges=True,
        )

    def agreement(self, row: pd.Series) -> Drawn:
        """Draw what an agreement counts over time; ``row``: of ``review.agreed``'s answer."""
        of = Observed(self.asked.store, self.asked.curve, self.asked.selection)
        months = over_time(of, row, self.say.level)
        if months.empty:
            return agreed_words.NOTHING_SEEN
        chart = curve_of(row, months, units=self.say.units)
        whose = season_words.whose(self.asked.sizes)
        read = agreed_words.read(row, self.asked.curve.name, self.say)
        return alone(chart, agreed_words.title(row), (whose, *read))

    def split(self, day: date) -> Drawn:
        """Draw what was before a day beside what came from it on, part by part."""
        store, curve, chosen = self.asked.game
        table = before_after(store, day, curve, chosen, self.say.level)
        if table.empty or table["p"].isna().all():
            return side_words.NO_DIFFERENCE
        told = trend_words.split_lead(table, day, self.say)
        table = table.rename(columns=_BEFORE_AFTER)
        rounds = table[["rounds", "rounds_other"]].max()
        names = side_words.split_names(day, (int(rounds.iloc[0]), int(rounds.iloc[1])))
        chart = charts.pairs_chart(table, names, level=self.say.level, units=self.say.units)
        keys = (Key("dot", names[0]), Key("open-ring", names[1]))
        return self._alone(
            chart, side_words.split_title(day), (*side_words.READ_PAIRS, *told), keys, ranges=True
        )

    def ladder(self, table: pd.DataFrame, source: str) -> Drawn:
        """Draw the stock swings; ``table``: as ``clubs.stock.clubs``, from ``source``."""
        drawn = often_hit(table)
        if drawn.empty:
            return club_words.no_ladder(source)
        chart = charts.stock_ladder(drawn, level=self.say.level, units=self.say.units)
        title = club_words.ladder_title(source)
        rounds = source == COURSE
        return self._alone(chart, title, club_words.READ_CARRIES, ranges=True, rounds=rounds)

    def wear(self) -> Drawn:
        """Draw what each club gained since it was new, a panel a club with shots enough."""
        store, curve, selection = self.asked.game
        steps = wear_steps(wear_points(store, curve, selection), level=self.say.level)
        marks = steps.groupby("club", sort=True).size()
        clubs = list(marks[marks >= _LEAST_STEPS].index)
        if not clubs:
            return club_words.no_wear(STEP_SHOTS)
        panels = [
            charts.wear_curve(steps[steps["club"] == club]).properties(
                width=_PANEL if len(clubs) > 1 else WIDTH,
                height=_LOW,
                title=cut(club, _NAME_ROOM, "…"),
            )
            for club in clubs
        ]
        chart = alt.concat(*panels, columns=2).resolve_scale(
            y="shared", color="independent", shape="independent"
        )
        read = (club_words.read_wear(STEP_SHOTS),)
        return self._alone(chart, club_words.WEAR_TITLE, read, ranges=True)

    def green(self, plan: pd.DataFrame, yards: float, green: Green, lie: str, source: str) -> Drawn:
        """Draw a number on its green; ``plan``: the options with how they are ``played``."""
        if plan.empty:
            return number_words.none_near(yards, self.say)
        seen = picture(number_words.counted(plan), yards, green)
        chart = charts.green_map(seen, units=self.say.units)
        title = number_words.green_title(yards, lie, source, self.say)
        read = (number_words.green_words(green, self.say), *number_words.READ_GREEN)
        return self._alone(chart, title, read, rounds=source == COURSE)

    def numbers(self, sheet: pd.DataFrame, lie: str, source: str) -> Drawn:
        """Draw strokes to hole out by number; ``sheet``: as ``clubs.sheet.number_sheet``."""
        rows = sheet[sheet["club"].notna()]
        if rows.empty:
            return club_words.NO_NUMBERS
        chart = charts.number_curve(rows, level=self.say.level, units=self.say.units)
        title = club_words.numbers_title(lie, source)
        rounds = source == COURSE
        return self._alone(chart, title, club_words.READ_NUMBERS[::2], rounds=rounds)

    def hours(self, plan: Plan, level: str) -> Drawn:
        """Draw the share of the hours by part; ``level``: what losses are against."""
        if plan.thin:
            return practice_words.too_thin(plan)
        chart = charts.hours_chart(plan.table, units=self.say.units)
        read = (practice_words.planned(plan), *practice_words.read_hours(plan))
        keys = practice_section.keys(plan)
        return self._alone(chart, practice_words.HOURS_TITLE, read, keys, against=level)

    def returns(self, plan: Plan, level: str) -> Drawn:
        """Draw what more hours of each part would bring."""
        if plan.thin:
            return practice_words.too_thin(plan)
        chart = charts.return_curves(plan.curves, units=self.say.units)
        read = (practice_words.planned(plan), *practice_words.READ_RETURNS)
        return self._alone(chart, practice_words.RETURNS_TITLE, read, against=level)

    def blocks(self, level: str) -> Drawn:
        """Draw each test day's middle miss against the pass mark of ``level``."""
        store, _, selection = self.asked.game
        days = block_series(mixed_blocks(store, level, selection), self.say.level)
        if days.empty:
            return practice_words.NO_BLOCKS
        days = days.sort_values("part", key=lambda p: p.map(PART_NAMES.index), kind="stable")
        chart = charts.block_chart(days, units=self.say.units)
        read = practice_words.read_blocks(self.say)
        return self._alone(chart, practice_words.BLOCKS_TITLE, read, against=level, rounds=False)

    def _alone(
        self,
        chart: Drawing,
        title: str,
        read: Sequence[str],
        keys: Sequence[Key] = (),
        *,
        ranges: bool = False,
        against: str | None = None,
        rounds: bool = True,
    ) -> alt.TopLevelMixin:
        """Return a chart that stands alone.

        ``ranges``: it has intervals whose level ``read`` does not say. ``rounds``: rounds are what
        it rests on.
        """
        whose = season_words.player_words(self.asked.player)
        if rounds:
            whose = season_words.whose(self.asked.sizes)
        level = season_words.against_words(
            against or self.asked.curve.name, self.say, ranges=ranges
        )
        return alone(chart, title, (whose, level, *read), keys)

    def _with_basis(self, rows: pd.DataFrame, *by: str) -> pd.DataFrame:
        plain = rows.drop(columns="basis", errors="ignore")
        return with_basis(plain, self.asked.strokes, self.asked.curve, list(by))

    def _break_even(self, strokes: pd.DataFrame) -> float:
        """Return from where a shot gained nothing, feet; NaN where lies have one each."""
        lies = strokes["lie"].unique()
        if len(lies) != 1 or lies[0] == "green":
            return float("nan")
        feet = float(strokes["distance_ft"].median())
        return float(break_even_proximity(self.asked.curve, str(lies[0]), feet))
