"""Prints from a print queue: its finished jobs wait here until a person confirms them."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

import msgspec

from logbook.actions import judging, log_print, planned_test, queue_words, reading_levels
from logbook.actions.log_print import PrintForm
from logbook.actions.queue_words import Words
from logbook.actions.titles import title_of
from logbook.actions.writing import at_once, write
from logbook.link.address import Address
from logbook.link.jobs import Job, State
from logbook.records import Paper, Picture, Print, Record, new_id
from logbook.records.refusal import Refused
from logbook.records.settings import Settings
from logbook.records.text import plain
from logbook.records.wording import counted, setting_text
from logbook.snapshot import planned
from logbook.snapshot.clock import now
from logbook.snapshot.unlogged import DAYS, SETTLED, SHEETS, sheets_kept
from logbook.store import Store, lately, preferences, queued, reading
from logbook.store.journal import Entry
from logbook.store.queued import Copy

ADDRESS = "queue_address"
FITS_MM = 3.0  # a sheet within this of the usual one is the usual one: queues round to whole points


class Waiting(msgspec.Struct, frozen=True, kw_only=True):
    """The copies of one job that wait: how they would be logged, and the records that would be made with them.

    ``paper`` is the paper's name, empty where none is known; ``told`` the settings that the queue itself told, in words.
    """

    copies: tuple[Copy, ...]
    title: str
    paper: str
    told: str
    form: PrintForm
    new: tuple[Record, ...] = ()

    @property
    def number(self) -> int:
        """How many prints these are."""
        return len(self.copies)

    @property
    def planned(self) -> bool:
        """Whether it is a sheet of a planned test, which is still to be printed."""
        return self.copies[0].queue == planned.QUEUE


class Taken(msgspec.Struct, frozen=True):
    """What came of asking a queue: copies new to the logbook, jobs known before, and jobs that were broken off."""

    new: int
    known: int
    broken_off: tuple[Job, ...]


def keep_address(store: Store, address: Address) -> None:
    """Keep the queue's address for the next time; it may hold a password, and is never exported."""
    if preferences.read(store, ADDRESS) != address.whole:
        preferences.write(store, ADDRESS, address.whole)


def note_address(store: Store, typed: str) -> Entry:
    """Keep the address that a person typed. ``Refused`` where it is none of a queue."""
    address = reading_levels.typed_address(typed)
    if address.protocol == "snmp":
        raise Refused("address", "a queue answers at ipp:// or ipps://")
    keep_address(store, address)
    return Entry(entry=0, at=now(), said=f"The queue is asked at {address}", state="nothing")


def address_kept(store: Store) -> str | None:
    """The address of the queue asked last."""
    kept = preferences.read(store, ADDRESS)
    return str(kept) if kept is not None else None


def take(store: Store, address: Address, jobs: Iterable[Job]) -> Taken:
    """Let the copies that the logbook has not met wait to be confirmed. Jobs that were broken off make none."""
    queue = queue_name(address)
    jobs = tuple(jobs)
    done = [job for job in jobs if job.state is State.COMPLETED]
    new = queued.add(store, (copy for job in done for copy in _copies(queue, job)))
    _keep_sheets(store, queue, jobs)
    taken = {(copy.told["number"], copy.told["key"]) for copy in new}
    return Taken(
        new=len(new),
        known=sum((job.number, job.key) not in taken for job in done),
        broken_off=tuple(job for job in jobs if job.state is not State.COMPLETED),
    )


def queue_name(address: Address) -> str:
    """The queue's own name: the end of its path.

    >>> from logbook.link.address import parse_address
    >>> queue_name(parse_address("ipp://localhost/printers/wide"))
    'wide'
    """
    return address.path.rstrip("/").rpartition("/")[2] or address.host


def _copies(queue: str, job: Job) -> Iterable[Copy]:
    told = msgspec.to_builtins(job)
    for copy in range(1, job.copies + 1):
        name = queued.name_of(queue, job.number, copy, job.copies, _unique(queue, job))
        yield Copy(job=name, queue=queue, at=job.at, told=told)


