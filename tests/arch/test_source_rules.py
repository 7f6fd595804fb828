"""The product's source keeps the house rules, and each rule sees the offence it is there for."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

import pytest
import source_rules
from source_rules import Rule, Source, rules_for

FOLDERS = ("rustboard", "packaging", "tests")

SCREEN = """
class Screen:
    def __init__(self):
        {init}

    def _wire_list(self):
        {wire}

    def refresh(self):
        {refresh}

    {slot}
    def on_pick(self):
        pass
"""


def sources(checkout: Path) -> list[Source]:
    files = [file for folder in FOLDERS for file in sorted((checkout / folder).rglob("*.py"))]
    return [Source(PurePosixPath(file.relative_to(checkout)), file.read_text(encoding="utf-8")) for file in files]


def screen(init: str = "pass", wire: str = "pass", refresh: str = "pass", slot: str = "") -> str:
    return SCREEN.format(init=init, wire=wire, refresh=refresh, slot=slot)


def lines(count: int, line: str = "a = 1") -> str:
    return "\n".join([line] * count)


def methods(count: int) -> str:
    return "class Window:\n" + "\n".join(f"    def m{number}(self): ..." for number in range(count))


def function_of(length: int) -> str:
    return "def work():\n" + "\n".join(["    pass"] * (length - 1))


OFFENCES: list[tuple[Rule, str, str]] = [
    (source_rules.long_files, "rustboard/a.py", lines(401)),
    (source_rules.long_files, "tests/a/test_a.py", lines(601)),
    (source_rules.big_classes, "rustboard/a.py", methods(26)),
    (source_rules.long_functions, "rustboard/a.py", function_of(61)),
    (source_rules.long_functions, "rustboard/a.py", "async " + function_of(61)),
    (source_rules.modules_without_docstring, "rustboard/a.py", "# a comment is no docstring\na = 1"),
    (source_rules.meaningless_names, "rustboard/board/utils.py", ""),
    (source_rules.meaningless_names, "rustboard/helpers/text.py", ""),
    (source_rules.meaningless_names, "rustboard/_misc.py", ""),
    (source_rules.anonymous_receivers, "rustboard/ui/a.py", "b.clicked.connect(lambda: go())"),
    (source_rules.anonymous_receivers, "rustboard/ui/a.py", "b.clicked.connect(partial(go, 1))"),
    (source_rules.anonymous_receivers, "rustboard/ui/a.py", "b.clicked.connect(functools.partial(go, 1))"),
    (source_rules.anonymous_receivers, "rustboard/ui/a.py", "b.clicked.connect(later(lambda: go()))"),
    (source_rules.anonymous_receivers, "rustboard/ui/a.py", "b.clicked.connect(receiver=lambda: go())"),
    (source_rules.scattered_connections, "rustboard/ui/a.py", screen(refresh="self.b.clicked.connect(self.on_pick)")),
    (source_rules.scattered_connections, "rustboard/ui/a.py", "b.clicked.connect(go)"),
    (source_rules.undecorated_slots, "rustboard/ui/a.py", screen(init="self.b.clicked.connect(self.on_pick)")),
    (source_rules.untranslatable_texts, "rustboard/ui/a.py", "self.tr(f'{count} coupons')"),
    (source_rules.untranslatable_texts, "rustboard/ui/a.py", "translate('Board', '{} coupons'.format(count))"),
    (source_rules.untranslatable_texts, "rustboard/ui/a.py", "tr('%d coupons' % count)"),
    (source_rules.untranslatable_texts, "rustboard/ui/a.py", "tr('coupon ' + name)"),
]

PERMITTED: list[tuple[Rule, str, str]] = [
    (source_rules.long_files, "rustboard/a.py", lines(400)),
    (source_rules.long_files, "tests/a/test_a.py", lines(600)),
    (source_rules.big_classes, "rustboard/a.py", methods(25)),
    (source_rules.long_functions, "rustboard/a.py", function_of(60)),
    (source_rules.modules_without_docstring, "rustboard/a.py", '"""What it is for."""'),
    (source_rules.meaningless_names, "rustboard/board/utility_pole.py", ""),
    (source_rules.anonymous_receivers, "rustboard/ui/a.py", "b.clicked.connect(self.go); sorted(a, key=lambda x: x)"),
    (source_rules.scattered_connections, "rustboard/ui/a.py", screen(init="self.b.clicked.connect(self.on_pick)")),
    (source_rules.scattered_connections, "rustboard/ui/a.py", screen(wire="self.b.clicked.connect(self.on_pick)")),
    (source_rules.undecorated_slots, "rustboard/ui/a.py", screen("self.b.c.connect(self.on_pick)", slot="@Slot()")),
    (source_rules.undecorated_slots, "rustboard/ui/a.py", screen("self.b.c.connect(self.d.close)")),
    (source_rules.untranslatable_texts, "rustboard/ui/a.py", "self.tr('{count} coupons').format(count=count)"),
]


def named(case: tuple[Rule, str, str]) -> str:
    return case[0].__name__


@pytest.mark.parametrize("case", OFFENCES, ids=named)
def test_a_rule_sees_its_offence(case: tuple[Rule, str, str]) -> None:
    rule, path, text = case
    assert len(rule(Source(PurePosixPath(path), text))) == 1
    assert rule in rules_for(PurePosixPath(path))


@pytest.mark.parametrize("case", PERMITTED, ids=named)
def test_a_rule_leaves_good_source_alone(case: tuple[Rule, str, str]) -> None:
    rule, path, text = case
    assert rule(Source(PurePosixPath(path), text)) == []


def test_every_rule_is_tried_against_an_offence() -> None:
    in_force = {*source_rules.PRODUCT, *source_rules.SCREENS}
    assert {rule for rule, _, _ in OFFENCES} == in_force == {rule for rule, _, _ in PERMITTED}


def test_the_source_keeps_the_house_rules(checkout: Path) -> None:
    found = sources(checkout)
    assert len(found) > 30
    assert [offence for source in found for rule in rules_for(source.path) for offence in rule(source)] == []
