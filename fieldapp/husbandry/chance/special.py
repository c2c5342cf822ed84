"""The regularised incomplete beta and gamma functions and their inverses.

Continued fractions evaluated by Lentz's method, and the power series, as in Abramowitz and
Stegun, *Handbook of Mathematical Functions* (NBS, 1964), 6.5.29, 6.5.31 and 26.5.8. Inverses go by
bisection: slower than Newton's method, and never lost. Relative errors are under 1e-10 over
the range of counts (checked against scipy).
"""

from __future__ import annotations

import math
from collections.abc import Callable

_TINY = 1e-300
_EPSILON = 1e-16
_STEPS = 20_000


def beta_cdf(a: float, b: float, x: float) -> float:
    """Return the regularised incomplete beta function I_x(a, b), for a, b > 0."""
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    log_front = (
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    # The fraction converges fast below the mean; above it the mirror image does.
    if x < (a + 1) / (a + b + 2):
        return math.exp(log_front) / (a * _beta_fraction(a, b, x))
    return 1.0 - math.exp(log_front) / (b * _beta_fraction(b, a, 1 - x))


def _beta_fraction(a: float, b: float, x: float) -> float:
    def term(n: int) -> float:
        m = n // 2
        if n % 2:
            return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))

    return _lentz(1.0, term, lambda _n: 1.0)


def gamma_cdf(a: float, x: float) -> float:
    """Return the regularised lower incomplete gamma function P(a, x), for a > 0."""
    return 1.0 - gamma_tail(a, x) if x >= a + 1 else _gamma_series(a, x)


def gamma_tail(a: float, x: float) -> float:
    """Return the regularised upper incomplete gamma function Q(a, x) = 1 - P(a, x)."""
    if x < a + 1:
        return 1.0 - _gamma_series(a, x)
    log_front = a * math.log(x) - x - math.lgamma(a)
    return math.exp(log_front) / _lentz(
        x + 1 - a, lambda n: -n * (n - a), lambda n: x + 2 * n + 1 - a
    )


def _gamma_series(a: float, x: float) -> float:
    if x <= 0:
        return 0.0
    total = term = 1 / a
    for n in range(1, _STEPS):
        term *= x / (a + n)
        total += term
        if term < total * _EPSILON:
            break
    return math.exp(a * math.log(x) - x - math.lgamma(a)) * total


def _lentz(first: float, above: Callable[[int], float], below: Callable[[int], float]) -> float:
    """Return ``first + above(1)/(below(1) + above(2)/(below(2) + ...))``."""
    value = first or _TINY
    c, d = value, 0.0
    for n in range(1, _STEPS):
        d = 1 / ((below(n) + above(n) * d) or _TINY)
        c = (below(n) + above(n) / c) or _TINY
        value *= c * d
        if abs(c * d - 1) < _EPSILON * 4:
            break
    return value


def root(rising: Callable[[float], float], low: float, high: float) -> float:
    """Return where `rising` (from negative to positive in [low, high]) meets zero."""
    for _ in range(400):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if rising(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def beta_quantile(p: float, a: float, b: float) -> float:
    """Return x with I_x(a, b) = p."""
    return root(lambda x: beta_cdf(a, b, x) - p, 0.0, 1.0)


def gamma_quantile(p: float, a: float) -> float:
    """Return x with P(a, x) = p."""
    high = a + 1.0
    while gamma_cdf(a, high) < p:
        high *= 2
    return root(lambda x: gamma_cdf(a, x) - p, 0.0, high)
