"""Which supply of the printer is which ink of the logbook: a proposal, for a person to confirm once."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

import msgspec

from logbook.link.supplies import Supply

_WORD = re.compile(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])")
_SAME = {"gray": "grey", "lt": "light"}
_LETTERS = re.compile(r"[A-Za-z]+")
# What stands for a word in an ink's short name, besides its first letter: MK or MBK, GY or LGY, OR (common practice, no source).
_SHORT = {"black": ("k", "bk"), "grey": ("g", "gy"), "orange": ("o", "or"), "green": ("g", "gr"), "yellow": ("y", "ye")}
_HUES = {"#00ffff": "cyan", "#ff00ff": "magenta", "#ffff00": "yellow"}


class Match(msgspec.Struct, frozen=True, kw_only=True):
    """A supply and the ink it is, or None; ``sure`` where its name alone says so."""

    index: int
    name: str = ""
    colour: str = ""
    ink: str | None = None
    sure: bool = False


def propose(supplies: Sequence[Supply], inks: Sequence[str], kept: Sequence[Match] = ()) -> tuple[Match, ...]:
    """A match for every ink supply: as ``kept`` where the supply is the same, by name, short name, colour, then by place.

    >>> two = [Supply(index=1, name="Matte black"), Supply(index=2, colour="lightGray")]
    >>> [(match.ink, match.sure) for match in propose(two, ["matte_black", "grey", "light_grey"])]
    [('matte_black', True), ('light_grey', True)]
    """
    asked = [one for one in supplies if one.kind == "ink"]
    found: dict[int, Match] = {}
    known = {(match.index, match.name, match.colour): match for match in kept if match.ink is None or match.ink in inks}
    for one in asked:
        same = known.get((one.index, one.name, one.colour))
        if same is not None:
            found[one.index] = msgspec.structs.replace(same, sure=True)
    _by_words(asked, inks, found)
    _by_short_name(asked, inks, found)
    _by_hue(asked, inks, found)
    _by_place(asked, inks, found)
    return tuple(found.get(one.index) or _match(one, None, False) for one in asked)


def matches_still(supplies: Sequence[Supply], kept: Iterable[Match]) -> bool:
    """Whether the printer's list of inks is the one that was matched."""
    now = {(one.index, one.name, one.colour) for one in supplies if one.kind == "ink"}
    return now == {(match.index, match.name, match.colour) for match in kept}


def words(name: str) -> Counter[str]:
    """The words of a name, however it is written.

    >>> words("lightGray") == words("Light grey") == words("light_grey")
    True
    """
    found = (word.lower() for word in _WORD.findall(name))
    return Counter(_SAME.get(word, word) for word in found)


def _by_words(asked: Sequence[Supply], inks: Sequence[str], found: dict[int, Match]) -> None:
    claims: dict[str, list[Supply]] = {}
    free = _free(inks, found)
    for one in asked:
        ink = _named(one, free) if one.index not in found else None
        if ink is not None:
            claims.setdefault(ink, []).append(one)
    for ink, claiming in claims.items():
        if len(claiming) == 1:
            found[claiming[0].index] = _match(claiming[0], ink, True)


def short_names(ink: str) -> set[str]:
    """The short names that an ink goes by.

    >>> sorted(short_names("matte_black")), sorted(short_names("light_cyan"))
    (['mbk', 'mk'], ['lc'])
    """
    found = {""}
    for word in ink.split("_"):
        found = {name + part for name in found for part in _SHORT.get(word, (word[:1],))}
    return found


def _by_short_name(asked: Sequence[Supply], inks: Sequence[str], found: dict[int, Match]) -> None:
    """By a short name alone a match is proposed, never sure: MK may be another printer's magenta and black."""
    claims: dict[str, list[Supply]] = {}
    free = _free(inks, found)
    for one in asked:
        there = {word.lower() for word in _LETTERS.findall(one.name)}
        fitting = [ink for ink in free if short_names(ink) & there] if one.index not in found else []
        if len(fitting) == 1:
            claims.setdefault(fitting[0], []).append(one)
    for ink, claiming in claims.items():
        if len(claiming) == 1:
            found[claiming[0].index] = _match(claiming[0], ink, False)


def _named(one: Supply, inks: Sequence[str]) -> str | None:
    """The ink whose words all stand in the supply's name or colour name: the one with the most words."""
    for told in (one.name, one.colour):
        there = words(told)
        fitting = [ink for ink in inks if words(ink) <= there]
        longest = max((words(ink).total() for ink in fitting), default=0)
        best = [ink for ink in fitting if words(ink).total() == longest]
        if len(best) == 1:
            return best[0]
    return None


def _by_hue(asked: Sequence[Supply], inks: Sequence[str], found: dict[int, Match]) -> None:
    for one in asked:
        ink = _HUES.get(one.colour.lower())
        if one.index not in found and ink in _free(inks, found):
            found[one.index] = _match(one, ink, False)


def _by_place(asked: Sequence[Supply], inks: Sequence[str], found: dict[int, Match]) -> None:
    """Where as many supplies as inks are left, the rest go by their order."""
    left, free = [one for one in asked if one.index not in found], _free(inks, found)
    if len(left) == len(free):
        for one, ink in zip(left, free, strict=True):
            found[one.index] = _match(one, ink, False)


def _free(inks: Sequence[str], found: dict[int, Match]) -> list[str]:
    taken = {match.ink for match in found.values()}
    return [ink for ink in inks if ink not in taken]


def _match(one: Supply, ink: str | None, sure: bool) -> Match:
    return Match(index=one.index, name=one.name, colour=one.colour, ink=ink, sure=sure)
