"""The fields of a print: what was printed on the left, how the printer was set on the right."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime, time
from typing import TYPE_CHECKING, Any

from logbook.records.fields import Purpose
from logbook.records.settings import SETTINGS, Setting
from logbook.records.units import exact_size_text
from logbook.records.wording import setting_label
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import Option, PickerField
from logbook.tui.widgets.fields.text_field import ParsedField, TextField, length_field, number_field, size_field
from logbook.tui.widgets.fields.turn_field import turning_switch, turning_words

if TYPE_CHECKING:
    from logbook.tui.forms.print.model import PrintModel

PURPOSES: tuple[Purpose, ...] = ("strip", "work", "final")
INTENTS = ("perceptual", "relative", "absolute", "saturation")
MANAGERS = ("application", "driver")
NARROW, WIDE = 22, 38
FURTHER = "further"


def sheet_fields(model: PrintModel, now: datetime, wide: int) -> Iterator[Field]:
    """What was printed, on what, for whom."""
    form = model.form
    size = exact_size_text(form.width_mm, form.height_mm) if form.width_mm and form.height_mm else ""
    yield PickerField("picture", "picture", model.pictures, form.picture, new="picture", width=wide)
    yield PickerField("paper", "paper", model.papers, form.paper, new="paper", described=True, width=wide)
    yield size_field("size", "size", size)
    yield length_field("border_mm", "border", form.border_mm, zero=True)
    yield PickerField("stock", "roll or box", model.stock, form.stock, new="roll or box", described=True, width=wide)
    yield turning_words("purpose", "purpose", PURPOSES, form.purpose, unsaid="")
    yield PickerField("order", "order", model.orders, form.order, new="order", described=True, width=wide)
    edition = edition_text(form.edition_number, form.edition_size)
    yield ParsedField("edition_number", "edition", parse_edition, edition, placeholder="3/25")
    yield PickerField("screen", "screen", model.screens, form.screen, new="screen", width=wide)
    yield PickerField("printer", "printer", model.printers, form.printer, new="printer", described=True, width=wide)
    yield TextField("note", "note", form.note or "", width=wide)
    yield number_field("ink_ml", "ink, ml", form.ink_ml, low=0)
    shown = form.at.strftime("%Y-%m-%d %H:%M") if form.at is not None else ""
    yield ParsedField("at", "printed at", lambda text: parse_time(text, now), shown, placeholder="now", width=17)


def setting_fields(model: PrintModel, wide: int) -> Iterator[Field]:
    """How the printer was set: the settings every screen knows, then free ones."""
    known = model.form.settings
    for name in ("profile", "media"):
        yield _text_setting(model, name, wide)
    yield turning_words("intent", "intent", INTENTS, _known(known, "intent"))
    yield turning_switch("black_point_compensation", "black point", _known(known, "black_point_compensation"))
    yield number_field("shadow_lift", "shadow lift", _known(known, "shadow_lift"), low=0, high=64, whole=True)
    yield number_field("brighten_stops", "brightened by", _known(known, "brighten_stops"), low=-20, high=20, aside="stops")
    yield number_field("resolution_dpi", "resolution", _known(known, "resolution_dpi"), low=1, aside="dpi")
    yield turning_switch("bidirectional", "both ways", _known(known, "bidirectional"))
    yield _text_setting(model, "sharpening", wide)
    yield number_field("image_ppi", "file", _known(known, "image_ppi"), low=1, aside="ppi")
    yield number_field("scale_percent", "scale", _known(known, "scale_percent"), low=0.01, aside="%")
    yield turning_words("colour_managed_by", "colours by", MANAGERS, _known(known, "colour_managed_by"))
    for name, value in known.items():
        if name not in SETTINGS:
            yield FreeField(name, value, wide)
    yield ParsedField(FURTHER, "further", parse_further, placeholder="name=value", width=wide)


def _known(settings: dict[str, Setting], name: str) -> Any:
    return settings.get(name)


def _text_setting(model: PrintModel, name: str, wide: int) -> PickerField:
    value = model.form.settings.get(name)
    options = model.texts[name]
    if value is not None and all(option.id != value for option in options):
        options = (*options, Option(str(value), str(value)))
    return PickerField(name, setting_label(name), options, None if value is None else str(value), new="value", width=wide)


class FreeField(TextField):
    """A setting of the person's own; it keeps its type while it is not typed over."""

    def __init__(self, setting: str, value: Setting, wide: int) -> None:
        self._shown = setting_words(value)
        self._value = value
        super().__init__(field_name(setting), setting_label(setting)[:13], self._shown, width=wide)

    @property
    def value(self) -> Any:
        if self.line.value == self._shown:
            return self._value
        return parse_setting(self.text) if self.text else None


