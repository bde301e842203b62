"""Where the sections of a page are printed: by their place, not by their name."""

from __future__ import annotations

from sgzone.report.page import Figure, Page, Place, Section
from sgzone.report.paper.order import on_paper
from sgzone.report.sections import CHAPTERS
from sgzone.words import paper as words
from sgzone.words.tables import Table
from sgzone.words.week import SessionCard


def _table(caption: str) -> Table:
    return Table(caption, ("n",), (("1",),), ("num",), (True,))


def _page(*sections: Section) -> Page:
    return Page("A page", "", (), sections)


def _printed(*sections: Section) -> dict[str, Section]:
    return {section.id: section for section in on_paper(_page(*sections)).sections}


PLAYER = Section(tables=(_table("a"),), notes=("about a",), id="one", place=Place.PLAYER)
PLAN = Section(
    figures=(Figure((), (), _table("behind")),),
    tables=(_table("b"),),
    over_cards=("in this order",),
    notes=("careful",),
    cards=(SessionCard("Session 1, 60 minutes", ()),),
    id="plan",
    place=Place.PLAYER,
)
COACH = Section(tables=(_table("d"),), id="coach")
COUNTS = Section(id="counts", place=Place.NUMBERS)
FINE = Section(id="fine", place=Place.FINE)
LAST = Section(id="last", place=Place.CLOSING)


def test_sheets_follow_the_places() -> None:
    page = _printed(LAST, FINE, COACH, COUNTS, PLAN, PLAYER)
    assert list(page) == ["plan", "one", "numbers", "counts", "coach", "fine", "week", "last"]
    assert [name for name, section in page.items() if section.fresh] == ["numbers", "week"]


def test_tables_and_the_notes_about_them_go_from_the_player_to_the_coach() -> None:
    page = _printed(PLAYER, PLAN, COACH)
    assert page["one"].tables == page["plan"].tables == ()
    assert [table.caption for table in page["numbers"].tables] == ["a", "b"]
    assert page["numbers"].notes == ("about a",)
    assert page["one"].notes == ()
    assert page["one"].lead == (words.ON_THE_NEXT,)
    assert page["plan"].lead == ()  # its figure stays


def test_what_is_torn_off_has_its_cautions_on_both_sheets() -> None:
    page = _printed(PLAN, COACH)
    assert (page["week"].cards, page["plan"].cards) == (PLAN.cards, ())
    printed = [table.caption for section in page.values() for table in section.tables]
    assert printed == ["b", "d"]
    assert page["week"].over_cards == page["plan"].over_cards == ()  # the sheet has its own words
    assert page["week"].notes == page["plan"].notes == ("careful",)


def test_numbers_behind_a_figure_are_printed_where_it_asks_for_it() -> None:
    figures = [Figure((), (), _table(name), in_numbers=name == "shown") for name in ("shown", "x")]
    page = _printed(Section(figures=tuple(figures), id="one"))
    assert [table.caption for table in page["one"].tables] == ["shown"]


def test_what_is_for_the_screen_is_not_printed() -> None:
    assert list(_printed(COACH, Section(id="live", place=Place.SCREEN))) == ["coach"]


def test_every_chapter_has_its_own_name_and_one_opens_a_block() -> None:
    names = [chapter.id for chapter in CHAPTERS]
    assert len(set(names)) == len(names)
    assert not {"numbers", "week"} & set(names)  # of sheets that only paper has
    assert [chapter.id for chapter in CHAPTERS if chapter.opens] == ["practice"]


def test_what_stays_keeps_its_tables_on_the_first_sheet() -> None:
    early = Section(tables=(_table("a"),), notes=("n",), stays=True, id="early", place=Place.PLAYER)
    page = _printed(early, COACH)
    assert list(page) == ["early", "coach"]
    assert (page["early"].tables, page["early"].notes, page["early"].lead) == (
        *(early.tables, ("n",)),
        (),
    )
