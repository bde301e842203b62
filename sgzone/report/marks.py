"""How a file that a report, chart or sheet writes is known again: by what it holds.

An HTML page and a PDF name what made them; those of before, which did not, are told by their form.
"""

from __future__ import annotations

import json
import re

from sgzone.report.charts.theme import LIGHT
from sgzone.writing import Kind, headings

CHART_MARK = '<meta name="generator" content="sgzone chart">'
CONTENTS = ("file", "section", "holds")

_HEAD = 4096  # bytes in which a page says what it is
_REPORT_MARK = b'<meta name="generator" content="sgzone report">'  # in page.html
_EARLIER_REPORT = re.compile(
    rb'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
    rb'<meta http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; [^"]*">\n'
    rb'<meta name="viewport"[^>]*>\n<meta name="referrer" content="no-referrer">\n'
    rb'<meta name="color-scheme" content="light dark">\n<title>[^<]*</title>\n'
    rb'<link rel="icon" href="data:,">\n'
)
_EARLIER_CHART = b"<!DOCTYPE html>\n<html>\n  <head>\n    <style>\n        vega-chart.vega-embed {"
_EARLIER_PAPER = re.compile(
    rb'<dc:title><rdf:Alt><rdf:li xml:lang="x-default">[^<]*: the (strokes|last weeks) from '
    rb"[^<]* in</rdf:li></rdf:Alt></dc:title><xmp:CreatorTool>Typst "
)
_SHEET_MARK = b'<section class="number-sheet">'
_SVG = re.compile(
    rb"(\xef\xbb\xbf)?\s*((<\?xml|<!DOCTYPE)[^>]*>\s*|<!--.*?-->\s*)*<svg\b", re.DOTALL
)


def _is_report_page(held: bytes) -> bool:
    return _REPORT_MARK in held[:_HEAD] or bool(_EARLIER_REPORT.match(held))


def _is_report_pdf(held: bytes) -> bool:
    return _is_pdf_of(held, b"sgzone report") or (
        held.startswith(b"%PDF-") and bool(_EARLIER_PAPER.search(held))
    )


def _is_pdf_of(held: bytes, mark: bytes) -> bool:
    return held.startswith(b"%PDF-") and b"<pdf:Keywords>%s</pdf:Keywords>" % mark in held


def _is_chart_page(held: bytes) -> bool:
    earlier = held.startswith(_EARLIER_CHART) and LIGHT.paper.encode() in held
    return CHART_MARK.encode() in held[:_HEAD] or earlier


def _is_vega_lite(held: bytes) -> bool:
    try:
        found = json.loads(held)
    except (ValueError, RecursionError):
        return False
    return isinstance(found, dict) and "/vega-lite/" in str(found.get("$schema"))


def _is_sheet(held: bytes) -> bool:
    found = headings(held)
    return found[:2] == ["number_yd", "rank"] and found[-1] == "prepare"


REPORTS = {
    ".html": Kind("a report that sgzone wrote", _is_report_page),
    ".pdf": Kind("a report that sgzone wrote", _is_report_pdf),
}
SVG = Kind("an SVG picture", lambda held: bool(_SVG.match(held)))
PNG = Kind("a PNG picture", lambda held: held.startswith(b"\x89PNG\r\n\x1a\n"))
VEGA_LITE = Kind("a chart in Vega-Lite", _is_vega_lite)
CHARTS = {
    ".html": Kind("a chart that sgzone wrote", _is_chart_page),
    ".svg": SVG,
    ".png": PNG,
    ".json": VEGA_LITE,
}
SHEETS = {
    ".csv": Kind("a sheet of numbers that sgzone wrote", _is_sheet),
    ".html": Kind("a sheet of numbers", lambda held: held.startswith(_SHEET_MARK)),
    ".pdf": Kind("a sheet of numbers", lambda held: _is_pdf_of(held, b"sgzone numbers")),
}
EXPORTED = {
    "csv": Kind("a table", lambda held: b"\0" not in held),
    "parquet": Kind("a Parquet file", lambda held: held.startswith(b"PAR1")),
    "svg": SVG,
    "png": PNG,
    "vl.json": VEGA_LITE,
}
"""Only over what an earlier export lists."""
LISTING = Kind("the list of an export", lambda held: tuple(headings(held)) == CONTENTS)
