"""The names of all pages that the program can show, read from its source."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

SCREENS = Path(__file__).resolve().parents[2] / "fieldapp" / "screens"


def page_names() -> set[str]:
    """Return the name that each call of `Page` gives, a constant of its module or a literal."""
    return {name for path in SCREENS.glob("*.py") for name in _named(path)}


def _named(path: Path) -> Iterator[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    constants = {
        target.id: node.value.value
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Page":
            [name] = [each.value for each in node.keywords if each.arg == "name"]
            names = (name.body, name.orelse) if isinstance(name, ast.IfExp) else (name,)
            for each in names:
                yield constants[each.id] if isinstance(each, ast.Name) else ast.literal_eval(each)
