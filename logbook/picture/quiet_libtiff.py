"""libtiff, which Pillow decodes with, kept from writing to standard error.

It writes its complaints there by itself, over whatever stands on the screen; Pillow has no way to stop it. Pillow's
own exception carries what we need, so its handlers are taken away where the library can be reached.
"""

import ctypes
import ctypes.util
from functools import cache
from pathlib import Path

import PIL

_HANDLERS = ("TIFFSetErrorHandler", "TIFFSetErrorHandlerExt", "TIFFSetWarningHandler", "TIFFSetWarningHandlerExt")


@cache
def silence_libtiff() -> bool:
    """Takes libtiff's error and warning handlers away, once; whether a library was found to do it to."""
    done = [_silenced(library) for library in _libraries()]
    return any(done)


def _libraries() -> list[str]:
    """Where Pillow's libtiff may be: beside it in a wheel (Linux, macOS), else the system's."""
    package = Path(PIL.__file__).parent
    beside = [*package.parent.glob("pillow.libs/libtiff*"), *package.glob(".dylibs/libtiff*")]
    system = ctypes.util.find_library("tiff") if not beside else None
    return [*map(str, beside), *([system] if system else [])]


def _silenced(library: str) -> bool:
    try:
        loaded = ctypes.CDLL(library)
        for name in _HANDLERS:
            handler = getattr(loaded, name)
            handler.argtypes, handler.restype = [ctypes.c_void_p], ctypes.c_void_p
            handler(None)
    except (OSError, AttributeError):
        return False
    return True
