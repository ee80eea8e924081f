"""The PDF file format: objects, streams, strings, and the file that holds them (ISO 32000-1, clause 7)."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

_ESCAPED = {ord("\\"): "\\\\", ord("("): "\\(", ord(")"): "\\)"}


@dataclass(frozen=True)
class Ref:
    """A reference to an object of the file, by its number."""

    number: int


@dataclass(frozen=True)
class Name:
    """A name: a slash and printable ASCII."""

    text: str


Value = Ref | Name | str | bytes | int | float | bool | Sequence["Value"] | Mapping[str, "Value"]


def number(value: float) -> str:
    """A number with at most two decimals: 0.01 pt is 0.0035 mm."""
    text = f"{value:.2f}"
    if text.endswith("0"):
        text = text[:-3] if text.endswith(".00") else text[:-1]
    return "0" if text == "-0" else text


def written(value: Value) -> str:
    """A value as the file holds it. Text becomes a text string, bytes a hexadecimal one."""
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case float():
            return number(value)
        case Ref():
            return f"{value.number} 0 R"
        case Name():
            return "/" + "".join(
                letter if "!" <= letter <= "~" and letter not in "#/()<>[]{}%" else f"#{ord(letter):02X}"
                for letter in value.text
            )
        case str():
            if all(" " <= letter <= "~" for letter in value):
                return f"({value.translate(_ESCAPED)})"
            return f"<FEFF{value.encode('utf-16-be', 'replace').hex().upper()}>"
        case bytes():
            return f"<{value.hex().upper()}>"
        case Mapping():
            inside = " ".join(f"/{key} {written(part)}" for key, part in value.items())
            return f"<< {inside} >>"
        case _:
            return f"[{' '.join(written(part) for part in value)}]"


class File:
    """Objects of a PDF file, numbered from 1 in the order in which they are reserved."""

    def __init__(self) -> None:
        self._objects: list[bytes] = []

    def reserve(self) -> Ref:
        """A number for an object that is given later."""
        self._objects.append(b"")
        return Ref(len(self._objects))

    def put(self, ref: Ref, value: Value) -> Ref:
        """Give the object of a reserved number."""
        self._objects[ref.number - 1] = written(value).encode("ascii")
        return ref

    def add(self, value: Value) -> Ref:
        """Add an object."""
        return self.put(self.reserve(), value)

    def stream(self, data: bytes, facts: Mapping[str, Value] | None = None) -> Ref:
        """Add a stream, compressed."""
        packed = zlib.compress(data, 9)
        head = written({**(facts or {}), "Length": len(packed), "Filter": Name("FlateDecode")})
        ref = self.reserve()
        self._objects[ref.number - 1] = head.encode("ascii") + b"\nstream\n" + packed + b"\nendstream"
        return ref

    def bytes(self, root: Ref, info: Ref) -> bytes:
        """The whole file. Its identifier is made from what is in it."""
        out = bytearray(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
        places = []
        for index, content in enumerate(self._objects, start=1):
            places.append(len(out))
            out += b"%d 0 obj\n%b\nendobj\n" % (index, content)
        identifier = hashlib.sha256(out).digest()[:16]
        start = len(out)
        out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(places) + 1)
        for place in places:
            out += b"%010d 00000 n \n" % place
        trailer: dict[str, Value] = {
            "Size": len(places) + 1,
            "Root": root,
            "Info": info,
            "ID": [identifier, identifier],
        }
        out += f"trailer\n{written(trailer)}\nstartxref\n{start}\n%%EOF\n".encode("ascii")
        return bytes(out)
