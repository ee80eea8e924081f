"""Words that stand fixed in the page's HTML."""

from __future__ import annotations

from evencourse.layout.language.speech import gettext, pgettext


def html_words() -> dict[str, str]:
    """By their place in ``pagefiles/page.html``; ``{face}`` is where the scripts write a face's name."""
    return {
        "to_edges": gettext("To the edges in words"),
        "no_scripts": gettext(
            "Scripts are off: below are the sheets of the faces as they are printed. With scripts the page "
            "draws, moves the starter and keeps check marks."
        ),
        "faces": gettext("Faces of the building"),
        "drawing": pgettext("the picture of a face", "Drawing"),
        "zoom": pgettext("buttons over the drawing", "Zoom"),
        "zoom_in": gettext("Zoom in"),
        "zoom_out": gettext("Zoom out"),
        "fit": pgettext("button: show the whole wall", "Fit"),
        "all_back": gettext("Moved. Back to the plan"),
        "tap": gettext("Tap an opening for its cuts, a course for its pieces. Pinch to zoom."),
        "not_met": gettext("Edges not met on {face}, worst first"),
        "edges": gettext("Edges of {face}, from the top"),
        "carried": gettext("Since the first plan"),
        "slopes": gettext("Cuts on slopes"),
        "courses": gettext("Courses of {face}"),
        "every_course": gettext("Every course, from the bottom"),
        "to_check": gettext("Pieces and seams to check"),
        "marks_file": gettext("Check marks as a file"),
        "save_marks": gettext("Save the check marks"),
        "add_file": gettext("Add check marks from a file"),
        "as_text": gettext("Or as text, to copy and paste"),
        "add_text": gettext("Add those in the text"),
        "clear_all": gettext("Clear all check marks"),
        "cautions": gettext("Cautions"),
        "key": pgettext("what the signs of a drawing mean", "Key"),
        "flush": gettext("flush: a butt line meets the edge"),
        "notch": gettext("notch or rip: the course is cut"),
        "sliver": gettext("sliver: the strip is too thin to hold or to look right"),
        "signs": gettext(
            "Dashes and dots: the thick line is the starter line, the thin one the datum. A box round a "
            "sign: that edge changed against the plan. Hatching: the course is up. Yellow: what is left of a"
            " course that is cut. Bars over the slider: the weight of the flush edges at each mark, open "
            "where there are slivers or a must-meet edge is missed; the triangle is the plan."
        ),
        "next_course": gettext("Next course"),
        "undo": gettext("Undo"),
        "pieces": gettext("Pieces"),
        "close": pgettext("button", "Close"),
        "sheets_name": gettext("Sheets of the faces"),
    }
