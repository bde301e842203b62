"""One contender in a process of its own: ``python -m tests.bench.worker NAME MATERIAL``.

Prints JSON: the seconds, by the clock and of the processor (all threads), of the second run, for
the first warms caches up (of a load the first run: it makes a file of its own); the peak of memory
in MB, and how far that is above what the imports take; the answer.
"""

from __future__ import annotations

import json
import sys
import time
from importlib import import_module
from pathlib import Path

from tests.bench.contenders import COLD, CONTENDERS, REPORTING
from tests.bench.material import Material


def _peak_mb() -> float:
    """Return the largest resident size so far; getrusage would count the parent's as well."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def main() -> None:
    name, text = sys.argv[1:]
    fields = json.loads(text)
    material = Material(fields.pop("n"), **{key: Path(value) for key, value in fields.items()})
    if "report" in name:
        import_module(REPORTING)
    before = _peak_mb()
    if name not in COLD:
        CONTENDERS[name](material)
    start, spent = time.perf_counter(), time.process_time()
    rows, total = CONTENDERS[name](material)
    seconds = time.perf_counter() - start
    result = {"seconds": seconds, "cpu": time.process_time() - spent, "mb": _peak_mb()}
    result["grown"] = result["mb"] - before
    sys.stdout.write(json.dumps({**result, "rows": rows, "total": total}))


if __name__ == "__main__":
    main()
