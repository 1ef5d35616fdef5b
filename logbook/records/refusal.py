"""How every part of the program says no."""


class Refusal(Exception):
    """Something that can't be done as asked. Its text is one clear line (a file's faults: one line each) that says where and
    what; nothing was changed."""


class Refused(Refusal):
    """Something that cannot be logged as it stands: ``where`` (a field's name, or ``""``) and ``what`` is wrong.

    >>> str(Refused("levels", "cyan rose from 40 to 60 % without a new cartridge"))
    'levels: cyan rose from 40 to 60 % without a new cartridge'
    """

    def __init__(self, where: str, what: str) -> None:
        super().__init__(where, what)
        self.where = where
        self.what = what

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" if self.where else self.what
