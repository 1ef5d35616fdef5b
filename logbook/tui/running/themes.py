"""The three palettes: unprinted cotton paper, a room with the lights down, and the terminal's own.

The screen stands beside prints that are being judged, so the greys are neutral (equal red, green and
blue) and a single muted accent is kept for what asks to be acted upon.
"""

from __future__ import annotations

from textual.theme import Theme

COTTON = "cotton"
ROOM = "room"
TERMINAL = "terminal"


def _greys(ink: str, quiet: str, rule: str, chosen: str, field: str, accent: str) -> dict[str, str]:
    """The variables our style sheets use, and those of Textual's own widgets that would tint."""
    return {
        "quiet": quiet,
        "rule": rule,
        "chosen": chosen,
        "field": field,
        "asks": accent,
        "text": ink,
        "text-muted": quiet,
        "border": rule,
        "border-blurred": rule,
        "block-cursor-foreground": ink,
        "block-cursor-background": chosen,
        "block-cursor-text-style": "bold",
        "block-hover-background": chosen,
        "input-cursor-background": ink,
        "input-selection-background": rule,
        "screen-selection-background": rule,
        "scrollbar": rule,
        "scrollbar-hover": quiet,
        "scrollbar-active": quiet,
        "link-color": ink,
        "link-background-hover": chosen,
        "link-color-hover": ink,
    }


def _neutral(
    name: str, *, dark: bool, paper: str, field: str, raised: str, ink: str, quiet: str, rule: str, accent: str
) -> Theme:
    """A theme made of one neutral scale and one accent."""
    ground = {"scrollbar-background": paper, "scrollbar-background-hover": paper, "scrollbar-background-active": paper}
    return Theme(
        name=name,
        dark=dark,
        primary=quiet,
        secondary=quiet,
        accent=accent,
        warning=accent,
        error=accent,
        success=quiet,
        foreground=ink,
        background=paper,
        surface=paper,
        panel=raised,
        boost=raised,
        text_alpha=1.0,
        variables={**_greys(ink, quiet, rule, raised, field, accent), **ground, "scrollbar-corner-color": paper},
    )


THEMES = (
    _neutral(
        ROOM,
        dark=True,
        paper="#1a1a1a",
        field="#232323",
        raised="#2b2b2b",
        ink="#cfcfcf",
        quiet="#8c8c8c",
        rule="#444444",
        accent="#c2a56d",
    ),
    _neutral(
        COTTON,
        dark=False,
        paper="#f1f1f1",
        field="#e9e9e9",
        raised="#e0e0e0",
        ink="#222222",
        quiet="#666666",
        rule="#bdbdbd",
        accent="#7a5a16",
    ),
    Theme(
        name=TERMINAL,
        ansi=True,
        primary="ansi_default",
        secondary="ansi_default",
        accent="ansi_yellow",
        warning="ansi_yellow",
        error="ansi_yellow",
        success="ansi_default",
        foreground="ansi_default",
        background="ansi_default",
        surface="ansi_default",
        panel="ansi_default",
        boost="ansi_default",
        variables={
            **_greys("ansi_default", "ansi_bright_black", "ansi_bright_black", "ansi_default", "ansi_default", "ansi_yellow"),
            "ansi-background": "ansi_default",
            "ansi-foreground": "ansi_default",
            "block-cursor-text-style": "reverse",
            "input-cursor-background": "ansi_default",
            "input-cursor-foreground": "ansi_default",
            "input-cursor-text-style": "reverse",
            "input-selection-foreground": "ansi_default",
            "screen-selection-foreground": "ansi_default",
            "scrollbar-background": "ansi_default",
            "scrollbar-background-hover": "ansi_default",
            "scrollbar-background-active": "ansi_default",
            "scrollbar-corner-color": "ansi_default",
        },
    ),
)


def after(name: str) -> str:
    """The theme that follows ``name`` when the lights are switched.

    >>> after("room"), after("cotton"), after("terminal")
    ('cotton', 'terminal', 'room')
    """
    names = [theme.name for theme in THEMES]
    return names[(names.index(name) + 1) % len(names)] if name in names else ROOM
