"""Writes the pictures of docs/img and the page docs/screens.md; run it as it stands.

Those of the README come from a play of the demo season; one of every page, in each language and
each theme, from the tour that the tests walk on the same season at the size of a phone. Takes some
minutes and needs no screen. Look at each picture before it goes in.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from PIL import Image, ImageColor

ROOT = Path(__file__).resolve().parent.parent
SHOWN = {
    "what-is-due": "what-is-due",
    "before-the-round": "before-the-round",
    "one-hive-done": "the-round",
    "summary": "summary",
}
"""Which screen of the play becomes which picture."""

SCREENS = ROOT / "docs" / "img" / "screens"
PAGE = ROOT / "docs" / "screens.md"
LANGUAGES = {"en": "English", "de": "German"}
THEMES = {"sun": "full sun", "dark": "dark"}
PARTS = 3
"""Parts of a page that are shown side by side; further ones look like these."""
GAP = 12
"""Pixels between them."""
BETWEEN = (128, 128, 128)
"""Their colour."""
PHOTOS = ("#C81E1E", "#1E1EC8")
"""The colours of the tour's photos."""
SHADES = 3
"""Steps between an ink and its ground, for the edges of letters."""

FIRST = "The first start"
"""Walked last, where every page but its own is met already; shown first."""

HEAD = """# Every screen

<!-- Made by docs/make_pictures.py: change it there. -->

The demo season on its today, on a phone of 412 x 892 dp in full sun. Where a page has several
parts, between which *More* turns, they stand side by side. Under each picture stand the others of
the same page: in the dark theme, and in German.
"""


def main() -> None:
    """Play the demo, walk the tour in each language and theme, and write what they showed."""
    of_the_readme()
    with tempfile.TemporaryDirectory() as folder:
        groups = of_every_page(Path(folder))
    PAGE.write_text(as_page(groups), encoding="utf-8")


def of_the_readme() -> None:
    """Play the demo and copy the pictures that the README shows."""
    with tempfile.TemporaryDirectory() as folder:
        demo = Path(folder) / "demo"
        command = [sys.executable, "-m", "fieldapp.demo", "--play", "--folder", str(demo)]
        subprocess.run(command, cwd=ROOT, check=True)  # noqa: S603  # this very program
        for screen, name in SHOWN.items():
            [made] = (demo / "pictures").glob(f"[0-9][0-9]-{screen}.png")
            (ROOT / "docs" / "img" / f"{name}.png").write_bytes(made.read_bytes())


def of_every_page(folder: Path) -> dict[str, list[str]]:
    """Walk the tour in each language and theme; return the names of its pages by group."""
    sys.path.insert(0, str(ROOT / "tests" / "screens"))
    import screen_environment  # noqa: F401, PLC0415  # before anything of Kivy
    import tour  # noqa: PLC0415

    kept = tour.phones(folder)
    shutil.rmtree(SCREENS, ignore_errors=True)
    groups: dict[str, list[str]] = {}
    for language in LANGUAGES:
        for theme in THEMES:
            groups, met = walked(folder, kept, language, theme)
            target = SCREENS / f"{language}-{theme}"
            target.mkdir(parents=True)
            for name, parts in met.items():
                picture = side_by_side(parts[:PARTS], palette(theme))
                picture.save(target / file_name(name), optimize=True)
    return groups


def walked(
    folder: Path, kept: dict[str, Path], language: str, theme: str
) -> tuple[dict[str, list[str]], dict[str, list[Image.Image]]]:
    """Walk the tour once; return the pages by group, and the parts of each where first met."""
    import tour  # noqa: PLC0415
    from eyes import pixels  # noqa: PLC0415
    from running import PHONE  # noqa: PLC0415

    met: dict[str, list[Image.Image]] = {}
    groups: dict[str, list[str]] = {}
    last: Any = None

    def look(app: Any, name: str) -> None:
        nonlocal last
        page = app.app.flow.stage.page
        if name not in met:
            groups.setdefault(leg.group, []).append(name)
            met[name] = []
        elif page is not last:
            return
        last = page
        met[name].append(pixels(app.hand))

    for leg in tour.LEGS:
        tour.go(leg, folder, kept, PHONE, look, language=language, theme=theme)
    return groups, met


def palette(theme: str) -> Image.Image:
    """Return the colours of a theme: each ink, its shades to the ground, and what is between."""
    from fieldapp.screens.theme import THEMES  # noqa: PLC0415

    look = THEMES[theme]
    colours = [BETWEEN, *(ImageColor.getrgb(name) for name in PHOTOS)]
    for ink in sorted(set(look.ink.values())):
        for step in range(SHADES + 1):
            mixed = zip(ink[:3], look.ground[:3], strict=True)
            colours.append(tuple(round(255 * (a + (b - a) * step / SHADES)) for a, b in mixed))
    made = Image.new("P", (1, 1))
    flat = [value for colour in colours for value in colour]
    made.putpalette(flat + flat[:3] * (256 - len(colours)))
    return made


def side_by_side(parts: list[Image.Image], colours: Image.Image) -> Image.Image:
    """Return the parts of a page as one picture in a palette."""
    width = sum(part.width for part in parts) + GAP * (len(parts) - 1)
    whole = Image.new("RGB", (width, parts[0].height), BETWEEN)
    for at, part in enumerate(parts):
        whole.paste(part, (at * (part.width + GAP), 0))
    return whole.quantize(palette=colours, dither=Image.Dither.NONE)


def file_name(page: str) -> str:
    """Return the name of a page's picture."""
    return f"{page.replace(' ', '-').replace(chr(39), '')}.png"


def as_page(groups: dict[str, list[str]]) -> str:
    """Return docs/screens.md: every page by group, as a keeper meets them."""
    lines = [HEAD]
    for group in sorted(groups, key=lambda group: group != FIRST):
        lines.append(f"## {group}\n")
        for page in groups[group]:
            file = file_name(page)
            others = ", ".join(
                f"[{LANGUAGES[language]}, {THEMES[theme]}](img/screens/{language}-{theme}/{file})"
                for language in LANGUAGES
                for theme in THEMES
                if (language, theme) != ("en", "sun")
            )
            lines.append(f"### {page}\n\n![{page}](img/screens/en-sun/{file})\n\n{others}\n")
    return "\n".join(lines)


if __name__ == "__main__":
    main()
