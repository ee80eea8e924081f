"""The texts of a DXF file: code pages, signs written by number, and the codes within lettering."""

from __future__ import annotations

import codecs
import re

#: Code pages whose name is not simply ``cp`` and a number. Value from memory.
_PAGES = {"GB2312": "gbk", "DOS932": "cp932", "ASCII": "cp1252"}
_NUMBERED = re.compile(r"\\U\+([0-9A-Fa-f]{4})")
_PERCENT = re.compile(r"%%(?:([cdpuokCDPUOK])|(\d{3}))")
_PERCENT_SIGNS = {"c": "⌀", "d": "°", "p": "±", "u": "", "o": "", "k": ""}


def encoding(version: str, page: str) -> str:
    """How a file's texts are encoded.

    Args:
        version: ``$ACADVER``: AC1021 and later are UTF-8 whatever the code page says.
        page: ``$DWGCODEPAGE``, as ``ANSI_1252``.

    Returns:
        A codec that exists; Windows Latin for a page that is not known.
    """
    number = re.fullmatch(r"AC(\d{4})", version.strip().upper())
    if number and int(number[1]) >= 1021:
        return "utf-8"
    name = page.strip().upper()
    wanted = _PAGES.get(name) or "cp" + name.rpartition("_")[2]
    try:
        codecs.lookup(wanted)
    except (LookupError, ValueError):
        return "cp1252"
    return wanted


def decoded(value: object, codec: str) -> str:
    """A text as it was meant, from one read as Latin-1."""
    raw = str(value).encode("latin-1", "replace")
    try:
        text = raw.decode(codec)
    except UnicodeDecodeError:
        text = raw.decode("cp1252", "replace")
    return _NUMBERED.sub(lambda sign: _sign(int(sign[1], 16)), text)


def _sign(number: int) -> str:
    return "\N{REPLACEMENT CHARACTER}" if 0xD800 <= number < 0xE000 else chr(number)


def lettering(text: str) -> str:
    """A TEXT or an attribute as it is read: no codes, one line."""

    def sign(match: re.Match[str]) -> str:
        return _PERCENT_SIGNS[match[1].lower()] if match[1] else chr(int(match[2]))

    return _one_line(_PERCENT.sub(sign, text))


def paragraph(text: str) -> str:
    """An MTEXT's first line as it is read: no formatting codes."""
    text = re.sub(r"\\([\\{}])", lambda sign: f"\\U+{ord(sign[1]):04X}", text)
    text = re.sub(r"\\[ACcFfHQTWp][^;\\{}]{0,100};", "", text)
    text = re.sub(r"\\S([^;]{0,100});", lambda stack: re.sub(r"[\^#]", "/", stack[1]), text)
    text = re.sub(r"\\[LlOoKkN]", "", text).replace("\\~", " ").replace("{", "").replace("}", "")
    lines = [line for line in re.split(r"\\P|\^J|\n", text) if line.strip()]
    return lettering(_NUMBERED.sub(lambda sign: _sign(int(sign[1], 16)), lines[0])) if lines else ""


def _one_line(text: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
