"""Lines around the holes: what is passed over, by which name, and what is in a mail."""

from __future__ import annotations

from email.message import EmailMessage
from pathlib import Path

import pytest

from sgzone.errors import DataError
from sgzone.season.reading import find_problems, read_card
from tests.cards.text.typed import HEAD, errors_of, problems_of, rows_of

BODY = f"{HEAD}\n1 f112 18\n2 f90 3\n"
FORWARDED = f"""From: Ned Farrow <ned@example.invalid>
To: coach@example.invalid
Date: Thu, 14 May 2026 19:02:11 +0100
Subject: my round

Hi coach,

On Thu, 14 May 2026 at 18:20, Ned Farrow <ned@example.invalid> wrote:
> {HEAD}
> 1 f112 18
>
> 2 f90 3

Sent from my phone
--
Ned Farrow
12 Example Road, 5
"""


@pytest.mark.parametrize(
    "line",
    [
        *("In 41", "Out: 38", "Back nine", "TOTAL 79", "7", "hole 7", "7-9 not recorded", "9:40"),
        *("12, 13 not played", "7 par 4", "tee time 9:40 am", "warm, no wind"),
    ],
)
def test_passed_over_and_named(line: str) -> None:
    text = f"{HEAD}\n1 f112 18\n{line}\n2 f90 3"
    (note,) = problems_of(text)
    assert (note.severity, note.row) == ("note", 3)
    assert "line 3" in note.wrong
    assert len(rows_of(text)) == 4


def test_all_lines_that_are_passed_over_are_named_in_one_note() -> None:
    text = f"{HEAD}\nBack nine\nno wind\n1 f112 18\nIn 41"
    (note,) = problems_of(text)
    assert "lines 2-3, 5" in note.wrong


def test_blank_lines_and_remarks_of_their_own_mean_nothing() -> None:
    assert problems_of(f"# my card\n\n{HEAD}\n   \n#\n1 f112 18\n# 12 putts were missed\n") == []


def test_lines_end_as_any_system_ends_them() -> None:
    for end in ("\n", "\r\n", "\r"):
        assert len(rows_of(BODY.replace("\n", end))) == 4


def test_a_mail_that_was_copied_whole() -> None:
    assert errors_of(FORWARDED) == []
    assert [row["hole"] for row in rows_of(FORWARDED)] == ["1", "1", "2", "2"]
    notes = problems_of(FORWARDED)
    assert "lines 1-4, 6, 8, 14-17" in notes[0].wrong


def test_the_day_of_a_mail_is_not_the_day_of_the_round() -> None:
    text = "\n".join(line for line in FORWARDED.splitlines() if HEAD not in line)
    (found,) = errors_of(text)
    assert found.wrong == "who played, and when?"


def mail(path: Path, **parts: str) -> Path:
    """Write a saved mail with a plain part, an HTML part, or both."""
    message = EmailMessage()
    message["From"], message["Subject"] = "Ned Farrow <ned@example.invalid>", "round"
    if "plain" in parts:
        message.set_content(parts["plain"])
        if "html" in parts:
            message.add_alternative(parts["html"], subtype="html")
    else:
        message.set_content(parts["html"], subtype="html")
    path.write_bytes(message.as_bytes())
    return path


@pytest.mark.parametrize("more", [{}, {"html": "<p>1 f200 x</p>"}])
def test_a_saved_mail_is_its_plain_text(more: dict[str, str], tmp_path: Path) -> None:
    path = mail(tmp_path / "round.eml", plain=f"{BODY}3 f112\u00a018 # caf\u00e9\n", **more)
    assert find_problems(path) == []
    card = read_card(path)
    assert card["hole"].tolist() == [1, 1, 2, 2, 3, 3]
    assert card["note"].tolist()[4] == "caf\u00e9"


def test_a_mail_without_plain_text_is_refused_with_a_way_out(tmp_path: Path) -> None:
    path = mail(tmp_path / "round.eml", html="<p>1 f112 18</p>")
    with pytest.raises(DataError, match=r"no plain text.*Copy the card out of the mail") as wrong:
        read_card(path)
    assert wrong.value.problems[0].severity == "error"


def test_folded_lines_of_a_mail_are_put_together(tmp_path: Path) -> None:
    path = tmp_path / "round.eml"
    head = "Subject: x\nContent-Type: text/plain; charset=utf-8; format=flowed\n\n"
    path.write_text(f"{head}{HEAD}\n1 f112 \n18 \n2\n2 f90 3\n")
    assert read_card(path)["distance_ft"].tolist() == [336.0, 18.0, 2.0, 270.0, 3.0]


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("round.txt", b"", "the file is empty"),
        ("round.txt", b"nothing here\n", "there is no hole in it"),
        ("round.txt", b"PK\x03\x04rest", "a workbook or an archive, not text"),
        ("round.txt", b"1 f112\x00 18", "binary data"),
        ("round.txt", b"\xff\xfe1\xd8", "UTF-16"),
        ("round.eml", b"", "the file is empty"),
        (
            "round.eml",
            b"Content-Type: text/plain; charset=none-such\n\n1 f9!",
            "no mail that can be read",
        ),
    ],
)
def test_what_is_no_text_card(name: str, data: bytes, told: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(DataError, match=told):
        read_card(path)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings(encoding: str, tmp_path: Path) -> None:
    path = tmp_path / "round.txt"
    path.write_bytes("Åsa Löw, 14 May 2026, Home\n1 f112 7½ – 2\n".encode(encoding))
    card = read_card(path)
    assert set(card["player"]) == {"Åsa Löw"}
    assert card["distance_ft"].tolist() == [336.0, 7.5, 2.0]


def test_the_rules_of_a_card_hold_for_a_text_card(tmp_path: Path) -> None:
    """The line is named as a row is."""
    path = tmp_path / "round.txt"
    path.write_text(f"{HEAD}, foursomes\n1 f701 18\n2 g201ft 3\n3 f90 0\n4 2 e9ft 3\n5 f90**** 3")
    found = {(p.row, p.column): p.severity for p in find_problems(path)}
    assert found[2, "format"] == found[2, "distance"] == found[3, "distance"] == "error"
    assert found[4, "distance"] == found[6, "penalty"] == "error"


def test_a_file_beyond_any_card_is_refused_at_once(tmp_path: Path) -> None:
    path = tmp_path / "round.txt"
    for data, told in [
        (b"1 f9!\n" * 60_000, "up to 50000 are read"),
        (b"x" * 8_000_001, "a .txt file may have 8 MB"),
    ]:
        path.write_bytes(data)
        with pytest.raises(DataError, match=told):
            read_card(path)
