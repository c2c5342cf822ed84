"""What the phone starts: the program, with its records in the app's own folder."""

from __future__ import annotations

from pathlib import Path

from android.storage import app_storage_path

from fieldapp.run import run

#: The system gives the window its size; this one is for a desktop.
ANY_SIZE = (412, 892)

if __name__ == "__main__":
    run(Path(app_storage_path()) / "records", ANY_SIZE, None)
