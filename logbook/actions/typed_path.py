"""A picture's file as a person types, pastes or drops it into a line."""

from pathlib import Path
from urllib.parse import unquote, urlsplit

ENDINGS = {".tif", ".tiff", ".jpg", ".jpeg", ".png"}


def typed_path(text: str) -> Path | None:
    """The file that was typed, pasted or dropped into a line: quoted, escaped or as an address; None where it is no path.

    >>> str(typed_path("'/prints/Ebb at Low Stair.tif'")), str(typed_path("file:///prints/Ebb%20one.tif"))
    ('/prints/Ebb at Low Stair.tif', '/prints/Ebb one.tif')
    >>> typed_path("Ebb at Low Stair"), typed_path("Day/Night")
    (None, None)
    """
    told = text.strip()
    if told[:1] in ("'", '"') and told[-1:] == told[:1]:
        told = told[1:-1]
    if told.startswith("file://"):
        told = unquote(urlsplit(told).path)
    if not (told.startswith(("/", "~", "./", "../")) or Path(told).suffix.lower() in ENDINGS):
        return None
    path = Path(told).expanduser()
    bare = Path(told.replace("\\", "")).expanduser()
    return path if path.is_file() or not bare.is_file() else bare
