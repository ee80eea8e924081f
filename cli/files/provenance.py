"""The provenance in a written file: what it was made of, so that a later run knows whether it still holds.

It stands where readers of each format pass over it: a comment of SVG (XML 1.0, 2.5), DXF (group 999), IFC
(ISO 10303-21, 5.6) and PDF (ISO 32000-1, 7.2.3), a text chunk of PNG (11.3.4.3 of its specification).
"""

from __future__ import annotations

import json
import re
import struct
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from evencourse.cli.files.output import Output

#: Hexadecimal digits of a key: 64 bits, a slip in a street of a million lots is out of the question.
_DIGITS = 16
_PROVENANCE = re.compile(rb"evencourse provenance ([0-9a-f]{16}) of (\d{1,6}) (\{[^{}]{0,2000}\})")
_PNG = b"\x89PNG\r\n\x1a\n"
#: Where its provenance stands: near one end of the file [bytes].
_NEAR = 8192


@dataclass(frozen=True)
class Provenance:
    """What a group of files written together was made of.

    Attributes:
        key: of everything that the files follow from, as :func:`content_key` makes it.
        files: how many there are in the group.
        facts: plain values to know again without making the files anew.
    """

    key: str
    files: int
    facts: Mapping[str, float | bool | None]

    @property
    def words(self) -> bytes:
        """As it stands in a file."""
        facts = json.dumps(self.facts, separators=(",", ":"), sort_keys=True)
        return f"evencourse provenance {self.key} of {self.files} {facts}".encode("ascii")


def content_key(*parts: bytes | str) -> str:
    """A short key of several texts; another text, or another order, gives another key.

    Example:
        >>> content_key("a", "bc") == content_key("a", "bc"), content_key("a", "bc") == content_key("ab", "c")
        (True, False)
    """
    digest = sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        digest.update(len(data).to_bytes(8, "big") + data)
    return digest.hexdigest()[:_DIGITS]


def marked(output: Output, provenance: Provenance) -> Output:
    """The file with its provenance; one of a kind that has no place for it stays as it is."""
    data = output.data
    match Path(output.name).suffix:
        case ".svg":
            end = data.index(b"?>") + 2
            data = data[:end] + b"\n<!-- " + provenance.words + b" -->" + data[end:]
        case ".dxf":
            start, word, rest = data.rpartition(b"  0\nEOF")
            data = start + b"999\n" + provenance.words + b"\n" + word + rest
        case ".ifc":
            start, word, rest = data.partition(b"HEADER;\n")
            data = start + b"/* " + provenance.words + b" */\n" + word + rest
        case ".pdf":
            start, word, rest = data.rpartition(b"startxref")
            data = start + b"% " + provenance.words + b"\n" + word + rest
        case ".png":
            chunk = b"tEXtComment\0" + provenance.words
            length, check = struct.pack(">I", len(chunk) - 4), struct.pack(">I", zlib.crc32(chunk))
            head = len(_PNG) + 25  # the header chunk comes first and is of one size
            data = data[:head] + length + chunk + check + data[head:]
    return Output(output.name, data)


def provenance_of(path: Path) -> Provenance | None:
    """The provenance in a file; None where there is none, or the file cannot be read."""
    try:
        with path.open("rb") as file:
            near = file.read(_NEAR)
            size = file.seek(0, 2)
            file.seek(max(0, size - _NEAR))
            near += file.read()
    except OSError:
        return None
    found = _PROVENANCE.search(near)
    if found is None:
        return None
    try:
        facts = json.loads(found[3])
    except ValueError:
        return None
    return Provenance(found[1].decode(), int(found[2]), facts)


def standing(paths: Iterable[Path], key: str) -> Provenance | None:
    """The provenance of a whole group of files made of what has this key; None where one is missing.

    Args:
        paths: files among which the group may be.
        key: of what would be made now.
    """
    found = [
        provenance
        for path in paths
        if (provenance := provenance_of(path)) is not None and provenance.key == key
    ]
    return found[0] if found and len(found) == found[0].files else None
