"""A demonstration whose every text is hostile: markup, links, HTML, formulas, characters that reorder, hide or control."""

import json
import sqlite3
import unicodedata
from contextlib import closing
from pathlib import Path

from logbook.store import lines

MARKUP = "[bold red]x[/] [@click=app.exit]q[/] [[<script>alert(1)</script> & \"'"
REORDERING = "\u202etfel\u2066\u200b\ufeff\u2028"
VALID = f"={MARKUP}{REORDERING}\n\t|*_`#"  # what a record may hold
CONTROL = f"\x1b[2J\x1b]0;owned\x07\x9b31m\x00{MARKUP}\x7f\r\x08"  # what only a file made by other means can hold

_TEXTS = {
    "printer": ("name",),
    "paper": ("name", "finish", "profile"),
    "screen": ("name",),
    "light": ("name",),
    "picture": ("title", "file"),
    '"order"': ("title", "client"),
    "print": ("note",),
    "judgement": ('"cast"', "note"),
    "cartridge": ("lot",),
    "changeover": ("note",),
    "cleaning": ("note",),
    "wedge": ("note",),
    "journal_entry": ("said",),
}
INK = "cyan"
KEPT_PRINTS = 250
_INKS = (("printer", "inks"), ("gauge", "levels"))


def spoil(path: Path, text: str) -> None:
    """Put ``text`` into every text of a logbook, the names of a setting and of an ink included, behind the program's back.

    Only the newest prints stay: enough for every answer, and soon worked out.
    """
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("BEGIN")
        prints = [id for (id,) in connection.execute("SELECT id FROM print")]
        connection.execute("CREATE TEMP TABLE old AS SELECT id FROM print ORDER BY instant DESC LIMIT -1 OFFSET ?", [KEPT_PRINTS])
        connection.execute("DELETE FROM judgement WHERE print IN old")
        connection.execute("UPDATE print SET attempt_of = NULL WHERE attempt_of IN old")
        connection.execute("DELETE FROM print WHERE id IN old")
        for table, columns in _TEXTS.items():
            for column in columns:
                shown = f"{table.strip(chr(34))} {column.strip(chr(34))} {text}"
                connection.execute(f"UPDATE {table} SET {column} = ? || ' ' || rowid", [shown])
        connection.execute("UPDATE judgement SET flaws = ?", [json.dumps([text[:60]])])
        settings = json.dumps({text[:60]: f"setting {text}", "profile": f"profile {text}", "media": text, "sharpening": text})
        connection.execute("UPDATE print SET settings = json_patch(settings, ?) WHERE entered % 2", [settings])
        for table, column in _INKS:
            quoted = (json.dumps(INK), json.dumps(text[:60]))
            connection.execute(f"UPDATE {table} SET {column} = replace({column}, ?, ?)", quoted)
        connection.execute("UPDATE cartridge SET ink = ? WHERE ink = ?", [text[:60], INK])
        lines.refresh_many(connection, prints)
        connection.execute("COMMIT")


def harmful(shown: str) -> set[str]:
    """The characters of what was shown that control a terminal, reorder or hide."""
    return {sign for sign in shown if sign != "\n" and unicodedata.category(sign) in {"Cc", "Cf", "Zl", "Zp", "Cs"}}
