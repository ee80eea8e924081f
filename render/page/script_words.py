"""What the scripts of the page say themselves: all that they know of the language that the page is made in.

Names in braces are places that the scripts fill. A sentence that depends on a number comes in two forms: for
one, and for any other number.
"""

from __future__ import annotations

from evencourse.layout.language.speech import gettext, ngettext, pgettext

Words = dict[str, str | list[str]]
#: A number of each form, in their order; every language here has two.
_FORMS = (1, 2)


def script_words() -> Words:
    """Every message of ``pagefiles/*.js``, in the language that is spoken, by the key that they ask for."""
    return {**_edges(), **_courses(), **_starter(), **_check_marks(), **_page()}


def _edges() -> Words:
    flush = [ngettext("{count} flush", "{count} flush", n, count="{count}") for n in _FORMS]
    rips = [ngettext("{count} rip", "{count} rips", n, count="{count}") for n in _FORMS]
    bases = [ngettext("{count} base not met", "{count} bases not met", n, count="{count}") for n in _FORMS]
    notches = [ngettext("{count} notch", "{count} notches", n, count="{count}") for n in _FORMS]
    slivers = [ngettext("{count} sliver", "{count} slivers", n, count="{count}") for n in _FORMS]
    changed = [
        ngettext(
            "Changed against the plan: {count} edge here.",
            "Changed against the plan: {count} edges here.",
            n,
            count="{count}",
        )
        for n in _FORMS
    ]
    changed_elsewhere = [
        ngettext(
            "Changed against the plan: {count} edge here, {others} on other faces.",
            "Changed against the plan: {count} edges here, {others} on other faces.",
            n,
            count="{count}",
            others="{others}",
        )
        for n in _FORMS
    ]
    return {
        "result flush": pgettext("how an edge comes out", "flush"),
        "result rip": pgettext("how an edge comes out", "rip"),
        "result base": pgettext("how an edge comes out", "not met"),
        "result notch": pgettext("how an edge comes out", "notch"),
        "result sliver": pgettext("how an edge comes out", "sliver"),
        "count flush": flush,
        "count rip": rips,
        "count base": bases,
        "count notch": notches,
        "count sliver": slivers,
        "edge heading": gettext("{edge}: {sign} {result}"),
        "edge action": gettext("{edge}: {action}"),
        "notch first": gettext("notch:"),
        "edge must": gettext("{edge}, must"),
        "edge ignored": gettext("{edge}, ignored"),
        "must be flush": gettext("Must be flush."),
        "not counted": gettext("Not counted."),
        "height": gettext("Height"),
        "in the plan": gettext("In the plan: {result}, course {course}."),
        "changed": gettext("changed; in the plan: {result}, course {course}"),
        "changed from no edge": gettext("changed; in the plan: no edge"),
        "edges changed": changed,
        "edges changed elsewhere": changed_elsewhere,
        "missed": gettext("Missed:"),
        "all flush": gettext("Every edge that counts is flush."),
        "kind window": pgettext("an opening and its mark", "Window {mark}"),
        "kind door": pgettext("an opening and its mark", "Door {mark}"),
        "kind garage door": pgettext("an opening and its mark", "Garage door {mark}"),
        "kind vent": pgettext("an opening and its mark", "Vent {mark}"),
        "kind other": pgettext("an opening and its mark", "Other {mark}"),
        "where it is": gettext("Where it is"),
        "opening before": gettext("Opening before"),
        "next opening": gettext("Next opening"),
        "fixture": gettext("Fixture {mark}"),
        "fixture before": gettext("Fixture before"),
        "next fixture": gettext("Next fixture"),
        "cut round it": gettext("Courses cut round it"),
        "no courses": pgettext("courses", "none"),
        "up and over": gettext("{up} up, {over} over"),
        "either layout": gettext("{layout} or {other}"),
    }


