"""The title that the name of a file or of a job stands for."""

import re
from urllib.parse import unquote

from logbook.records.text import plain

_PATH = re.compile(r"file://|[/~\\]|\.{1,2}/|[A-Za-z]:[/\\]")
_ENDING = re.compile(r"\.(?:tiff?|jpe?g|png|pdf|psd|psb)$", re.IGNORECASE)
_NUMBER = r"\d+(?:[.,]\d+)?"
_SIDES = rf"(?<![0-9A-Za-z.]){_NUMBER}\s*(?:mm|cm|in)?\s*[x×]\s*{_NUMBER}"
_SIZE_WORDS = re.compile(rf"[\s_,(-]*{_SIDES}\s*(?:mm|cm|inch|in|″|\")?\)?(?=$|[\s_,)-])", re.IGNORECASE)


def title_of(name: str) -> str:
    """A picture's title in a job's or a file's name: without its ending, and without a size.

    >>> title_of("Ebb at Low Stair 40x50.tif"), title_of("signal_mast_24×30cm.tiff"), title_of("Fog, 12x18in (copy)")
    ('Ebb at Low Stair', 'signal mast', 'Fog (copy)')
    >>> title_of("file:///prints/Ebb%20one.tif"), title_of("C:\\\\prints\\\\Ebb.tif"), title_of("Day/Night")
    ('Ebb one', 'Ebb', 'Day/Night')
    """
    name = plain(unquote(name) if name.startswith("file:") else name).strip()
    if _PATH.match(name):
        name = re.split(r"[/\\]", name)[-1]
    words = _SIZE_WORDS.sub(" ", _ENDING.sub("", name))
    return " ".join(words.replace("_", " ").split()) or "untitled"


def is_path(title: str) -> bool:
    """Whether what stands for a title is the path of a picture's file.

    >>> is_path("/prints/Ebb.tif"), is_path("C:\\\\prints\\\\Ebb.tif"), is_path("Day/Night"), is_path("No. 3")
    (True, True, False, False)
    """
    return bool(_PATH.match(title) and _ENDING.search(title))