def field_name(setting: str) -> str:
    """The name of a setting's field; a free setting may be called anything, so its letters are spelt out.

    >>> field_name("intent"), field_name("gap")
    ('intent', 'free_676170')
    """
    return setting if setting in SETTINGS else f"free_{setting.encode().hex()}"


def setting_words(value: Setting) -> str:
    """A free setting as it is typed.

    >>> setting_words(True), setting_words(2.0), setting_words("wide")
    ('on', '2', 'wide')
    """
    if isinstance(value, bool):
        return "on" if value else "off"
    return f"{value:g}" if isinstance(value, float) else str(value)


def parse_setting(text: str) -> Setting:
    """A free setting's value: on or off, a number, else text.

    >>> parse_setting("on"), parse_setting("2,5"), parse_setting("720"), parse_setting("wide")
    (True, 2.5, 720, 'wide')
    """
    typed = text.strip()
    if typed.casefold() in ("on", "off", "true", "false"):
        return typed.casefold() in ("on", "true")
    if re.fullmatch(r"[-+]?\d{1,15}", typed):
        return int(typed)
    if re.fullmatch(r"[-+]?\d{0,15}[.,]\d{1,15}", typed):
        return float(typed.replace(",", "."))
    return typed


def parse_further(text: str) -> dict[str, Setting]:
    """Further settings, told apart by semicolons.

    >>> parse_further("platen gap=wide; warm-up = on")
    {'platen gap': 'wide', 'warm-up': True}
    """
    found: dict[str, Setting] = {}
    for part in filter(str.strip, text.split(";")):
        name, equals, value = part.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise ValueError(f"{part.strip()[:30]!r}: type name=value")
        found[name.strip()] = parse_setting(value)
    return found


def parse_edition(text: str) -> tuple[int, int | None]:
    """A number of an edition, with or without its size.

    >>> parse_edition("3/25"), parse_edition("7")
    ((3, 25), (7, None))
    """
    number, _, size = (part.strip() for part in text.partition("/"))
    try:
        found = int(number), int(size) if size else None
    except ValueError:
        raise ValueError(f"{text.strip()[:20]!r} is no edition: type 3/25") from None
    if found[0] < 1 or (found[1] is not None and found[1] < found[0]):
        raise ValueError(f"{text.strip()[:20]!r}: an edition counts from 1 to its size")
    return found


def edition_text(number: int | None, size: int | None) -> str:
    """What ``parse_edition`` reads back.

    >>> edition_text(3, 25), edition_text(7, None), edition_text(None, None)
    ('3/25', '7', '')
    """
    if number is None:
        return ""
    return str(number) if size is None else f"{number}/{size}"


def parse_time(text: str, now: datetime) -> datetime:
    """A moment: ``14:02`` today, or a day and a time; with the offset of ``now`` unless one is typed.

    >>> parse_time("14:02", datetime.fromisoformat("2026-11-25T15:00:00+01:00")).isoformat()
    '2026-11-25T14:02:00+01:00'
    """
    typed = text.strip().replace("T", " ")
    day, _, clock = typed.rpartition(" ")
    try:
        at = datetime.combine(date.fromisoformat(day) if day else now.date(), time.fromisoformat(clock.rjust(5, "0")))
    except ValueError:
        raise ValueError(f"{text.strip()[:20]!r} is no time: type 14:02 or 2026-11-25 14:02") from None
    return at.replace(tzinfo=now.tzinfo) if at.tzinfo is None else at
