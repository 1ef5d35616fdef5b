"""A real browser for the pages: Chromium without a window, on a wrapper that measures the page in a frame."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

needs_browser = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here to look at the page with")

_WRAPPER = """<!DOCTYPE html><meta charset="utf-8"><body><iframe style="border:0;width:{width}px;height:900px" srcdoc="{page}">
</iframe><pre id="told"></pre><script>
window.onload = () => {{
  const page = document.querySelector("iframe").contentDocument, root = page.documentElement;
  const told = (() => {{ {measure} }})();
  document.getElementById("told").textContent = JSON.stringify(told);
}};
</script>"""


def look(page: str, folder: Path, width: int, measure: str) -> Any:
    """What the script ``measure`` returns of the page shown ``width`` pixels wide; it sees ``page`` and ``root``."""
    wrapper = folder / "wrapper.html"
    wrapper.write_text(_WRAPPER.format(width=width, page=html.escape(page), measure=measure), encoding="utf-8")
    dumped = run(folder, "--window-size=1400,1000", "--dump-dom", wrapper.as_uri())
    found = re.search(r'<pre id="told">(.*?)</pre>', dumped, re.DOTALL)
    assert found is not None, dumped[:400]
    return json.loads(html.unescape(found[1]))


def run(folder: Path, *arguments: str) -> str:
    """Chromium's standard output, with a profile of its own in ``folder``."""
    assert CHROMIUM is not None
    profile = folder / "profile"
    command = [CHROMIUM, *FLAGS, f"--user-data-dir={profile}", *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=True).stdout
