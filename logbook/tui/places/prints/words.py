"""A print's page in words and tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content

from logbook.records.darkness import thirds_in_brief, thirds_in_words
from logbook.records.text import plain
from logbook.records.units import length_text, number_text, size_text
from logbook.records.wording import print_number
from logbook.reports.bench.one_print import in_a_sentence
from logbook.tui.places.prints.columns import ordinal
from logbook.tui.widgets.lists.columns import cell

if TYPE_CHECKING:
    from logbook.reports.bench.one_print import OnePrint, Seen
    from logbook.reports.picture.inspection import Findings, Inspection

LABEL_WIDTH = 17
LEAST_VALUE_WIDTH = 11
MOST_VALUE_WIDTH = 24
MARK = "◆ "
_SPELLED = {1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth"}


def heading(one: OnePrint) -> Content:
    """Which print this is, and what became of it."""
    tried = one.attempts[one.place].attempt
    attempt = f", {_SPELLED.get(tried, ordinal(tried))} attempt" if len(one.attempts) > 1 else ""
    printed = f"printed {one.print.at.day} {one.print.at:%B %Y, %H:%M}"
    return Content("\n").join(
        [
            Content.assemble(
                (f"{print_number(one.number)} {plain(one.picture.title)}{attempt}", "bold"), ("  " + printed, "$quiet")
            ),
            Content(in_a_sentence(one)),
        ]
    )


def details(one: OnePrint) -> Content:
    """Paper, size and the rest of what is not a setting."""
    known = one.print
    size = size_text(known.width_mm, known.height_mm)
    border = f", border {length_text(known.border_mm)}" if known.border_mm else ""
    lines = [f"{plain(one.paper.name)} · {size}{border}"]
    more = [f"prepared on {one.screen}" if one.screen else "", f"order {one.order}" if one.order else ""]
    if known.purpose != "final":
        more.insert(0, {"strip": "test strip", "work": "work print"}[known.purpose])
    if known.edition_number is not None:
        of = f" of {known.edition_size}" if known.edition_size else ""
        more.append(f"edition {known.edition_number}{of}")
    more += [f"“{title}” bears {print_number(one.number)} too" for title in one.bearing_it_too]
    if known.ink_ml is not None:
        more.append(f"ink {number_text(known.ink_ml)} ml")
    said = [" · ".join(part for part in more if part), f"“{plain(known.note)}”" if known.note else ""]
    return Content("\n".join([*lines, *(part for part in said if part), ""]))


def attempts_lines(one: OnePrint, width: int) -> list[Content]:
    """Settings of the attempts side by side, as many attempts as fit; what differs between those is marked."""
    label_width = max(2, min(LABEL_WIDTH, width - LEAST_VALUE_WIDTH - 1))
    fit = max(1, (width - label_width) // (LEAST_VALUE_WIDTH + 1))
    first = max(0, min(one.place - fit // 2, len(one.attempts) - fit))
    places = range(first, min(first + fit, len(one.attempts)))
    room = max(1, min(MOST_VALUE_WIDTH, (width - label_width) // len(places) - 1))
    lines = _heads(one, places, room, label_width - 1) if len(one.attempts) > 1 else []
    for row in one.rows:
        differs = row.differs and (len(places) == 1 or len({row.values[place] for place in places}) > 1)
        label = Content.assemble((MARK if differs else "  ", "$foreground"), row.label)
        cells = [_value(row.values[place], differs, place == one.place, room) for place in places]
        lines.append(Content(" ").join([cell(label, label_width - 1).stylize("" if differs else "$quiet"), *cells]))
    hidden = len(one.attempts) - len(places)
    if hidden:
        lines.append(Content.styled(f"  {hidden} more; [ and ] go to them", "$quiet"))
    return lines


def _heads(one: OnePrint, places: range, room: int, label_width: int) -> list[Content]:
    heads: list[list[Content]] = [[], [], []]
    for place in places:
        tried = one.attempts[place]
        mark = "›" if place == one.place else " "
        style = "bold" if place == one.place else "$quiet"
        said = (
            f"{mark}{ordinal(tried.attempt)} {print_number(tried.number)}",
            f" {tried.verdict or ('–' if tried.judged else 'waits')}",
            f" {'–' if tried.darkness is None else thirds_in_brief(tried.darkness)}",
        )
        for head, words in zip(heads, said, strict=True):
            head.append(cell(Content.styled(words, style), room))
    labels = [cell(Content.styled(words, "$quiet"), label_width) for words in ("", "  result", "  seen")]
    return [Content(" ").join([label, *head]) for label, head in zip(labels, heads, strict=True)]


def _value(words: str, differs: bool, here: bool, room: int) -> Content:
    style = "bold" if differs and here else "$foreground" if differs or here else "$quiet"
    return cell(Content.styled(f" {words or '–'}", style), room)


def judgements(one: OnePrint) -> Content:
    """Every judgement, the first one first."""
    if not one.seen:
        return Content.styled("\nNobody has judged it yet. Press v.", "$quiet")
    return Content("\n").join([Content(""), *(_judgement(seen) for seen in one.seen)])


def _judgement(seen: Seen) -> Content:
    judged = seen.judgement
    parts = [
        judged.verdict or "",
        thirds_in_words(judged.darkness) if judged.darkness is not None else "",
        f"shadows {judged.shadows}" if judged.shadows else "",
        f"cast {plain(judged.cast)}" if judged.cast else "",
        ", ".join(plain(flaw) for flaw in judged.flaws or ()),
        f"“{plain(judged.note)}”" if judged.note else "",
    ]
    return Content.assemble(
        (f"{judged.at.day} {judged.at:%b %Y %H:%M}  ", "$quiet"),
        " · ".join(part for part in parts if part),
        (_light(seen), "$quiet"),
    )


def _light(seen: Seen) -> str:
    lamp = seen.light
    lux = f", {number_text(lamp.illuminance_lx, 0)} lx" if lamp is not None and lamp.illuminance_lx else ""
    under = f"  under {plain(lamp.name)}{lux}" if lamp is not None else ""
    hours = seen.judgement.hours_dry
    if hours is None:
        return under
    dry = f"{number_text(hours)} h dry" if hours >= 1 else f"{hours * 60:.0f} min dry"
    return f"{under}, {dry}" if under else f"  {dry}"


def picture_words(inspection: Inspection, findings: Findings) -> Content:
    """The figures beside the picture, the lift and the proofs; every part wraps to the room there is."""
    from logbook.reports.picture.inspection_text import facts, lift_in_words, proof_in_words, share_text

    lines: list[Content] = []
    for label, text in facts(inspection, findings):
        said = Content(text)
        lines.append(Content.assemble((f"{label}  ", "$quiet"), said) if label else said)
    lines += [Content(""), Content(lift_in_words(findings))]
    if findings.output is not None:
        lines += [Content(""), Content(f"Proof on {findings.output.name}"), Content(proof_in_words(findings))]
    lines += [
        Content(
            f"{proof.way.intent}, compensation {'on' if proof.way.compensated else 'off'}: "
            f"{share_text(proof.blocked_share)} blocked, {share_text(proof.out_of_gamut_share - proof.darker_share)} colour lost"
        )
        for proof in findings.proofs
    ]
    return Content("\n").join(lines)
