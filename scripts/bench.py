"""Measure everything that a promise was made about; each figure is a ratio of times from one run.

``python3 scripts/bench.py`` runs all measures, ``python3 scripts/bench.py bed paint`` some. What is compared
with what stands at the head of each ``bench_….py``. No test: other work on the computer weighs in.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent


def measures() -> dict[str, Path]:
    """The measures by name, in the order of their names."""
    return {path.stem.removeprefix("bench_"): path for path in sorted(HERE.glob("bench_*.py"))}


def main(names: list[str]) -> int:
    """Run the measures named, or all.

    Returns:
        0; 2 where a name is not a measure's.
    """
    known = measures()
    unknown = [name for name in names if name not in known]
    if unknown:
        print(f"no measure is called {unknown[0]}; there are: {', '.join(known)}", file=sys.stderr)
        return 2
    for name in names or known:
        print(f"\n== {name}", flush=True)
        subprocess.run([sys.executable, str(known[name])], check=False)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
