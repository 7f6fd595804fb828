"""Reading a plan from the bytes of a file, as the program does when it previews one."""

from __future__ import annotations

from rustboard.board.csv_table import open_table
from rustboard.board.json_fields import parse_json
from rustboard.board.model import Plan
from rustboard.board.plan_csv import PLAN_LAYOUT, read_plan_table
from rustboard.board.plan_json import read_plan_object
from rustboard.board.problem_list import ProblemList
from rustboard.support.problems import Problem


def read_plan_csv(data: bytes, file: str) -> tuple[Plan, list[Problem]]:
    problems = ProblemList(file)
    return read_plan_table(open_table(data, PLAN_LAYOUT, problems), problems)


def read_plan_json(data: bytes, file: str) -> tuple[Plan, list[Problem]]:
    problems = ProblemList(file)
    return read_plan_object(parse_json(data, problems), problems), problems.listed()
