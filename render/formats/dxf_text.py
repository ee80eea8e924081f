"""What a DXF file accepts as text and as a name."""

from __future__ import annotations

import re
from collections.abc import Container

from evencourse.render.drawing.fonts import TURNING

_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
#: A backslash that would begin a coded character anywhere in the file.
_CODED = re.compile(r"\\(?=[UuMm]\+)")
_FORBIDDEN = re.compile(r"[<>/\\\":;?*|,=`']")
_NAME_LENGTH = 120


def plain(text: str) -> str:
    """Text without control characters, as any string of a DXF file must be.

    Args:
        text: what it says.

    Returns:
        The same with control characters and lone surrogates made spaces, without signs that turn round what
        follows them; a backslash that would start a coded character stands apart from it.
    """
    return _CODED.sub("\\\\ ", _CONTROL.sub(" ", TURNING.sub("", text)))


def for_text(text: str) -> str:
    """Text for TEXT and ATTRIB: signs that would be read as codes stand apart.

    ``%%`` begins a code, a caret one of a control character.
    """
    return re.sub("%(?=%)", "% ", plain(text)).replace("^", "^ ")


def for_mtext(text: str) -> str:
    """Text for MTEXT and dimensions, where backslash and braces format as well."""
    return (
        for_text(text).replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}")
    )  # the order matters: braces bring backslashes of their own


def name(text: str, taken: Container[str], fallback: str) -> str:
    """A name for a layout or a block that every program accepts.

    Args:
        text: the name wished for.
        taken: names that are gone, in lower case.
        fallback: stands in for a name of which nothing is left.

    Returns:
        The name without signs that are forbidden, cut to length, unique without regard to case.
    """
    text = _FORBIDDEN.sub("-", plain(text)).strip()[:_NAME_LENGTH].strip() or fallback
    found, number = text, 1
    while found.lower() in taken:
        number += 1
        found = f"{text} ({number})"
    return found
