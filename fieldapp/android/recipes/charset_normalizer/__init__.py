"""Recipe: charset_normalizer as the wheel that is made for Android.

Without a recipe it would be fetched by the building computer's pip, compiled for that computer.
"""

from __future__ import annotations

from pythonforandroid.recipe import PyProjectRecipe


class CharsetNormalizerRecipe(PyProjectRecipe):
    """Takes the wheel; builds from the source only where there is none."""

    version = "3.5.2"
    url = (
        "https://files.pythonhosted.org/packages/source/c/charset-normalizer/"
        "charset_normalizer-{version}.tar.gz"
    )


recipe = CharsetNormalizerRecipe()
