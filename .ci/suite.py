"""Runs all tests: the plain ones on two cores, each file with a window in a process of its own.

A process can have only one Kivy window, and what one file does to it must not reach the next.
The closing line is the sum over all processes, in pytest's own form; the exit status is 0 only
if every process ended with 0.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
WINDOWS = ROOT / "tests" / "screens"
NO_TESTS = 5  # pytest's exit status where nothing was selected


def main(options: list[str]) -> int:
    """Run the suite with pytest's `options` added to each process; return the exit status."""
    parts = {"tests without a window": ["-n", "2", "--dist", "loadfile", f"--ignore={WINDOWS}"]}
    parts |= {path.name: [str(path)] for path in sorted(WINDOWS.glob("test_*.py"))}
    began = time.monotonic()
    totals: Counter[str] = Counter()
    failed = []
    with tempfile.TemporaryDirectory() as folder:
        for number, (name, part) in enumerate(parts.items()):
            report = Path(folder) / f"{number}.xml"
            command = [sys.executable, "-m", "pytest", *part, f"--junitxml={report}", *options]
            status = subprocess.run(command, cwd=ROOT, check=False).returncode  # noqa: S603
            if status not in (0, NO_TESTS) or (status == NO_TESTS and not options):
                failed.append((name, status))
            totals += counted(report)
    for name, status in failed:
        print(f"FAILED {name}: pytest ended with {status}")
    print(closing_line(totals, time.monotonic() - began))
    bad = failed or totals["failed"] or totals["errors"] or not totals["passed"]
    return 1 if bad else 0


def counted(report: Path) -> Counter[str]:
    """Return how many tests of a JUnit report passed, failed, were skipped or had errors."""
    counts: Counter[str] = Counter()
    if not report.exists():
        counts["errors"] += 1
        return counts
    for suite in ET.parse(report).getroot().iter("testsuite"):  # noqa: S314  # made just now
        tests, failures, errors, skipped = (
            int(suite.get(name, 0)) for name in ("tests", "failures", "errors", "skipped")
        )
        counts.update(failed=failures, errors=errors, skipped=skipped)
        counts["passed"] += tests - failures - errors - skipped
    return counts


def closing_line(totals: Counter[str], seconds: float) -> str:
    """Return the sum in the form of pytest's last line."""
    order = ("failed", "passed", "skipped", "errors")
    words = ", ".join(f"{totals[word]} {word}" for word in order if totals[word])
    return f" {words or 'no tests ran'} in {seconds:.2f}s ".center(80, "=")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
