"""Letters for groups that cannot be told apart."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from rustboard.findings.compare.letters import compact_letters, letter


def columns(letters):
    found = {}
    for name, mine in letters.items():
        for each in mine:
            found.setdefault(each, set()).add(name)
    return sorted(map(sorted, found.values()))


def test_five_groups_of_a_published_example():
    # Gramm et al. 2007: {1,5}{2,3}{2,5}{3,5} differ; the columns follow by hand from insert and absorb.
    letters = compact_letters("12345", [("1", "5"), ("2", "3"), ("2", "5"), ("3", "5")])
    assert columns(letters) == [["1", "2", "4"], ["1", "3", "4"], ["4", "5"]]


def test_the_middle_one_of_three_shares_both_letters():
    # By hand: only B and C differ.
    assert compact_letters("ABC", [("B", "C")]) == {"A": "ab", "B": "a", "C": "b"}


def test_three_groups_of_which_the_second_stands_out():
    # The pairs of scipy's tukey_hsd example that differ at 5 in 100: 1-2 and 2-3; letters a, b, a.
    assert compact_letters("123", [("1", "2"), ("2", "3")]) == {"1": "a", "2": "b", "3": "a"}


def test_nothing_differs_and_everything_differs():
    assert compact_letters("AB", []) == {"A": "a", "B": "a"}
    assert compact_letters("AB", [("A", "B")]) == {"A": "a", "B": "b"}
    assert compact_letters("", []) == {}


def test_letters_beyond_the_alphabet():
    assert [letter(each) for each in (0, 25, 26, 51, 52)] == ["a", "z", "A", "Z", "(53)"]


@given(st.integers(1, 7), st.data())
def test_groups_share_a_letter_exactly_when_they_do_not_differ(count, data):
    names = "ABCDEFG"[:count]
    pairs = list(combinations(names, 2))
    different = data.draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    letters = compact_letters(names, different)
    assert all(letters.values())
    for one, other in pairs:
        assert bool(set(letters[one]) & set(letters[other])) == ((one, other) not in different)
