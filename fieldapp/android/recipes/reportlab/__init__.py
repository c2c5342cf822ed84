"""Recipe: reportlab as the pure wheel that it is now.

python-for-android's own recipe builds a release of long ago, whose C parts are gone, and would be
taken for the name alone.
"""

from __future__ import annotations

from pythonforandroid.recipe import PyProjectRecipe


class ReportlabRecipe(PyProjectRecipe):
    """Takes the wheel; builds from the source only where there is none."""

    version = "5.1.0"
    url = "https://files.pythonhosted.org/packages/source/r/reportlab/reportlab-{version}.tar.gz"
    depends = ["pillow", "charset_normalizer"]  # noqa: RUF012  (a list, which the base class grows)


recipe = ReportlabRecipe()
