"""Measuring the rust in a board's photos: a job.

Frozen request in, placings and measurements out, nothing written but the cache; what it finds becomes an ordinary
operation (`rustboard.operations.measuring.keep_measuring`).
"""

from __future__ import annotations

from rustboard.session.jobs import Progress
from rustboard.session.measuring_job import MeasureRequest as MeasureRequest
from rustboard.session.measuring_job import MeasureResult as MeasureResult
from rustboard.session.measuring_pool import pool_of, usable_processes
from rustboard.session.session import Session
from rustboard.support.paths import cache_folder


def measuring_request(session: Session, *, again: bool = False, processes: int | None = None) -> MeasureRequest:
    """Return how to measure what a board needs measured."""
    count = usable_processes() if processes is None else processes
    return MeasureRequest(session.record.snapshot(), session.folder, cache_folder(), again, count)


def brushed_request(session: Session, coupon: int) -> MeasureRequest:
    """Return how to work a coupon's figures out anew after the brush: from the photos that are measured already."""
    record = session.record.snapshot()
    return MeasureRequest(
        record, session.folder, cache_folder(), photos=frozenset(record.measured), coupons=frozenset({coupon})
    )


def measure(request: MeasureRequest, progress: Progress) -> MeasureResult:
    """Measure; may be cancelled at any time, and goes on where it was when it is asked for again.

    Raises:
        InputError: no coupon can be measured, or the cache was emptied meanwhile.
        Cancelled: the user asked to stop.
    """
    from rustboard.session.measuring_cache import GoneFromCacheError, MeasuringCache
    from rustboard.session.measuring_run import MeasuringRun

    with pool_of(request.processes) as pool:
        try:
            result = MeasuringRun(request, pool, progress).result()
        except GoneFromCacheError:  # what was missing is made anew
            result = MeasuringRun(request, pool, progress).result()
    if result.measurements:
        MeasuringCache(request.cache).make_room()
    return result
