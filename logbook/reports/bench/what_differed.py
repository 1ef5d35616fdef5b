"""What differed from the attempt before, in a few words for a list."""

from __future__ import annotations

from logbook.records.settings import Settings
from logbook.records.units import number_text
from logbook.records.wording import brief_setting_label, setting_text


def settings_changed(before: Settings | None, after: Settings) -> str:
    """The settings that were changed, in a few words; nothing for a print that follows none.

    >>> settings_changed({"shadow_lift": 6}, {"shadow_lift": 9}), settings_changed(None, {"shadow_lift": 9})
    ('lift 6 → 9', '')
    """
    if before is None:
        return ""
    names = [*before, *(name for name in after if name not in before)]
    return ", ".join(
        f"{brief_setting_label(name)} {_value(name, before)} → {_value(name, after)}"
        for name in names
        if before.get(name) != after.get(name)
    )


def _value(name: str, settings: Settings) -> str:
    value = settings.get(name)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return number_text(value, 2).replace("-", "−")
    return setting_text(name, value)
