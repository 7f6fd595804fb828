"""The one feed of changes."""

import pytest

from rustboard.session.changes import ChangeFeed, ChangeSet
from rustboard.support.summary import Summary

CHANGES = ChangeSet({"coupon": frozenset({1}), "board": frozenset()}, frozenset({1}), Summary("x"))


def test_listeners_hear_in_the_order_in_which_they_came_until_they_leave():
    feed, heard = ChangeFeed(), []
    feed.subscribe(first := lambda changes: heard.append(("first", changes)))
    feed.subscribe(lambda changes: heard.append(("second", changes)))
    feed.publish(CHANGES)
    feed.unsubscribe(first)
    feed.publish(CHANGES)
    assert heard == [("first", CHANGES), ("second", CHANGES), ("second", CHANGES)]


def test_a_listener_may_leave_or_come_while_it_is_told():
    feed, heard = ChangeFeed(), []

    def once(changes):
        heard.append("once")
        feed.unsubscribe(once)
        feed.subscribe(lambda changes: heard.append("later"))

    feed.subscribe(once)
    feed.publish(CHANGES)
    feed.publish(CHANGES)
    assert heard == ["once", "later"]


def test_publishing_inside_a_listener_is_refused():
    feed = ChangeFeed()
    feed.subscribe(feed.publish)
    with pytest.raises(RuntimeError, match="may not make another change"):
        feed.publish(CHANGES)
    feed.unsubscribe(feed.publish)
    feed.publish(CHANGES)


def test_the_first_of_several_errors_goes_on_after_all_have_heard():
    feed, heard = ChangeFeed(), []

    def fail(error):
        def listener(changes):
            raise error

        return listener

    feed.subscribe(fail(KeyError("first")))
    feed.subscribe(fail(ValueError("second")))
    feed.subscribe(heard.append)
    with pytest.raises(KeyError, match="first"):
        feed.publish(CHANGES)
    assert heard == [CHANGES]


def test_a_table_without_changed_rows_is_not_touched():
    assert CHANGES.touches("coupon")
    assert not CHANGES.touches("board", "grading")
