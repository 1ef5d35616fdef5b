"""What a print queue tells of its finished jobs (RFC 8011, Get-Jobs), in the logbook's words.

A queue tells the size of the sheet, the time and the options of each job. What it was not asked to do it does not tell.
"""

from __future__ import annotations

from datetime import UTC, datetime
from enum import Enum

import msgspec

from logbook.link.answer import Attributes
from logbook.link.media import sheet_mm, sheet_of
from logbook.records.settings import Setting
from logbook.records.text import has_control, plain

LONGEST_TEXT = 200
MOST_COPIES = 1_000  # more of one job is a fault of the queue

JOB_TEMPLATE = [  # asked for by name: some queues read a job from disk only where it is
    "job-name", "document-name-supplied", "job-uuid", "job-id", "job-state", "copies", "media", "media-col",
    "date-time-at-completed", "time-at-completed", "print-quality", "printer-resolution", "print-rendering-intent",
    "print-color-mode", "job-media-sheets-completed",
]  # fmt: skip
INTENTS: dict[str, dict[str, Setting]] = {  # print-rendering-intent (PWG 5100.13); "auto" tells nothing
    "perceptual": {"intent": "perceptual"},
    "relative": {"intent": "relative"},
    "relative-bpc": {"intent": "relative", "black_point_compensation": True},
    "absolute": {"intent": "absolute"},
    "saturation": {"intent": "saturation"},
}
QUALITIES = {3: "draft", 4: "normal", 5: "high"}  # print-quality (RFC 8011, section 5.2.13)
# What a queue tells of every job and no print is made with. Whatever else it tells is an option, and kept.
OF_THE_QUEUE = (
    "job-", "document-", "time-at-", "date-time-at-", "number-of-", "printer-uri", "output-device", "finishings", "number-up",
    "page-ranges", "multiple-document-handling", "copies", "media", "compression", "original-requesting", "attributes-",
    "orientation-requested", "sides", "impressions", "errors-count", "print-quality", "printer-resolution",
    "print-rendering-intent", "print-color-mode", "output-bin", "force-front-side", "my-jobs", "auth-info",
)  # fmt: skip


class State(Enum):
    """How a job ended (job-state, RFC 8011, section 5.3.7)."""

    CANCELLED = 7
    ABORTED = 8
    COMPLETED = 9


class Job(msgspec.Struct, frozen=True, kw_only=True):
    """One finished job. ``key`` is its UUID, else its number and its time: the same job always has the same.

    ``sheets`` is how many it took, as far as the queue counts them; ``sheet_mm`` is width and height of one; ``media`` the
    queue's own word for the paper, where it has one;
    ``options`` are those that are no settings of ours, by the queue's own names.
    """

    key: str
    number: int
    name: str
    at: datetime
    state: State
    copies: int = 1
    sheets: int = 0
    sheet_mm: tuple[float, float] | None = None
    media: str = ""
    settings: dict[str, Setting] = {}
    options: dict[str, Setting] = {}


def job_of(told: Attributes, asked_at: datetime) -> Job | None:
    """The job that a queue tells of; None where it is not finished, or has neither number nor time."""
    number, state = _number(told, "job-id"), _number(told, "job-state")
    at = told.time("date-time-at-completed") or _since_1970(_number(told, "time-at-completed"), asked_at)
    if number is None or at is None or state not in {one.value for one in State}:
        return None
    column = told.members("media-col")
    media = _first(column.texts("media-type"))
    named = _first(told.texts("media")) or _first(column.texts("media-size-name"))
    sheet = sheet_of(column) or sheet_mm(named)
    return Job(
        key=_first(told.texts("job-uuid")) or f"{number} of {at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}",
        number=number,
        name=_first(told.texts("job-name")) or _first(told.texts("document-name-supplied")),
        at=at.astimezone(asked_at.tzinfo),
        state=State(state),
        copies=min(max(1, _number(told, "copies") or 1), MOST_COPIES),
        sheets=min(_number(told, "job-media-sheets-completed") or 0, MOST_COPIES),
        sheet_mm=sheet,
        media=media or (named if sheet is None else ""),
        settings=_settings(told),
        options=_options(told),
    )


def _settings(told: Attributes) -> dict[str, Setting]:
    settings: dict[str, Setting] = dict(INTENTS.get(_first(told.texts("print-rendering-intent")), {}))
    resolution = told.dots_per_inch("printer-resolution")
    if resolution:
        settings["resolution_dpi"] = resolution
    quality = QUALITIES.get(_number(told, "print-quality") or 0)
    if quality is not None:
        settings["quality"] = quality
    colour = _first(told.texts("print-color-mode"))
    if colour and colour != "auto":
        settings["colour_mode"] = colour
    return settings


def _options(told: Attributes) -> dict[str, Setting]:
    options: dict[str, Setting] = {}
    for name in told.values:
        value = told.told(name)
        if name.startswith(OF_THE_QUEUE) or value is None or len(name) > LONGEST_TEXT or has_control(name):
            continue
        options[name] = _line(value) if isinstance(value, str) else value
    return options


def _number(told: Attributes, name: str) -> int | None:
    numbers = told.integers(name)
    return numbers[0] if numbers and numbers[0] >= 0 else None


def _first(texts: list[str]) -> str:
    return _line(texts[0]) if texts else ""


def _line(text: str) -> str:
    return plain(text)[:LONGEST_TEXT].strip()


def _since_1970(seconds: int | None, asked_at: datetime) -> datetime | None:
    """The time that some queues tell in seconds since 1970; those that count from their own start tell none."""
    at = datetime.fromtimestamp(seconds, UTC) if seconds else None
    return at if at is not None and abs(asked_at - at).days < 20 * 365 else None