def _unique(queue: str, job: Job) -> str:
    return job.key if job.key.startswith("urn:") else f"{queue} {job.key}"  # numbers begin anew in another queue


def _keep_sheets(store: Store, queue: str, jobs: Iterable[Job]) -> None:
    """Remember the sheets that no copy accounts for: of jobs broken off on the way, and of copies that took several."""
    known = preferences.read(store, SHEETS, {})
    since = now() - timedelta(days=DAYS)
    kept = {key: told for key, told in sheets_kept(known).items() if told[0] > since}
    for job in jobs:
        beside = job.sheets - (job.copies if job.state is State.COMPLETED else 0)
        if beside > 0 and job.at > since:
            kept[_unique(queue, job)] = job.at, beside
    if (told := msgspec.to_builtins(kept)) != known:
        preferences.write(store, SHEETS, told)


def settle_sheets(store: Store, at: datetime) -> None:
    """Say that the sheets up to then that are not in the log were no prints."""
    preferences.write(store, SETTLED, at.isoformat())


def waiting(store: Store) -> tuple[Waiting, ...]:
    """The jobs whose copies wait, in time order, each with the form as it would be logged."""
    together: dict[tuple[str, str], list[Copy]] = {}
    for copy in queued.waiting(store):
        together.setdefault((copy.queue, copy.told["key"]), []).append(copy)
    pictures = {picture.title.casefold(): picture for picture in reading.every(store, Picture)} if together else {}
    words = {queue: queue_words.known(store, queue) for queue, _ in together}
    return tuple(
        _sheet(store, copies[0]) if queue == planned.QUEUE else _waiting(store, copies, pictures, words[queue])
        for (queue, _), copies in together.items()
    )


def confirm(store: Store, job: Waiting, form: PrintForm | None = None, new: Sequence[Record] = ()) -> Entry:
    """Log every waiting copy of a job as a print, as it stands or as ``form`` has it; what its words meant is learnt.

    ``Refused`` where something that a print needs is neither told by the queue nor known from before.
    """
    if form is None:
        return _log(store, job, prints_of(job), job.new)
    return _log(store, job, prints_of(job, form), new)


def confirm_and_judge(store: Store, job: Waiting, copies: Sequence[int], new: Sequence[Record] = (), **seen: Any) -> Entry:
    """Confirm a job as it stands, and give these copies of it (the first is 1) the judgement that says what was ``seen``."""
    prints = prints_of(job)
    with at_once(store):
        _log(store, job, prints, job.new)
        return judging.judge(store, prints[0].id, copies=[prints[copy - 1].id for copy in copies], new=new, **seen).entry


def prints_of(job: Waiting, form: PrintForm | None = None) -> list[Print]:
    """The prints that the copies of a job are, in every logbook the same."""
    first = log_print.as_print(form or job.form, new_id())
    return [
        msgspec.structs.replace(
            first,
            id=copy.print_id,
            at=first.at if job.planned else copy.at,
            job=copy.job,
            edition_number=_numbered(first, place),
        )
        for place, copy in enumerate(job.copies)
    ]


def _log(store: Store, job: Waiting, prints: Sequence[Print], new: Sequence[Record]) -> Entry:
    if job.planned:
        return write(store, f"{plain(job.title)}: a sheet of the planned test logged", save=[*new, *prints])
    said = f"{plain(job.title)}: {counted(len(prints), 'print')} logged from the queue"
    entry = write(store, said, save=[*new, *prints])
    queue_words.learn(store, job.copies[0], prints[0].paper)
    return entry


def pass_over(store: Store, job: Waiting) -> None:
    """Say that a job was no print."""
    queued.pass_over(store, [copy.job for copy in job.copies])


def bring_back(store: Store) -> int:
    """Let the copies passed over last wait again; how many there are."""
    last = queued.passed_over(store)
    if not last:
        return 0
    same = [copy.job for copy in last if copy.told["key"] == last[0].told["key"]]
    queued.pass_over(store, same, passed=False)
    return len(same)


