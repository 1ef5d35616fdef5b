"""What differed from the attempt before, in a few words for a list."""

from __future__ import annotations

from logbook.records.settings import Settings
from logbook.records.units import number_text
from logbook.records.wording import setting_label, setting_text

_SHORT = {
    "shadow_lift": "lift",
    "brighten_stops": "bright",
    "black_point_compensation": "black point",
    "resolution_dpi": "dpi",
    "scale_percent": "scale",
    "image_ppi": "ppi",
}


def settings_changed(before: Settings | None, after: Settings) -> str:
    """The settings that were changed, in a few words; nothing for a print that follows none.

    >>> settings_changed({"shadow_lift": 6}, {"shadow_lift": 9}), settings_changed(None, {"shadow_lift": 9})
    ('lift 6 → 9', '')
    """
    if before is None:
        return ""
    names = [*before, *(name for name in after if name not in before)]
    return ", ".join(
        f"{_SHORT.get(name) or setting_label(name)} {_value(name, before)} → {_value(name, after)}"
        for name in names
        if before.get(name) != after.get(name)
    )


def _value(name: str, settings: Settings) -> str:
    value = settings.get(name)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return number_text(value, 2).replace("-", "−")
    return setting_text(name, value)
