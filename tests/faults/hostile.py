"""Names that try to be something else: paths, markup, formulas, codes of other formats, devices."""

from __future__ import annotations

from itertools import count

from tests.faults.spoiled import toml

#: Names that the job file takes; every output must show them as text and nothing more.
NAMES: dict[str, str] = {
    "up and out": "../../../../tmp/evencourse-was-here",
    "absolute": "/tmp/evencourse-was-here",
    "windows path": "C:\\temp\\..\\evencourse-was-here",
    "dots": "..",
    "device": "CON",
    "device with suffix": "nul.txt",
    "hidden": ".evencourse-1-0.part",
    "option": "--output=evencourse-was-here",
    "stream": "file:stream:$DATA",
    "wildcards": "*?[a-z]<>|\"'",
    "script": "</script><script>throw 1</script>",
    "closing style": "</style></title></textarea><img src=x onerror=throw(1)>",
    "attribute": '"\' onload="throw 1" x=\'',
    "svg": '</text><image href="http://127.0.0.1:9/x"/><text>',
    "comment": "--><!-- <!DOCTYPE x [<!ENTITY e SYSTEM 'file:///etc/hostname'>]>&e;",
    "cdata": "]]><b>&lt;&amp;&#60;&e;",
    "template": "{{7*7}}${7*7}`${throw}`<%= 1 %>%s%n%(x)s{0}{job.name}",
    "formula": "=1+1|' /C evencourse'!A0",
    "formula with at": "@SUM(A1:A9)",
    "formula with plus": "+1-1",
    "formula with minus": "-2+3",
    "cells": 'a,b;c"d"\'e',
    "mtext": "\\P{\\fArial|b1;x}\\H3x;\\S1^2;\\U+0041%%c%%d%%065^J^M^I",
    "field": '%<\\AcVar "Filename">%',
    "dxf lines": "  0 SECTION 2 ENTITIES",
    "pdf": "(a) \\) Tj ET endstream endobj << /OpenAction << /S /JavaScript /JS (1) >> >>",
    "shell": "$(touch evencourse-was-here) `id` ; rm -rf x & | > y",
    "json": '"}, "x": {"a": [1',
    "hebrew and arabic": "חזית الواجهة 12 front",
    "far east": "正面図 정면 ด้านหน้า",
    "combining": "e" + "\u0301" * 60 + "Z\u0323\u0307",
    "beyond the first plane": "\U0001f3e0\U00020000\U0001f468",
    "widest": "W" * 200,
    "no place to break": "i" * 200,
    "many words": "a b " * 50,
    "one sign": "x",
}
#: Names that it refuses: what cannot be seen, or steers what shows it.
REFUSED: dict[str, str] = {
    "empty": "",
    "blank": "   ",
    "nul": "a\0b",
    "line end": "a\nb",
    "carriage return": "a\rb",
    "escape": "\x1b[2J\x1b]0;x\x07",
    "delete": "a\x7fb",
    "right-to-left override": "front\u202egpj.exe",
    "isolate": "a\u2066b\u2069",
    "right-to-left mark": "a\u200fb",
    "zero width": "a\u200bb\ufeff",
    "line separator": "a\u2028b",
    "private use": "a\ue000b",
    "too long": "x" * 201,
}


def job_named(*names: str) -> str:
    """A small job that takes its texts from a list of names, over and over.

    Two faces, two claddings, openings, fixtures, a price: every place that takes a text has one of the names.
    Where names must differ a letter follows them.
    """
    taken = count()

    def name(end: str = "") -> str:
        text = names[next(taken) % len(names)]
        return toml(text[:199] + end if end else text)

    one, two = name("a"), name("b")
    faces = []
    for cladding, end in ((one, "a"), (two, "b")):
        faces.append(
            f"[[elevation]]\nname = {name(end)}\nwidth = 240\nbase = 0\neave = 108\ncourses = {name(end)}\n"
            f'gable = {{ pitch = "6/12" }}\ncladding = {cladding}\nright = "butts"\ngrade = [-9, -12]\n'
            f"[[elevation.opening]]\nmark = {name()}\nleft = 60\nsill = 31\nwidth = 36\nheight = 48\n"
            f"[[elevation.opening]]\nmark = {name('b')}\nleft = 120\nsill = 33\nwidth = 36\nheight = 43\n"
            f"[[elevation.fixture]]\nmark = {name()}\nleft = 180\nbottom = 20\nwidth = 4\nheight = 6\n"
        )
    return "".join(
        (
            f"[job]\nname = {name()}\ndatum = {name()}\nauthor = {name()}\n",
            f'[claddings.{one}]\nprofile = "double-4"\nlabel = {name()}\nsource = {name()}\n',
            f'[claddings.{two}]\nprofile = "bevel-8"\nlabel = {name()}\nmaterial = {name()}\n',
            f"[order]\ncurrency = {name()}\n[order.prices]\n{name()} = 3\n",
            *faces,
        )
    )
