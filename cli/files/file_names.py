"""File names made from the user's words: safe on every system, short, and all different."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

#: Longest stem [bytes of UTF-8]: with suffix and number it stays below what any common file system allows.
STEM_BYTES = 120

#: Names that Windows keeps for devices, whatever follows the first dot.
_DEVICES = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])", re.IGNORECASE)


def file_names(job: str, faces: Sequence[str]) -> tuple[str, ...]:
    """Stems of the files of a job's faces, in the order given.

    Letters and digits of every script are kept; all else becomes a hyphen: separators, control characters,
    marks that turn the reading direction, quotes, blanks.

    Args:
        job: the job's name.
        faces: the faces' names; none gives no stem.

    Returns:
        One stem a face, ``Linden-Row-lot-4-Front``: no two alike even where case does not count.
    """
    taken: set[str] = set()
    stems = []
    for face in faces:
        stem = wanted = safe_stem(f"{_plain(job)}-{_plain(face)}")
        number = 2
        while stem.casefold() in taken:
            stem = f"{wanted}-{number}"
            number += 1
        taken.add(stem.casefold())
        stems.append(stem)
    return tuple(stems)


def safe_stem(text: str) -> str:
    """One file name, without its suffix, made from any text.

    Returns:
        At most ``STEM_BYTES`` bytes of UTF-8, never empty, no device name.
    """
    stem = _plain(text)
    stem = stem.encode()[:STEM_BYTES].decode(errors="ignore").strip("-") or "unnamed"
    return f"{stem}-file" if _DEVICES.fullmatch(stem) else stem


def _plain(text: str) -> str:
    composed = unicodedata.normalize("NFC", text)
    kept = "".join(sign if unicodedata.category(sign)[0] in "LNM" else "-" for sign in composed)
    return re.sub("-+", "-", kept).strip("-")
