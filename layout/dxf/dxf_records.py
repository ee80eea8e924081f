"""A DXF file, text or binary, as a stream of records: what stands from one group code 0 to the next.

Nothing but the record at hand is held in memory, so that a file of a million entities can be read.
"""

from __future__ import annotations

import io
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import Fault, JobError

Value = str | int | float

#: Largest text and largest binary file that is read [bytes].
LARGEST, LARGEST_BINARY = 512 * 2**20, 128 * 2**20
#: Most pairs of code and value in one record.
LONGEST = 400_000
#: What is read at a time [characters], and the longest line that is believed.
_BLOCK, _LONGEST_LINE = 2**20, 2**18

_WANTED = noop("a DXF file, text or binary")
#: How a binary file begins after the first six letters.
_BINARY_AT, _BINARY = 6, b"D Binary DXF\r\n\x1a\x00"


@dataclass(slots=True)
class Record:
    """One record.

    Attributes:
        kind: what follows the group code 0: ``SECTION``, ``LINE``, ``INSERT`` …
        codes: group codes, the 0 included.
        values: one for each code; text as it stands, in Latin-1 (see
            :func:`evencourse.layout.dxf.dxf_texts.decoded`).
        line: line of the file on which it begins, from 1; 0 in a binary file.
    """

    kind: str
    codes: list[int]
    values: list[Value]
    line: int


