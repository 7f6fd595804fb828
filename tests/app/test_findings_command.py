"""``rustboard findings``: for people and for scripts."""

from __future__ import annotations

import json
from contextlib import closing
from pathlib import Path

import pytest
from command_line import Rustboard, plan_text
from graded_blind import grade_blind

from rustboard.session.session import Session

KEYS = [
    "boards", "failing_grade", "clock", "measure", "compared", "coupons", "treatments", "comparisons", "overall",
    "survival", "factors", "value", "doubts", "growth", "verdict", "cautions",
]  # fmt: skip
PROMISED = {
    "coupons": {"coupon", "treatment", "last_grade", "weighted_mean_grade", "failed_after", "failed_before"},
    "treatments": {"treatment", "n", "mean", "sd", "rank_group", "median_days_to_failure"},
    "comparisons": {"a", "b", "difference", "low", "high", "p_model", "p_exact", "p_exact_smallest"},
}


@pytest.fixture
def fence(tmp_path: Path, rustboard: Rustboard) -> Path:
    """Three coupons each of two treatments and a control, graded twice."""
    plan, grades, board = tmp_path / "plan.json", tmp_path / "typed.csv", tmp_path / "Fence"
    coupons = [
        {"id": f"C{row}{column}", "position": f"{'ABC'[row]}{column + 1}"}
        | ({"treatment": f"T{column + 1}"} if column < 2 else {"role": "control"})
        for row in range(3)
        for column in range(3)
    ]
    facts = {"name": "Fence", "rows": 3, "columns": 3, "started": "2026-03-02T09:00"}
    plan.write_text(plan_text(board=facts, coupons=coupons), encoding="utf-8")
    assert rustboard("new", board, "--plan", plan).code == 0
    lines = ["date,coupon,grade"]
    for day, seen in (("2026-03-09", (10, 8, 5)), ("2026-03-16", (9, 6, 2))):
        lines += [
            f"{day}T09:00,C{row}{column},{seen[column] - (row == 1)}" for row in range(3) for column in range(3)
        ]
    grades.write_text("\n".join(lines) + "\n", encoding="utf-8")
    added = rustboard("add-grades", board, grades)
    assert added.code == 0, added.err
    return board


def test_people_get_the_verdict_the_tables_and_what_to_doubt(rustboard: Rustboard, fence: Path) -> None:
    finished = rustboard("findings", fence)
    assert (finished.code, finished.err) == (0, "")
    lines = finished.out.splitlines()
    assert lines[0] == "Fence"
    assert lines[2].startswith("Judged by the last grade, after 14 days")
    assert any(each.startswith("Hot beeswax blend did better than control: by 7 grades") for each in lines)
    assert any("as if lots had been drawn" in each for each in lines)  # nobody drew any
    assert any(each.split()[:2] == ["Treatment", "Coupons"] for each in lines)
    assert any("p, family" in each and "smallest" in each for each in lines)
    assert "Before you trust this:" in lines
    assert "nan" not in finished.out.split()


def test_scripts_get_the_promised_keys(rustboard: Rustboard, fence: Path) -> None:
    finished = rustboard("findings", fence, "--json")
    assert (finished.code, finished.err) == (0, "")
    data = json.loads(finished.out, parse_constant=_refuse)
    assert [each for each in data if each != "problems"] == KEYS
    for part, keys in PROMISED.items():
        assert data[part]
        assert all(keys <= set(each) for each in data[part])
    assert (data["boards"], data["failing_grade"], data["clock"], data["factors"]) == (["Fence"], 7, "days", None)
    coupons = {each["coupon"]: each for each in data["coupons"]}
    assert (coupons["C00"]["failed_after"], coupons["C00"]["failed_before"]) == (14, None)  # grade 9: not failed
    assert (coupons["C01"]["failed_after"], coupons["C01"]["failed_before"]) == (7, 14)  # 8, then 6
    wax = data["comparisons"][0]
    assert (wax["a"], wax["b"], wax["difference"]) == ("T1", "control", 7.0)
    assert (wax["p_exact"], wax["p_exact_smallest"], wax["sampled"]) == (0.1, 0.1, 0)
    assert wax["p_exact_family"] >= wax["p_exact"]
    assert (wax["median_difference"], wax["median_low"], wax["median_high"]) == (7.0, None, None)
    assert all(isinstance(each, str) for each in data["verdict"] + data["cautions"])


