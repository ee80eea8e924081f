"""A drafter's drawing as a job: what its layers hold, what was understood, and the job made of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cached_property

from evencourse.layout.drawings.drawing_units import (
    WORDS,
    UnitScale,
    known_units,
    likely_units,
    of_header,
    scale,
)
from evencourse.layout.drawings.drawn_by_shape import stroke
from evencourse.layout.drawings.drawn_faces import Faces, find_faces
from evencourse.layout.drawings.first_look import Look, Wishes, placed_blocks, why_no_face
from evencourse.layout.drawings.job_faces import Understood, bare_job, elevations, placed_faults
from evencourse.layout.drawings.picks import VIEWS, NumberedRegion, numbered, picked
from evencourse.layout.dxf.block_placing import PlacedDrawing
from evencourse.layout.dxf.dxf_content import MOST_OTHERS, DxfContent, Unused
from evencourse.layout.dxf.dxf_entities import Source
from evencourse.layout.dxf.layers import limits
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import Remarks, job_text
from evencourse.layout.model.as_built import AsBuilt
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.geometry import Box
from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.plausible import odd_measures
from evencourse.layout.trade.profiles import build_cladding, profile_names
from evencourse.layout.trade.rules import rules


@dataclass(frozen=True)
class Import:
    """A drawing as a job.

    Attributes:
        job: what was understood; None when only faces were looked for.
        text: its job file; empty likewise.
        understood: faces, notes and places.
        unused: what could not be used.
        scale: the drawing's units.
        carried: the drawing carries a job of its own, from which the words were taken.
        like: the job that gave what is not drawn, the user's or the drawing's own; None for none.
        regions: all that can be picked, with its number.
        lines: of the drawing [drawing units].
    """

    job: Job | None
    text: str
    understood: Understood
    unused: tuple[Unused, ...]
    scale: UnitScale
    carried: bool
    like: Job | None = None
    regions: tuple[NumberedRegion, ...] = ()
    lines: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True)
class Gathered:
    """What is known of a drawing before anything on it is picked.

    Attributes:
        found: its faces.
        placed: the drawing.
        scale: its units; None when they are not known, which is a fault.
        like: a job that gives what is not drawn.
        carried: the drawing carries that job.
        notes: what a person should know.
        unused: what could not be used before faces were looked for.
        faults: those that are known already.
        doubts: why no job can be made of it yet: its scale is a guess.
    """

    found: Faces
    placed: PlacedDrawing
    scale: UnitScale | None
    like: Job | None
    carried: bool = False
    notes: Sequence[str] = ()
    unused: Sequence[Unused] = ()
    faults: Sequence[Fault] = ()
    doubts: Sequence[Fault] = ()

    @cached_property
    def regions(self) -> tuple[NumberedRegion, ...]:
        """All that can be picked, with its number."""
        return numbered(self.found)

    def lines(self, wishes: Wishes) -> tuple[tuple[Point, ...], ...]:
        """All lines that were looked at [drawing units]."""
        deviation = _tolerance(wishes, self.scale or scale("in", ""))
        grouped = [curve for group in self.placed.groups for curve in group.curves]
        every = (*self.placed.curves, *self.placed.others, *grouped)
        return tuple(tuple(stroke(one, deviation)) for one in every)


def understand(seen: Look, wishes: Wishes, make_job: bool = True) -> Import:
    """Make a job of a drawing: what is gathered, then finished.

    Args:
        seen: the drawing.
        wishes: what the user says.
        make_job: the job is wanted, not only what was found.

    Raises:
        JobError: every fault: layers that say too little, units, walls that do not close, damaged entities,
            and what a job must satisfy, each with its place on the drawing.
    """
    return finished(gather(seen, wishes), wishes, make_job)


def gather(seen: Look, wishes: Wishes) -> Gathered:
    """Look for faces on a drawing, whatever is picked of them later: most of the work.

    Args:
        seen: the drawing.
        wishes: what the user says; picks and siding do not count here.
    """
    document = seen.document
    faults = list(document.faults)
    faults += _layer_faults(seen, wishes)
    drawn = _scale(document, wishes, faults)
    like, carried, notes = _like(document, wishes, drawn, faults)
    placed = placed_blocks(seen)
    found, drawn, doubts = _found(placed, seen, wishes, drawn, faults)
    if document.overfull and not found.faces:
        found.notes.append(f"more than {MOST_OTHERS} lines on layers without a role: none was looked at")
    faults += found.faults
    told = document.faults or found.faults or any("wall" in fault.wanted for fault in faults)
    told = told or not document.in_model
    if not found.faces and not told:
        stand_in = drawn or scale("in", "")
        found.none = why_no_face(seen, placed, stand_in, _tolerance(wishes, stand_in))
    return Gathered(found, placed, drawn, like, carried, notes, document.unused, faults, doubts)


def finished(drawn: Gathered, wishes: Wishes, make_job: bool) -> Import:
    """Make a job of the faces that were found; what was gathered stays as it is.

    Args:
        drawn: the drawing; faces that are picked take the place of those found.
        wishes: what the user says.
        make_job: the job is wanted, not only what was found.

    Raises:
        JobError: every fault.
    """
    faults, scale = list(drawn.faults), drawn.scale
    if make_job:
        faults[:0] = drawn.doubts
        cladding_faults(wishes, drawn.like, faults)
    found = replace(drawn.found, faces=[replace(face) for face in drawn.found.faces])
    regions = drawn.regions
    if scale is not None and not faults:
        picked(found, regions, wishes.faces, wishes.openings, scale.inch / scale.factor, faults)
    if not found.faces and found.none and (make_job or not regions):
        views = Counter(one.shape.what for one in regions if one.shape.what in VIEWS)
        some = " and ".join(f"{number} that may be a {what}" for what, number in views.items())
        surely = f"no outline that is surely a face, but {some}: --svg PICTURE numbers them for --face"
        faults.append(Fault("the drawing", surely if views else found.none, "a closed outline for each face"))
    if faults or scale is None:
        raise JobError(dict.fromkeys(faults))
    tolerance = _tolerance(wishes, scale)
    by_line = "datum" in wishes.layers
    understood = elevations(found, drawn.placed.labels, scale, tolerance, wishes.datum, drawn.like, by_line)
    understood.notes[:0] = [*drawn.notes, *found.notes, *_unusual(understood, scale)]
    unused, lines = (*drawn.unused, *found.unused), drawn.lines(wishes)
    seen = Import(None, "", understood, unused, scale, drawn.carried, drawn.like, regions, lines)
    if not make_job:
        return seen
    job = _job(understood, wishes, drawn.like, scale)
    text = job_text(job, _remarks(understood, wishes, scale, found))
    try:
        return replace(seen, job=parse_job(text), text=text)
    except JobError as error:
        raise JobError(placed_faults(error.faults, understood)) from error


def _tolerance(wishes: Wishes, drawn: UnitScale) -> float:
    """How near ends meet [drawing units]."""
    return (wishes.tolerance or limits()["tolerance"]) * drawn.inch / drawn.factor


def _found(
    placed: PlacedDrawing,
    seen: Look,
    wishes: Wishes,
    drawn: UnitScale | None,
    faults: list[Fault],
) -> tuple[Faces, UnitScale | None, list[Fault]]:
    """The faces, in units that the openings do not speak against; and why those are a guess."""
    stand_in = drawn or scale("in", "")
    found = find_faces(placed, seen.roles, stand_in, _tolerance(wishes, stand_in))
    likely = (
        None
        if wishes.units is not None
        else likely_units(found.boxes, found.wall_boxes, drawn.name if drawn else None)
    )
    widths = _width_faults(found, drawn, likely) if drawn is not None else []
    if likely is None:
        faults += widths
        return found, drawn, []
    by_openings = scale(likely, "the sizes of its openings")
    if drawn is not None:
        doubts = widths or [_unit_fault(found.boxes or found.wall_boxes, drawn, likely)]
    else:
        doubts = [
            replace(one, wanted=f"{one.wanted.partition(', perhaps')[0]}, perhaps {likely}")
            for one in faults
            if one.place == "the drawing" and "units" in one.found
        ]
    faults[:] = [one for one in faults if "units" not in one.found]
    found = find_faces(placed, seen.roles, by_openings, _tolerance(wishes, by_openings))
    header = "says nothing" if drawn is None else f"says {WORDS[drawn.name]}"
    found.notes.append(
        f"the header {header}, the openings say {WORDS[likely]}: shown so; "
        f"for a job file add --units {likely}"
    )
    return found, by_openings, doubts


def _unit_fault(boxes: Sequence[Box], drawn: UnitScale, likely: str) -> Fault:
    """Openings that no building has in the header's units."""
    left, low, right, high = sorted(boxes, key=lambda box: box[2] - box[0])[len(boxes) // 2]
    mark = 1 / 16 if drawn.units == "in" else 1.0
    size = " by ".join(
        show_length(one * drawn.factor, drawn.units, mark) for one in (right - left, high - low)
    )
    size += " mm" if drawn.units == "mm" else ""
    found = f"openings of {size} or so in {WORDS[drawn.name]} (by {drawn.by})"
    return Fault("the drawing", found, f"--units {likely}, which fits them; or --units {drawn.name}")


def _layer_faults(seen: Look, wishes: Wishes) -> list[Fault]:
    faults = []
    for role, names in wishes.layers.items():
        for name in names:
            if "*" not in name and name.casefold() not in {layer.name.casefold() for layer in seen.layers}:
                near = get_close_matches(name, [layer.name for layer in seen.layers], 1, 0.5)
                wanted = f'a layer with lines on it; nearest is "{near[0]}"' if near else "a layer with lines"
                faults.append(Fault("--layer", f'"{role}={name}", which the drawing does not have', wanted))
    if not seen.layers or not seen.document.in_model:
        number = seen.document.on_paper
        wanted = (
            f"elevations there: {number} lines and texts are on paper alone, in a layout" if number else ""
        )
        wanted = wanted or '--layer "wall=NAME" for outlines'
        faults.append(Fault("the layers", "no line in model space", wanted))
    return faults


def _scale(document: DxfContent, wishes: Wishes, faults: list[Fault]) -> UnitScale | None:
    if wishes.units is not None:
        return scale(wishes.units, "--units")
    name = of_header(document.units)
    if name is not None:
        return scale(name, "the header")
    code = document.units
    found = "no units in the header" if not code else f"the units {code} ($INSUNITS) in the header"
    hint = {True: ", perhaps mm", False: ", perhaps in", None: ""}[document.metric]
    faults.append(Fault("the drawing", found, f"--units {', '.join(known_units())}{hint}"))
    return None


def _like(
    document: DxfContent, wishes: Wishes, drawn: UnitScale | None, faults: list[Fault]
) -> tuple[Job | None, bool, list[str]]:
    """The job that gives what a drawing does not say: the user's, else the one that the drawing carries."""
    if wishes.like is not None:
        if drawn is not None and wishes.like.units != drawn.units:
            own = WORDS[wishes.like.units]
            found = f"a job in {own}, and a drawing in {WORDS[drawn.name]} (by {drawn.by})"
            wanted = f"a job in {WORDS[drawn.units]}; or --units {wishes.like.units}, if {own} are drawn"
            faults.append(Fault("--like", found, wanted))
        return wishes.like, False, []
    if not document.record:
        return None, False, []
    try:
        job = parse_job(document.record)
    except JobError:
        return None, False, ["the job that the drawing carries cannot be read: not used"]
    if drawn is not None and job.units != drawn.units:
        return None, False, [f"the job that the drawing carries is in {job.units}: not used"]
    return job, True, ["siding, trim, limits and corners from the job that the drawing carries"]


def cladding_faults(wishes: Wishes, like: Job | None, faults: list[Fault]) -> None:
    """Add what is the matter with the siding that the user names, or does not."""
    if wishes.cladding is None:
        if like is None:
            faults.append(
                Fault(
                    "the siding", "nothing: a drawing does not say", "--cladding PROFILE, or --like JOB.toml"
                )
            )
        return
    if wishes.cladding not in profile_names():
        near = get_close_matches(wishes.cladding, profile_names(), 1, 0.4)
        wanted = f'"{near[0]}"' if near else "a shipped profile"
        faults.append(
            Fault("--cladding", f'"{wishes.cladding}"', f"{wanted}; evencourse claddings lists them")
        )
    if like is not None and len(like.claddings) > 1:
        found = f"one profile for the claddings {', '.join(like.claddings)}"
        faults.append(Fault("--cladding", found, "a job with one cladding, or no --cladding"))


def _unusual(understood: Understood, drawn: UnitScale) -> list[str]:
    """The first measure that buildings seldom have: a wall that may pass can be in wrong units."""
    by = f"{WORDS[drawn.name]} (by {drawn.by})"
    mark = rules().round[drawn.units]
    return [
        f"{odd.place}: a {odd.name} of {show_length(odd.length, drawn.units, mark)}, {odd.usual}; "
        f"is it drawn in {by}? --units says so"
        for odd in odd_measures(understood.elevations, drawn.units)[:1]
    ]


def _width_faults(found: Faces, drawn: UnitScale, likely: str | None) -> list[Fault]:
    """Walls that no building has: the units are wrong."""
    least, most = limits()["narrowest"] * drawn.inch, limits()["widest"] * drawn.inch
    widths = [(face.outline.box[2] - face.outline.box[0]) * drawn.factor for face in found.faces]
    if not widths:
        return []
    mark = 1 / 16 if drawn.units == "in" else 1.0

    def shown(length: float) -> str:
        return show_length(length, drawn.units, mark) + (" mm" if drawn.units == "mm" else "")

    wanted = f"walls from {shown(least)} to {shown(most)}: --units says what one drawing unit is"
    wanted += f"; perhaps {likely}, by the openings" if likely else ""
    by = f"in a drawing in {WORDS[drawn.name]} (by {drawn.by})"
    if max(widths) < least:
        source = found.faces[widths.index(max(widths))].outline.source
        return [Fault(str(source), f"a widest wall of {shown(max(widths))} {by}", wanted)]
    return [
        Fault(str(face.outline.source), f"a wall {width / most:.3g} times as wide as the widest {by}", wanted)
        for face, width in zip(found.faces, widths, strict=True)
        if width > most
    ][:20]


def _job(understood: Understood, wishes: Wishes, like: Job | None, drawn: UnitScale) -> Job:
    faces = tuple(understood.elevations)
    if like is None:
        assert wishes.cladding is not None
        return bare_job(wishes.name, drawn.units, understood.datum, wishes.cladding, faces)
    claddings = like.claddings
    if wishes.cladding is not None:
        name = next(iter(claddings))
        claddings = {name: build_cladding(name, wishes.cladding, {}, drawn.units)}
    return replace(like, elevations=faces, claddings=claddings, as_built=_still_there(like.as_built, faces))


def _still_there(built: AsBuilt, faces: Sequence[Elevation]) -> AsBuilt:
    """What hangs already and what was found elsewhere, on the faces and of the openings that are drawn."""
    marks = {(face.name, one.mark) for face in faces for one in face.openings}
    names = {face.name for face in faces}
    return AsBuilt(
        tuple(line for line in built.courses if line.face in names),
        tuple(one for one in built.openings if (one.face, one.opening.mark) in marks),
    )


def _remarks(understood: Understood, wishes: Wishes, drawn: UnitScale, found: Faces) -> Remarks:
    head = [
        f"From {wishes.file}, drawn in {WORDS[drawn.name]}.",
        f"Heights from the datum: {understood.datum}; x from the left corner of each face.",
    ]
    if found.unused:
        head.append(f"{len(found.unused)} things on the layers of walls and openings were of no use.")
    boxes = {
        place: note.partition(": ")[2]
        for note in understood.notes
        for place in understood.things
        if note.startswith(f'face "{place[0]}", opening "{place[1]}": ')
    }
    return Remarks(head, {name: _where(source) for name, source in understood.faces.items()}, boxes)


def _where(source: Source) -> str:
    return f'{source.kind}{" " + source.handle if source.handle else ""} on layer "{source.layer}"'
