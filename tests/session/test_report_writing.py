"""Sentences of a report write numbers and days as the user chose."""

from __future__ import annotations

from datetime import date

import pytest

from rustboard.findings.amounts import listing
from rustboard.findings.sentence import Sentence
from rustboard.report.choice import writing_named
from rustboard.session.report_writing import say_in

ORDER = Sentence("Best first: {0}.", (listing([("wax 2.5", 7.5), ("oil", 1234.0), ("bare", 0.3)]),))
DAYS = Sentence("Noted on {0}.", (listing([(date(2026, 3, 7),), (date(2026, 3, 12),)]),))


@pytest.mark.parametrize(
    ("name", "order", "days"),
    [
        ("iso", "Best first: wax 2.5 7.5, oil 1234 and bare 0.3.", "Noted on 2026-03-07 and 2026-03-12."),
        ("points", "Best first: wax 2.5 7,5, oil 1.234 and bare 0,3.", "Noted on 07.03.2026 and 12.03.2026."),
        ("month first", "Best first: wax 2.5 7.5, oil 1,234 and bare 0.3.", "Noted on 03/07/2026 and 03/12/2026."),
    ],
)
def test_numbers_and_days_of_a_list_are_written_as_chosen_and_names_as_they_are(name, order, days):
    say = say_in(writing_named(name))
    assert (say(ORDER), say(DAYS)) == (order, days)


def test_without_a_choice_a_list_is_plain_text():
    assert say_in(None)(ORDER) == ORDER.text() == "Best first: wax 2.5 7.5, oil 1234 and bare 0.3."
