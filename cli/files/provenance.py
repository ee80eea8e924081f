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
_PROVENANCE = re.compile(
    rb"evencourse provenance ([0-9a-f]{16}) of (\d{1,6}) from ([0-9a-f]{16}|-) holds ([0-9a-f]{16}) "
    rb"(\{[^{}]{0,2000}\})"
)
#: Suffixes of the kinds that have a place for it.
_KINDS = (".svg", ".dxf", ".ifc", ".pdf", ".png")
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
        origin: a key of the job file that they are drawn of, whatever stands in it; empty where none is kept.
    """

    key: str
    files: int
    facts: Mapping[str, float | bool | None]
    origin: str = ""

    def words(self, holds: str) -> bytes:
        """As it stands in a file.

        Args:
            holds: key of the file's bytes without it.
        """
        facts = json.dumps(self.facts, separators=(",", ":"), sort_keys=True)
        words = f"{self.key} of {self.files} from {self.origin or '-'} holds {holds} {facts}"
        return f"evencourse provenance {words}".encode("ascii")


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
    data, suffix = output.data, Path(output.name).suffix
    if suffix not in _KINDS:
        return output
    match suffix:
        case ".svg":
            at = data.index(b"?>") + 2
        case ".dxf":
            at = data.rindex(b"  0\nEOF")
        case ".ifc":
            at = data.index(b"HEADER;\n") + 8
        case ".pdf":
            at = data.rindex(b"startxref")
        case _:
            at = len(_PNG) + 25  # the header chunk comes first and is of one size
    block = _block(suffix, provenance.words(content_key(data)))
    return Output(output.name, data[:at] + block + data[at:])


def _block(suffix: str, words: bytes) -> bytes:
    """All that is put into a file of a kind for its provenance."""
    match suffix:
        case ".svg":
            return b"\n<!-- " + words + b" -->"
        case ".dxf":
            return b"999\n" + words + b"\n"
        case ".ifc":
            return b"/* " + words + b" */\n"
        case ".pdf":
            return b"% " + words + b"\n"
    chunk = b"tEXtComment\0" + words
    return struct.pack(">I", len(chunk) - 4) + chunk + struct.pack(">I", zlib.crc32(chunk))


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
    return None if found is None else _read(found)


def as_written(path: Path) -> Provenance | None:
    """The provenance in a file whose bytes nobody has changed since it was written; None in any other."""
    try:
        data = path.read_bytes()
    except OSError:
        return None
    found = _PROVENANCE.search(data)
    if found is None or path.suffix not in _KINDS:
        return None
    before, _, after = data.partition(_block(path.suffix, found[0]))
    return _read(found) if content_key(before + after).encode() == found[4] else None


def _read(found: re.Match[bytes]) -> Provenance | None:
    try:
        facts = json.loads(found[5])
    except ValueError:
        return None
    origin = found[3].decode().strip("-")
    return Provenance(found[1].decode(), int(found[2]), facts, origin)


def standing(paths: Iterable[Path], key: str) -> Provenance | None:
    """The provenance of a whole group of files made of what has this key.

    None where one is missing, or was changed since it was written.

    Args:
        paths: files among which the group may be.
        key: of what would be made now.
    """
    found = [
        provenance
        for path in paths
        if (provenance := provenance_of(path)) is not None and provenance.key == key and as_written(path)
    ]
    return found[0] if found and len(found) == found[0].files else None
