"""The verbs `clubs` and `number` on the demo season."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sgzone.answers import columns_of
from sgzone.clubs import number, shots
from sgzone.clubs.stock import GAP_YD
from sgzone.errors import CallError
from sgzone.resources import data_path
from sgzone.season.store import open_store
from sgzone.verbs import clubs as verbs
from sgzone.words.cautions import RULES
from tests.verbs.runner import asked, csv_of

PIN = ("--green-on", "12", "--green-deep", "31", "--green-left", "8", "--green-wide", "24")
AROUND = ("--short", "sand", "--long", "rough", "--left-side", "water", "--right-side", "rough")


def names_of(answer: str) -> set[str]:
    """Return the columns that the dictionary gives an answer."""
    return {column.name for column in columns_of(answer)}


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = Path(tmp_path_factory.mktemp("clubs")) / "s.duckdb"
    with open_store(path) as store:
        for name in ("season", "test_blocks", "bag"):
            store.load(data_path(f"demo/{name}.csv"))
    return path


def test_the_choices_are_those_of_the_library():
    assert verbs.SOURCES == shots.SOURCES
    assert verbs.FIRMNESS == number.FIRMNESS
    gap = next(p for p in verbs.clubs.params if p.name == "gap")
    assert gap.default == GAP_YD


@pytest.mark.parametrize("source", verbs.SOURCES)
def test_ladder(season, source):
    got = csv_of(verbs.clubs, season, "--source", source)
    assert set(got.columns) == names_of("clubs")
    assert set(got["source"]) == {source}
    assert got["carry_yd"].is_monotonic_increasing
    text = asked(verbs.clubs, season, "--source", source).stdout
    assert f"Stock swings from {source} shots" in text


@pytest.mark.repeats
@pytest.mark.parametrize("detail", verbs.DETAILS)
def test_details(season, detail):
    assert len(csv_of(verbs.clubs, season, "--detail", detail)) > 0
    text = asked(verbs.clubs, season, "--detail", detail).stdout
    assert "nan" not in text


def test_warnings_stand_beside_wear(season):
    text = asked(verbs.clubs, season, "--detail", "wear").stdout
    for words in ("change together", "Do not recut grooves", "conforms", "professional"):
        assert words in text


def test_reminders_are_the_players_own(season):
    got = csv_of(verbs.clubs, season, "--detail", "bag", "--remind-months", "12")
    assert (got["reminder"] == "12 months reached").any()


def test_number(season):
    got = csv_of(verbs.number, season, "97", *PIN, *AROUND)
    assert set(got.columns) == names_of("number") - {"number_yd", "rank", "prepare"}
    assert got["verdict"].iloc[0] == "best"
    assert got["side_aim_ft"].iloc[0] > 0  # away from the water on the left
    text = asked(verbs.number, season, "97", *PIN, *AROUND).stdout
    for words in ("97 yd: ", "costs", "extra", "shots)", "land it", RULES):
        assert words in text
    metric = asked(verbs.number, season, "88.7", "--units", "metric").stdout
    echo, _, rest = metric.partition(": ")
    assert echo == "88.7 m (97 yd)"
    assert " yd" not in rest.split("From the fairway")[0]
    assert "land it, m" in metric


def test_number_in_json_has_nulls(season):
    result = asked(verbs.number, season, "97", "--format", "json")
    assert json.loads(result.stdout)[0]["low"] is None


def test_a_range_is_a_sheet(season):
    got = csv_of(verbs.number, season, "--from", "90", "--to", "100", "--step", "5")
    assert set(got.columns) == names_of("number")
    assert got["number_yd"].unique().tolist() == [90, 95, 100]
    assert set(got["prepare"]) == {RULES}
    assert RULES in asked(verbs.number, season, "--from", "90", "--to", "100").stdout


@pytest.mark.parametrize("ending", ["csv", "html", "pdf"])
def test_a_sheet_is_written(season, tmp_path, ending):
    path = tmp_path / f"numbers.{ending}"
    result = asked(verbs.number, season, "--from", "90", "--to", "100", "--out", str(path))
    assert result.exit_code == 0, result.output
    assert result.stdout == ""
    assert RULES in result.stderr
    assert path.stat().st_size > 500


@pytest.mark.parametrize(
    "args",
    [
        (),
        ("97", "--from", "60", "--to", "90"),
        ("--from", "60"),
        ("97", "--out", "x.csv"),
        ("97", "--green-on", "40"),
        ("97", "--lie", "green"),
        ("--from", "60", "--to", "90", "--out", "x.docx"),
    ],
)
def test_calls_that_make_no_sense_say_what_to_do(season, args):
    done = asked(verbs.number, season, *args)
    assert isinstance(done.exception, CallError) or done.exit_code == 2
    assert not done.stdout


def test_a_number_out_of_reach_is_no_number(season):
    done = asked(verbs.number, season, "400")
    assert done.exit_code == 2
    assert "from 20 to 180" in done.stderr


def test_days_without_a_round_get_headers_and_a_sentence(season):
    late = ("--since", "2031-01-01")
    assert set(csv_of(verbs.clubs, season, *late).columns) == names_of("clubs")
    assert len(csv_of(verbs.number, season, "97", *late)) == 0
    assert "No stock swing of yours" in asked(verbs.number, season, "97", *late).stdout
    for detail in sorted({*verbs.DETAILS} - {"bag"}):  # a bag has no days but its own
        assert asked(verbs.clubs, season, *late, "--detail", detail).exit_code == 0
