"""What every back end is: it takes something drawn and returns the bytes of one file.

:func:`evencourse.render.formats.svg.svg` and :func:`evencourse.render.formats.png.png` take a sheet, :func:`evencourse.render.formats.pdf.pdf` a document of sheets,
:func:`evencourse.render.formats.dxf.dxf` the faces and sheets of a job. None of them knows what a window is.
"""

from __future__ import annotations

from typing import Protocol, TypeVar

Drawn_contra = TypeVar("Drawn_contra", contravariant=True)


class BackEnd(Protocol[Drawn_contra]):
    """Writes one file format."""

    def __call__(self, drawn: Drawn_contra, /) -> bytes:
        """The file of what is drawn: the same bytes for the same drawing, on any machine and at any time."""
