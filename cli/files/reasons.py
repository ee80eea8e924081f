"""What a system error means, in words that a user can act on."""

from __future__ import annotations

import errno

from evencourse.layout.language.speech import gettext, noop

#: Environment variable: set to anything to see where in the program a fault lies.
TRACE = "EVENCOURSE_TRACE"


def reason(error: OSError) -> str:
    """The reason in a few words, for the end of a sentence."""
    said = {
        errno.ENOSPC: noop("the disk is full"),
        getattr(errno, "EDQUOT", -1): noop("the disk quota is used up"),
        errno.EACCES: noop("no permission"),
        errno.EPERM: noop("no permission"),
        errno.EROFS: noop("the disk is read-only"),
        errno.ENOENT: noop("no such file or folder"),
        errno.ENOTDIR: noop("a file stands where a folder should be"),
        errno.EISDIR: noop("it is a folder"),
        errno.ENAMETOOLONG: noop("the name is too long"),
        errno.ELOOP: noop("links that lead in a circle"),
        errno.EEXIST: noop("a file stands where a folder should be"),
    }
    if known := said.get(error.errno or 0):
        return gettext(known)
    return (error.strerror or str(error) or gettext("unknown reason")).lower()
