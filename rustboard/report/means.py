"""The means of treatments at each inspection, worked out once for the sheet and the chart that show them."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from rustboard.board.record import BoardRecord
from rustboard.report.groups import Group


def mean_grades(record: BoardRecord, sorted_coupons: Sequence[Group]) -> pd.DataFrame:
    """Return means and counts of current grades.

    Returns:
        One row an inspection (key, by time) with any grade, columns ``("mean", n)`` and ``("count", n)`` for the
        n-th group, from 0: titles may be alike. A mean is NaN where nothing was graded.
    """
    numbers = {coupon.key: number for number, group in enumerate(sorted_coupons) for coupon in group.coupons}
    rows = [
        (inspection.key, numbers[coupon.key], grading.grade)
        for inspection, coupon, grading in record.current_gradings()
        if coupon.key in numbers
    ]
    columns = pd.MultiIndex.from_product([("mean", "count"), range(len(sorted_coupons))], names=[None, "group"])
    if not rows:
        return pd.DataFrame(columns=columns)
    frame = pd.DataFrame(rows, columns=["inspection", "group", "grade"])
    wide = frame.pivot_table(index="inspection", columns="group", values="grade", aggfunc=["mean", "count"])
    wide = wide.reindex(columns=columns)
    in_time = [each.key for each in record.inspections_in_order()]
    return wide.reindex([key for key in in_time if key in wide.index])
