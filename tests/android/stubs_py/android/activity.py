"""python-for-android's own module, as it would be in the package."""

from importlib.util import find_spec
from pathlib import Path

_HOME = Path(find_spec("pythonforandroid").origin).parent
_SOURCE = _HOME / "recipes" / "android" / "src" / "android" / "activity.py"
exec(compile(_SOURCE.read_text(), str(_SOURCE), "exec"))