def _numbered(first: Print, place: int) -> int | None:
    if first.edition_number is None:
        return None
    number = first.edition_number + place
    return number if first.edition_size is None or number <= first.edition_size else None


def _waiting(store: Store, copies: list[Copy], pictures: Mapping[str, Picture], words: Words) -> Waiting:
    told = copies[0].told
    title = title_of(told["name"])
    picture = pictures.get(title.casefold())
    paper = reading.get(store, Paper, words.media.get(told["media"], ""))
    form = _begun(store, picture, paper.id if paper is not None else None, words.black_in(told["options"]))
    picture_of_it = picture or Picture(id=new_id(), title=title)
    width, height = _image_mm(form, told["sheet_mm"])
    form = msgspec.structs.replace(
        form,
        at=copies[0].at,
        picture=picture_of_it.id,
        width_mm=width,
        height_mm=height,
        attempt_of=None,
        purpose="final" if form.purpose == "strip" else form.purpose,
        order=form.order if picture is not None else None,
        edition_number=form.edition_number if picture is not None else None,
        edition_size=form.edition_size if picture is not None else None,
        settings=_settings({**form.settings, **told["settings"], **told["options"]}, words),
    )
    on = reading.get(store, Paper, form.paper) if form.paper is not None else None
    return Waiting(
        copies=tuple(copies),
        title=picture_of_it.title,
        paper=on.name if on is not None else "",
        told=", ".join(setting_text(name, value) for name, value in told["settings"].items()),
        form=form,
        new=() if picture is not None else (picture_of_it,),
    )


def _sheet(store: Store, copy: Copy) -> Waiting:
    """A sheet of a planned test: its one copy, as it will be logged once it is printed."""
    paper = reading.get(store, Paper, copy.told["paper"])
    return Waiting(
        copies=(copy,),
        title=copy.told["name"],
        paper=paper.name if paper is not None else "",
        told=planned_test.words(copy.told),
        form=planned_test.form_of(store, copy.told),
    )


def _begun(store: Store, picture: Picture | None, paper: str | None, black: str | None) -> PrintForm:
    """The form that the last print of the picture begins; on the paper or the black that the queue's words mean."""
    of_picture = picture.id if picture is not None else None
    if paper is None and black is not None:
        last = lately.newest_print(store, picture=of_picture) if of_picture is not None else lately.newest_print(store)
        on = reading.get(store, Paper, last.paper) if last is not None else None
        if on is None or on.black != black:
            paper = _paper_of(store, black)
    last = lately.newest_print(store, picture=of_picture, paper=paper) if of_picture is not None else None
    return log_print.like(store, last) if last is not None else log_print.starting_form(store, paper)


def _paper_of(store: Store, black: str) -> str | None:
    """The paper of that black printed on last."""
    prints = [lately.newest_print(store, paper=paper.id) for paper in reading.every(store, Paper) if paper.black == black]
    return max((one for one in prints if one is not None), key=lambda one: one.at).paper if any(prints) else None


def _image_mm(form: PrintForm, sheet: list[float] | None) -> tuple[float | None, float | None]:
    """The image on a sheet of that size: the usual one where it fits, else what its borders leave, lying as it lay."""
    if sheet is None:
        return form.width_mm, form.height_mm
    border = 2 * (form.border_mm or 0)
    short, long = (max(1.0, side - border) for side in sorted(sheet))
    if form.width_mm is not None and form.height_mm is not None:
        usual = sorted((form.width_mm, form.height_mm))
        if abs(usual[0] - short) <= FITS_MM and abs(usual[1] - long) <= FITS_MM:
            return form.width_mm, form.height_mm
        return (long, short) if form.width_mm > form.height_mm else (short, long)
    return max(1.0, sheet[0] - border), max(1.0, sheet[1] - border)


def _settings(settings: Settings, words: Words) -> Settings:
    """All that was told but the option that names the black: the paper says that."""
    return {name: value for name, value in settings.items() if not words.tells_black(name)}
