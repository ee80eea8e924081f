"""What every back end is: it takes something drawn and returns the bytes of one file.

``svg`` and ``png`` take a sheet, ``pdf`` a document of sheets, ``dxf`` the faces and sheets of a job. None of
them knows what a window is.
"""

from __future__ import annotations

from typing import Protocol, TypeVar

Drawn_contra = TypeVar("Drawn_contra", contravariant=True)


class BackEnd(Protocol[Drawn_contra]):
    """Writes one file format."""

    def __call__(self, drawn: Drawn_contra, /) -> bytes:
        """The file of what is drawn: the same bytes for the same drawing, on any machine and at any time."""
