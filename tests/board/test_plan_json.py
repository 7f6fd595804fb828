"""Plans as JSON: what is read, what is refused, and that what was written is read back."""

import json
import math
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_reading import read_plan_json
from plan_values import plans

from rustboard.board.model import Board, Marker, Plan, PlannedCoupon, Treatment
from rustboard.board.plan_json import write_plan_json
from rustboard.board.position import Position
from rustboard.support.problems import InputError

C1 = {"id": "C1", "position": "A1"}
C2 = {"id": "C2", "position": "B3"}


def read(content):
    data = content if isinstance(content, bytes) else json.dumps(content).encode()
    plan, problems = read_plan_json(data, "p.json")
    return plan, [problem.sentence() for problem in problems]


def refusal_of(content):
    with pytest.raises(InputError) as caught:
        read(content)
    return caught.value.problem.sentence()


def test_id_and_position_of_the_coupons_are_enough():
    plan, problems = read({"coupons": [C1, C2]})
    assert plan == Plan(
        Board("p", rows=2, columns=3),
        coupons=(PlannedCoupon("C1", Position(0, 0)), PlannedCoupon("C2", Position(1, 2))),
    )
    assert problems == []


# The example of the plan's format, shortened texts, every key.
FULL = {
    "board": {"name": "Harbour wall spring", "rows": 3, "columns": 7, "width_mm": 700, "height_mm": 400,
              "edge_margin_mm": 3, "started": "2026-03-02T09:00", "site": "harbour wall", "shelter": "open",
              "incline_deg": 45, "facing_deg": 180, "customer": "Harbour office", "shop": "smithy", "note": "a\nb"},
    "markers": [{"id": 0, "centre_mm": [20, 20], "size_mm": 30}],
    "treatments": [{"id": "T1", "name": "hot beeswax blend", "family": "wax", "preparation": "wire brushed",
                    "finish": "none", "protectant": "beeswax blend", "coats": 2, "batch": "4", "cost_per_m2": 3.1,
                    "minutes_per_m2": 40, "note": "hot"}],
    "coupons": [{"id": "C01", "position": "a1", "treatment": "T1", "role": "test", "substrate": "mild steel",
                 "outline_mm": [[30, 40], [90, 40], [90, 160], [30, 160]], "note": "hole"}],
}  # fmt: skip


def test_every_key_is_read():
    plan, problems = read(FULL)
    assert problems == []
    assert plan == Plan(
        Board("Harbour wall spring", 3, 7, 700.0, 400.0, 3.0, datetime(2026, 3, 2, 9), "harbour wall", "open", 45.0,
              180.0, "Harbour office", "smithy", "a\nb"),
        (Treatment("T1", "hot beeswax blend", "wax", "wire brushed", "none", "beeswax blend", 2, "4", 3.1, 40.0,
                   "hot"),),
        (PlannedCoupon("C01", Position(0, 0), "T1", "test", "mild steel",
                       ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0), (30.0, 160.0)), "hole"),),
        (Marker(0, (20.0, 20.0), 30.0),),
    )  # fmt: skip


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32"])
def test_unicode_files_are_read_with_and_without_a_mark(encoding):
    text = json.dumps({"board": {"name": "Kai – vår"}, "coupons": [C1]}, ensure_ascii=False)
    assert read(text.encode(encoding))[0].board.name == "Kai – vår"


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "p.json: The file is empty."),
        (b"\xff\x00\xff", "p.json: The file is not text in UTF-8; save it as UTF-8."),
        (
            b'{"coupons": [\n{"id": "C1" "position": "A1"}]}',
            "p.json, row 2: The text is not JSON from character 13 of this row on; look for a missing comma, bracket "
            "or quotation mark there or just before.",
        ),
        (b"[]", "p.json: A plan is one object in curly brackets with the key “coupons”, and this file holds none."),
        (b'{"board": NaN}', "p.json: NaN is not a number in JSON; write digits or leave the key out."),
        (b'{"board": -Infinity}', "p.json: -Infinity is not a number in JSON; write digits or leave the key out."),
        (b"[" * 200_000, "p.json: The brackets in this file are nested too deeply for a plan; mend them."),
        (
            b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
            "p.json: The brackets in this file are nested too deeply for a plan; mend them.",
        ),
        (b"1" * 10_000, "p.json: The file holds a number with far too many digits; mend it."),
        (b" " * (8 * 2**20 + 1), "p.json: The file is larger than 8 MB; a plan is far smaller."),
        (b"{}", "p.json: The plan has no coupons; add at least one with an id and a position."),
    ],
)
def test_a_file_that_is_no_plan_is_refused_in_one_sentence(data, sentence):
    assert refusal_of(data) == sentence


