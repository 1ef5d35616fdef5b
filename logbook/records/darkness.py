"""Darkness in words: print against screen, in thirds of a stop; negative is darker."""

THIRDS_PER_STOP = 3
STRIP_THIRDS = range(-3, 4)  # the brightenings on a test strip, in thirds of a stop
_GLYPHS = {0: "", 1: "⅓", 2: "⅔"}
_PARTS = {0: "", 1: "one third", 2: "two thirds"}
_WHOLE = {0: "", 1: "one stop", 2: "two stops"}


def thirds_text(thirds: int) -> str:
    """The signed number of stops.

    >>> thirds_text(-1), thirds_text(4), thirds_text(0)
    ('−⅓', '+1⅓', '0')
    """
    if thirds == 0:
        return "0"
    whole, part = divmod(abs(thirds), THIRDS_PER_STOP)
    return f"{'−' if thirds < 0 else '+'}{whole or ''}{_GLYPHS[part]}"


def thirds_in_brief(thirds: int) -> str:
    """Darkness in ten cells.

    >>> thirds_in_brief(-1), thirds_in_brief(4), thirds_in_brief(0)
    ('⅓ darker', '1⅓ lighter', 'on screen')
    """
    return f"{thirds_text(thirds)[1:]} {'darker' if thirds < 0 else 'lighter'}" if thirds else "on screen"


def thirds_in_words(thirds: int) -> str:
    """Darkness as one says it.

    >>> thirds_in_words(-1), thirds_in_words(4), thirds_in_words(0)
    ('one third darker', 'one stop and one third lighter', 'as on screen')
    """
    if thirds == 0:
        return "as on screen"
    whole, part = divmod(abs(thirds), THIRDS_PER_STOP)
    amount = " and ".join(word for word in (_WHOLE[whole], _PARTS[part]) if word)
    return f"{amount} {'darker' if thirds < 0 else 'lighter'}"


def stops_text(stops: float) -> str:
    """Signed stops with two decimals and a true minus sign.

    >>> stops_text(-0.314), stops_text(0.2)
    ('−0.31', '+0.20')
    """
    shown = f"{abs(stops):.2f}"
    if float(shown) == 0:
        return shown
    return f"{'−' if stops < 0 else '+'}{shown}"


def darkness_of_match(thirds: int) -> int:
    """The darkness to log, in thirds of a stop, where the detail brightened by so many thirds matches the screen.

    If the print had to be brightened, it came out darker.

    >>> darkness_of_match(1)
    -1
    """
    if thirds not in STRIP_THIRDS:
        raise ValueError(f"the strip goes from -3 to 3 thirds, not to {thirds}")
    return -thirds
