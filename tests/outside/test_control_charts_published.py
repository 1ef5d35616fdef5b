"""Control charts against the worked examples of the NIST/SEMATECH e-Handbook of Statistical Methods."""

import numpy as np
import pytest

from logbook.analysis.numeric.control_charts import departures, ewma, ewma_limits, proportion_limits

PRINTED = 0.0055  # the handbook prints two decimals


def test_ewma_chart_of_the_handbook() -> None:
    """Section 6.3.2.4, https://www.itl.nist.gov/div898/handbook/pmc/section3/pmc324.htm (weight 0.3, s 2.0539)."""
    values = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
    values += [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    published = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33]
    published += [50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]
    averages = ewma(values, start=50.0, weight=0.3)
    low, high = ewma_limits(50.0, 2.0539, weight=0.3)
    assert np.abs(averages - published).max() < PRINTED
    assert high == pytest.approx(52.5884, abs=5e-5)
    assert low == pytest.approx(47.4115, abs=1e-4)
    assert departures(averages, low, high) == []


def test_proportion_chart_of_the_handbook() -> None:
    """Section 6.3.3.2, https://www.itl.nist.gov/div898/handbook/pmc/section3/pmc332.htm: 30 wafers of 50 chips.

    The handbook prints the average, 0.2313; the limits follow from its formula, and wafers 15 and 23 lie outside.
    """
    defective = [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22]
    defective += [8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6]
    average = sum(defective) / (30 * 50)
    low, high = proportion_limits(average, np.full(30, 50))
    assert average == pytest.approx(0.2313, abs=5e-5)
    assert low[0] == pytest.approx(0.0524275, abs=1e-6)
    assert high[0] == pytest.approx(0.4102391, abs=1e-6)
    assert [wafer + 1 for wafer in departures(np.array(defective) / 50, low, high)] == [15, 23]