def test_a_plan_without_one_good_coupon_is_refused_with_the_first_reason():
    assert refusal_of({"coupons": [{"id": "C1", "position": "1A"}]}) == (
        "p.json: No coupon of this plan can be used; the first problem: column coupons[0].position: “1A” is not a "
        "position; write a row letter and a column number, such as B3."
    )
    assert refusal_of({"coupons": 5}) == (
        "p.json: No coupon of this plan can be used; the first problem: column coupons: This must be a list in "
        "square brackets, not 5; the value was left out."
    )


def test_five_thousand_coupons_are_refused():
    coupons = [{"id": f"C{number}", "position": "A1"} for number in range(5_000)]
    assert refusal_of({"coupons": coupons}) == (
        "p.json: The plan has 5000 coupons and a board holds at most 1000; split the plan into several boards."
    )


@pytest.mark.parametrize(
    ("bad", "sentence"),
    [
        ({"id": "C9", "position": 7}, "coupons[1].position: This must be a text in quotation marks, not 7; the value "
                                      "was left out."),
        ({"id": 9, "position": "A2"}, "coupons[1].id: This must be a text in quotation marks, not 9; the value was "
                                      "left out."),
        ({"position": "A2"}, "coupons[1].id: This must not be left empty."),
        ({"id": "C9"}, "coupons[1].position: The position is missing; write a row letter and a column number, such "
                       "as B3."),
        ({"id": "C9", "position": "A2", "role": "x"}, "coupons[1].role: “x” is not a role; write test or control."),
        ("C9", "coupons[1]: This must be an object in curly brackets, not the text “C9”; it was left out."),
        (None, "coupons[1]: This must be an object in curly brackets, not null; it was left out."),
    ],
)  # fmt: skip
def test_a_bad_coupon_is_left_out_and_the_others_kept(bad, sentence):
    plan, problems = read({"coupons": [C1, bad, C2]})
    assert [each.id for each in plan.coupons] == ["C1", "C2"]
    assert problems == [f"p.json, column {sentence}"]


@pytest.mark.parametrize(
    ("key", "value", "what"),
    [
        ("substrate", ["steel"], "This must be a text in quotation marks, not a list; the value was left out."),
        ("treatment", True, "This must be a text in quotation marks, not true or false; the value was left out."),
        ("outline_mm", {"x": 1}, "This must be a list in square brackets, not an object; the value was left out."),
        ("outline_mm", [[1, 2], [3]], "An outline is a list of points [x, y] in mm; the outline was left out."),
        ("outline_mm", [[1, 2], [3, "4"]], "An outline is a list of points [x, y] in mm; the outline was left out."),
    ],
)
def test_a_wrong_value_that_a_coupon_can_do_without_is_left_out(key, value, what):
    plan, problems = read({"coupons": [{**C1, key: value}]})
    assert plan.coupons == (PlannedCoupon("C1", Position(0, 0)),)
    assert problems == [f"p.json, column coupons[0].{key}: {what}"]


@pytest.mark.parametrize(
    ("key", "value", "what"),
    [
        ("width_mm", "700", "This must be a number, not the text “700”; the value was left out."),
        ("incline_deg", False, "This must be a number, not true or false; the value was left out."),
        pytest.param(
            "width_mm", 10**400, "This must be a number, not one beyond all use; the value was left out.", id="huge"
        ),
        ("rows", 2.5, "2.5 is not a whole number; the value was left out."),
        ("started", "2026-02-30", "The calendar has no 30 February 2026; mend the date."),
        ("started", "02.03.2026", "“02.03.2026” can be read in two ways; write dates as year-month-day, such as "
                                  "2026-03-02."),
    ],
)  # fmt: skip
def test_a_wrong_value_of_the_board_is_left_out(key, value, what):
    plan, problems = read({"board": {key: value}, "coupons": [C1]})
    assert plan.board == Board("p", 1, 1)
    assert problems == [f"p.json, column board.{key}: {what}"]


def test_a_number_that_overflows_is_no_number():
    _, problems = read(b'{"board": {"width_mm": 1e999}, "coupons": [{"id": "C1", "position": "A1"}]}')
    assert problems == [
        "p.json, column board.width_mm: This must be a number, not one beyond all use; the value was left out."
    ]


def test_a_board_that_is_no_object_is_left_out():
    plan, problems = read({"board": "Harbour", "coupons": [C1]})
    assert plan.board.name == "p"
    assert problems == [
        "p.json, column board: This must be an object in curly brackets, not the text “Harbour”; it was left out."
    ]


def test_null_means_not_given():
    assert read({"board": None, "treatments": None, "coupons": [{**C1, "role": None, "note": None}]})[1] == []


def test_a_treatment_needs_an_id_and_a_marker_everything():
    plan, problems = read({"treatments": [{"name": "wax"}], "markers": [{"id": 0, "size_mm": 30}], "coupons": [C1]})
    assert plan.treatments == ()
    assert plan.markers == ()
    assert problems == [
        "p.json, column treatments[0].id: This must not be left empty.",
        "p.json, column markers[0]: A marker needs its id, its centre_mm as [x, y] and its size_mm; the marker was "
        "left out.",
    ]


