"""What the user does to treatments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.model import Treatment
from rustboard.operations.treatments import add_treatment, edit_treatment, remove_treatment
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands

if TYPE_CHECKING:
    from rustboard.ui.dialogs.treatments import TreatmentsDialog


class TreatmentCommands(PageCommands):
    """Commands about the treatments of the page in the window."""

    def __init__(self, window: QWidget, asker: Asker, do: Do) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._list: TreatmentsDialog | None = None

    @Slot()
    def edit_its_treatment(self) -> None:
        """Edit the treatment of the coupon under the keyboard."""
        if self.page is None:
            return
        coupon = self.page.session.record.coupons.get(self.page.current_coupon() or 0)
        if coupon is not None and coupon.treatment is not None:
            self.edit_treatment(coupon.treatment)
        elif coupon is not None:
            self.told.emit(self.tr("This coupon has no treatment yet; choose one in Edit coupon."))

    @Slot()
    def treatments(self) -> None:
        """Show the list of treatments."""
        from rustboard.ui.dialogs.treatments import TreatmentsDialog

        if self.page is None:
            return
        dialog = TreatmentsDialog(self.page.session.record, self._window)
        self._wire_list(dialog)
        self._list = dialog
        self._asker.dialog(dialog)
        self._list = None

    def _wire_list(self, dialog: TreatmentsDialog) -> None:
        dialog.add_asked.connect(self.new_treatment)
        dialog.edit_asked.connect(self.edit_treatment)
        dialog.remove_asked.connect(self.remove_treatment)

    @Slot()
    def new_treatment(self) -> None:
        """Add a treatment."""
        self._ask_treatment(None)

    @Slot(int)
    def edit_treatment(self, key: int) -> None:
        """Edit a treatment."""
        if self.page is not None:
            self._ask_treatment(self.page.session.record.treatments.get(key))

    @Slot(int)
    def remove_treatment(self, key: int) -> None:
        """Remove a treatment that no coupon has."""
        self._do(remove_treatment, key)
        self._refresh_list()

    def _ask_treatment(self, treatment: Treatment | None) -> None:
        from rustboard.ui.dialogs.treatment import TreatmentDialog

        if self.page is None:
            return
        dialog = TreatmentDialog(self.page.session.record, treatment, self._window)
        if self._asker.dialog(dialog):
            self._do(add_treatment if treatment is None else edit_treatment, dialog.treatment())
            self._refresh_list()

    def _refresh_list(self) -> None:
        if self.page is not None and self._list is not None:
            self._list.refresh(self.page.session.record)