def _refuse(text: str) -> float:
    raise AssertionError(f"JSON has no {text}")


def test_the_question_can_be_asked_another_way(rustboard: Rustboard, fence: Path) -> None:
    asked = (
        "--failing-grade",
        "3",
        "--measure",
        "days-to-failing-grade",
        "--clock",
        "controls",
        "--compare",
        "pairs",
    )
    data = rustboard("findings", fence, "--json", *asked).data
    assert (data["failing_grade"], data["measure"], data["clock"], data["compared"]) == (
        3, "days to failing grade", "controls", "pairs",
    )  # fmt: skip
    assert {each["kind"] for each in data["comparisons"]} == {"pair"}
    assert all(each["median_difference"] is None for each in data["comparisons"])
    coupons = {each["coupon"]: each for each in data["coupons"]}
    assert coupons["C01"]["failed_before"] is None  # grade 6 has not failed by this question
    again = rustboard("findings", fence, "--json").data  # nothing of it was kept
    assert (again["failing_grade"], again["compared"]) == (7, "control")


def test_a_p_over_the_family_that_is_only_a_lower_bound_is_shown_as_one(
    rustboard: Rustboard, fence: Path, tmp_path: Path
) -> None:
    alike = tmp_path / "alike.csv"
    seen = ((6, 5, 5), (5, 6, 5), (7, 6, 6))
    lines = [f"2026-03-23T09:00,C{row}{column},{seen[row][column]}" for row in range(3) for column in range(3)]
    alike.write_text("\n".join(["date,coupon,grade", *lines]) + "\n", encoding="utf-8")
    assert rustboard("add-grades", fence, alike).code == 0
    data = rustboard("findings", fence, "--json").data
    assert any(each["p_exact_family_at_least"] for each in data["comparisons"])
    assert "≥0." in rustboard("findings", fence).out


@pytest.mark.parametrize("clock", ["wet-hours", "rain"])
def test_a_clock_that_nothing_is_known_of_is_refused_in_one_sentence(
    rustboard: Rustboard, fence: Path, clock: str
) -> None:
    finished = rustboard("findings", fence, "--clock", clock)
    assert (finished.code, finished.out) == (2, "")
    (sentence,) = finished.sentences
    assert "choose days" in sentence


def test_a_board_that_is_being_graded_blind_is_refused(rustboard: Rustboard, graded_board: Path) -> None:
    with closing(Session(graded_board)) as session:
        grade_blind(session, 2, {"Ada": {"C01": (9, 9), "C02": (7, 6), "C03": (2, 2)}}, revealed=False)
    finished = rustboard("findings", graded_board)
    assert (finished.code, finished.out) == (2, "")
    (sentence,) = finished.sentences
    assert "graded blind" in sentence
    assert rustboard("findings", graded_board, "--json").code == 2


def test_an_ungraded_board_says_that_there_is_nothing_to_conclude(rustboard: Rustboard, board: Path) -> None:
    finished = rustboard("findings", board)
    assert finished.code == 0
    assert "No coupon of this board was graded yet, so there is nothing to conclude." in finished.out
    data = json.loads(rustboard("findings", board, "--json").out, parse_constant=_refuse)
    assert (data["coupons"], data["comparisons"], data["survival"]) == ([], [], None)


def test_a_folder_without_a_board_is_refused(rustboard: Rustboard, tmp_path: Path) -> None:
    finished = rustboard("findings", tmp_path / "nowhere")
    assert (finished.code, finished.out) == (2, "")
    assert len(finished.sentences) == 1
