"""What a person does with old grades, told for `test_every_action`."""

from __future__ import annotations

from window_driving import wait_until

from rustboard.ui.importing.dialog import ImportDialog


def through_all_steps(dialog: ImportDialog) -> None:
    """Press Next on every step, and make the board from the last."""
    for step in range(5):
        wait_until(dialog.next.isEnabled, "for the step to be ready")
        assert dialog.steps.currentIndex() == step
        dialog.next.click()
    wait_until(lambda: bool(dialog.result()), "for the board to be made")
