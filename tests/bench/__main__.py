"""All benchmarks, one after the other: `python -m tests.bench`, or some of them: `python -m tests.bench figure drag`.

Each prints its own figures beside a yardstick measured in the same run; compare ratios, not milliseconds, between machines.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main(wanted: list[str]) -> int:
    modules = sorted(path.stem for path in HERE.glob("bench_*.py"))
    unknown = [name for name in wanted if f"bench_{name}" not in modules]
    if unknown:
        print(f"No benchmark {', '.join(unknown)}; there are {', '.join(m.removeprefix('bench_') for m in modules)}.")
        return 2
    failed = 0
    for module in modules:
        if wanted and module.removeprefix("bench_") not in wanted:
            continue
        print(f"\n— {module.removeprefix('bench_')} —", flush=True)
        # A process of its own each: caches that one has filled can't flatter the next.
        failed |= subprocess.run([sys.executable, "-m", f"tests.bench.{module}"], cwd=HERE.parent.parent).returncode
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
