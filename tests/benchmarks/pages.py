"""The generated blocks of docs/benchmarks.md: ``python -m tests.benchmarks.pages`` writes them."""

from __future__ import annotations

import re
from pathlib import Path

import pandas as pd

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.sources import Figure, anchor
from sgzone.benchmarks.tables import share_of_gap
from sgzone.terms import BENCHMARK_NAMES
from tests.benchmarks.leaves import leave_comparison

PAGE = Path(__file__).resolve().parents[2] / "docs" / "benchmarks.md"
TEE_LINE = "tee line J = a + b d, "
SIDE_BY_SIDE = ("tour", "scratch", "amateur-90")


def _markdown(frame: pd.DataFrame) -> str:
    head = "| " + " | ".join(map(str, frame.columns)) + " |"
    rule = "|" + "---|" * len(frame.columns)
    rows = ["| " + " | ".join(map(str, row)) + " |" for row in frame.itertuples(index=False)]
    return "\n".join([head, rule, *rows])


def levels_block() -> str:
    """Return each benchmark with its share k of the gap and the status of its knots."""
    rows = []
    for name in BENCHMARK_NAMES:
        knots = benchmark(name).knots
        count = knots["status"].value_counts()
        keys = sorted({key for joined in knots["source"] for key in joined.split("+")})
        rows.append(
            {
                "benchmark": f"`{name}`",
                "k": f"{share_of_gap(name):.4f}",
                "knots": len(knots),
                **{s: int(count.get(s, 0)) for s in ("published", "derived", "uncertain")},
                "sources": ", ".join(keys),
            }
        )
    return _markdown(pd.DataFrame(rows))


def _line_at(name: str, yards: float) -> Figure:
    a = anchor(name, TEE_LINE + "intercept a", "par-3 to par-5 tees")
    b = anchor(name, TEE_LINE + "slope b", "d in yd")
    return Figure(a.value + b.value * yards, "strokes", a.source, a.status)


def figures_block() -> str:
    """Return published figures that are no knots beside what the curves give there."""
    two = "distance where putts average 2.0"
    checks = [
        ("tour", "green", anchor("tour", two, "green").value, "2.0", "broadie2012"),
        ("amateur-90", "green", anchor("amateur-90", two, "green").value, "2.0", "broadie2012"),
        *(
            (
                "scratch",
                lie,
                feet,
                f"{anchor('scratch', what, where).value:.1f}",
                anchor("scratch", what, where).source,
            )
            for lie, feet, what, where in (
                ("green", 14, "expected putts", "14 ft"),
                ("tee", 420, "expected strokes", "140 yd par-3 tee"),
                ("tee", 600, "expected strokes", "200 yd tee"),
            )
        ),
        *(
            ("amateur-90", "tee", yards * 3, f"{line.value:.2f}", f"{line.source}, tee line")
            for yards in (100, 150, 200)
            for line in [_line_at("amateur-90", yards)]
        ),
    ]
    rows = []
    for name, lie, feet, printed, source in checks:
        value = float(benchmark(name).expected(lie, feet))
        where = f"{feet:.0f} ft" if lie == "green" else f"{feet / 3:.0f} yd"
        rows.append(
            {
                "benchmark": f"`{name}`",
                "from": f"{lie} {where}",
                "published, strokes": printed,
                "curve, strokes": f"{value:.3f}",
                "curve - published": f"{value - float(printed):+.3f}",
                "source": source,
            }
        )
    return _markdown(pd.DataFrame(rows))


def leaves_block() -> str:
    """Return break-even proximity from the fairway beside the published median leaves."""
    tables = {name: leave_comparison(benchmark(name)) for name in SIDE_BY_SIDE}
    first = tables["tour"]
    shown = pd.DataFrame({"fairway, yd": first["distance_yd"].map("{:.0f}".format)})
    for name, table in tables.items():
        feet = table["break_even_ft"].map("{:.0f} ft".format)
        shown[f"`{name}` breaks even"] = (
            feet + " (" + table["break_even_percent"].map("{:.1f}%".format) + ")"
        )
    low, high = first["published_low"], first["published_high"]
    shown["published median leave, tour"] = low.astype(str) + "-" + high.astype(str) + "%"
    shown["source"] = first["source"]
    return _markdown(shown)


def page() -> str:
    """Return docs/benchmarks.md with its generated blocks filled in."""
    text = PAGE.read_text(encoding="utf-8")
    blocks = {"levels": levels_block(), "figures": figures_block(), "leaves": leaves_block()}
    for name, block in blocks.items():
        pattern = rf"(<!-- generated: {name} -->\n).*?(<!-- end -->)"
        text, found = re.subn(
            pattern, lambda m, b=block: f"{m[1]}{b}\n{m[2]}", text, flags=re.DOTALL
        )
        assert found == 1, f"docs/benchmarks.md has {found} blocks called {name}"
    return text


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
