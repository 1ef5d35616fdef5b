"""Bars of ink: a level, and where the ink of a time went; kinds are told by texture, not by colour."""

from __future__ import annotations

from textual.content import Content

from logbook.analysis.ink.account import Account

__all__ = ["account_bar", "account_key", "level_bar"]

LEVEL_CELLS = 10
TEXTURES = {"prints": "█", "changeovers": "▒", "cleanings": "░", "by itself": "·", "unlogged": "▚", "unexplained": "╌"}


def level_bar(percent: float, *, loaded: bool = True) -> Content:
    """A level as a bar with its number; thin where the ink is not in the lines.

    >>> level_bar(37.0).plain, level_bar(65.0, loaded=False).plain
    ('━━━━──────  37 %', '╌╌╌╌╌╌────  65 %')
    """
    filled = min(LEVEL_CELLS, round(percent / 100 * LEVEL_CELLS))
    bar = Content("━" * filled) if loaded else Content.styled("╌" * filled, "$quiet")
    number = Content.styled(f" {percent:3.0f}", "$foreground" if loaded else "$quiet")
    return Content.assemble(bar, ("─" * (LEVEL_CELLS - filled), "$rule"), number, (" %", "$quiet"))


def account_bar(account: Account, most: float, width: int) -> Content:
    """Where ink went, ``width`` cells for ``most`` ml. What the log holds beyond what was used is no part of it.

    >>> account_bar(Account(100.0, 50.0, 30.0, 10.0), 200.0, 40).plain
    '██████████▒▒▒▒▒▒░░╌╌                    '
    """
    cells, reached = "", 0.0
    known = (account.prints, account.changeovers, account.cleanings, account.idle, account.unlogged)
    for sign, ml in zip(TEXTURES.values(), (*known, max(0.0, account.unexplained)), strict=True):
        reached += ml / most * width if most > 0 else 0.0
        cells += sign * (min(width, round(reached)) - len(cells))
    return Content(f"{cells:<{width}}")


def account_key() -> Content:
    """What the textures mean."""
    signs = (Content.assemble(sign, (f" {name}", "$quiet")) for name, sign in TEXTURES.items())
    return Content.assemble(" ", Content("  ").join(signs))
