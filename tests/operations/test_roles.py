"""Making the coupons of a treatment controls or test pieces."""

from __future__ import annotations

from collections.abc import Callable

from rustboard.board.model import Coupon, Treatment
from rustboard.operations.coupons import add_coupon
from rustboard.operations.roles import set_treatment_role
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session


def roles(session: Session) -> list[str]:
    return [each.role for each in session.record.coupons.values()]


def test_all_coupons_of_a_treatment_change_in_one_step(session: Session) -> None:
    session.do(add_treatment, Treatment("T1", "bare"))
    for number, (treatment, role) in enumerate([(1, "test"), (1, "control"), (None, "test"), (1, "test")]):
        session.do(add_coupon, Coupon(f"C{number}", treatment=treatment, role=role))
    session.do(set_treatment_role, 1, "control")
    assert roles(session) == ["control", "control", "test", "control"]
    assert session.audit()[0][3].text() == "Make 2 coupons controls: bare"
    session.do(set_treatment_role, None, "control")
    assert roles(session) == ["control"] * 4
    session.do(set_treatment_role, 1, "test")
    assert roles(session) == ["test", "test", "control", "test"]
    session.undo()
    assert roles(session) == ["control"] * 4


def test_what_cannot_be_is_refused(session: Session, refused: Callable[..., str]) -> None:
    session.do(add_treatment, Treatment("T1", "bare"))
    assert refused(set_treatment_role, 1, "control") == "There is no coupon yet for this: bare. Give it some first."
    assert "There is no coupon yet" in refused(set_treatment_role, None, "control")
    assert "role is test or control" in refused(set_treatment_role, 1, "twin")
    assert "no longer on the board" in refused(set_treatment_role, 2, "test")
