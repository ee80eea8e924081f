"""Walls and openings read from a drafter's DXF file.

A file is streamed (:mod:`tags`), what lies on the layers of walls and openings is kept (:mod:`document`,
:mod:`entities`), blocks are set in place (:mod:`placing`), lines are joined into rings (:mod:`rings`), rings
become openings (:mod:`shapes`) and faces (:mod:`faces`), and faces become a job (:mod:`reading`).
"""
