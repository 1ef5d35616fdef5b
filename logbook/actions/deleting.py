"""Taking a print out of the log with what was seen of it, or a judgement that was meant for another; undo brings both back."""

from collections.abc import Collection

from logbook.actions.meant import print_meant
from logbook.actions.orders import became_of, judged_order
from logbook.actions.writing import at_once, write
from logbook.records import Judgement, Picture, Print
from logbook.records.refusal import Refused
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


def delete_judgements(store: Store, print_id: str, judgement_ids: Collection[str]) -> Entry:
    """Delete judgements of a print that were meant for another; its order is as the judgements left say."""
    with at_once(store):
        known = print_meant(store, print_id)
        seen = reading.where(store, Judgement, "print", known.id)
        wrong = [judgement for judgement in seen if judgement.id in judgement_ids]
        if not wrong:
            raise Refused("", "this judgement is not there any more")
        verdicts = [judgement.verdict for judgement in seen if judgement not in wrong and judgement.verdict is not None]
        order = judged_order(store, known.order, [known.id], verdicts[-1:] == ["keep"], wrong[-1].at.date())
        count = "A judgement" if len(wrong) == 1 else f"{len(wrong)} judgements"
        said = f"{count} of print {print_number(reading.number_of(store, known.id) or 0)} deleted{became_of(order)}"
        return write(store, said, save=[*filter(None, [order])], delete=wrong)


def _count(judgements: int) -> str:
    return "its judgement" if judgements == 1 else f"its {judgements} judgements"
