"""What the user notes of a coupon beside its grade."""

from __future__ import annotations

from PySide6.QtCore import Slot

from rustboard.ui.board_page import BoardPage
from rustboard.ui.page_commands import PageCommands


class DamageCommands(PageCommands):
    """Commands about the damage of the coupon in hand, at the inspection in view."""

    def _wire_page(self, page: BoardPage) -> None:
        page.damage_wanted.connect(self.damage)

    @Slot()
    def damage(self) -> None:
        """Show the coupon's damage, to note it and take it back."""
        from rustboard.ui.damage.dialog import DamageDialog

        if self.page is None or self.page.session.read_only_reason:
            return
        session = self.page.session
        coupon = session.record.coupons.get(self.page.current_coupon() or 0)
        inspection = session.record.inspections.get(session.selection.inspection or 0)
        if coupon is None or inspection is None:
            return
        if self.page.panel is not None:
            self.page.panel.options.finish_note()  # or it would be lost when the panel shows what was noted
        self._asker.dialog(DamageDialog(session, coupon, inspection, self._do, self._window))
