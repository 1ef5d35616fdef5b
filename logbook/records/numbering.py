"""Running numbers, pencilled on the backs of prints: 412 from the first machine, KDF12 from one that worked on a copy.

Within the program a number is an integer: each machine has a block of its own, of which the three letters are the name.
"""

from logbook.records.fields import NUMBER_LETTERS as LETTERS

BLOCK = 1_000_000  # numbers in a block; the first machine's bears no letters
BLOCKS = len(LETTERS) ** 3


def as_written(number: int) -> int | str:
    """A number as it stands on a print and in a file.

    >>> as_written(412), as_written(1_000_012), as_written(8_000_000_001)
    (412, 'BBB12', 'ZZZ1')
    """
    block, within = divmod(number, BLOCK)
    if not block:
        return number
    first, rest = divmod(block - 1, len(LETTERS) ** 2)
    second, third = divmod(rest, len(LETTERS))
    return f"{LETTERS[first]}{LETTERS[second]}{LETTERS[third]}{within}"


def as_integer(written: int | str) -> int:
    """The number that ``as_written`` wrote; ``ValueError`` where it is none.

    >>> as_integer(412), as_integer("0412"), as_integer("#bbb12")
    (412, 412, 1000012)
    """
    text = str(written).strip().removeprefix("#").upper()
    letters = text[:3] if text[:1].isalpha() else ""
    within = int(text[len(letters) :])
    if not 0 < within < BLOCK:
        raise ValueError("a running number is 1 to 999,999, after three letters if any")
    if not letters:
        return within
    first, second, third = (LETTERS.index(letter) for letter in letters)
    return (1 + (first * len(LETTERS) + second) * len(LETTERS) + third) * BLOCK + within


def padded(number: int) -> str:
    """A number as it is shown: four digits, or letters and what follows them.

    >>> padded(412), padded(1_000_012)
    ('0412', 'BBB12')
    """
    return f"{number:04d}" if number < BLOCK else str(as_written(number))
