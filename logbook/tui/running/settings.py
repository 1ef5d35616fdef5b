"""The settings file: which palette, and which keys. TOML in the user's configuration folder.

theme = "cotton"        # room (dark), cotton (light) or terminal (the terminal's own palette)

pictures = "half cells" # or kitty or sixel, where the terminal draws finer ones

lengths = "in"          # or cm: the unit of every length that is shown, and of one typed into a form without its unit

[keys]
another-print = "n"     # a command as the key table names it, with dashes; one key or a list of keys
"""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from logbook.records.new_file import rewrite
from logbook.records.text import plain
from logbook.records.units import LengthUnit

FILE_VARIABLE = "LOGBOOK_SETTINGS"
KNOWN = ("theme", "pictures", "lengths", "keys")
THEME_NAMES = ("", "room", "cotton", "terminal")
LENGTHS: tuple[LengthUnit, ...] = ("cm", "in")
PICTURE_KINDS = ("", "half cells", "kitty", "sixel")


@dataclass(frozen=True)
class Settings:
    """What the file asked for; ``complaints`` are one line each."""

    theme: str = ""
    pictures: str = ""
    keys: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    complaints: tuple[str, ...] = ()
    lengths: LengthUnit = "cm"


def settings_path(environ: Mapping[str, str] = os.environ) -> Path:
    """Where the settings file is, whether it exists or not."""
    if named := environ.get(FILE_VARIABLE):
        return Path(named)
    from platformdirs import user_config_path

    return user_config_path("print-session-logbook") / "settings.toml"


def read_settings(path: Path) -> Settings:
    """The settings of ``path``; a file that is missing is empty, one that cannot be read is complained about."""
    if not path.exists():
        return Settings()
    import tomllib  # most people have no such file: the first screen does not wait for it

    try:
        written = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        return Settings(complaints=(f"{path.name}: {error}",))
    except RecursionError:
        return Settings(complaints=(f"{path.name}: is nested too deeply to be read",))
    strange = [plain(name) for name in written if name not in KNOWN]
    complaints = [f"{path.name}: {name} is no setting; there are {', '.join(KNOWN)}" for name in strange]
    theme = _one_of("theme", THEME_NAMES, written, path.name, complaints)
    pictures = _one_of("pictures", PICTURE_KINDS, written, path.name, complaints)
    keys = _keys(written.get("keys", {}), path.name, complaints)
    lengths = _one_of("lengths", LENGTHS, written, path.name, complaints)
    return Settings(theme, pictures, keys, tuple(complaints), "in" if lengths == "in" else "cm")


def _one_of(field: str, allowed: Sequence[str], written: Mapping[str, object], name: str, complaints: list[str]) -> str:
    """The value of a field, else the first of those allowed."""
    value = written.get(field, allowed[0])
    if isinstance(value, str) and value in allowed:
        return value
    complaints.append(f"{name}: {field}: {value!r} is none of {', '.join(word for word in allowed if word)}")
    return allowed[0]


def _keys(written: object, name: str, complaints: list[str]) -> dict[str, tuple[str, ...]]:
    if not isinstance(written, dict):
        complaints.append(f"{name}: keys: must be a table of command = key")
        return {}
    keys: dict[str, tuple[str, ...]] = {}
    for command, value in written.items():
        listed = [value] if isinstance(value, str) else value
        if isinstance(listed, list) and listed and all(isinstance(key, str) and key for key in listed):
            named = tuple(_as_named(key) for key in listed)
            strange = [key for key in named if not _is_a_key(key)]
            if strange:
                complaints.append(
                    f"{name}: keys.{plain(command)}: there is no key {plain(strange[0])!r}; ctrl+q is written with +"
                )
            else:
                keys[command] = named
        else:
            complaints.append(f"{name}: keys.{command}: must be a key or a list of keys")
    return keys


def _as_named(key: str) -> str:
    """A typed sign as Textual names it.

    >>> _as_named("?"), _as_named("-"), _as_named("n"), _as_named("f12")
    ('question_mark', 'minus', 'n', 'f12')
    """
    if len(key) != 1 or key.isalnum():
        return key
    from textual.keys import KEY_NAME_REPLACEMENTS

    name = unicodedata.name(key, key).lower().replace("-", "_").replace(" ", "_")
    return KEY_NAME_REPLACEMENTS.get(name, name)


def _is_a_key(key: str) -> bool:
    """Whether a terminal can send it, as far as can be told.

    >>> _is_a_key("ctrl+q"), _is_a_key("question_mark"), _is_a_key("é"), _is_a_key("ctrl-q"), _is_a_key("f25")
    (True, True, True, False, False)
    """
    from textual.keys import Keys

    *modifiers, last = key.split("+") if key != "plus" else ["plus"]
    named = {one.value for one in Keys} | {_as_named(chr(code)) for code in range(33, 127)}
    return set(modifiers) <= {"ctrl", "shift", "alt", "super", "meta", "hyper"} and (len(last) == 1 or last in named)


def remember_theme(path: Path, theme: str) -> None:
    """Write ``theme`` into the settings file, leaving every other line as it is."""
    try:
        written = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        written = ""
    line = f'theme = "{theme}"'
    top, table, rest = written.partition("\n[") if not written.startswith("[") else ("", "[", written[1:])
    found = re.search(r"^theme\s*=.*$", top, re.MULTILINE)
    top = top[: found.start()] + line + top[found.end() :] if found else f"{line}\n{top}"
    path.parent.mkdir(parents=True, exist_ok=True)
    rewrite(path, top + table + rest)