def _courses() -> Words:
    pieces = [
        ngettext("{count} piece, from the left", "{count} pieces, from the left", n, count="{count}")
        for n in _FORMS
    ]
    progress = [
        ngettext(
            "{done} of {count} course up", "{done} of {count} courses up", n, done="{done}", count="{count}"
        )
        for n in _FORMS
    ]
    return {
        "course": gettext("Course {course}"),
        "course of face": gettext("Course {course}, {face}"),
        "course below": gettext("Course below"),
        "course above": gettext("Course above"),
        "course not here": gettext("This course does not show on this face."),
        "course installed": gettext("This course is already installed."),
        "course is up": gettext("Course {course} is up"),
        "course is down": gettext("Course {course} is no longer checked off"),
        "tick of course": gettext("course {course} of {face}"),
        "up": pgettext("a course on the wall", "up"),
        "course row": gettext("Course {course}, {height}: its pieces"),
        "butt line": gettext("Butt line, from the datum"),
        "on this face": gettext("On this face"),
        "next line": gettext("Next line, from the datum"),
        "exposure": gettext("Exposure"),
        "siding": gettext("Siding"),
        "edges it meets": gettext("Edges it meets"),
        "pieces": gettext("Pieces"),
        "pieces from left": pieces,
        "pieces of course": gettext("Pieces of course {course}"),
        "pieces held back": gettext(
            "Pieces are cut for the plan's lines, and the lines are moved. Go back to the plan, or plan with"
            " this starter and make the page again."
        ),
        "stock": gettext("Stock no. {stock}, cut {cut}."),
        "order": gettext("Number {number} to install on this face."),
        "progress": progress,
        "all up": gettext("Every course of this face is up"),
        "line": gettext("line {height}"),
        "line and cuts": gettext("line {height}; cut at {edges}"),
    }


def _starter() -> Words:
    return {
        "chalk line": gettext("Chalk line {height}"),
        "first line": gettext("{line}: {height}"),
        "starter line": gettext("Starter line"),
        "starter line of": gettext("Starter line, {siding}"),
        "slider": gettext("{line}, in marks of the tape"),
        "drag the grip": gettext(
            "Drag the grip under the line on the drawing, or move it here. Its limits are {limits}."
        ),
        "starter down": gettext("Starter down {step}"),
        "starter up": gettext("Starter up {step}"),
        "courses hang": gettext("Courses 1 to {last} are installed; the rest is planned from there."),
        "starter fixed": gettext("The starter is fixed here."),
        "back": gettext("Back to the plan"),
        "others": gettext("Other workable layouts"),
        "layout shown": gettext("Layout shown"),
        "plan's layout": gettext("The plan. {layout}"),
        "every term": gettext("Every term of the score"),
        "terms": gettext("Terms of the score"),
        "term": gettext("Term; the first difference decides"),
        "here": pgettext("the score of the lines shown", "here"),
        "plan": pgettext("the score of the plan", "plan"),
        "now": gettext("{starter}; chalk line {chalk}"),
        "on all faces": gettext("On all {number} faces that share it: {score}."),
        "on one face": gettext("On this face: {score}."),
        "this is the plan": gettext("This is the plan."),
        "starter at": gettext("Starter {height}"),
        "edges differ": gettext("changed on this face: {edges}"),
        "more edges differ": gettext("changed on this face: {edges} and {number} more"),
        "no edge differs": gettext("no edge changed on this face"),
        "as planned": gettext("as in the plan"),
    }


def _check_marks() -> Words:
    added = [
        ngettext("{count} course newly checked off", "{count} courses newly checked off", n, count="{count}")
        for n in _FORMS
    ]
    had = [
        ngettext("{count} already checked off", "{count} already checked off", n, count="{count}")
        for n in _FORMS
    ]
    left_out = [
        ngettext(
            "{count} not on this building left out",
            "{count} not on this building left out",
            n,
            count="{count}",
        )
        for n in _FORMS
    ]
    return {
        "saved": gettext("Saved as {file}. If the browser saved nothing, copy the text below."),
        "marks added": gettext("check marks added"),
        "marks cleared": gettext("check marks cleared"),
        "all cleared": gettext("All check marks are cleared."),
        "clear all?": gettext("Clear all check marks of this job, on all faces?"),
        "undo": gettext("Undo"),
        "undo last": gettext("Undo: {change}"),
        "undone": gettext("Undone: {change}."),
        "no JSON": gettext(
            "This is not a file of check marks: it cannot be read as JSON. Nothing was changed."
        ),
        "no check marks": gettext(
            "This is not a file of check marks that such a page saved. Nothing was changed."
        ),
        "other version": gettext("This file is from another version of the page. Nothing was changed."),
        "other job": gettext("These check marks are for another job: {job}. Nothing was changed."),
        "added": added,
        "had": had,
        "left out": left_out,
        "measured again": gettext("The building was measured again since: look them through."),
        "kept": gettext("Check marks are kept in this browser, on this device."),
        "not kept": gettext(
            "This browser keeps nothing for this page: save the check marks to a file before you close it."
        ),
    }


def _page() -> Words:
    return {
        "nameless job": gettext("Job without a name"),
        "datum": gettext("Heights from the datum: {datum}"),
        "datum and author": gettext("Heights from the datum: {datum}. Measured by {author}"),
        "face and counts": gettext("{face}: {counts}"),
        "drawing": gettext(
            "Drawing of {face}. Arrow keys move it, plus and minus zoom, 0 shows the whole wall. The lists "
            "beside it say the same in words."
        ),
    }
