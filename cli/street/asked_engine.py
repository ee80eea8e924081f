"""Who is to do the work of several jobs, as the command line asks for it."""

from __future__ import annotations

import os
import re
import ssl
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from evencourse.cli.street.engines import Cluster, Engine, ThisMachine
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.errors import Fault

#: More processes than this are a slip of the finger; more ports there are not.
_MOST, _PORTS = 512, 65535
_TLS = ("--tls-ca", "--tls-cert", "--tls-key")


def cores() -> int:
    """How many processes can run at once here."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def read_workers(text: str | None, faults: list[Fault]) -> int:
    """How many jobs are worked at at once: as many as there are cores when nothing is said."""
    if text is None:
        return cores()
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if not 1 <= number <= _MOST:
        wanted = gettext("a number of jobs at once, from 1 to {most}", most=_MOST)
        faults.append(Fault("--jobs", f'"{text}"', wanted))
    return number


def read_engine(
    workers: str | None,
    cluster: str | None,
    tls: tuple[str | None, str | None, str | None],
    jobs: Sequence[str],
    faults: list[Fault],
) -> Engine:
    """Who does the work: the processes of this machine, or a cluster.

    Args:
        workers: what ``--jobs`` was given.
        cluster: what ``--cluster`` was given.
        tls: what ``--tls-ca``, ``--tls-cert`` and ``--tls-key`` were given.
        jobs: the job files as the user named them.
        faults: what is wrong is added to them.
    """
    number = read_workers(workers, faults)
    given = [(option, file) for option, file in zip(_TLS, tls, strict=True) if file is not None]
    if cluster is None:
        for option, file in given:
            found = gettext('"{file}" without --cluster', file=file)
            faults.append(Fault(option, found, gettext("--cluster, too")))
        return ThisMachine(number)
    if workers is not None:
        found = gettext('"{jobs}" with --cluster', jobs=workers)
        faults.append(Fault("--jobs", found, gettext("one of them: the cluster has its own")))
    if len(jobs) == 1:
        faults.append(Fault("--cluster", ngettext("{count} job", "{count} jobs", 1), gettext("several jobs")))
    if find_spec("distributed") is None:
        found = gettext("no Dask installed here")
        faults.append(Fault("--cluster", found, "pip install 'evencourse[cluster]'"))
    address = cluster if "://" in cluster else f"{'tls' if given else 'tcp'}://{cluster}"
    named = re.fullmatch(r"(tcp|tls)://[^\s/]+:(\d{1,9})/?", address)
    if not named:
        wanted = gettext("HOST:PORT of a scheduler, tcp://HOST:PORT or tls://HOST:PORT")
        faults.append(Fault("--cluster", f'"{cluster}"', wanted))
    elif not 1 <= int(named[2]) <= _PORTS:
        found = gettext('port {port} in "{address}"', port=named[2], address=cluster)
        faults.append(Fault("--cluster", found, gettext("a port from 1 to {most}", most=_PORTS)))
    if address.startswith("tls:") and len(given) < len(_TLS):
        wanted = gettext("--tls-ca, --tls-cert and --tls-key, too")
        faults.append(Fault("--cluster", f'"{cluster}"', wanted))
    elif address.startswith("tcp:") and given:
        found = gettext('"{address}" with {option}', address=cluster, option=given[0][0])
        faults.append(Fault("--cluster", found, "tls://HOST:PORT"))
    missing = [(option, file) for option, file in given if not Path(file).is_file()]
    for option, file in missing:
        found = gettext('"{file}", which is no file', file=file)
        faults.append(Fault(option, found, gettext("a file of PEM text")))
    authority, certificate, key = tls
    if authority and certificate and key and not missing:
        _check_pem(authority, certificate, key, faults)
    return Cluster(address.rstrip("/"), authority, certificate, key)


def _check_pem(authority: str, certificate: str, key: str, faults: list[Fault]) -> None:
    """Refuse what is no certificate and no key: a cluster would be blamed for it."""
    before = len(faults)
    for option, file in ((_TLS[0], authority), (_TLS[1], certificate)):
        try:
            ssl.create_default_context(cafile=file)
        except (OSError, ValueError):
            found = gettext('"{file}", with no certificate to read', file=file)
            faults.append(Fault(option, found, gettext("PEM text of a certificate")))
    if len(faults) > before:
        return
    try:
        ssl.create_default_context().load_cert_chain(certificate, key, password=lambda: "")
    except (OSError, ValueError) as error:
        if getattr(error, "reason", "") == "KEY_VALUES_MISMATCH":
            found = gettext(
                '"{key}", which is not the key of "{certificate}"', key=key, certificate=certificate
            )
        else:
            found = gettext('"{key}", with no key to read, or one locked by a password', key=key)
        faults.append(Fault(_TLS[2], found, gettext("PEM text of the certificate's key, not locked")))
