"""Several boards together as scripts get them: the JSON of ``rustboard findings BOARD BOARD...``."""

from __future__ import annotations

from rustboard.findings.boards.matching import Common
from rustboard.findings.boards.results import BoardEffect, PooledComparison
from rustboard.findings.coupons.groups import GroupResult
from rustboard.session.findings_json import coupon_rows, p_value, rounded, texts
from rustboard.session.other_boards import PooledBoards


def boards_data(pooled: PooledBoards) -> dict[str, object]:
    """Return what several boards say together as values that JSON has; what is not known is None."""
    request, findings = pooled.request, pooled.findings
    return {
        "boards": list(findings.boards),
        "failing_grade": request.failing_grade,
        "clock": request.clock,
        "measure": request.measure,
        "compared": request.compared,
        "shared_until": rounded(pooled.shared),
        "coupons": [
            {"board": name, **row}
            for name, subject in zip(findings.boards, pooled.subjects, strict=True)
            for row in coupon_rows(subject)
        ],
        "treatments": [_treatment(each, pooled) for each in request.matching.common],
        "comparisons": [_comparison(each) for each in findings.pooled],
        "verdict": texts(findings.verdict),
        "cautions": texts(findings.cautions),
    }


def _treatment(row: Common, pooled: PooledBoards) -> dict[str, object]:
    return {
        "treatment": row.name,
        "role": "control" if row.controls else "test",
        "sure": row.sure,
        "why": row.why.text() or None,
        "boards": [
            _on_board(name, own, _group(row, number, pooled))
            for number, (name, own) in enumerate(zip(pooled.findings.boards, row.treatments, strict=True))
            if own
        ],
    }


def _group(row: Common, number: int, pooled: PooledBoards) -> GroupResult | None:
    role, own = "control" if row.controls else "test", row.treatments[number]
    groups = pooled.subjects[number].group_results
    return next((each for each in groups if each.group.id == own and each.group.role == role), None)


def _on_board(board: str, own: str, group: GroupResult | None) -> dict[str, object]:
    return {
        "board": board,
        "treatment": own,
        "n": 0 if group is None else len(group.counted),
        "mean": rounded(None if group is None else group.mean),
        "sd": rounded(None if group is None else group.sd),
    }


def _comparison(each: PooledComparison) -> dict[str, object]:
    return {
        "a": each.name_a,
        "b": each.name_b,
        "difference": rounded(each.difference),
        "low": rounded(each.low),
        "high": rounded(each.high),
        "tau": rounded(each.tau),
        "q": rounded(each.q),
        "q_p": p_value(each.q_p),
        "i_squared": rounded(each.i_squared),
        "p_exact": p_value(each.p_exact),
        "p_exact_smallest": p_value(each.p_exact_smallest),
        "p_exact_family": p_value(each.p_exact_family),
        "sampled": each.sampled,
        "boards": [_effect(effect) for effect in each.effects],
    }


def _effect(effect: BoardEffect) -> dict[str, object]:
    return {
        "board": effect.board,
        "n_a": effect.units_a,
        "n_b": effect.units_b,
        "difference": rounded(effect.difference),
        "low": rounded(effect.low),
        "high": rounded(effect.high),
        "standard_error": rounded(effect.standard_error),
        "weight": rounded(effect.weight),
    }
