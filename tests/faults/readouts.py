"""Outputs taken apart by other programs' readers: whether a name has become anything but text."""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

#: Suffixes of files that are made of the same things whatever the names.
SAME = (".html", ".xlsx", ".json")
#: What a PDF does of its own accord.
ACTIVE = (
    b"/JavaScript",
    b"/JS",
    b"/OpenAction",
    b"/AA",
    b"/Launch",
    b"/URI",
    b"/SubmitForm",
    b"/EmbeddedFile",
)

#: The one comment of an SVG: its provenance, of figures alone.
_PROVENANCE = re.compile(
    rb"<!-- evencourse provenance [0-9a-f]{16} of \d+ from [0-9a-f-]+ holds [0-9a-f]{16} "
    rb'\{[a-z_":,.\d+-]*\} -->'
)


def is_safe(name: str) -> bool:
    """Whether a file name is one on every system: letters, digits, their marks, dots, hyphens, brackets."""
    kinds = [unicodedata.category(sign)[0] for sign in name]
    return (
        len(name) <= 201
        and kinds[0] in "LN"
        and all(kind in "LNM" or sign in "_.()-" for kind, sign in zip(kinds, name, strict=True))
    )


def shape(path: Path) -> object:
    """What a file is made of, the words in it left aside: the same for the same job under any name.

    Raises:
        AssertionError: it does something of its own accord, or its reader finds it broken.
    """
    data = path.read_bytes()
    match path.suffix:
        case ".svg":
            return _svg(data)
        case ".html":
            return _html(data.decode())
        case ".pdf":
            return _pdf(data)
        case ".dxf":
            return _dxf(path)
        case ".csv":
            return _csv(data.decode("utf-8-sig"))
        case ".xlsx":
            return _xlsx(data)
        case ".json":
            return sorted(json.loads(data))
    raise AssertionError(f"no reader for {path}")


def _svg(data: bytes) -> object:
    assert b"<!DOCTYPE" not in data
    assert b"<!ENTITY" not in data
    assert _PROVENANCE.sub(b"", data, count=1).count(b"<!--") == 0
    found = set()
    for node in ElementTree.fromstring(data).iter():
        found.add((node.tag, tuple(sorted(name for name in node.attrib if name.startswith("on")))))
        for name, value in node.attrib.items():
            assert "href" not in name or value.startswith("#"), value
    tags = {tag for tag, _ in found}
    assert all(not actions for _, actions in found)
    assert not {"{http://www.w3.org/2000/svg}script", "{http://www.w3.org/2000/svg}foreignObject"} & tags
    return sorted(tags)


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        # Each by itself: which of them come together is a matter of where lettering has room.
        self.found += ((tag, name) for name, _ in [("", None), *attrs])
        for name, value in attrs:
            assert not name.startswith("on"), (name, value)
            if name in ("src", "href", "action", "data"):
                assert value is not None
                assert value.startswith(("#", "data:")), value


def _html(text: str) -> object:
    tags = _Tags()
    tags.feed(text)
    tags.close()
    scripts = tags.found.count(("script", ""))
    # Long names leave lettering less room: some is turned. Other scripts are outlines under unseen text.
    drawn = {("text", "transform"), ("path", "transform"), ("text", "fill-opacity")}
    return sorted({*tags.found, *drawn}), scripts


def _pdf(data: bytes) -> object:
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(data), strict=True)
    for page in reader.pages:
        page.extract_text()
        assert "/AA" not in page
    root = reader.trailer["/Root"].get_object()
    assert not {"/OpenAction", "/AA", "/AcroForm", "/Names"} & set(root)
    structure = re.sub(rb"stream\r?\n.*?endstream", b"", data, flags=re.DOTALL)
    structure = re.sub(rb"\((?:\\.|[^\\()])*\)", b"", structure)
    found = set(re.findall(rb"/[A-Za-z]+", structure)) & set(ACTIVE)
    assert not found, found
    return None


def _dxf(path: Path) -> object:
    import ezdxf

    document = ezdxf.readfile(path)
    assert document.audit().errors == []
    return sorted({entity.dxftype() for entity in document.modelspace()})


def _csv(text: str) -> object:
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    for row in rows:
        for cell in row:
            assert not cell.startswith(("=", "@", "\t", "\r")), cell
            assert not cell.startswith(("+", "-")) or re.fullmatch(r"-[\d' /.\"-]+", cell), cell
    return sorted({len(row) for row in rows})


def _xlsx(data: bytes) -> object:
    from openpyxl import load_workbook

    sheets = load_workbook(io.BytesIO(data)).worksheets
    for sheet in sheets:
        for row in sheet.iter_rows():
            assert not [cell.value for cell in row if cell.data_type == "f" and not _sum(cell.value)]
    return [sheet.title for sheet in sheets]


def _sum(value: object) -> bool:
    """A formula of ours, not one of a name."""
    return re.fullmatch(r"=(?:SUM|ROUND|PRODUCT)?[A-Z0-9(),:*+]+", str(value)) is not None


def files(folder: Path) -> Iterator[Path]:
    """Every file below a folder."""
    yield from (path for path in sorted(folder.rglob("*")) if path.is_file())
