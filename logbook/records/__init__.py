"""What a logbook holds. Imports nothing else of ours."""

from logbook.records.inking import Cartridge, Changeover, Cleaning, Gauge
from logbook.records.paper import Paper, Stock, Wedge
from logbook.records.picture import Picture
from logbook.records.planning import Bench, Order, PerBlack
from logbook.records.printer import Ink, Printer
from logbook.records.printing import Judgement, Print
from logbook.records.record import Record, kind_of, new_id
from logbook.records.viewing import Light, Screen

# In an order in which each kind refers only to kinds before it (a print's attempt_of aside).
RECORDS: tuple[type[Record], ...] = (
    Printer,
    Paper,
    Stock,
    Screen,
    Light,
    Picture,
    Order,
    Print,
    Judgement,
    Cartridge,
    Gauge,
    Changeover,
    Cleaning,
    Bench,
    Wedge,
)
KINDS: dict[str, type[Record]] = {kind_of(record): record for record in RECORDS}

__all__ = [
    "KINDS",
    "RECORDS",
    "Bench",
    "Cartridge",
    "Changeover",
    "Cleaning",
    "Gauge",
    "Ink",
    "Judgement",
    "Light",
    "Order",
    "Paper",
    "PerBlack",
    "Picture",
    "Print",
    "Printer",
    "Record",
    "Screen",
    "Stock",
    "Wedge",
    "kind_of",
    "new_id",
]
