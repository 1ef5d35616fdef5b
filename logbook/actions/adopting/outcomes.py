"""How a print came out, in the person's own words: verdict, darkness, shadows, flaws."""

import re
from collections.abc import Mapping
from typing import Any, get_args

from logbook.actions.adopting.vocabulary import AMOUNTS, DARKER_OR_LIGHTER, OUTCOMES, YES_OR_NO, words
from logbook.records.fields import Shadows, Verdict
from logbook.records.refusal import Refused
from logbook.records.text import plain

_VERDICTS, _SHADOWS, _FLAWS = get_args(Verdict), get_args(Shadows), ("banding", "scratch", "dust", "blotch")
_SIGNS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "−": "-", "–": "-"}
_AMOUNT = re.compile(r"(?P<sign>[-+])?\s*(?:(?P<whole>\d+)\s+)?(?P<top>\d+(?:[.,]\d+)?)(?:/(?P<bottom>[1-9]\d*))?")
_BETWEEN = re.compile(r"[,;/&+](?!\d)|\s[-–]\s|\b(?:but|and|aber|und|mais|et|y|e)\b")


def thirds(text: str, unit: str) -> int | None:
    """Darkness in thirds of a stop, negative is darker; a bare number is in ``unit`` (thirds or stops). None where a cell
    says darker or lighter but not by how much; ``ValueError`` where it says nothing of it.

    >>> thirds("one third too dark", "stops"), thirds("-⅔", "stops"), thirds("+1", "thirds"), thirds("too dark", "stops")
    (-1, -2, 1, None)
    """
    said = words(text).split()
    if OUTCOMES.get(" ".join(said)) == "on screen":
        return 0
    meant = {AMOUNTS.get(word) or DARKER_OR_LIGHTER.get(word) for word in said}
    direction = -1 if "darker" in meant else 1 if "lighter" in meant else 0
    amount, sign = _amount(text, said)
    if amount is None and not direction:
        raise ValueError(f"{text.strip()[:40]!r} is not a darkness; write it like -1/3, or one third darker")
    if amount is None:
        return None
    is_thirds = "thirds" in meant or (unit == "thirds" and "stops" not in meant and "/" not in text and not direction)
    found = round(amount * (1 if is_thirds else 3)) * (direction or sign)
    if not -6 <= found <= 6:
        raise ValueError(f"{text.strip()[:40]!r} lies beyond two stops")
    return found


def _amount(text: str, said: list[str]) -> tuple[float | None, int]:
    """How much, and -1 where it has a minus sign; a word such as ``a`` counts only before a third or a stop."""
    for sign, written in _SIGNS.items():
        text = text.replace(sign, written)
    found = _AMOUNT.search(text)
    if found is not None:
        value = int(found["whole"] or 0) + float(found["top"].replace(",", ".")) / int(found["bottom"] or 1)
        return value, -1 if found["sign"] == "-" else 1
    meant = [AMOUNTS[word] for word in said if word in AMOUNTS]
    spelt = [float(one) for one in meant if one not in ("thirds", "stops")]
    measured = len(spelt) < len(meant) or (bool(spelt) and spelt[0] < 1)
    return (spelt[0] if spelt else 1.0) if measured else None, 1


def outcome(text: str, meanings: Mapping[str, str]) -> tuple[dict[str, Any], list[str]]:
    """What a result says (``verdict``, ``darkness``, ``shadows``, ``flaws``), and what of it says nothing known.

    ``meanings`` are the person's own words, decided once.

    >>> outcome("OK, slightly dark", {"slightly dark": "-1"})
    ({'verdict': 'keep', 'darkness': -1}, [])
    >>> outcome("bin; fingerprints", {})
    ({'verdict': 'scrap'}, ['fingerprints'])
    """
    said: dict[str, Any] = {}
    unknown = []
    whole = words(text) in meanings or words(text) in OUTCOMES
    for part in [text] if whole else _BETWEEN.split(text):
        if not part.strip():
            continue
        understood = meaning(meanings[words(part)]) if words(part) in meanings else _understood(part)
        if understood is None:
            unknown.append(part.strip())
        else:
            flaws = (*said.get("flaws", ()), *understood.pop("flaws", ()))
            said |= understood | ({"flaws": flaws} if flaws else {})
    return said, unknown


def _understood(part: str) -> dict[str, Any] | None:
    known = words(part) if _field_of(words(part)) else OUTCOMES.get(words(part))
    if known is not None and known != "on screen":
        return _field_of(known)
    try:
        bare = re.fullmatch(r"[-+−–]?\s*\d+", part.strip()) is not None  # a number that may count thirds, stops or stars
        found = None if bare else thirds(part, "stops")
    except ValueError:
        return None
    return None if found is None else {"darkness": found}


def _field_of(word: str) -> dict[str, Any] | None:
    if word in _VERDICTS:
        return {"verdict": word}
    if word in _SHADOWS:
        return {"shadows": word}
    return {"flaws": (word,)} if word in _FLAWS else None


def flaws(text: str) -> tuple[str, ...]:
    """The flaws in a cell, in our words where they are known.

    >>> flaws("Streifen; head strike"), flaws("none")
    (('banding', 'head strike'), ())
    """
    said = [part.strip() for part in re.split(r"[,;]", text) if part.strip()]
    known = [OUTCOMES.get(words(part), part) for part in said if YES_OR_NO.get(words(part)) != "no"]
    return tuple(one if one in _FLAWS else part for one, part in zip(known, said, strict=False))


def meaning(text: str) -> dict[str, Any]:
    """What a person says that a word of theirs means: a verdict, thirds of a stop, shadows, a flaw; ``note`` is nothing else.

    Raises ``Refused``.

    >>> meaning("redo -2"), meaning("note")
    ({'verdict': 'redo', 'darkness': -2}, {})
    """
    said: dict[str, Any] = {}
    for word in text.replace("−", "-").replace(",", " ").casefold().split():
        found = {"darkness": int(word)} if re.fullmatch(r"[-+]?[0-6]", word) else _field_of(word)
        if found is None and word not in ("note", "third", "thirds"):
            known = ", ".join((*_VERDICTS, *_SHADOWS, *_FLAWS))
            raise Refused("", f"'{plain(word)}' is none of {known}, a number of thirds such as -1, or note")
        said |= found or {}
    return said
