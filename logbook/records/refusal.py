"""How every part of the program says no."""


class Refusal(Exception):
    """Something that can't be done as asked. Its text is one clear line (a file's faults: one line each) that says where and
    what; nothing was changed."""
