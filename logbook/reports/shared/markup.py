"""Elements of a page: built as a tree, so that text is escaped by construction and can never become markup."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from logbook.records.text import plain

__all__ = ["Node", "element", "html_of"]

Node = ET.Element


def element(tag: str, *children: Node | str | None, **attributes: str | float | None) -> Node:
    """An element with its children in order; ``class_`` is class, other underscores are hyphens.

    >>> html_of(element("p", "Ebb <b>", element("b", "& tide"), class_="title"))
    '<p class="title">Ebb &lt;b&gt;<b>&amp; tide</b></p>'
    """
    known = {name: value for name, value in attributes.items() if value is not None}
    node = ET.Element(tag, {_name(name): _value(value) for name, value in known.items()})
    for child in children:
        if isinstance(child, ET.Element):
            node.append(child)
        elif child is not None:
            _append_text(node, child)
    return node


def html_of(node: Node) -> str:
    """The element as HTML."""
    return ET.tostring(node, encoding="unicode", method="html")


def _append_text(node: Node, text: str) -> None:
    # The style sheet keeps its lines; whatever else is said is one line of plain text.
    shown = text if node.tag == "style" else plain(text)
    if len(node):
        node[-1].tail = (node[-1].tail or "") + shown
    else:
        node.text = (node.text or "") + shown


def _name(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def _value(value: str | float) -> str:
    return plain(value) if isinstance(value, str) else f"{value:.2f}".rstrip("0").rstrip(".")
