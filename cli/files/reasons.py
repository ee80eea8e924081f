"""What a system error means, in words that a user can act on."""

from __future__ import annotations

import errno

#: Environment variable: set to anything to see where in the program a fault lies.
TRACE = "EVENCOURSE_TRACE"


def reason(error: OSError) -> str:
    """The reason in a few words, for the end of a sentence."""
    said = {
        errno.ENOSPC: "the disk is full",
        getattr(errno, "EDQUOT", -1): "the disk quota is used up",
        errno.EACCES: "no permission",
        errno.EPERM: "no permission",
        errno.EROFS: "the disk is read-only",
        errno.ENOENT: "no such file or folder",
        errno.ENOTDIR: "a file stands where a folder should be",
        errno.EISDIR: "it is a folder",
        errno.ENAMETOOLONG: "the name is too long",
        errno.ELOOP: "links that lead in a circle",
        errno.EEXIST: "a file stands where a folder should be",
    }
    return said.get(error.errno or 0, (error.strerror or str(error) or "unknown reason").lower())
