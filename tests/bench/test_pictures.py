"""Inspecting 100 megapixels: time and memory against Pillow decoding the same file alone.

Run on demand: ``pytest -s --no-header tests/bench/test_pictures.py``. Every figure is the best of some runs, each in a
process of its own, in processor time; both sides read the file from the system's cache.
"""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.bench.row import Row
from tests.picture.files import write_tiff

WIDTH, HEIGHT = 12_240, 8_160
RUNS = 3
KINDS = {"8.jpg": "JPEG", "8.png": "PNG", "16-deflate.tif": "TIFF of 16 bits, deflated"}
MOST_TIME, MOST_MEMORY = 1.5, 2.5

_PRELUDE = """
import json, sys, time
def peak():  # of this program alone; getrusage would count the peak of whoever started it
    return next(int(line.split()[1]) for line in open("/proc/self/status") if line.startswith("VmHWM")) / 1024
from PIL import Image
Image.MAX_IMAGE_PIXELS = None
import PIL.TiffImagePlugin, PIL.PngImagePlugin, PIL.JpegImagePlugin
from logbook.reports.picture import inspection
base = peak()
start = time.process_time()
"""
_DECODE = "image = Image.open(sys.argv[1]); image.load()\n"
_INSPECT = "inspection.answer(sys.argv[1], inspection.Options(long_mm=520, borders_mm=(25,) * 4, roll_mm=609.6))\n"
_END = "print(json.dumps([time.process_time() - start, peak() - base]))"


def made(folder: Path, name: str) -> Path:
    """A made-up landscape of 100 megapixels with grain; 16 bits where the name says so."""
    path = folder / name
    rng = np.random.default_rng(1)
    grain = rng.normal(0, 0.012, (240, WIDTH)).astype(np.float32)
    bits = 16 if "16" in name else 8
    pixels = np.empty((HEIGHT, WIDTH, 3), np.uint16 if bits == 16 else np.uint8)
    x = np.arange(WIDTH, dtype=np.float32)[None] / WIDTH
    for top in range(0, HEIGHT, 240):
        y = np.arange(top, top + 240, dtype=np.float32)[:, None] / HEIGHT
        light = 0.05 + 0.85 * (1 - y) ** 1.5 * (0.6 + 0.4 * np.sin(7 * x + 3 * y)) + np.roll(grain, top, axis=1)
        pixels[top : top + 240] = np.clip(light[..., None] * [1, 0.95, 0.85] * (2**bits - 1), 0, 2**bits - 1)
    if name == "16.tif":
        write_tiff(path, pixels)
    elif name == "16-deflate.tif":
        write_tiff(path, pixels, rowsperstrip=16, compression="zlib", predictor=2)
    else:
        Image.fromarray(pixels).save(path, **({"compression": "tiff_lzw"} if "lzw" in name else {}))
    return path


def best(path: Path, work: str) -> tuple[float, float]:
    """Least seconds and most megabytes of some runs."""
    runs = []
    for _ in range(RUNS):
        done = subprocess.run([sys.executable, "-c", _PRELUDE + work + _END, path], capture_output=True, text=True, check=True)
        runs.append(json.loads(done.stdout))
    return min(run[0] for run in runs), max(run[1] for run in runs)


def row(folder: Path, name: str) -> Row:
    """Inspecting against decoding the same file, each the best of some runs."""
    path = made(folder, name)
    (alone, _), (ours, _) = best(path, _DECODE), best(path, _INSPECT)
    return Row(f"`inspect` of 100 megapixels, {KINDS[name]}", ours, "Pillow decoding it", alone, limit=MOST_TIME)


@pytest.mark.parametrize("name", ["8.tif", "8-lzw.tif", "8.png", "8.jpg", "16.tif", "16-deflate.tif"])
def test_inspecting_costs_little_more_than_decoding(tmp_path: Path, name: str) -> None:
    path = made(tmp_path, name)
    alone, theirs = best(path, _DECODE)
    ours, memory = best(path, _INSPECT)
    decoded = WIDTH * HEIGHT * 3 * (2 if name.startswith("16") else 1) / 2**20
    print(
        f"\n{name}: {ours:.2f} s against {alone:.2f} s ({ours / alone:.2f} ×); "
        f"{memory:.0f} MB against {theirs:.0f} MB ({memory / decoded:.2f} × the decoded picture of {decoded:.0f} MB)"
    )
    assert ours <= MOST_TIME * alone
    assert memory <= MOST_MEMORY * decoded
