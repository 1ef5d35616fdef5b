"""The numbers given in editions, without reading every print."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.store.opening import Store

_NUMBERED = """
SELECT p.id, p.picture, p.edition_number, p.edition_size,
    (SELECT j.verdict FROM judgement AS j WHERE j.print = p.id AND j.verdict IS NOT NULL
     ORDER BY j.instant DESC, j.entered DESC LIMIT 1)
FROM print AS p WHERE p.edition_number IS NOT NULL {picture} ORDER BY p.instant, p.entered
"""


@dataclass(frozen=True)
class Numbered:
    """A print that bears a number of an edition, with what its last verdict says (None while it waits)."""

    print: str
    picture: str
    number: int
    size: int | None
    verdict: str | None


def numbered(store: Store, picture: str | None = None) -> list[Numbered]:
    """The numbered prints (of one picture, where given) in time order."""
    clause, values = ("AND p.picture = ?", [picture]) if picture is not None else ("", [])
    return [Numbered(*row) for row in store.connection.execute(_NUMBERED.format(picture=clause), values)]
