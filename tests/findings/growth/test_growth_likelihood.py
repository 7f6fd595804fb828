"""The likelihood of intervals against independent sources."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import minimize

from rustboard.findings.growth.likelihood import interval_terms


def best_normal(low, high):
    """Mean and standard deviation with the highest likelihood by our terms."""
    low, high = np.array(low, float), np.array(high, float)

    def badness(values):
        return -interval_terms(low, high, np.full(len(low), values[0]), float(np.exp(values[1]))).log_likelihood.sum()

    finite = np.concatenate([low[np.isfinite(low)], high[np.isfinite(high)]])
    found = minimize(badness, [finite.mean(), np.log(finite.std() + 0.1)], method="Nelder-Mead", tol=1e-10)
    return found.x[0], np.exp(found.x[1])


def test_intervals_alone_give_the_published_normal():
    # fitdistrplus' interval-censored example as scipy's own tests have it (facts.md section 10, source S57).
    mean, sd = best_normal([0.10, 0.50, 0.75, 0.80], [0.20, 0.55, 0.90, 0.95])
    assert (mean, sd) == (pytest.approx(0.5919990, abs=2e-6), pytest.approx(0.2868042, abs=2e-6))


@pytest.mark.parametrize("seed", range(5))
def test_points_intervals_and_open_ends_together_agree_with_scipy_on_random_data(seed):
    random = np.random.default_rng(seed)
    values = random.normal(1.0, 0.7, 40)
    points, lower = values[:10], values[10:25] - random.uniform(0.1, 0.6, 15)
    upper, left, right = lower + random.uniform(0.2, 1.0, 15), values[25:32] + 0.3, values[32:] - 0.3
    theirs = stats.norm.fit(
        stats.CensoredData(points, left=left, right=right, interval=np.stack([lower, upper], axis=1))
    )
    low = np.concatenate([points, lower, np.full(len(left), -np.inf), right])
    high = np.concatenate([points, upper, left, np.full(len(right), np.inf)])
    assert best_normal(low, high) == (pytest.approx(theirs[0], abs=1e-4), pytest.approx(theirs[1], abs=1e-4))


@given(st.floats(-4, 4), st.floats(0.05, 3), st.floats(-6, 6), st.floats(0.05, 2))
def test_slope_and_curvature_are_the_derivatives_of_the_log_likelihood(start, width, centre, sd):
    low = np.array([start, -np.inf, start, start])
    high = np.array([start + width, start, np.inf, start])

    def terms(moved):
        return interval_terms(low, high, np.full(4, centre + moved), sd)

    step = 1e-5 * sd
    slope = (terms(step).log_likelihood - terms(-step).log_likelihood) / (2 * step)
    curvature = -(terms(step).slope - terms(-step).slope) / (2 * step)
    found = terms(0.0)
    assert found.slope == pytest.approx(slope, rel=1e-4, abs=1e-4 / sd)
    assert found.curvature == pytest.approx(curvature, rel=1e-3, abs=1e-3 / sd**2)
    assert (found.curvature >= 0).all()


def test_far_from_every_centre_the_terms_are_large_and_never_infinite():
    found = interval_terms(np.array([-2.0, -np.inf]), np.array([-1.5, -2.0]), np.array([90.0, 90.0]), 0.03)
    assert np.isfinite(found.log_likelihood).all()
    # By hand: of a point so far out the nearer end decides, -(distance / sd) ** 2 / 2 and little more.
    assert found.log_likelihood == pytest.approx([-((91.5 / 0.03) ** 2) / 2, -((92.0 / 0.03) ** 2) / 2], rel=1e-5)
    assert (found.slope < 0).all()
