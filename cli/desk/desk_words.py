"""What the scripts of the desk say: sentences in English, and the same in the language that is spoken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from evencourse.cli.jobs.revisions import CHANGED, NEW, OPENED, OUTSIDE
from evencourse.cli.views.field_words import choice_words, opening_words
from evencourse.layout.language.speech import gettext, ngettext, noop, pgettext

_SENTENCES = (
    # Bringing a drawing, and picking on it.
    noop("{file}: found {size} MB; wanted at most {most} MB: walls, openings and roofs alone"),
    noop("Bringing {file} …"),
    noop("Nothing was taken of this file."),
    noop("The drawing is read otherwise now, and its numbers are others: pick again."),
    noop("Lines and texts that were not used"),
    noop("Take layers whose name may mean something else, too: {layers}"),
    noop("Page, of {pages}"),
    noop("Put the changes into the job"),
    noop("Add these faces to the job"),
    noop("It is drawn in {units}"),
    noop("as the job says that the drawing carries"),
    noop("Changed since the job was drawn"),
    noop("Nothing has changed since the job was drawn"),
    noop("Region {number}, {size}: {what}"),
    noop("Name of this face"),
    noop("Leave out {face}"),
    noop("Mark"),
    noop("Region {number} is"),
    noop("Region {number} is taken as a face."),
    noop("This is the only face: tap another one first."),
    noop("Region {number} is left out. Tap it again to take it."),
    noop("Region {number} is left out."),
    noop("Region {number}: {kind}."),
    noop("an opening"),
    noop("Tap one end of the known length, then the other."),
    noop("Type how long it is."),
    noop("Writing the job …"),
    # Measuring.
    noop("meanwhile: {changes}"),
    noop("{error}. This figure is sent again until it is saved."),
    noop("No connection to the desk: this figure is sent when it is back."),
    noop("the job"),
    noop("The job"),
    noop("Changed meanwhile"),
    noop("{who} changed this while you were at it:"),
    noop("Somebody changed this while you were at it:"),
    noop("Keep theirs"),
    noop("Put mine"),
    noop("Walk round the building to the right, one face at a time: begin with + Face."),
    noop("The face is drawn when its figures are there."),
    noop("The face is drawn when its width, base and eave are there."),
    noop("line {line}: {place}: {words}"),
    noop("wanted: {wanted}"),
    noop("The walk round the building closes."),
    noop("Face {number}"),
    noop("+ Face"),
    noop("What happens at its edges"),
    noop("The wall is given by its corners now, and its gable by the peak."),
    noop("Taken away. Undo brings it back."),
    noop("Siding"),
    noop("Leave it as it is"),
    noop("Take the one that is marked"),
    # The plan.
    noop("There is no plan yet:"),
    noop("Go on measuring"),
    noop("Starter of {set}"),
    noop("Alternative {number}:"),
    noop("The plan:"),
    noop("one mark lower"),
    noop("one mark higher"),
    noop("Back to the plan"),
    noop("Keep this starter"),
    noop("The starter is fixed."),
    noop("Starter limits {limits}"),
    noop("Let the planner choose"),
    noop("Other workable layouts"),
    noop("Every edge is met."),
    noop("Known of the plan's own lines alone."),
    noop("Nothing in particular."),
    noop("How much {edge} matters"),
    noop("Saved: {what}"),
    noop("Somebody changed the job meanwhile: look at it again."),
    noop("No connection to the desk: this was not saved."),
    noop("Pieces and order are being worked out…"),
    noop("Working…"),
    noop("(the job's)"),
    noop("{score}; starter {starters}"),
    noop("Take this one"),
    noop("Taken. Undo brings the other back."),
    noop("Working: {step}…"),
    # Handing out.
    noop("working…"),
    noop("Take {file}"),
    noop("It was not made: see below its name."),
    # Hanging.
    noop("This browser keeps nothing: do not close the page before the ticks are sent."),
    noop("No connection."),
    noop("No connection. Ticks are kept here and sent later."),
    noop("Next course"),
    noop("Course {course} is up"),
    noop("{face}: every course is up."),
    noop(
        "Course {courses} went up by other lines than the plan has now. Tap it under Courses, measure its "
        "bottom and write it down: the rest is planned from there."
    ),
    noop("Course {course} is not up after all"),
    noop("Course {course} hangs elsewhere: write down where"),
    noop("Course {name}, bottom {at}, up"),
    noop("Course {name}, bottom {at}, not up"),
    noop("Course {name}, bottom {at}"),
    noop("as measured"),
    noop("Measured bottom at the left corner"),
    noop("Measured bottom at the right corner"),
    noop("It is not up after all"),
    noop("It is up"),
    noop("It hangs elsewhere: write down where"),
    noop("Heights from the datum. What hangs stays; the courses above are planned again."),
    noop("Plan the rest from there"),
    noop("Written down; the rest is planned again."),
    noop("There is nothing to hang yet:"),
    # Every screen.
    noop("not given"),
    noop("Your name, as the others see it"),
    noop("the desk did not take it"),
    noop("No connection to the desk."),
    noop("Nothing to undo."),
    noop("Nothing to redo."),
    noop("Somebody"),
    noop("changed the job"),
    OUTSIDE,
    CHANGED,
    OPENED,
    NEW,
)
#: Sentences that depend on a number, for every other than one.
_COUNTED = (
    "{count} faces are taken.",
    "({count} figures wanted)",
    "{count} more to look at",
    "{count} ticks wait for the connection.",
    "No connection. {count} ticks are kept here and sent later.",
    "{count} pieces; spare {share} %.",
)


def script_words() -> dict[str, str | dict[str, str]]:
    """By the English sentence what is said; of one that depends on a number, what is said for one and others.

    What is said as in English is left out. A sentence keeps its places for values: the script fills them.
    """
    found: dict[str, str | dict[str, str]] = {
        english: words for english, words in _said() if words != english
    }
    one, others = _counted(1), _counted(2)
    return found | {english: {"one": one[english], "other": others[english]} for english in others}


def _said() -> Iterator[tuple[str, str]]:
    for sentence in _SENTENCES:
        yield sentence, gettext(sentence)
    yield from opening_words().items()
    for importance in ("must", "want", "ignore"):
        yield importance, choice_words(importance)
    yield from {
        "Plan": pgettext("head of a column", "Plan"),
        "Before": pgettext("head of a column", "Before"),
        "After": pgettext("head of a column", "After"),
        "What": pgettext("head of a column", "What"),
        "Quantity": pgettext("head of a column", "Quantity"),
        "left out": pgettext("a region of a drawing", "left out"),
        "not taken": pgettext("a region of a drawing", "not taken"),
        "{view}, not taken": pgettext("a region of a drawing", "{view}, not taken"),
        "face {face}": pgettext("a region of a drawing", "face {face}"),
        "on {face}": pgettext("a region of a drawing", "on {face}"),
        "{kind} {mark} on {face}": pgettext("a region of a drawing", "{kind} {mark} on {face}"),
        "face": pgettext("view on a drawing", "face"),
        "plan": pgettext("view on a drawing", "plan"),
        "section": pgettext("view on a drawing", "section"),
        "made": pgettext("a file", "made"),
        "up": pgettext("a course", "up"),
        "bottom {height}": pgettext("a course", "bottom {height}"),
        "delete": pgettext("key of a keypad", "delete"),
        "feet": pgettext("key of a keypad", "feet"),
        "inches": pgettext("key of a keypad", "inches"),
        "minus": pgettext("key of a keypad", "minus"),
        "clear": pgettext("key of a keypad", "clear"),
        "Done": pgettext("key of a keypad", "Done"),
        "Next": pgettext("key of a keypad", "Next"),
        "Close": pgettext("button of a dialog", "Close"),
    }.items()


def _counted(number: int) -> Mapping[str, str]:
    """Sentences that depend on a number, as they are said for one number."""
    kept = {name: f"{{{name}}}" for name in ("count", "share")}
    said = (
        ngettext("{count} face is taken.", "{count} faces are taken.", number, **kept),
        ngettext("({count} figure wanted)", "({count} figures wanted)", number, **kept),
        ngettext("{count} more to look at", "{count} more to look at", number, **kept),
        ngettext(
            "{count} tick waits for the connection.", "{count} ticks wait for the connection.", number, **kept
        ),
        ngettext(
            "No connection. {count} tick is kept here and sent later.",
            "No connection. {count} ticks are kept here and sent later.",
            number,
            **kept,
        ),
        ngettext("{count} piece; spare {share} %.", "{count} pieces; spare {share} %.", number, **kept),
    )
    return dict(zip(_COUNTED, said, strict=True))
