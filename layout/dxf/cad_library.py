"""The library for CAD files, loaded without a look at the machine's fonts and settings."""

from __future__ import annotations

import logging
import os
import sys
from pathlib import Path

#: Holds a list of fonts with nothing in it. Left alone the library looks through every font of the machine,
#: keeps what it found in the user's home, and sets dimensions by it: other bytes on every machine.
CACHE = Path(__file__).parent / "cadcache"


def load_cad() -> None:
    """Load ``ezdxf``; to be called before anything is imported from it."""
    if "ezdxf" in sys.modules:
        return
    logging.getLogger("ezdxf").addHandler(logging.NullHandler())
    logging.getLogger("ezdxf").propagate = False
    names = ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")
    before = {name: os.environ.get(name) for name in names}
    os.environ.update(dict.fromkeys(names, str(CACHE)))
    try:
        import ezdxf  # noqa: F401
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value