def test_unknown_keys_are_named_once_and_ignored():
    plan, problems = read(
        {"colour": 1, "board": {"colour": 1}, "coupons": [{**C1, "colour": 1}, {**C2, "colour": 1}]}
    )
    assert len(plan.coupons) == 2
    what = "This key has no meaning in a plan and was ignored, here and wherever it comes again."
    assert problems == [
        f"p.json, column {place}: {what}" for place in ("colour", "coupons[0].colour", "board.colour")
    ]


def test_a_key_given_twice_is_named_and_the_last_one_counts():
    plan, problems = read(b'{"coupons": [{"id": "C1", "position": "A1", "position": "B2"}]}')
    assert plan.coupons[0].position == (1, 1)
    assert problems == [
        "p.json, column coupons[0].position: This key is there twice; the last one counts, delete the other."
    ]


def test_a_stated_grid_that_is_too_small_leaves_the_coupon_out():
    plan, problems = read({"board": {"rows": 1}, "coupons": [C1, C2]})
    assert (plan.board.rows, plan.board.columns) == (1, 3)
    assert [each.id for each in plan.coupons] == ["C1"]
    assert problems == ["p.json, column coupons[1].position: Position B3 is not on the board, which has only 1 row."]


def test_a_position_beyond_any_board_does_not_make_the_grid_grow():
    plan, problems = read({"coupons": [C1, {"id": "C2", "position": "ZZ999"}]})
    assert (plan.board.rows, plan.board.columns) == (1, 1)
    assert problems == [
        "p.json, column coupons[1].position: A board has at most 60 rows and 60 columns; mend this position."
    ]


def test_hostile_texts_are_kept_safely():
    name = '=HYPERLINK("x")\x07\u202e👩🏽‍🏭' + "a" * 400
    plan, problems = read({"board": {"name": name}, "coupons": [{"id": "+1\ud800", "position": "A1"}]})
    assert plan.board.name == '=HYPERLINK("x")\ufffd\ufffd👩🏽‍🏭' + "a" * 400
    assert plan.coupons[0].id == "+1\ufffd"
    assert problems == []


def test_outlines_of_many_points_are_kept():
    angles = [2 * math.pi * number / 400 for number in range(400)]
    outline = [[50 + 40 * math.cos(angle), 50 + 40 * math.sin(angle)] for angle in angles]
    plan, problems = read({"coupons": [{**C1, "outline_mm": outline}, {**C2, "outline_mm": outline}]})
    assert problems == []
    assert [len(coupon.outline_mm) for coupon in plan.coupons] == [400, 400]


def test_an_object_with_very_many_repeated_keys_is_read():
    keys = ",".join(f'"k{number}": 1' for number in range(100_000))
    plan, problems = read(f'{{{keys}, {keys}, "coupons": [{{"id": "C1", "position": "A1"}}]}}'.encode())
    assert len(plan.coupons) == 1
    assert len(problems) == 201


@given(plans())
def test_a_written_plan_is_read_back_the_same(plan):
    assert read_plan_json(write_plan_json(plan).encode(), "p.json") == (plan, [])


def test_a_plan_is_written_with_one_line_a_coupon():
    plan, _ = read(FULL)
    assert sum('"position"' in line for line in write_plan_json(plan).splitlines()) == len(plan.coupons)


def read_or_refuse(data):
    try:
        plan, problems = read_plan_json(data, "p.json")
    except InputError as error:
        assert error.problem.file == "p.json"  # noqa: PT017 - both outcomes are right, neither may be anything else
    else:
        assert plan.coupons
        assert len(problems) <= 201


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes_are_a_plan_or_a_sentence(data):
    read_or_refuse(data)


KEYS = st.sampled_from([
    "board", "markers", "treatments", "coupons", "id", "position", "outline_mm", "rows", "started", "centre_mm", "x",
    "steps", "kind", "quantity", "drawn", "pairs", "written", "seed", "method", "days", "hour",
])  # fmt: skip
VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=6)
    | st.sampled_from(["A1", "T1", "C1"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=5),
    max_leaves=25,
)


@settings(max_examples=200)
@given(st.fixed_dictionaries({"coupons": st.lists(st.fixed_dictionaries(
    {"id": VALUES, "position": st.just("A1") | VALUES, "outline_mm": VALUES}) | VALUES, max_size=4)},
    optional={"board": VALUES, "markers": VALUES, "treatments": VALUES, "questions": VALUES, "layout": VALUES,
              "calendar": VALUES}))  # fmt: skip
def test_any_json_is_a_plan_or_a_sentence(content):
    read_or_refuse(json.dumps(content).encode())
