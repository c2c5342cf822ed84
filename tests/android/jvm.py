"""Runs a few lines of Python beside a Java machine that has stubs for Android's classes.

A process can start one Java machine only, and another test's must not be in it: so each runs in
a process of its own.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
JAVA = ROOT / "fieldapp" / "android" / "java"
STUBS = HERE / "stubs"

OPENING = """\
import json, os
import jnius_config
jnius_config.set_classpath(os.environ["STUB_CLASSES"])
options = os.environ["STUB_OPTIONS"].split()
jnius_config.add_options("-Dstub.sdk=" + os.environ["STUB_SDK"], *options)
from fieldapp.device.android.java import activity, java
phone = activity()
def tell(**values): print(json.dumps(values))
"""


def compile_java(into: Path, *sources: Path) -> None:
    """Compile Java for the oldest form that the phone's tools take, every warning an error."""
    files = [str(path) for source in sources for path in sorted(source.rglob("*.java"))]
    options = ["--release", "8", "-Xlint:all,-options", "-Werror", "-d", str(into)]
    done = subprocess.run(
        ["javac", *options, *files], capture_output=True, text=True, check=False, timeout=120
    )
    if done.returncode:
        raise AssertionError(f"javac ended with {done.returncode}:\n{done.stdout}{done.stderr}")


def on_phone(classes: Path, script: str, *, sdk: int = 36, options: str = "") -> dict:
    """Run the script and return what it told last."""
    done = subprocess.run(
        [sys.executable, "-c", OPENING + script],
        cwd=ROOT,
        env=os.environ
        | {
            "PYTHONPATH": os.pathsep.join((str(HERE / "stubs_py"), str(ROOT))),
            "STUB_CLASSES": str(classes),
            "STUB_SDK": str(sdk),
            "STUB_OPTIONS": options,
            "ANDROID_ARGUMENT": "/data/app",
        },
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    if done.returncode:
        raise AssertionError(f"the phone ended with {done.returncode}:\n{done.stderr}")
    return json.loads(done.stdout.splitlines()[-1])
