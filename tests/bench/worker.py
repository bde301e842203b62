"""One contender in a process of its own: ``python -m tests.bench.worker NAME MATERIAL``.

Prints JSON: seconds of the second run (the first warms caches up), MB the process grew at most
over what its imports take, and the answer.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

from tests.bench.contenders import CONTENDERS
from tests.bench.material import Material


def _peak_mb() -> float:
    """Return the largest resident size so far; getrusage would count the parent's as well."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def main() -> None:
    name, text = sys.argv[1:]
    fields = json.loads(text)
    material = Material(fields.pop("n"), **{key: Path(value) for key, value in fields.items()})
    before = _peak_mb()
    CONTENDERS[name](material)
    start = time.perf_counter()
    rows, total = CONTENDERS[name](material)
    seconds = time.perf_counter() - start
    result = {"seconds": seconds, "mb": _peak_mb(), "grown": _peak_mb() - before}
    sys.stdout.write(json.dumps({**result, "rows": rows, "total": total}))


if __name__ == "__main__":
    main()
