"""The parts of README that the program itself makes: ``python -m tests.readme_parts`` writes them anew."""

import asyncio
import html
import re
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from rich.cells import cell_len

import logbook
from logbook.tui.running.key_table import key_table

ROOT = Path(logbook.__file__).parents[1]
README = ROOT / "README.md"
PICTURES = {"today": "1", "tone": "3", "batches": "5"}
SIZE = 116, 34
_INDENTED = re.compile(r'x="([\d.]+)"( y="[\d.]+") textLength="([\d.]+)"([^>]*>)((?:&#160;)+)([^<]+)</text>')
_KEYS = re.compile(r"(<!-- keys: .*? -->\n).*?(<!-- end of keys -->)", re.DOTALL)


def with_keys(readme: str) -> str:
    """README with the key table as the commands have it now."""
    return _KEYS.sub(lambda found: f"{found[1]}\n{key_table()}\n{found[2]}", readme)


def without_blanks_in_front(svg: str) -> str:
    """The picture with every text beginning at its first letter: some viewers draw no blanks before it.

    >>> without_blanks_in_front('<text x="10" y="20" textLength="40" id="a">&#160;&#160;2&#160;</text>')
    '<text x="30.0" y="20" textLength="20.0" id="a">2&#160;</text>'
    """

    def moved(found: re.Match[str]) -> str:
        left, down, length, rest, blanks, words = found.groups()
        before = blanks.count(";")
        cell = float(length) / (before + cell_len(html.unescape(words)))
        return (
            f'x="{round(float(left) + before * cell, 1)}"{down} textLength="{round(float(length) - before * cell, 1)}"'
            f"{rest}{words}</text>"
        )

    return _INDENTED.sub(moved, svg)


async def draw_pictures(folder: Path, today: date) -> None:
    """Pictures of the demonstration's screens as SVG, drawn by the program."""
    import demo_db
    from logbook.tui.app import LogbookApp
    from tests.tui.drawing import drawn
    from tests.tui.screens import settled

    with TemporaryDirectory() as temporary:
        path = Path(temporary) / "demonstration.db"
        demo_db.build(path, today)
        app = LogbookApp(path, name="demonstration")
        async with app.run_test(size=SIZE) as pilot:
            for name, key in PICTURES.items():
                await pilot.press(key)
                await settled(pilot)
                picture = without_blanks_in_front(drawn(app))
                (folder / f"{name}.svg").write_text(picture, encoding="utf-8")


def main() -> None:
    """Write the key table and the pictures."""
    README.write_text(with_keys(README.read_text(encoding="utf-8")), encoding="utf-8")
    folder = ROOT / ".github"
    folder.mkdir(exist_ok=True)
    asyncio.run(draw_pictures(folder, date(2026, 11, 25)))


if __name__ == "__main__":
    main()