def records(file: BinaryIO) -> Iterator[Record]:
    """Every record of a DXF file, up to and without its ``EOF``.

    Raises:
        JobError: no DXF file, one that is cut off, or one larger than is read.
    """
    head = file.read(64)
    if not head:
        raise _fault(gettext("an empty file"))
    if head[:4] in (b"AC10", b"AC1.") or head[:3] == b"MC0":
        raise _fault(gettext("a DWG file"), gettext("a DXF file: save the drawing as DXF"))
    if head[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _fault(gettext("text in UTF-16"))
    if head[_BINARY_AT:].startswith(_BINARY):
        data = head + file.read(LARGEST_BINARY + 1)
        if len(data) > LARGEST_BINARY:
            raise _too_large(LARGEST_BINARY)
        yield from _binary(data)
        return
    if b"\x00" in head:
        raise _fault(gettext("bytes that are no text, {bytes} …", bytes=head[:8].hex(" ")))
    yield from _text(head.removeprefix(b"\xef\xbb\xbf"), file)


def _fault(found: str, wanted: str | None = None, line: int | None = None) -> JobError:
    return JobError([Fault(gettext("the drawing"), found, wanted or gettext(_WANTED), line)])


def _too_large(most: int) -> JobError:
    found = gettext("more than {count} MB", count=most // 2**20)
    return _fault(found, gettext("an elevation, without what it needs not"))


def _cut_off() -> JobError:
    found = gettext("a file that ends in the middle, without EOF")
    return _fault(found, gettext("the whole file: save it again"))


def _text(head: bytes, file: BinaryIO) -> Iterator[Record]:
    record: Record | None = None
    for codes, values, line in _pairs(head, file):
        starts = [index for index, code in enumerate(codes) if code == 0]
        end = starts[0] if starts else len(codes)
        if record is not None and end:
            record.codes += codes[:end]
            record.values += values[:end]
            if len(record.codes) > LONGEST:
                wanted = gettext("an entity of at most {count} values", count=LONGEST)
                found = gettext("more values than that in one {entity}", entity=record.kind[:40])
                raise _fault(found, wanted, record.line)
        for place, start in enumerate(starts):
            if record is not None:
                yield record
            kind = values[start].strip()
            if kind == "EOF":
                return
            end = starts[place + 1] if place + 1 < len(starts) else len(codes)
            record = Record(kind, codes[start:end], list(values[start:end]), line + 2 * start)
    raise _cut_off()


def _pairs(head: bytes, file: BinaryIO) -> Iterator[tuple[list[int], list[str], int]]:
    """Runs of group codes and values, with the line on which each run begins."""
    decoder = io.IncrementalNewlineDecoder(None, translate=True)
    rest, line, size, first = "", 1, len(head), head
    while True:
        block = first or file.read(_BLOCK)
        first = b""
        size += len(block)
        if size > LARGEST:
            raise _too_large(LARGEST)
        text = decoder.decode(block.decode("latin-1"), final=not block)
        lines = (rest + text).split("\n")
        if block:
            rest = lines.pop()
            if len(lines) % 2:
                rest = f"{lines.pop()}\n{rest}"
            if len(rest) > _LONGEST_LINE:
                found = gettext("a line of more than {count} characters", count=_LONGEST_LINE)
                raise _fault(found, line=line)
        elif len(lines) % 2:
            lines.append("")
        try:
            codes = list(map(int, lines[0::2]))
        except ValueError:
            whole, codes, values = _until_fault(lines, bool(block))
            if codes:
                yield codes, values, line
            if whole:
                return
            shown = lines[2 * len(codes)].strip()[:40]
            legible = shown.isprintable() and shown
            found = f'"{shown}"' if legible else gettext("an empty or unreadable line")
            wanted = gettext("a group code, as DXF has in every other line")
            raise _fault(found, wanted, line + 2 * len(codes)) from None
        yield codes, lines[1::2], line
        line += len(lines)
        if not block:
            return


def _until_fault(lines: list[str], more: bool) -> tuple[bool, list[int], list[str]]:
    """The pairs before the first line that is no group code; whether only blank lines follow them."""
    codes: list[int] = []
    for place in range(0, len(lines), 2):
        try:
            codes.append(int(lines[place]))
        except ValueError:
            break
        if codes[-1] == 0 and lines[place + 1].strip() == "EOF":
            return True, codes, lines[1 : place + 2 : 2]
    count = len(codes)
    blank = not more and not any(line.strip() for line in lines[2 * count :])
    return blank, codes, lines[1 : 2 * count : 2]


def _kinds() -> list[str]:
    """How the value of each group code is stored in a binary file.

    Source: the DXF reference's table of group code value types (from memory).
    """
    spans = (
        (0, 9, "s"), (10, 59, "d"), (60, 79, "h"), (90, 99, "i"), (100, 109, "s"), (110, 149, "d"),
        (160, 169, "q"), (170, 179, "h"), (210, 239, "d"), (270, 289, "h"), (290, 299, "b"), (300, 309, "s"),
        (310, 319, "x"), (320, 369, "s"), (370, 389, "h"), (390, 399, "s"), (400, 409, "h"), (410, 419, "s"),
        (420, 429, "i"), (430, 439, "s"), (440, 459, "i"), (460, 469, "d"), (470, 481, "s"), (999, 1009, "s"),
        (1004, 1004, "x"), (1010, 1059, "d"), (1060, 1070, "h"), (1071, 1071, "i"),
    )  # fmt: skip
    kinds = [""] * 1072
    for low, high, kind in spans:
        kinds[low : high + 1] = kind * (high - low + 1)
    return kinds


def _binary(data: bytes) -> Iterator[Record]:
    record: Record | None = None
    for code, value in _binary_pairs(data):
        if code == 0:
            if record is not None:
                yield record
            if value == "EOF":
                return
            record = Record(str(value), [], [], 0)
        if record is not None:
            record.codes.append(code)
            record.values.append(value)
            if len(record.codes) > LONGEST:
                entity = record.kind[:40]
                found = gettext("more than {count} values in one {entity}", count=LONGEST, entity=entity)
                raise _fault(found, gettext("an elevation"))


def _binary_pairs(data: bytes) -> Iterator[tuple[int, Value]]:
    kinds = _kinds()
    place = _BINARY_AT + len(_BINARY)
    wide = data[place + 1 : place + 2] == b"\x00"  # codes of two bytes: all but the oldest files
    sizes = {kind: struct.Struct(f"<{kind}") for kind in "dhiqb"}
    try:
        while True:
            if wide:
                code = data[place] | data[place + 1] << 8
                place += 2
            elif data[place] == 255:
                code = data[place + 1] | data[place + 2] << 8
                place += 3
            else:
                code = data[place]
                place += 1
            kind = kinds[code] if code < len(kinds) else ""
            if kind == "s":
                end = data.index(0, place)
                yield code, data[place:end].decode("latin-1")
                place = end + 1
            elif kind == "x":
                place += 1 + data[place]
            elif kind:
                layout = sizes[kind]
                yield code, layout.unpack_from(data, place)[0]
                place += layout.size
            else:
                found = gettext("the group code {code} at byte {place}", code=code, place=place)
                raise _fault(found, gettext("a code that DXF knows"))
    except (IndexError, ValueError, struct.error):
        raise _cut_off() from None
