"""The shadow lift as others apply it: LittleCMS's own program with the device link, scipy with the typed points."""

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from logbook.picture.lift import lift_to
from logbook.picture.lift_table import write_lift_table


@given(output=st.integers(0, 64), pin=st.integers(20, 130))
def test_a_natural_spline_through_the_typed_points_stays_within_half_a_level(output: int, pin: int) -> None:
    lift = lift_to(output, pin)
    spline = CubicSpline(*zip(*lift.points, strict=True), bc_type="natural")
    assert np.abs(spline(np.arange(256)) - lift.at(np.arange(256.0))).max() <= 0.5 + 1e-9
    assert len(lift.points) <= 12


@pytest.mark.skipif(shutil.which("transicc") is None, reason="transicc (Debian: liblcms2-utils) is not installed")
@pytest.mark.parametrize("output", [0, 9, 40])
@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_transicc_applies_the_device_link(tmp_path: Path, mode: str, output: int) -> None:
    lift = lift_to(output)
    write_lift_table(lift, mode, tmp_path / "lift.icc")  # type: ignore[arg-type]
    levels = np.array([0.0, 1, 3, 10, 30.5, 61, 62, 100, 200, 255])
    lines = "".join(f"{level}\n" * (3 if mode == "RGB" else 1) for level in levels)
    command = ["transicc", f"-l{tmp_path / 'lift.icc'}", "-n", "-c0"]
    done = subprocess.run(command, input=lines, capture_output=True, text=True, check=True)
    found = np.array([[float(word) for word in line.split()] for line in done.stdout.splitlines() if line.strip()])
    assert np.abs(found - lift.at(levels)[:, None]).max() < 0.03
