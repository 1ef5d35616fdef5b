"""What differed from the attempt before, in a few words for a list."""

from __future__ import annotations

from logbook.records.settings import Settings
from logbook.records.wording import setting_label, setting_text


def settings_changed(before: Settings | None, after: Settings) -> str:
    """The settings that were changed, in words; nothing for a print that follows none.

    >>> settings_changed({"shadow_lift": 6}, {"shadow_lift": 9}), settings_changed(None, {"shadow_lift": 9})
    ('shadow lift 6 → 9', '')
    """
    if before is None:
        return ""
    names = [*before, *(name for name in after if name not in before)]
    return ", ".join(
        f"{setting_label(name)} {setting_text(name, before.get(name))} → {setting_text(name, after.get(name))}"
        for name in names
        if before.get(name) != after.get(name)
    )
