"""Taking a print out of the log, with what was seen of it; undo brings both back."""

from logbook.actions.refusal import Refused
from logbook.actions.writing import write
from logbook.records import Judgement, Picture, Print
from logbook.records.text import plain
from logbook.records.wording import print_number
from logbook.store import Store, reading
from logbook.store.journal import Entry


def delete_print(store: Store, print_id: str) -> Entry:
    """Delete a print and its judgements; refused, with the count, while other prints are attempts after it."""
    known = reading.get(store, Print, print_id)
    if known is None:
        raise Refused("", "this print is not there any more")
    later = reading.where(store, Print, "attempt_of", print_id)
    if later:
        count = "one print is an attempt" if len(later) == 1 else f"{len(later)} prints are attempts"
        raise Refused("", f"{count} after this one; it was not deleted")
    judgements = reading.where(store, Judgement, "print", print_id)
    picture = reading.get(store, Picture, known.picture)
    called = f"{print_number(reading.number_of(store, print_id) or 0)} {plain(picture.title) if picture else ''}".strip()
    with_them = f" with {_count(len(judgements))}" if judgements else ""
    return write(store, f"Print {called}{with_them} deleted", delete=[*judgements, known])


def delete_judgement(store: Store, judgement_id: str) -> Entry:
    """Delete one judgement of a print."""
    known = reading.get(store, Judgement, judgement_id)
    if known is None:
        raise Refused("", "this judgement is not there any more")
    number = print_number(reading.number_of(store, known.print) or 0)
    return write(store, f"A judgement of print {number} deleted", delete=[known])


def _count(judgements: int) -> str:
    return "its judgement" if judgements == 1 else f"its {judgements} judgements"
