"""What to show and how it is stored: a job's result in, sheets and the bytes of their files out.

A result holds the plan, its material and the instructions in words, each made once. Nothing is written here:
a back end returns bytes, the same ones for the same job.

>>> from evencourse.layout import parse_job
>>> from evencourse.render import pdf, phone_page, result, sheet_set
>>> job = parse_job('''
... [job]
... name = "Boat shed"
... [cladding]
... profile = "double-4"
... [[elevation]]
... name = "Lane"
... width = "20'"
... base = "0"
... eave = "8'"
... ''')
>>> found = result(job)
>>> [len(face.pieces) for face in found.material.pieces.faces]
[33]
>>> found.instructions.faces[0].edges
('rip course 13, keep 1-1/2", fur out 1/8"',)
>>> pdf(sheet_set(found, "letter"))[:5]
b'%PDF-'
>>> phone_page(found, "letter")[:15]
'<!doctype html>'
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from evencourse.render.crew_set.sheet_set import sheet_set as sheet_set
    from evencourse.render.drawing.drawing import Document as Document
    from evencourse.render.drawing.drawing import Sheet as Sheet
    from evencourse.render.drawing.papers import PaperError as PaperError
    from evencourse.render.formats.pdf import pdf as pdf
    from evencourse.render.formats.png import png as png
    from evencourse.render.formats.svg import svg as svg
    from evencourse.render.page.phone_page import phone_page as phone_page
    from evencourse.render.sheets.elevation_sheets import job_sheets as job_sheets
    from evencourse.render.words.instructions import Instructions as Instructions
    from evencourse.render.words.result import Result as Result
    from evencourse.render.words.result import result as result

__all__ = [
    "Document",
    "Instructions",
    "PaperError",
    "Result",
    "Sheet",
    "job_sheets",
    "pdf",
    "phone_page",
    "png",
    "result",
    "sheet_set",
    "svg",
]

#: Public name: the module that has it, and its name there. Loaded when it is asked for: a program that
#: wants the errors alone loads no geometry.
_PUBLIC = {
    "Document": ("drawing.drawing", "Document"),
    "PaperError": ("drawing.papers", "PaperError"),
    "Sheet": ("drawing.drawing", "Sheet"),
    "Instructions": ("words.instructions", "Instructions"),
    "Result": ("words.result", "Result"),
    "phone_page": ("page.phone_page", "phone_page"),
    "result": ("words.result", "result"),
    "job_sheets": ("sheets.elevation_sheets", "job_sheets"),
    "pdf": ("formats.pdf", "pdf"),
    "png": ("formats.png", "png"),
    "sheet_set": ("crew_set.sheet_set", "sheet_set"),
    "svg": ("formats.svg", "svg"),
}


def __getattr__(name: str) -> Any:
    """A public name, from the room that has it."""
    if name not in _PUBLIC:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, attribute = _PUBLIC[name]
    return getattr(import_module(f"{__name__}.{module}"), attribute)


def __dir__() -> list[str]:
    """The public names."""
    return __all__
