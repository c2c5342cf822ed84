"""Writes the pictures of docs/img from a play of the demo season; run it as it stands.

Takes about ten seconds and needs no screen. Look at each picture before it goes in.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SHOWN = {
    "what-is-due": "what-is-due",
    "before-the-round": "before-the-round",
    "one-hive-done": "the-round",
    "summary": "summary",
}
"""Which screen of the play becomes which picture."""


def main() -> None:
    """Play the demo and copy the pictures that the README shows."""
    with tempfile.TemporaryDirectory() as folder:
        demo = Path(folder) / "demo"
        command = [sys.executable, "-m", "fieldapp.demo", "--play", "--folder", str(demo)]
        subprocess.run(command, cwd=ROOT, check=True)  # noqa: S603  # this very program
        for screen, name in SHOWN.items():
            [made] = (demo / "pictures").glob(f"[0-9][0-9]-{screen}.png")
            (ROOT / "docs" / "img" / f"{name}.png").write_bytes(made.read_bytes())


if __name__ == "__main__":
    main()
