"""Forms for ink levels, changeovers, cartridges, cleanings and the link to a printer."""
