"""Forms for ink levels, exchanges, cartridges, cleanings and the link to a printer."""
