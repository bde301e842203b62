"""Pictures of charts are the same on a machine with other fonts, or with none."""

from __future__ import annotations

import os
import re
import shutil
import struct
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from sgzone.report.charts.theme import SANS, config
from sgzone.report.fonts import FAMILY, FOLDER, to_svg
from sgzone.report.paper.pdf import to_pdf
from sgzone.report.paper.signs import own_fonts_do
from tests.report.seasons import demo_report

WORDS = "approach 100-150 yd"
CHART: dict[str, Any] = {
    "$schema": "https://vega.github.io/schema/vega-lite/v6.json",
    "title": "A bold title",
    "data": {"values": [{"a": WORDS, "b": 3}]},
    "mark": "bar",
    "encoding": {
        "y": {"field": "a", "type": "nominal"},
        "x": {"field": "b", "type": "quantitative"},
    },
}
DRAW = f"""
import hashlib, sys
from sgzone.report.charts.theme import config
from sgzone.report.fonts import to_png, to_svg
drawn = {{**{CHART!r}, "config": config()}}
for made in (to_svg(drawn).encode(), to_png(drawn, 1.0)):
    sys.stdout.write(hashlib.sha256(made).hexdigest() + "\\n")
"""


@pytest.mark.long
def test_a_machine_without_fonts_draws_the_same(tmp_path: Path) -> None:
    (tmp_path / "fonts.conf").write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">'
        f"<fontconfig><dir>{tmp_path}</dir><cachedir>{tmp_path}</cachedir></fontconfig>"
    )
    bare = {**os.environ, "FONTCONFIG_FILE": str(tmp_path / "fonts.conf")}
    found = [
        subprocess.run(
            [sys.executable, "-c", DRAW], env=env, capture_output=True, text=True, check=True
        ).stdout
        for env in (dict(os.environ), bare)
    ]
    assert found[0] == found[1]
    assert len(found[0].split()) == 2


def test_the_list_of_fonts_is_read_as_its_first_one() -> None:
    """A list that the drawer cannot read is measured in another font, and labels lie elsewhere."""
    assert SANS.startswith(f'"{FAMILY}", ')
    widths = [_width({"font": font}) for font in (FAMILY, SANS, f'"{FAMILY}", "Any Sans 3"')]
    assert widths[0] == widths[1] != widths[2]
    assert config()["font"] == SANS


def _width(look: dict[str, str]) -> str:
    found = re.search(r'width="([\d.]+)"', to_svg({**CHART, "config": look}))
    assert found is not None
    return found[1]


@pytest.mark.long
@pytest.mark.skipif(shutil.which("pdffonts") is None, reason="needs poppler-utils")
def test_paper_has_no_font_of_the_machine(tmp_path: Path) -> None:
    path = tmp_path / "r.pdf"
    path.write_bytes(to_pdf(demo_report("plain").page))
    said = subprocess.run(["pdffonts", path], capture_output=True, text=True, check=True).stdout
    names = {line.split("+")[1].split("-")[0].split()[0] for line in said.splitlines()[2:]}
    assert names == {"LibertinusSerif", FAMILY.replace(" ", "")}


def test_other_scripts_ask_the_machine() -> None:
    assert own_fonts_do("Zoë: −1 † ← → Łukasz Ωμέγα Жуков אדה")
    assert not own_fonts_do("漢字")


def test_the_font_comes_with_its_licence() -> None:
    text = (FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    sizes = {path.name: path.stat().st_size for path in FOLDER.glob("*.ttf")}
    assert set(sizes) == {"SgzoneSans-Bold.ttf", "SgzoneSans-Regular.ttf"}
    assert max(sizes.values()) < 100_000
    for path in FOLDER.glob("*.ttf"):  # the name that the licence reserves is not in it
        held = path.read_bytes()
        assert "Liberation".encode("utf-16-be") not in held


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.ttf")), ids=lambda path: path.stem)
def test_what_is_read_for_every_letter_lies_together(path: Path) -> None:
    """The drawer opens the file for every letter it measures, and reads all tables but one."""
    held = path.read_bytes()
    count = struct.unpack(">H", held[4:6])[0]
    places = {
        held[at : at + 4]: struct.unpack(">II", held[at + 8 : at + 16])
        for at in range(12, 12 + 16 * count, 16)
    }
    ends = {name: start + size for name, (start, size) in places.items()}
    assert max(ends, key=lambda name: ends[name]) == b"glyf"
    assert max(end for name, end in ends.items() if name != b"glyf") < 20_000


def test_no_label_is_measured_twice() -> None:
    """A limit asks for it, and cuts; the charts' names are as short as they are to be."""
    assert config()["axis"]["labelLimit"] == config()["legend"]["labelLimit"] == 0


def test_a_picture_is_the_same_without_what_a_hand_finds() -> None:
    """Tooltips cost time to draw and are never read there; rows of that name are rows still."""
    said = [{"field": "a", "type": "nominal"}]
    pointed = {**CHART["encoding"], "tooltip": said, "key": {"field": "a", "type": "nominal"}}
    named = {"data": {"values": [{"key": WORDS, "tooltip": 3}]}, "title": "A bold title"}
    shown = {
        "y": {"field": "key", "type": "nominal", "title": "a"},
        "x": {"field": "tooltip", "type": "quantitative", "title": "b"},
    }
    plain = to_svg(CHART)
    assert to_svg({**CHART, "encoding": pointed}) == plain
    assert to_svg({**CHART, **named, "encoding": shown}) == plain
